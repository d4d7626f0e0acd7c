use super::*;
use crate::bounds::{MOST_BYTES, MOST_LEVELS};
use crate::document::{Entry, ProblemList};

fn fault(text: &str) -> (Fault, usize, usize) {
    let problems = whole("t.yaml", text.as_bytes(), Syntax::Yaml).expect_err("a problem");
    let place = problems[0].place.clone().expect("a place");
    (problems[0].fault, place.line, place.column)
}

fn tree(text: &str) -> (Source, Node<'static>) {
    whole("t.yaml", text.as_bytes(), Syntax::Yaml).expect("a tree")
}

fn whole(name: &str, bytes: &[u8], syntax: Syntax) -> Result<(Source, Node<'static>), ProblemList> {
    let source = source(name, bytes.to_vec())?;
    let tree = read(&source, syntax)?.detached();
    Ok((source, tree))
}

fn value<'n>(node: &'n Node<'n>, key: &str) -> &'n Node<'n> {
    let Content::Map(entries) = &node.content else {
        panic!("no map")
    };
    &entries
        .iter()
        .find(|entry| entry.key == key)
        .expect("the key")
        .node
}

#[test]
fn scalars_stay_as_written() {
    let (_, doc) =
        tree("a: 3.70\nb: no\nc: 'it''s'\nd: 1e400\ne: 010\nf: .nan\ng: true\nh: 2S1P\ni: 1_000\n");
    for (key, text) in [
        ("a", "3.70"),
        ("b", "no"),
        ("c", "it's"),
        ("d", "1e400"),
        ("e", "010"),
        ("f", ".nan"),
        ("g", "true"),
        ("h", "2S1P"),
        ("i", "1_000"),
    ] {
        assert_eq!(value(&doc, key).scalar(), Some(text));
    }
}

#[test]
fn json_and_yaml_give_the_same_tree() {
    let (_, doc) = whole(
        "t.json",
        br#"{"a": {"b": [1.50, "x \u00e9"]}}"#,
        Syntax::Json,
    )
    .expect("a tree");
    let Content::List(items) = &value(value(&doc, "a"), "b").content else {
        panic!("no list")
    };
    assert_eq!(items[0].scalar(), Some("1.50"));
    assert_eq!(items[1].scalar(), Some("x é"));
    assert!(whole("t.json", b"a: 1", Syntax::Json).is_err());
}

#[test]
fn what_json_cannot_say_is_refused_where_it_stands() {
    assert_eq!(fault("a: &x 1\nb: *x\n"), (Fault::Anchor, 1, 7));
    assert_eq!(fault("a: !foo 3\n").0, Fault::Anchor);
    assert_eq!(fault("a: 1\n---\nb: 2\n").0, Fault::SeveralDocuments);
    assert_eq!(fault("").0, Fault::Empty);
    assert_eq!(fault("# nothing but a comment\n").0, Fault::Empty);
    assert_eq!(fault("a: b: c\n"), (Fault::Syntax, 1, 5));
    assert_eq!(fault("? [a, b]\n: 3\n").0, Fault::WrongShape);
}

#[test]
fn every_repeated_key_is_reported() {
    let problems =
        whole("t.yaml", b"a: 1\nb: {c: 1, c: 2}\na: 2\n", Syntax::Yaml).expect_err("problems");
    let places: Vec<_> = problems
        .iter()
        .map(|p| (p.fault, p.place.clone().expect("a place").line))
        .collect();
    assert_eq!(places, [(Fault::RepeatedKey, 2), (Fault::RepeatedKey, 3)]);
}

/// Few keys are found alike in another way than many.
#[test]
fn repeated_keys_are_found_among_few_and_many() {
    for count in [2, 31, 32, 33, 100] {
        let mut text: String = (1..count).map(|at| format!("k{at}: 1\n")).collect();
        assert!(
            whole("t.yaml", text.as_bytes(), Syntax::Yaml).is_ok(),
            "{count}"
        );
        text.push_str("k1: 2\nk1: 3\n");
        let problems = whole("t.yaml", text.as_bytes(), Syntax::Yaml).expect_err("problems");
        let said: Vec<_> = problems
            .iter()
            .map(|problem| {
                (
                    problem.place.as_ref().map(|place| place.line),
                    problem.message.as_str(),
                )
            })
            .collect();
        let message =
            |line: usize| format!("the key `k1` is here again; it is already on line {line}");
        assert_eq!(
            said,
            [
                (Some(count), message(1).as_str()),
                (Some(count + 1), message(count).as_str())
            ],
            "{count}"
        );
    }
}

