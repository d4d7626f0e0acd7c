use super::{Reader, Stop, plain_length};
use crate::document::{Content, Fault, Node, Syntax, read, source};
use proptest::prelude::*;
use serde::de::IgnoredAny;

/// A tree without its places.
fn plain(node: &Node<'_>) -> String {
    match &node.content {
        Content::Nothing => "-".to_owned(),
        Content::Scalar(scalar) => format!("{:?}", scalar.text),
        Content::List(items) => format!(
            "[{}]",
            items.iter().map(plain).collect::<Vec<_>>().join(",")
        ),
        Content::Map(entries) => {
            format!(
                "{{{}}}",
                entries
                    .iter()
                    .map(|entry| format!("{:?}:{}", entry.key, plain(&entry.node)))
                    .collect::<Vec<_>>()
                    .join(",")
            )
        }
    }
}

fn both(text: &str) -> [(String, Vec<usize>); 2] {
    [Syntax::Json, Syntax::Yaml].map(|syntax| {
        let source = source("t", text.into()).unwrap();
        let tree = read(&source, syntax).unwrap();
        let mut starts = Vec::new();
        places(&tree, &mut starts);
        (plain(&tree), starts)
    })
}

fn places(node: &Node<'_>, into: &mut Vec<usize>) {
    into.extend([node.span.start, node.span.end]);
    match &node.content {
        Content::List(items) => items.iter().for_each(|item| places(item, into)),
        Content::Map(entries) => entries.iter().for_each(|entry| {
            into.extend([entry.key_span.start, entry.key_span.end]);
            places(&entry.node, into);
        }),
        _ => {}
    }
}

#[test]
fn the_same_tree_at_the_same_places_as_by_the_reader_of_yaml() {
    let texts = [
        r#"{"a": 1.50, "b": [true, null, "x"], "c": {"d": -2e3, "e": "2S1P"}}"#,
        "{\n  \"a\" : \"\\u00e9 \\\"q\\\" \\\\\",\n  \"b\" : [ ] , \"c\":{ }\n}\n",
        r#"["", "\\", "é", "a:b,c]}", 0]"#,
        r#"["\"", "\\\"\\", "x\\\\", {"\\\"": "\\"}]"#,
    ];
    for text in texts {
        let [json, yaml] = both(text);
        assert_eq!(json, yaml, "{text}");
    }
}

/// RFC 8259, section 8.2: what becomes of half a pair is unpredictable. A whole pair, and one
/// that is itself escaped, are texts.
#[test]
fn half_a_surrogate_pair_is_refused_where_it_stands() {
    for text in [
        r#"["x", "\n\ud83d"]"#,
        r#"["x", "\udd0b"]"#,
        r#"["x", "\ud83d\u0041"]"#,
        r#"["x", "\udd0b\ud83d"]"#,
        r#"{"x":1,"\ud83d":2}"#,
    ] {
        for syntax in [Syntax::Json, Syntax::Yaml] {
            let source = source("t", text.into()).unwrap();
            let problems = read(&source, syntax).unwrap_err();
            let at: Vec<_> = problems
                .iter()
                .map(|problem| {
                    (
                        problem.fault,
                        problem.place.as_ref().map(|place| place.column),
                    )
                })
                .collect();
            assert_eq!(
                at,
                [(Fault::Syntax, text.rfind("\"\\").map(|byte| byte + 1))],
                "{text}"
            );
        }
    }
    let [json, yaml] = both(r#"["\ud83d\udd0b", "\\ud83d"]"#);
    assert_eq!(json, yaml);
    assert_eq!(json.0, r#"["🔋","\\ud83d"]"#);
}

/// Pieces that make JSON, and pieces that just fail to.
const PIECES: [&str; 48] = [
    "{",
    "}",
    "[",
    "]",
    ",",
    ":",
    " ",
    "\t",
    "\r",
    "\n",
    "\"a\"",
    "\"b\"",
    "\"\"",
    "\"é\"",
    "\"",
    "\\",
    "\"\\n\"",
    "\"\\u00e9\"",
    "\"\\u00g9\"",
    "\"\\x\"",
    "\"\\é\"",
    "\"\t\"",
    "\"\u{7f}\"",
    "\u{1}",
    "\u{a0}",
    "\u{feff}",
    "0",
    "-0",
    "01",
    "1.",
    "1.5",
    ".5",
    "1e5",
    "1E+05",
    "1e",
    "1e-",
    "-",
    "+1",
    "1e400",
    "true",
    "false",
    "null",
    "nul",
    "True",
    "NaN",
    "//",
    "/**/",
    "'a'",
];

/// What serde_json says of a text is said of it here.
fn agrees(text: &str) -> Result<(), TestCaseError> {
    let source = source("t", text.into());
    let Ok(source) = source else { return Ok(()) };
    let mut reader = Reader::new(&source);
    let is_json = serde_json::from_str::<IgnoredAny>(source.text()).is_ok();
    match reader.document() {
        Ok(_) => prop_assert!(is_json, "{text} was taken for JSON"),
        Err(Stop::NotJson) => prop_assert!(!is_json, "{text} was not taken for JSON"),
        Err(Stop::Refused(_)) => {}
    }
    Ok(())
}

/// Each byte at each place, alone among letters and behind one that ends a text too.
#[test]
fn eight_bytes_at_once_are_as_one_by_one() {
    for byte in u8::MIN..=u8::MAX {
        for at in 0..19 {
            let mut bytes = [b'a'; 19];
            bytes[at] = byte;
            let ends = byte < 0x20 || byte == b'"' || byte == b'\\';
            assert_eq!(plain_length(&bytes), if ends { at } else { 19 }, "{byte}");
            bytes[18] = b'"';
            let first = if ends { at } else { 18 };
            assert_eq!(plain_length(&bytes), first, "{byte} at {at}");
        }
    }
}

/// However many spaces there are, and whatever stands before or after them.
#[test]
fn spaces_are_passed_at_once_and_nothing_else_is() {
    for many in 0..20 {
        let spaces = " ".repeat(many);
        for mark in ["", "\t", "\n", "\r", "\u{b}", "\u{0}", "!", "\u{a0}"] {
            for text in [
                format!("[{spaces}{mark}1]"),
                format!("[1{mark}{spaces}]"),
                format!("1{spaces}{mark}"),
            ] {
                agrees(&text).unwrap();
            }
        }
    }
}

#[test]
fn numbers_and_words_are_those_of_a_general_reader() {
    for one in PIECES {
        for other in PIECES {
            for text in [format!("{one}{other}"), format!("[{one}{other}]")] {
                agrees(&text).unwrap();
            }
        }
    }
}

proptest! {
    #[test]
    fn what_is_json_is_what_a_general_reader_reads(
        pieces in prop::collection::vec(prop::sample::select(PIECES.to_vec()), 0..12),
    ) {
        agrees(&pieces.concat())?;
    }

    /// A text of JSON with one piece put in, or one byte left out.
    #[test]
    fn and_so_it_is_of_json_with_a_slip(
        at in 0..70_usize,
        piece in prop::sample::select(PIECES.to_vec()),
    ) {
        let text = r#"{"a": [1, -2.5e3, {"b": null}, "x\u00e9\n"], "c": {}, "d": [true, "" ]}"#;
        let Some((before, after)) = text.split_at_checked(at) else { return Ok(()) };
        agrees(&[before, piece, after].concat())?;
        agrees(&[before, after.get(1..).unwrap_or_default()].concat())?;
    }
}
