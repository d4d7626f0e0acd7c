//! The same document as JSON and as YAML: JSON is a part of YAML 1.2, so what the reader of JSON
//! takes, the reader of YAML reads the same.
//!
//! The bytes are the document. Where both readers give a tree, they give the same one with the same
//! places, and what they refuse they refuse with the same problems. There are three differences,
//! all of what nobody writes by hand:
//!
//! - A key, with the space after it, of more than 1024 characters up to its colon is no YAML here.
//!   YAML sets that bound for keys outside braces and for a pair alone in a list (YAML 1.2.2,
//!   sections 7.4.2 and 8.2.2); the parser sets it everywhere, so as not to keep any length of text
//!   until its colon.
//! - DEL, the controls U+0080 to U+009F but for U+0085, U+FFFE and U+FFFF are no YAML here, unless
//!   they are escaped. They are outside YAML's printable characters; section 5.1 asks to take them
//!   between quotes all the same, which the parser does not.
//! - The YAML parser reads ahead. At what is too deep (it notices a level later) or half of a
//!   surrogate pair it may give up before the tree is built so far; then repeated keys before it go
//!   untold, and so does an empty key, at which the reader of JSON gives up.
//!
//! A tab or another control in a text is JSON's own to refuse.

use rules_core::document::{
    Content, Fault, Node, Problem, ProblemList, Source, Span, Syntax, read, source,
};
use rules_core::facts::Proposed;
use rules_core::ruleset::Rules;
use rulesets::proposal::Proposal;
use serde_json::Value;

use super::loaded::{CATALOGUE, is_small, only, say_why};

/// What is JSON is the same as YAML: the tree, the proposal and the ruleset, or the problems.
pub fn any(bytes: &[u8]) {
    trees(bytes);
}

/// The same; returns whether the bytes gave two trees.
pub fn trees(bytes: &[u8]) -> bool {
    let json = tree(bytes, Syntax::Json);
    if json
        .as_ref()
        .is_err_and(|problems| is_no_json(bytes, problems))
    {
        return false;
    }
    match (json, tree(bytes, Syntax::Yaml)) {
        (Ok(json), Ok(yaml)) => {
            assert_eq!(json, yaml, "JSON and YAML give two trees");
            assert_eq!(
                facts(bytes, Syntax::Json),
                facts(bytes, Syntax::Yaml),
                "JSON and YAML give two proposals"
            );
            assert_eq!(
                merged("any.json", bytes),
                merged("any.yaml", bytes),
                "JSON and YAML give two rulesets"
            );
            return true;
        }
        (_, Err(yaml)) if is_json_alone(bytes, &yaml) => {}
        (Err(json), Err(yaml)) if ends_with(&yaml, &[Fault::TooDeep]) => {
            assert!(
                ends_with(&json, &[Fault::TooDeep, Fault::WrongShape]),
                "only YAML is too deep: {json:?}"
            );
        }
        (json, yaml) => assert_eq!(json, yaml, "JSON and YAML give two results"),
    }
    false
}

/// What is at a place: a map or list with its size, a key, a text or nothing.
type Part = (String, Span);

fn tree(bytes: &[u8], syntax: Syntax) -> Result<Vec<Part>, ProblemList> {
    let source = source("any", bytes.to_vec()).inspect_err(|problems| say_why(problems))?;
    let tree = read(&source, syntax).inspect_err(|problems| say_why(problems))?;
    let mut parts = Vec::new();
    part(&tree, &source, &mut parts);
    Ok(parts)
}

fn part(node: &Node<'_>, source: &Source, into: &mut Vec<Part>) {
    match &node.content {
        Content::Nothing | Content::Scalar(_) => {
            into.push((text(node.scalar(), node.span, source), node.span))
        }
        Content::List(items) => {
            into.push((format!("a list of {}", items.len()), node.span));
            items.iter().for_each(|item| part(item, source, into));
        }
        Content::Map(entries) => {
            into.push((format!("a map of {}", entries.len()), node.span));
            for entry in entries {
                into.push((
                    text(Some(&entry.key), entry.key_span, source),
                    entry.key_span,
                ));
                part(&entry.node, source, into);
            }
        }
    }
}

