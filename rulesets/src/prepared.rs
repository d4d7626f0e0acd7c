//! The texts that come with this crate, with what the build script read of them.

/// A text beside this crate's manifest by its name without `.yaml`.
macro_rules! prepared {
    ($name:literal) => {
        rules_core::document::Prepared {
            text: include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/", $name, ".yaml")),
            read: include_bytes!(concat!(env!("OUT_DIR"), "/", $name, ".prepared")),
        }
    };
}

/// What the build script kept of the text of that name.
macro_rules! kept {
    ($name:literal) => {
        rules_core::snapshot::Snapshot {
            bytes: include_bytes!(concat!(env!("OUT_DIR"), "/", $name, ".kept")),
            texts: include_str!(concat!(env!("OUT_DIR"), "/", $name, ".texts")),
        }
    };
}

pub(crate) use {kept, prepared};

#[cfg(test)]
mod tests {
    use rules_core::document::{Prepared, Source, Syntax, digest, read};
    use rules_core::facts::Catalogue;
    use rules_core::snapshot::Snapshot;

    use crate::facts::PREPARED;
    use crate::shipped::Shipped;
    use crate::{facts, formerly};

    fn all() -> Vec<Prepared> {
        let shipped = Shipped::versions().iter().filter_map(|one| one.text);
        let tables = [facts::PREPARED, formerly::TABLE];
        #[cfg(feature = "schema")]
        let shipped = shipped.chain([crate::schema::WORDS]);
        shipped.chain(tables).collect()
    }

    /// The build script reads by itself, so the reader of the engine is compared with it.
    #[test]
    fn what_was_read_at_build_time_is_what_the_text_says() {
        for prepared in all() {
            let source = prepared.source("text");
            let tree = read(&source, Syntax::Yaml).expect("a document");
            assert_eq!(prepared.digest(), Some(&*digest(&tree)));
            let prepared = prepared.tree(&source, None).expect("a tree");
            assert_eq!(format!("{prepared:?}"), format!("{tree:?}"));
        }
    }

    #[test]
    fn the_facts_that_are_kept_are_those_of_the_table() {
        let kept = Catalogue::kept("facts.yaml", PREPARED, kept!("facts"));
        let read = Catalogue::read("facts.yaml", PREPARED.text.into(), Syntax::Yaml);
        assert_eq!(format!("{kept:?}"), format!("{read:?}"));
        // They are read of the text where nothing is kept.
        let nothing = Snapshot {
            bytes: &[],
            texts: "",
        };
        let unkept = Catalogue::kept("facts.yaml", PREPARED, nothing);
        assert_eq!(format!("{unkept:?}"), format!("{read:?}"));
    }

    #[test]
    fn lines_start_where_the_engine_finds_them() {
        for prepared in all() {
            let ready = prepared.source("text");
            let read = Source::new("text", prepared.text.to_owned());
            for at in (0..=prepared.text.len()).step_by(13) {
                assert_eq!(ready.place(at), read.place(at), "byte {at}");
            }
        }
    }

    #[test]
    fn the_values_of_a_key_can_be_left_out() {
        for prepared in all() {
            let source = prepared.source("text");
            let tree = prepared.tree(&source, Some("cases")).expect("a tree");
            let said = format!("{tree:?}");
            assert!(!said.contains("key: \"cases\""));
            let whole = format!("{:?}", prepared.tree(&source, None));
            let has_them = prepared.text.contains("    cases:");
            assert_eq!(said.len() < whole.len() - "Some()".len(), has_them);
        }
    }

    /// Bytes of another form are no tree, and nothing panics over them.
    #[test]
    fn bytes_that_end_too_early_are_no_tree() {
        let source = PREPARED.source("text");
        for length in (0..PREPARED.read.len()).step_by(997) {
            let read = PREPARED.read.get(..length).expect("a part");
            let part = Prepared { read, ..PREPARED };
            assert!(part.tree(&source, None).is_none(), "{length} bytes");
        }
    }
}
