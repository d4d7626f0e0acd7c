//! Bytes to a tree.

use serde::de::{self, Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_yaml::budget::BudgetBreach;
use serde_yaml::{Location, Spanned};

use super::bounds::{MOST_BYTES, MOST_LEVELS, MOST_NODES};
use super::node::{Content, Entry, Node, Scalar};
use super::problem::{Fault, Problem};
use super::source::{Source, Span};

/// How a document is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Syntax {
    /// YAML 1.2, of which JSON is a part.
    Yaml,
    /// JSON and nothing more.
    Json,
}

impl Syntax {
    /// JSON for names that end in `.json`, YAML for all others.
    #[must_use]
    pub fn of_name(name: &str) -> Self {
        let json = name.rsplit_once('.').is_some_and(|(_, ending)| ending.eq_ignore_ascii_case("json"));
        if json { Self::Json } else { Self::Yaml }
    }
}

/// Reads one document.
///
/// # Errors
///
/// Every problem found: bytes that are not UTF-8, text that is not YAML or JSON, more than one document, anchors and tags, repeated keys, and whatever
/// exceeds the bounds.
pub fn read(name: &str, bytes: Vec<u8>, syntax: Syntax) -> Result<(Source, Node), Vec<Problem>> {
    let source = decode(name, bytes).map_err(|problem| vec![problem])?;
    if syntax == Syntax::Json {
        refuse_non_json(&source).map_err(|problem| vec![problem])?;
    }
    let tree = parse(&source).map_err(|problem| vec![problem])?;
    if matches!(tree.content, Content::Nothing) {
        let start = Span::default();
        return Err(vec![Problem::at(&source, Fault::Empty, start, "the document is empty", "write at least `format: 1`")]);
    }
    let mut found = Vec::new();
    refuse_beyond_json(&source, &tree, &mut found);
    if found.is_empty() { Ok((source, tree)) } else { Err(found) }
}

fn decode(name: &str, bytes: Vec<u8>) -> Result<Source, Problem> {
    if bytes.len() > MOST_BYTES {
        let message = format!("`{name}` is larger than {} MiB ({MOST_BYTES} bytes)", MOST_BYTES >> 20);
        return Err(Problem::of_file(Fault::TooLarge, message, "split it into several files"));
    }
    let text = String::from_utf8(bytes).map_err(|error| not_utf8(name, &error))?;
    let text = text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text);
    Ok(Source::new(name, text))
}

fn not_utf8(name: &str, error: &std::string::FromUtf8Error) -> Problem {
    let at = error.utf8_error().valid_up_to();
    let good = String::from_utf8_lossy(error.as_bytes().get(..at).unwrap_or_default()).into_owned();
    let source = Source::new(name, good);
    let span = Span { start: at, end: at };
    Problem::at(&source, Fault::Unreadable, span, format!("byte {at} is not UTF-8"), "save the file as UTF-8 text")
}

fn refuse_non_json(source: &Source) -> Result<(), Problem> {
    let error = match serde_json::from_str::<de::IgnoredAny>(source.text()) {
        Ok(_) => return Ok(()),
        Err(error) => error,
    };
    let at = source.byte_at(error.line(), error.column());
    let text = error.to_string();
    let said = text.split(" at line ").next().unwrap_or(&text);
    let fault = if source.text().trim().is_empty() { Fault::Empty } else { json_fault(said) };
    Err(Problem::at(
        source,
        fault,
        Span { start: at, end: at },
        format!("not JSON: {said}"),
        "mend it there, or name the file `.yaml` if it is YAML",
    ))
}

fn json_fault(said: &str) -> Fault {
    if said.contains("recursion limit") {
        Fault::TooDeep
    } else if said.contains("number out of range") {
        Fault::NotFinite
    } else {
        Fault::Syntax
    }
}

