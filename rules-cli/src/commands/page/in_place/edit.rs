//! One change of a document: the first place where it says something else than it is to say.

use std::ops::Range;

use rules_core::document::{Content, Entry, Node, Syntax};
use rulesets::bench::{on_one_line, value};
use serde_json::{Map, Value};

use super::lines::{Line, indented, list_item};
use super::scan::flow_end;
use crate::commands::page::plan::id_of;

/// A text, with how it is to be read.
pub(super) struct Document<'t> {
    pub(super) text: &'t str,
    pub(super) syntax: Syntax,
}

/// What is written in place of a stretch of the text.
pub(super) struct Edit {
    pub(super) at: Range<usize>,
    pub(super) with: String,
}

/// The first change that brings a node nearer to what it is to say; none where that is not written in
/// a way that can be changed by itself.
pub(super) fn edit(document: &Document<'_>, node: &Node<'_>, wanted: &Value) -> Option<Edit> {
    match (&node.content, wanted) {
        (Content::Map(entries), Value::Object(wanted)) => document.edit_map(node, entries, wanted),
        (Content::List(items), Value::Array(wanted)) => document.edit_list(node, items, wanted),
        _ => {
            let end = document.end_of(node)?;
            let own = document.text.get(node.span.start..end)?;
            let is_one_line = !own.contains('\n') && !matches!(node.content, Content::Nothing);
            let is_whole = !node.holds_others() || document.is_flow(node);
            (is_one_line && is_whole).then(|| Edit {
                at: node.span.start..end,
                with: document.written(wanted),
            })
        }
    }
}