#[test]
fn depth_is_bounded_in_both_styles() {
    let nest = |levels: usize| format!("a: {}1{}", "[".repeat(levels), "]".repeat(levels));
    assert!(whole("t.yaml", nest(MOST_LEVELS - 1).as_bytes(), Syntax::Yaml).is_ok());
    assert_eq!(fault(&nest(MOST_LEVELS)).0, Fault::TooDeep);
    assert_eq!(fault(&nest(10_000)).0, Fault::TooDeep);
    let block: String = (0..10_000)
        .map(|level| format!("{}a:\n", " ".repeat(level)))
        .take(100)
        .collect();
    assert_eq!(fault(&block).0, Fault::TooDeep);
    let json = nest(10_000).replace("a: ", "");
    let problems = whole("t.json", json.as_bytes(), Syntax::Json).expect_err("a problem");
    assert_eq!(problems[0].fault, Fault::TooDeep);
}

#[test]
fn size_is_bounded() {
    let at = [b"a: ".to_vec(), vec![b'x'; MOST_BYTES - 3]].concat();
    assert!(whole("t.yaml", &at, Syntax::Yaml).is_ok());
    let past = [at, vec![b'x']].concat();
    let problems = whole("t.yaml", &past, Syntax::Yaml).expect_err("a problem");
    assert_eq!(problems[0].fault, Fault::TooLarge);
    let place = problems[0].place.as_ref().expect("a place");
    assert_eq!(place.to_string(), "t.yaml:1:1");
}

#[test]
fn bytes_that_are_not_text_are_refused_and_a_byte_order_mark_is_skipped() {
    let problems = whole("t.yaml", b"a: 1\nb: \xff\n", Syntax::Yaml).expect_err("a problem");
    assert_eq!(problems[0].fault, Fault::Unreadable);
    assert_eq!(
        problems[0].place.as_ref().map(|p| (p.line, p.column)),
        Some((2, 4))
    );
    let (source, doc) = whole("t.yaml", "\u{feff}a: 1\n".as_bytes(), Syntax::Yaml).expect("a tree");
    assert_eq!(source.place(value(&doc, "a").span.start).column, 4);
}

#[test]
fn places_inside_a_scalar_survive_quotes_and_folding() {
    let (source, doc) = tree("a: 'wire.x > 3 V'\nb: >-\n  wire.x\n  > 3 V\nc: wire.x\n  > 3 V\n");
    for (key, line, column) in [("a", 1, 14), ("b", 4, 5), ("c", 6, 5)] {
        let node = value(&doc, key);
        let at = node
            .scalar()
            .and_then(|text| text.find('3'))
            .expect("a three");
        let place = source.place(node.span_within(&source, at, at + 1).start);
        assert_eq!((place.line, place.column), (line, column), "{key}");
    }
}

#[test]
fn tags_of_yaml_itself_are_refused_too() {
    assert_eq!(fault("a: !!str 3\n"), (Fault::Anchor, 1, 4));
    assert_eq!(fault("a: [1, !!int 3]\n"), (Fault::Anchor, 1, 8));
    assert_eq!(fault("<<: { a: 1 }\nb: 2\n"), (Fault::Anchor, 1, 1));
    let (_, doc) = tree("a: x != y\nb: '!'\nc: [w!, v]\n");
    assert_eq!(value(&doc, "a").scalar(), Some("x != y"));
    assert_eq!(value(&doc, "b").scalar(), Some("!"));
}