fn parse(source: &Source) -> Result<Node, Problem> {
    let options = serde_yaml::options! {
        with_snippet: false,
        // What is yes, no or a number is for the reader of a scalar to say, so nothing is turned into one here.
        strict_booleans: true,
        leading_zero_numbers_as_strings: true,
        underscored_numbers_as_strings: true,
        non_finite_float_policy: serde_yaml::options::NonFiniteFloatPolicy::AsString,
        reject_unsupported_tags: true,
        merge_keys: serde_yaml::options::MergeKeyPolicy::AsOrdinary,
        duplicate_keys: serde_yaml::options::DuplicateKeyPolicy::PassThrough,
        budget: serde_yaml::budget! {
            max_anchors: 0,
            max_aliases: 0,
            max_depth: MOST_LEVELS,
            flow_nesting_limit: MOST_LEVELS,
            max_nodes: MOST_NODES,
            max_events: 4 * MOST_NODES,
            max_total_scalar_bytes: MOST_BYTES,
        },
    };
    match serde_yaml::from_str_with_options::<Spanned<Raw>>(source.text(), options) {
        Ok(raw) => Ok(node(source, raw)),
        Err(error) => Err(syntax_problem(source, &error)),
    }
}

fn syntax_problem(source: &Source, error: &serde_yaml::Error) -> Problem {
    let at = error.location().map_or(0, |place| byte_of(source, place));
    let span = Span { start: at, end: at };
    let (fault, message, help) = explain(error);
    Problem::at(source, fault, span, message, help)
}

const PLAIN_DATA: &str = "anchors, aliases, tags and merge keys are not part of this format; write the value out";

fn explain(error: &serde_yaml::Error) -> (Fault, String, &'static str) {
    let plain = PLAIN_DATA;
    match error {
        serde_yaml::Error::Budget { breach, .. } => match breach {
            BudgetBreach::Anchors { .. } => (Fault::Anchor, "an anchor stands here".into(), plain),
            BudgetBreach::Aliases { .. } => (Fault::Anchor, "an alias stands here".into(), plain),
            BudgetBreach::Depth { .. } => (Fault::TooDeep, format!("deeper than {MOST_LEVELS} levels"), "the formats need six"),
            _ => (Fault::TooLarge, format!("more than {MOST_NODES} values in one document"), "split it into several files"),
        },
        serde_yaml::Error::MultipleDocuments { .. } => {
            (Fault::SeveralDocuments, "a second document starts here".into(), "keep one document in a file")
        }
        serde_yaml::Error::UnsupportedTag { .. } => (Fault::Anchor, "a tag stands here".into(), plain),
        serde_yaml::Error::UnknownAnchor { .. } => (Fault::Anchor, "an alias stands here".into(), plain),
        other => explain_text(&other.to_string()),
    }
}

fn explain_text(text: &str) -> (Fault, String, &'static str) {
    let said = text.split(" at line ").next().unwrap_or(text);
    if said.contains("recursion limit") {
        return (Fault::TooDeep, format!("deeper than {MOST_LEVELS} levels"), "the formats need six");
    }
    if said.contains("expected string scalar") {
        return (Fault::WrongShape, "a key must be a word or text".into(), "write `key: value`");
    }
    let hint =
        "indent alike, with spaces and not tabs; close every quote; quote text that holds `: ` or ` #` or starts with a bracket or brace";
    (Fault::Syntax, format!("not YAML: {said}"), hint)
}

fn byte_of(source: &Source, place: Location) -> usize {
    let count = |number: u64| usize::try_from(number).unwrap_or(usize::MAX);
    source.byte_at(count(place.line()), count(place.column()))
}

/// What YAML allows and JSON cannot say: repeated keys, merge keys, tags of YAML's own.
fn refuse_beyond_json(source: &Source, node: &Node, found: &mut Vec<Problem>) {
    if let Some(span) = tag_before(source, node.span) {
        found.push(Problem::at(source, Fault::Anchor, span, "a tag stands here", PLAIN_DATA));
    }
    match &node.content {
        Content::List(items) => items.iter().for_each(|item| refuse_beyond_json(source, item, found)),
        Content::Map(entries) => {
            let mut first = std::collections::HashMap::with_capacity(entries.len());
            for entry in entries {
                if let Some(before) = first.insert(entry.key.as_str(), entry.key_span.start) {
                    let line = source.place(before).line;
                    let message = format!("the key `{}` stands here again; it is already on line {line}", entry.key);
                    found.push(Problem::at(source, Fault::RepeatedKey, entry.key_span, message, "keep one of the two"));
                }
                if entry.key == "<<" && source.slice(entry.key_span) == "<<" {
                    found.push(Problem::at(source, Fault::Anchor, entry.key_span, "a merge key stands here", PLAIN_DATA));
                }
                refuse_beyond_json(source, &entry.node, found);
            }
        }
        Content::Nothing | Content::Scalar(_) => {}
    }
}

