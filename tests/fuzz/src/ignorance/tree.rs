//! A plan as a tree that can be changed and written again, with keys that repeat if need be.

use rules_core::document::{Content, Node, Syntax, read, source};
use serde_json::Value;

/// What a plan is made of. Scalars are kept as they are written.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Tree {
    Nothing,
    Text(String),
    List(Vec<Self>),
    Map(Vec<(String, Self)>),
}

/// A place in a tree: positions of entries and items, from the outermost in.
pub(super) type Place = Vec<usize>;

impl Tree {
    /// The tree of a plan's text.
    pub(super) fn of(name: &str, text: &str) -> Self {
        source(name, text.into())
            .and_then(|source| read(&source, Syntax::Yaml).map(|node| Self::of_node(&node)))
            .unwrap_or_else(|problems| panic!("{name}: {problems:?}"))
    }

    fn of_node(node: &Node<'_>) -> Self {
        match &node.content {
            Content::Nothing => Self::Nothing,
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

    /// Every place below the top, with its keys: `cells[].rest.voltage`, and `cells[]` for an item.
    pub(super) fn places(&self) -> Vec<(Place, String)> {
        let mut all = Vec::new();
        self.collect(&mut Vec::new(), "", &mut all);
        all
    }

    fn collect(&self, here: &mut Place, keys: &str, into: &mut Vec<(Place, String)>) {
        let mut visit = |at: usize, inner: &Self, keys: String| {
            here.push(at);
            into.push((here.clone(), keys.clone()));
            inner.collect(here, &keys, into);
            here.pop();
        };
        match self {
            Self::Nothing | Self::Text(_) => {}
            Self::List(items) => {
                for (at, item) in items.iter().enumerate() {
                    visit(at, item, format!("{keys}[]"));
                }
            }
            Self::Map(entries) => {
                for (at, (key, inner)) in entries.iter().enumerate() {
                    let dot = if keys.is_empty() { "" } else { "." };
                    visit(at, inner, format!("{keys}{dot}{key}"));
                }
            }
        }
    }

    /// What is at a place.
    pub(super) fn at(&self, place: &[usize]) -> Option<&Self> {
        let Some((first, rest)) = place.split_first() else {
            return Some(self);
        };
        match self {
            Self::List(items) => items.get(*first)?.at(rest),
            Self::Map(entries) => entries.get(*first)?.1.at(rest),
            _ => None,
        }
    }

    pub(super) fn at_mut(&mut self, place: &[usize]) -> Option<&mut Self> {
        let Some((first, rest)) = place.split_first() else {
            return Some(self);
        };
        match self {
            Self::List(items) => items.get_mut(*first)?.at_mut(rest),
            Self::Map(entries) => entries.get_mut(*first)?.1.at_mut(rest),
            _ => None,
        }
    }

    pub(super) fn text(&self) -> Option<&str> {
        match self {
            Self::Text(text) => Some(text),
            _ => None,
        }
    }

    /// The place of what a key of a map at a place holds; made as nothing if it is not there. None
    /// where there is no map.
    pub(super) fn place_of(&mut self, map: &[usize], key: &str) -> Option<Place> {
        let Self::Map(entries) = self.at_mut(map)? else {
            return None;
        };
        let known = entries.iter().position(|(known, _)| known == key);
        let at = known.unwrap_or_else(|| {
            entries.push((key.to_owned(), Self::Nothing));
            entries.len() - 1
        });
        Some([map, &[at]].concat())
    }

    /// Takes out what is at a place.
    pub(super) fn remove(&mut self, place: &[usize]) {
        let Some((last, outer)) = place.split_last() else {
            return;
        };
        match self.at_mut(outer) {
            Some(Self::List(items)) if *last < items.len() => drop(items.remove(*last)),
            Some(Self::Map(entries)) if *last < entries.len() => drop(entries.remove(*last)),
            _ => {}
        }
    }

    /// Empties what stands at a place: an entry of a list in which places count.
    pub(super) fn empty(&mut self, place: &[usize]) {
        if let Some(entry) = self.at_mut(place) {
            *entry = Self::Map(Vec::new());
        }
    }

    /// The plan as YAML, a line for every section and for every entry of a list in one.
    pub(super) fn written(&self) -> String {
        let Self::Map(sections) = self else {
            return self.in_a_line();
        };
        let line = |(key, inner): &(String, Self)| match inner {
            Self::List(items) if !items.is_empty() => {
                let entry = |item: &Self| format!("  - {}\n", item.in_a_line());
                format!("{key}:\n{}", items.iter().map(entry).collect::<String>())
            }
            _ => format!("{key}: {}\n", inner.in_a_line()),
        };
        sections.iter().map(line).collect()
    }

    fn in_a_line(&self) -> String {
        match self {
            Self::Nothing => "null".to_owned(),
            Self::Text(text) => Value::from(text.as_str()).to_string(),
            Self::List(items) => {
                let items: Vec<String> = items.iter().map(Self::in_a_line).collect();
                format!("[{}]", items.join(", "))
            }
            Self::Map(entries) => {
                let entry = |(key, inner): &(String, Self)| format!("{key}: {}", inner.in_a_line());
                let entries: Vec<String> = entries.iter().map(entry).collect();
                format!("{{ {} }}", entries.join(", "))
            }
        }
    }
}
