//! A value of JSON in memory as a document: each of its values stands on a line of its own, behind
//! the keys that lead to it, so that whatever is wrong with it has a place that a person can read.

use std::borrow::Cow;
use std::fmt::Write as _;
use std::sync::Arc;

use serde_json::Value;

use super::fault::Fault;
use super::node::{Content, Node};
use super::problem::Problem;
use super::problem_list::ProblemList;
use super::problems::SetAside;
use super::source::{Source, Span};
use super::tree::Builder;
use super::units::Quotes;
use crate::bounds::{MOST_BYTES, MOST_LEVELS};

/// A value with its listing: `cables[K4].drop: "3.1 V"` and the like, a line for each.
#[derive(Debug)]
pub struct Listing<'v> {
    value: &'v Value,
    source: Arc<Source>,
    /// Where keys and values stand, in the order in which they are met.
    spans: Vec<Span>,
}

impl<'v> Listing<'v> {
    /// The listing of a value; `name` is what messages call it.
    ///
    /// # Errors
    ///
    /// A value that is larger or deeper than a document may be.
    pub fn of(name: &str, value: &'v Value) -> Result<Self, ProblemList> {
        let mut writer = Writer::default();
        if let Err((fault, message)) = writer.value(value, 0, None) {
            let message = format!("`{name}` {message}");
            return Err(Problem::at_start(name, fault, message, "split it").into());
        }
        Ok(Self {
            value,
            source: Arc::new(Source::new(name, writer.text)),
            spans: writer.spans,
        })
    }

    /// The text of the listing, in which the places of problems and facts are.
    #[must_use]
    pub fn source(&self) -> &Arc<Source> {
        &self.source
    }

    /// The value as a document, with what was found on the way.
    ///
    /// # Errors
    ///
    /// A document that exceeds the bounds, or holds nothing.
    pub fn tree(&self) -> Result<(Node<'_>, SetAside), ProblemList> {
        let mut builder = Builder::new(&self.source);
        let mut spans = self.spans.iter().copied();
        if let Err(problem) = build(self.value, &mut spans, &mut builder) {
            return Err(builder.give_up(problem));
        }
        let (tree, found) = builder.finish();
        if matches!(tree.content, Content::Nothing) {
            return Err(Problem::empty(&self.source).into());
        }
        Ok((tree, found))
    }
}

/// Hands a value to a builder, as a reader of its text would.
fn build<'s>(
    value: &'s Value,
    spans: &mut impl Iterator<Item = Span>,
    builder: &mut Builder<'s>,
) -> Result<(), Problem> {
    let span = spans.next().unwrap_or_default();
    match value {
        Value::Object(entries) => {
            builder.enter_map(span)?;
            for (key, value) in entries {
                builder.text(
                    Cow::Borrowed(key),
                    Quotes::Double,
                    spans.next().unwrap_or_default(),
                )?;
                build(value, spans, builder)?;
            }
            builder.leave()
        }
        Value::Array(items) => {
            builder.enter_list(span)?;
            for item in items {
                build(item, spans, builder)?;
            }
            builder.leave()
        }
        Value::String(text) => builder.text(Cow::Borrowed(text), Quotes::Double, span),
        Value::Bool(_) | Value::Null | Value::Number(_) => {
            builder.plain(value.to_string().into(), span)
        }
    }
}

/// Why a value cannot be listed.
type TooMuch = (Fault, String);

#[derive(Default)]
struct Writer {
    text: String,
    spans: Vec<Span>,
    /// The keys that lead to the value at hand.
    path: String,
}

impl Writer {
    /// Writes the lines of a value. `key` is where the key before it is noted, and how long it is.
    fn value(
        &mut self,
        value: &Value,
        level: usize,
        key: Option<(usize, usize)>,
    ) -> Result<(), TooMuch> {
        if level > MOST_LEVELS {
            let message = format!("is deeper than {MOST_LEVELS} levels");
            return Err((Fault::TooDeep, message));
        }
        if self.text.len() > MOST_BYTES {
            let most = MOST_BYTES >> 20;
            let message = format!("is larger than {most} MiB ({MOST_BYTES} bytes) as a listing");
            return Err((Fault::TooLarge, message));
        }
        match value {
            Value::Object(entries) if !entries.is_empty() => self.map(entries, level, key),
            Value::Array(items) if !items.is_empty() => self.list(items, level, key),
            other => {
                self.leaf(other, key);
                Ok(())
            }
        }
    }

