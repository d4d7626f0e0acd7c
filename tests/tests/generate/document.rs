//! Documents with their keys in a chosen order, written as YAML or JSON.

use std::fmt::Write as _;

use rules_core::document::{Content, Node, Syntax, read, source};

use super::choices::Choices;

/// A map, a list or a scalar.
#[derive(Debug, Clone)]
pub(crate) enum Doc {
    Text(String),
    List(Vec<Doc>),
    Map(Vec<(String, Doc)>),
}

/// How a document is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Style {
    /// YAML in blocks.
    Yaml,
    /// JSON on one line.
    Json,
}

impl Style {
    pub(crate) fn chosen(choices: &mut Choices<'_>) -> Self {
        if choices.one_in(3) {
            Self::Json
        } else {
            Self::Yaml
        }
    }

    pub(crate) const fn ending(self) -> &'static str {
        match self {
            Self::Yaml => "yaml",
            Self::Json => "json",
        }
    }
}

pub(crate) fn text(text: impl Into<String>) -> Doc {
    Doc::Text(text.into())
}

pub(crate) fn map<K: Into<String>>(entries: impl IntoIterator<Item = (K, Doc)>) -> Doc {
    Doc::Map(
        entries
            .into_iter()
            .map(|(key, value)| (key.into(), value))
            .collect(),
    )
}

impl Doc {
    /// Reads one.
    pub(crate) fn read(text: &str) -> Self {
        let source = source("document", text.as_bytes().to_vec()).unwrap();
        Self::of_node(&read(&source, Syntax::Yaml).unwrap())
    }

    fn of_node(node: &Node<'_>) -> Self {
        match &node.content {
            Content::Nothing => Self::Text(String::new()),
            Content::Scalar(scalar) => Self::Text(scalar.text.to_string()),
            Content::List(items) => Self::List(items.iter().map(Self::of_node).collect()),
            Content::Map(entries) => Self::Map(
                entries
                    .iter()
                    .map(|entry| (entry.key.to_string(), Self::of_node(&entry.node)))
                    .collect(),
            ),
        }
    }

    pub(crate) fn write(&self, style: Style) -> String {
        let mut out = String::new();
        match style {
            Style::Json => self.json(&mut out),
            Style::Yaml => self.block(0, &mut out),
        }
        out
    }

    /// The text of a scalar.
    pub(crate) fn text(&self) -> &str {
        let Self::Text(text) = self else {
            panic!("{self:?} is no text")
        };
        text
    }

    /// The items of a list.
    pub(crate) fn items(&self) -> &[Doc] {
        let Self::List(items) = self else {
            panic!("{self:?} is no list")
        };
        items
    }

    /// The entries of a map.
    pub(crate) fn entries(&self) -> &[(String, Doc)] {
        let Self::Map(entries) = self else {
            panic!("{self:?} is no map")
        };
        entries
    }

    /// What a map has under a key.
    pub(crate) fn get(&self, key: &str) -> Option<&Doc> {
        self.entries()
            .iter()
            .find(|(known, _)| known == key)
            .map(|(_, doc)| doc)
    }

    /// The text that a map has under a key.
    pub(crate) fn text_of(&self, key: &str) -> Option<&str> {
        self.get(key).map(Self::text)
    }

    /// The same with the entries of every map in another order, but for stages, whose order is read.
    pub(crate) fn shuffled(mut self, choices: &mut Choices<'_>) -> Self {
        self.shuffle(choices);
        self
    }

    fn shuffle(&mut self, choices: &mut Choices<'_>) {
        match self {
            Self::Text(_) => {}
            Self::List(items) => items.iter_mut().for_each(|item| item.shuffle(choices)),
            Self::Map(entries) => {
                choices.shuffle(entries);
                let values = entries.iter_mut().filter(|(key, _)| key != "stages");
                values.for_each(|(_, value)| value.shuffle(choices));
            }
        }
    }

    /// Sets a value at a path of keys, making maps on the way.
    pub(crate) fn set(&mut self, path: &[&str], value: Doc) {
        let Self::Map(entries) = self else {
            panic!("{path:?} leads through something that is no map")
        };
        let (first, rest) = path.split_first().unwrap();
        let at = entries
            .iter()
            .position(|(key, _)| key == first)
            .unwrap_or_else(|| {
                entries.push(((*first).to_owned(), Self::Map(Vec::new())));
                entries.len() - 1
            });
        if rest.is_empty() {
            entries[at].1 = value;
        } else {
            entries[at].1.set(rest, value);
        }
    }

    fn json(&self, out: &mut String) {
        match self {
            Self::Text(text) => out.push_str(&quoted(text)),
            Self::List(items) => joined(out, ('[', ']'), items, |item, out| item.json(out)),
            Self::Map(entries) => joined(out, ('{', '}'), entries, |(key, value), out| {
                let _ = write!(out, "{}: ", quoted(key));
                value.json(out);
            }),
        }
    }

    /// A block at an indentation, which starts on a new line.
    fn block(&self, indent: usize, out: &mut String) {
        match self {
            Self::Text(text) => {
                let _ = writeln!(out, "{:indent$}{}", "", scalar(text));
            }
            Self::List(items) => items.iter().for_each(|item| entry(out, indent, "-", item)),
            Self::Map(entries) => entries
                .iter()
                .for_each(|(key, value)| entry(out, indent, &format!("{}:", scalar(key)), value)),
        }
    }
}

fn entry(out: &mut String, indent: usize, before: &str, value: &Doc) {
    let _ = match value {
        Doc::Text(text) => writeln!(out, "{:indent$}{before} {}", "", scalar(text)),
        Doc::List(items) if items.is_empty() => writeln!(out, "{:indent$}{before} []", ""),
        Doc::Map(entries) if entries.is_empty() => writeln!(out, "{:indent$}{before} {{}}", ""),
        Doc::List(_) | Doc::Map(_) => writeln!(out, "{:indent$}{before}", ""),
    };
    match value {
        Doc::Text(_) => {}
        Doc::List(_) | Doc::Map(_) => value.block(indent + 2, out),
    }
}

fn joined<T>(
    out: &mut String,
    (open, close): (char, char),
    items: &[T],
    write: impl Fn(&T, &mut String),
) {
    out.push(open);
    for (at, item) in items.iter().enumerate() {
        out.push_str(if at == 0 { "" } else { ", " });
        write(item, out);
    }
    out.push(close);
}

fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}

/// Plain if YAML reads it as it is written, otherwise quoted.
fn scalar(text: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || " ._/%±°".contains(c);
    let bare = text.starts_with(|c: char| c.is_ascii_alphanumeric())
        && text.chars().all(plain)
        && !text.ends_with(' ');
    if bare { text.to_owned() } else { quoted(text) }
}