/// YAML 1.2.2, productions 27 and 28; JSON knows white space, not lines, and is counted alike.
#[test]
fn places_count_every_sort_of_line_end() {
    for end in ["\n", "\r", "\r\n"] {
        let lines = ["a: 1", "b: {c: 1,", "  c: 2}", ""].join(end);
        assert_eq!(fault(&lines), (Fault::RepeatedKey, 3, 3), "{end:?}");
        let json = ["{ \"a\": 1,", "  \"b\": }", ""].join(end);
        let problems = whole("t.json", json.as_bytes(), Syntax::Json).expect_err("a problem");
        let place = problems[0].place.clone().expect("a place");
        assert_eq!((place.line, place.column), (2, 8), "{end:?}");
        assert_eq!(&*problems[0].line, "  \"b\": }", "{end:?}");
        let block = ["a: >-", "  wire.x", "  > 3 V", "b: 1", ""].join(end);
        let (source, doc) = tree(&block);
        let place = source.place(value(&doc, "a").span.start);
        assert_eq!((place.line, place.column), (2, 3), "{end:?}");
    }
}

/// `serde_json` counts columns in bytes.
#[test]
fn columns_of_json_are_characters() {
    let text = "{ \"a\": \"ééééé電\", \"b\": }";
    let problems = whole("t.json", text.as_bytes(), Syntax::Json).expect_err("a problem");
    let place = problems[0].place.clone().expect("a place");
    assert_eq!((place.line, place.column), (1, text.chars().count()));
    let unfinished = "{ \"é\": [1,\n \"é\"";
    let problems = whole("t.json", unfinished.as_bytes(), Syntax::Json).expect_err("a problem");
    let place = problems[0].place.clone().expect("a place");
    assert_eq!(place.line, 2);
    assert!(place.column >= 4, "{place}");
}

#[test]
fn a_second_byte_order_mark_is_refused() {
    for (name, syntax) in [("t.yaml", Syntax::Yaml), ("t.json", Syntax::Json)] {
        let problems = whole(name, "\u{feff}\u{feff}{}".as_bytes(), syntax).expect_err("a problem");
        assert_eq!(problems[0].fault, Fault::Syntax);
        assert!(
            problems[0].message.contains("byte-order mark"),
            "{problems:?}"
        );
        let place = problems[0].place.clone().expect("a place");
        assert_eq!((place.line, place.column), (1, 1));
    }
}

/// The entries of a key's map, as texts.
fn entries(node: &Node<'_>) -> Vec<(String, String)> {
    let Content::Map(entries) = &node.content else {
        panic!("no map")
    };
    let text = |entry: &Entry<'_>| entry.node.scalar().unwrap_or(entry.node.what()).to_owned();
    entries
        .iter()
        .map(|entry| (entry.key.to_string(), text(entry)))
        .collect()
}

#[test]
fn reading_goes_on_after_a_repeated_key() {
    let text =
        "a: { x: 1, m: { p: 1 } }\nb: 2\na: { x: 3, y: 4, m: { q: 5 } }\nb: { z: 6 }\na: 7\n";
    let source = source("t.yaml", text.into()).expect("a text");
    let (tree, found) = read_on(&source, Syntax::Yaml).expect("a tree");
    let lines = Problems::resumed(&source, found).finish();
    let lines = lines
        .iter()
        .map(|problem| problem.place.as_ref().map_or(0, |place| place.line));
    assert_eq!(lines.collect::<Vec<_>>(), [3, 4, 5]);
    let pair = |key: &str, text: &str| (key.to_owned(), text.to_owned());
    assert_eq!(entries(&tree), [pair("a", "a map"), pair("b", "2")]);
    let a = value(&tree, "a");
    assert_eq!(
        entries(a),
        [pair("x", "1"), pair("m", "a map"), pair("y", "4")]
    );
    assert_eq!(entries(value(a, "m")), [pair("p", "1"), pair("q", "5")]);
}

#[test]
fn reading_goes_on_without_a_merged_key() {
    let text = "a: 1\n<<: { b: 2 }\n'<<': 3\n";
    let source = source("t.yaml", text.into()).expect("a text");
    let (tree, found) = read_on(&source, Syntax::Yaml).expect("a tree");
    assert_eq!(Problems::resumed(&source, found).len(), 1);
    let pair = |key: &str, text: &str| (key.to_owned(), text.to_owned());
    assert_eq!(entries(&tree), [pair("a", "1"), pair("<<", "3")]);
}