    fn map(
        &mut self,
        entries: &serde_json::Map<String, Value>,
        level: usize,
        key: Option<(usize, usize)>,
    ) -> Result<(), TooMuch> {
        self.here(key);
        let before = self.path.len();
        for (name, value) in entries {
            let dot = if before > 0 { "." } else { "" };
            let _ = write!(self.path, "{dot}{name}");
            let key = (self.spans.len(), name.len());
            self.spans.push(Span::default());
            self.value(value, level + 1, Some(key))?;
            self.path.truncate(before);
        }
        Ok(())
    }

    /// The items of a list, each by its `id` where it has one.
    fn list(
        &mut self,
        items: &[Value],
        level: usize,
        key: Option<(usize, usize)>,
    ) -> Result<(), TooMuch> {
        self.here(key);
        let before = self.path.len();
        for (at, item) in items.iter().enumerate() {
            let _ = match item.get("id").and_then(Value::as_str) {
                Some(id) => write!(self.path, "[{id}]"),
                None => write!(self.path, "[{at}]"),
            };
            self.value(item, level + 1, None)?;
            self.path.truncate(before);
        }
        Ok(())
    }

    /// Notes that a map or list begins at the line that comes next, and its key with it.
    fn here(&mut self, key: Option<(usize, usize)>) {
        let start = self.text.len();
        self.note_key(key, start);
        self.spans.push(Span {
            start,
            end: start + 1,
        });
    }

    /// The key stands at the end of the path, on the line that starts there.
    fn note_key(&mut self, key: Option<(usize, usize)>, line: usize) {
        let end = line + self.path.len();
        if let Some((at, length)) = key
            && let Some(span) = self.spans.get_mut(at)
        {
            *span = Span {
                start: end.saturating_sub(length),
                end,
            };
        }
    }

    fn leaf(&mut self, value: &Value, key: Option<(usize, usize)>) {
        self.note_key(key, self.text.len());
        self.text.push_str(&self.path);
        if !self.path.is_empty() {
            self.text.push_str(": ");
        }
        let start = self.text.len();
        let _ = write!(self.text, "{value}");
        let end = self.text.len();
        self.spans.push(Span { start, end });
        self.text.push('\n');
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::Entry;
    use serde_json::json;

    fn entries<'n>(tree: &'n Node<'n>) -> &'n [Entry<'n>] {
        match &tree.content {
            Content::Map(entries) => entries,
            _ => &[],
        }
    }

    #[test]
    fn each_value_stands_behind_its_keys() {
        let value =
            json!({ "a": "1 V", "b": { "c": [1, true] }, "d": [{ "id": "K4", "e": null }, {}] });
        let listing = Listing::of("form", &value).unwrap();
        assert_eq!(
            listing.source().text(),
            "a: \"1 V\"\nb.c[0]: 1\nb.c[1]: true\nd[K4].e: null\nd[K4].id: \"K4\"\nd[1]: {}\n"
        );
        let (tree, _) = listing.tree().unwrap();
        let entries = entries(&tree);
        let shown = |span| listing.source().slice(span);
        let keys: Vec<&str> = entries.iter().map(|entry| shown(entry.key_span)).collect();
        assert_eq!(keys, ["a", "b", "d"]);
        assert_eq!(shown(entries[0].node.span), "\"1 V\"");
        assert_eq!(entries[0].node.scalar(), Some("1 V"));
    }

    /// A text stays a text: only what is `null` is nothing.
    #[test]
    fn the_word_null_in_a_text_is_a_text() {
        let value = json!({ "a": "null", "b": null });
        let listing = Listing::of("form", &value).unwrap();
        let (tree, _) = listing.tree().unwrap();
        let entries = entries(&tree);
        assert_eq!(entries[0].node.scalar(), Some("null"));
        assert!(matches!(entries[1].node.content, Content::Nothing));
    }

    #[test]
    fn what_is_too_deep_or_too_large_is_refused() {
        let nested = |levels| (0..levels).fold(json!(1), |inner, _| json!([inner]));
        let tree = |value: &Value| Listing::of("form", value)?.tree().map(|_| ());
        assert_eq!(tree(&nested(MOST_LEVELS)), Ok(()));
        assert_eq!(
            tree(&nested(MOST_LEVELS + 1)).unwrap_err()[0].fault,
            Fault::TooDeep
        );
        assert_eq!(tree(&nested(200)).unwrap_err()[0].fault, Fault::TooDeep);
        let long = json!({ "a": "x".repeat(MOST_BYTES), "b": 1 });
        assert_eq!(tree(&long).unwrap_err()[0].fault, Fault::TooLarge);
        assert_eq!(tree(&Value::Null).unwrap_err()[0].fault, Fault::Empty);
    }
}