/// A text or nothing, which is what is at its place. That is read apart from the tree, by a general
/// reader of JSON; numbers and words stay as they are.
fn text(text: Option<&str>, span: Span, source: &Source) -> String {
    let raw = source.slice(span);
    let there: Option<String> = serde_json::from_str(raw).unwrap_or_else(|_| Some(raw.to_owned()));
    assert_eq!(there.as_deref(), text, "{span:?} holds `{raw}`");
    text.map_or("nothing".to_owned(), |text| format!("the text {text:?}"))
}

/// Where there is no JSON, there is nothing to compare. What a general reader of JSON takes is not
/// refused as none, or for what only YAML has.
fn is_no_json(bytes: &[u8], problems: &[Problem]) -> bool {
    let any = |faults: &[Fault]| {
        problems
            .iter()
            .any(|problem| faults.contains(&problem.fault))
    };
    let refused = any(&[
        Fault::Syntax,
        Fault::NotFinite,
        Fault::Anchor,
        Fault::SeveralDocuments,
    ]);
    assert!(
        !refused || serde_json::from_str::<Value>(&after_mark(bytes)).is_err(),
        "JSON is refused: {problems:?}"
    );
    refused || any(&[Fault::Empty])
}

/// The text after its byte-order mark.
fn after_mark(bytes: &[u8]) -> String {
    let text = String::from_utf8_lossy(bytes);
    text.strip_prefix('\u{feff}').unwrap_or(&text).to_owned()
}

/// Whether a reader gave up at one of these.
fn ends_with(problems: &[Problem], faults: &[Fault]) -> bool {
    problems
        .last()
        .is_some_and(|last| faults.contains(&last.fault))
}

/// Whether the reader of YAML gave up at what this module says is JSON alone, or at a text with
/// half a pair that the reader of JSON did not come to.
fn is_json_alone(bytes: &[u8], problems: &[Problem]) -> bool {
    let Some(Problem {
        fault: Fault::Syntax,
        place: Some(place),
        ..
    }) = problems.last()
    else {
        return false;
    };
    let source = Source::new("any", after_mark(bytes));
    let (before, from) = source
        .text()
        .split_at(source.byte_at(place.line, place.column));
    match from.chars().next() {
        Some(':') => characters_of_key(before) > 1024,
        Some('"') => serde_json::Deserializer::from_str(from)
            .into_iter::<String>()
            .next()
            .is_some_and(|text| text.is_err()),
        Some(letter) => {
            matches!(letter, '\u{7f}'..='\u{84}' | '\u{86}'..='\u{9f}' | '\u{fffe}' | '\u{ffff}')
        }
        None => false,
    }
}

/// The characters from the first quote of the last text on.
fn characters_of_key(before: &str) -> usize {
    let (mut start, mut inside, mut escaped) = (0, false, false);
    for (at, letter) in before.char_indices() {
        if letter == '"' && !escaped {
            inside = !inside;
            start = if inside { at } else { start };
        }
        escaped = letter == '\\' && !escaped;
    }
    before.get(start..).map_or(0, |key| key.chars().count())
}

/// The title and the facts of a proposal: their values, what is written and where.
fn facts(bytes: &[u8], syntax: Syntax) -> Result<Option<String>, ProblemList> {
    let proposal = Proposal::read("any", bytes.to_vec(), syntax)?;
    let sheet = proposal.facts(&CATALOGUE)?;
    Ok(is_small(&proposal).then(|| format!("{} {sheet:?}", proposal.title())))
}

/// A ruleset printed merged, or each fault with its line and column. What is said of it may name
/// the file, and that has another ending.
fn merged(name: &str, bytes: &[u8]) -> Result<String, Vec<(Fault, [usize; 2])>> {
    let at = |problem: &Problem| {
        (
            problem.fault,
            problem
                .place
                .as_ref()
                .map_or([0, 0], |place| [place.line, place.column]),
        )
    };
    let found = |problems: ProblemList| problems.iter().map(at).collect();
    Rules::load(&[name], &only(name, bytes), &CATALOGUE)
        .map(|rules| rules.merged_json())
        .map_err(found)
}