/// The tag right before a node, on its line. The reader follows `!!str` and the like silently.
fn tag_before(source: &Source, span: Span) -> Option<Span> {
    let before = source.slice(Span { start: 0, end: span.start }).trim_end_matches([' ', '\t']);
    let start = before.rfind([' ', '\t', '\n', '[', '{', ',']).map_or(0, |at| at + 1);
    let tagged = before.get(start..).is_some_and(|word| word.starts_with('!'));
    tagged.then_some(Span { start, end: before.len() })
}

/// A node as the reader hands it over, before the places are settled.
enum Raw {
    Nothing,
    Text(String),
    /// A bare word or number that YAML would have turned into a value of its own; the text is taken from the source.
    Bare,
    List(Vec<Spanned<Raw>>),
    Map(Vec<(Spanned<String>, Spanned<Raw>)>),
}

fn node(source: &Source, raw: Spanned<Raw>) -> Node {
    let span = span_of(source, raw.referenced);
    let content = match raw.value {
        Raw::Nothing => Content::Nothing,
        Raw::Bare => Content::Scalar(Scalar { text: source.slice(span).to_owned() }),
        Raw::Text(text) => Content::Scalar(Scalar { text: as_written(source, span, text) }),
        Raw::List(items) => Content::List(items.into_iter().map(|item| node(source, item)).collect()),
        Raw::Map(entries) => Content::Map(entries.into_iter().map(|entry| entry_of(source, entry)).collect()),
    };
    Node { content, span }
}

fn entry_of(source: &Source, (key, value): (Spanned<String>, Spanned<Raw>)) -> Entry {
    let key_span = span_of(source, key.referenced);
    Entry { key: key.value, key_span, node: node(source, value) }
}

/// A bare scalar on one line as it stands in the file: the reader has already turned `1e400` into an infinity.
fn as_written(source: &Source, span: Span, text: String) -> String {
    let raw = source.slice(span);
    let bare = !raw.is_empty() && !raw.contains('\n') && !raw.starts_with(['"', '\'']);
    if bare { raw.to_owned() } else { text }
}

fn span_of(source: &Source, place: Location) -> Span {
    let span = place.span();
    let start = span.byte_offset().and_then(|at| usize::try_from(at).ok());
    let start = start.unwrap_or_else(|| byte_of(source, place));
    let length = span.byte_len().and_then(|len| usize::try_from(len).ok()).unwrap_or(0);
    Span { start, end: start + length }
}

impl<'de> Deserialize<'de> for Raw {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(RawVisitor)
    }
}

struct RawVisitor;

impl<'de> Visitor<'de> for RawVisitor {
    type Value = Raw;

    fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("a map, a list or a single value")
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Raw, E> {
        Ok(Raw::Text(text.to_owned()))
    }

    fn visit_string<E: de::Error>(self, text: String) -> Result<Raw, E> {
        Ok(Raw::Text(text))
    }

    fn visit_bool<E: de::Error>(self, _: bool) -> Result<Raw, E> {
        Ok(Raw::Bare)
    }

    fn visit_i64<E: de::Error>(self, _: i64) -> Result<Raw, E> {
        Ok(Raw::Bare)
    }

    fn visit_u64<E: de::Error>(self, _: u64) -> Result<Raw, E> {
        Ok(Raw::Bare)
    }

    fn visit_i128<E: de::Error>(self, _: i128) -> Result<Raw, E> {
        Ok(Raw::Bare)
    }

    fn visit_u128<E: de::Error>(self, _: u128) -> Result<Raw, E> {
        Ok(Raw::Bare)
    }

    fn visit_f64<E: de::Error>(self, _: f64) -> Result<Raw, E> {
        Ok(Raw::Bare)
    }

    fn visit_unit<E: de::Error>(self) -> Result<Raw, E> {
        Ok(Raw::Nothing)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Raw, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = items.next_element()? {
            list.push(item);
        }
        Ok(Raw::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<Raw, A::Error> {
        let mut map = Vec::new();
        while let Some(entry) = entries.next_entry()? {
            map.push(entry);
        }
        Ok(Raw::Map(map))
    }
}

#[cfg(test)]
mod tests;
