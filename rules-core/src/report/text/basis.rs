//! What something rests on, in words.

use std::collections::BTreeMap;

use crate::ruleset::{Basis, HowRead, WrittenSource};

/// A basis in words, with its source's title, publisher, year and how it was read.
#[must_use]
pub fn basis(basis: &Basis, sources: &BTreeMap<String, WrittenSource>) -> String {
    match basis {
        Basis::Source { source, at, note } => {
            let name = sources
                .get(&**source)
                .map_or_else(|| format!("`{source}`"), in_full);
            let at = at.as_ref().map(|at| format!(": {at}")).unwrap_or_default();
            let note = note
                .as_ref()
                .map(|note| format!(". Note: {note}"))
                .unwrap_or_default();
            format!("{name}{at}{note}.")
        }
        Basis::CommonPractice { common_practice } => format!("Common practice: {common_practice}."),
        Basis::FromMemory { from_memory } => format!("From memory, to be verified: {from_memory}."),
        Basis::WorkedOut { worked_out } => format!("Worked out: {worked_out}."),
    }
}

fn in_full(source: &WrittenSource) -> String {
    let read = match source.read {
        HowRead::InSource => "read in the source",
        HowRead::SecondHand => "read second-hand",
        HowRead::FromMemory => "from memory",
    };
    let published = source
        .publisher
        .iter()
        .chain(&source.year)
        .map(|one| &**one)
        .collect::<Vec<_>>()
        .join(", ");
    let published = if published.is_empty() {
        String::new()
    } else {
        format!("{published}; ")
    };
    format!("{} ({published}{read})", source.title)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(source: WrittenSource, at: Option<&str>, note: Option<&str>) -> String {
        let sources = BTreeMap::from([("tips".to_owned(), source)]);
        basis(
            &Basis::Source {
                source: "tips".into(),
                at: at.map(|text| text.to_owned().into()),
                note: note.map(|text| text.to_owned().into()),
            },
            &sources,
        )
    }

    #[test]
    fn a_source_is_named_in_full() {
        let bare = WrittenSource {
            title: "Tips".into(),
            publisher: None,
            year: None,
            link: None,
            read: HowRead::FromMemory,
        };
        assert_eq!(words(bare.clone(), None, None), "Tips (from memory).");
        let full = WrittenSource {
            publisher: Some("An association".into()),
            year: Some("2018".into()),
            read: HowRead::SecondHand,
            ..bare
        };
        assert_eq!(
            words(full, Some("page 2"), Some("others differ")),
            "Tips (An association, 2018; read second-hand): page 2. Note: others differ."
        );
    }

    #[test]
    fn what_has_no_source_says_so() {
        let none = BTreeMap::new();
        assert_eq!(
            basis(
                &Basis::CommonPractice {
                    common_practice: "a look".into()
                },
                &none
            ),
            "Common practice: a look."
        );
        assert_eq!(
            basis(
                &Basis::FromMemory {
                    from_memory: "twice".into()
                },
                &none
            ),
            "From memory, to be verified: twice."
        );
        assert_eq!(
            basis(
                &Basis::WorkedOut {
                    worked_out: "1 + 1".into()
                },
                &none
            ),
            "Worked out: 1 + 1."
        );
    }
}