impl Document<'_> {
    fn edit_map(
        &self,
        node: &Node<'_>,
        entries: &[Entry<'_>],
        wanted: &Map<String, Value>,
    ) -> Option<Edit> {
        let differs = |entry: &&Entry<'_>| {
            let wanted = wanted.get(&*entry.key);
            wanted.is_some_and(|wanted| value(&entry.node) != *wanted)
        };
        if let Some(entry) = entries.iter().find(differs) {
            let wanted = wanted.get(&*entry.key)?;
            return match entry.node.content {
                Content::Nothing => self.fill(entry, wanted),
                _ => edit(self, &entry.node, wanted),
            };
        }
        let is_there = |key: &str| entries.iter().any(|entry| entry.key == key);
        if let Some((key, value)) = wanted.iter().find(|(key, _)| !is_there(key)) {
            return self.add_entry(node, entries, (key, value));
        }
        let is_over = |entry: &Entry<'_>| !wanted.contains_key(&*entry.key);
        let over = entries.iter().position(is_over)?;
        match self.is_flow(node) {
            true => self.take_from_flow(node, entries, over),
            false => self.take_lines(entries, over),
        }
    }

    /// Writes a value behind a key that has none.
    fn fill(&self, entry: &Entry<'_>, wanted: &Value) -> Option<Edit> {
        let end = self.behind_colon(entry)?;
        Some(Edit {
            at: end..end,
            with: format!(" {}", self.written(wanted)),
        })
    }

    fn add_entry(
        &self,
        node: &Node<'_>,
        entries: &[Entry<'_>],
        (key, value): (&str, &Value),
    ) -> Option<Edit> {
        let last = entries.last();
        if self.is_flow(node) {
            let pair = format!("{}: {}", self.key(key), self.written(value));
            return match last {
                Some(last) => {
                    let end = self.end_of_entry(last)?;
                    Some(Edit {
                        at: end..end,
                        with: format!(", {pair}"),
                    })
                }
                None => Some(Edit {
                    at: node.span.start..flow_end(self.text, node.span.start)?,
                    with: format!("{{ {pair} }}"),
                }),
            };
        }
        let line = Line::of(self.text, entries.first()?.key_span.start);
        let indent = line.indent()?;
        let end = Line::of(self.text, self.end_of_entry(last?)?).end;
        let lines = indented(indent, &self.key(key), value);
        Some(Edit {
            at: end..end,
            with: format!("{0}{1}", line.break_, lines.join(line.break_)),
        })
    }

    fn take_from_flow(&self, node: &Node<'_>, entries: &[Entry<'_>], at: usize) -> Option<Edit> {
        let entry = entries.get(at)?;
        let before = at.checked_sub(1).and_then(|at| entries.get(at));
        let at = match (entries.get(at + 1), before) {
            (Some(next), _) => entry.key_span.start..next.key_span.start,
            (None, Some(before)) => self.end_of_entry(before)?..self.end_of_entry(entry)?,
            (None, None) => node.span.start + 1..flow_end(self.text, node.span.start)? - 1,
        };
        Some(Edit {
            at,
            with: String::new(),
        })
    }

    fn take_lines(&self, entries: &[Entry<'_>], at: usize) -> Option<Edit> {
        let entry = entries.get(at)?;
        let start = entry.key_span.start;
        let line = Line::of(self.text, start);
        if line.is_blank_before(start) {
            return Some(self.lines_without(&line, self.end_of_entry(entry)?));
        }
        // The first key of an entry of a list: the next one takes its place.
        let next = entries.get(at + 1)?;
        Some(Edit {
            at: start..next.key_span.start,
            with: String::new(),
        })
    }

    /// Takes lines away, but for a comment at the end of the last.
    fn lines_without(&self, first: &Line<'_>, end: usize) -> Edit {
        let last = Line::of(self.text, end);
        let rest = self.text.get(end..last.end).unwrap_or_default();
        let comment = rest.trim();
        let with = match comment.is_empty() {
            true => String::new(),
            false => format!("{}{comment}{}", first.blank(), last.break_),
        };
        Edit {
            at: first.start..last.next,
            with,
        }
    }

    fn edit_list(&self, node: &Node<'_>, items: &[Node<'_>], wanted: &[Value]) -> Option<Edit> {
        let own: Vec<Value> = items.iter().map(value).collect();
        let is_same = |(one, other): (&Value, &Value)| name(one) == name(other);
        if own.len() == wanted.len() && own.iter().zip(wanted).all(is_same) {
            let pairs = items.iter().zip(&own).zip(wanted);
            let mut differing = pairs.filter(|((_, own), wanted)| own != wanted);
            let ((item, _), wanted) = differing.next()?;
            return edit(self, item, wanted);
        }
        if self.is_flow(node) {
            return Some(Edit {
                at: node.span.start..flow_end(self.text, node.span.start)?,
                with: self.written(&Value::Array(wanted.to_vec())),
            });
        }
        let is_over = |own: &Value| !wanted.iter().any(|wanted| name(wanted) == name(own));
        if let Some(over) = own.iter().position(is_over) {
            let item = items.get(over)?;
            let line = Line::of(self.text, item.span.start);
            line.dash_before(item.span.start)?;
            return Some(self.lines_without(&line, self.end_of(item)?));
        }
        let is_continued = own.iter().zip(wanted).all(is_same);
        let next = wanted.get(own.len()).filter(|_| is_continued)?;
        self.append(items, next)
    }

    fn append(&self, items: &[Node<'_>], item: &Value) -> Option<Edit> {
        let first = items.first()?;
        let line = Line::of(self.text, first.span.start);
        let indent = line.dash_before(first.span.start)?;
        let end = Line::of(self.text, self.end_of(items.last()?)?).end;
        let lines = list_item(indent, item);
        Some(Edit {
            at: end..end,
            with: format!("{0}{1}", line.break_, lines.join(line.break_)),
        })
    }

    fn is_flow(&self, node: &Node<'_>) -> bool {
        let first = self.text.as_bytes().get(node.span.start);
        node.holds_others() && matches!(first, Some(b'{' | b'['))
    }

    /// The byte behind a node.
    fn end_of(&self, node: &Node<'_>) -> Option<usize> {
        if self.is_flow(node) {
            return flow_end(self.text, node.span.start);
        }
        match &node.content {
            Content::Map(entries) => self.end_of_entry(entries.last()?),
            Content::List(items) => self.end_of(items.last()?),
            Content::Nothing | Content::Scalar(_) => {
                let own = self.text.get(..node.span.end)?;
                Some(own.trim_end().len().max(node.span.start))
            }
        }
    }

    fn end_of_entry(&self, entry: &Entry<'_>) -> Option<usize> {
        match entry.node.content {
            Content::Nothing => self.behind_colon(entry),
            _ => self.end_of(&entry.node),
        }
    }

    fn behind_colon(&self, entry: &Entry<'_>) -> Option<usize> {
        let start = entry.key_span.end;
        let rest = self.text.get(start..)?;
        Some(start + rest.find(':')? + 1)
    }

    fn written(&self, value: &Value) -> String {
        match self.syntax {
            Syntax::Json => value.to_string(),
            Syntax::Yaml => on_one_line(value),
        }
    }

    fn key(&self, key: &str) -> String {
        self.written(&key.into())
    }
}

/// By what an entry of a list is told from the others: its name, or all that it says.
fn name(item: &Value) -> String {
    id_of(item).map_or_else(|| item.to_string(), str::to_owned)
}
