//! Sections of a bench by name: lights, chargers, places, testers.

use std::collections::BTreeMap;

use rules_core::document::{Content, Fault, Node, Problems, Span, quoted, wrong_shape};
use rules_core::facts::names;

/// Sections by name.
#[derive(Debug, Clone)]
pub(super) struct Named {
    /// What each of them is, in messages.
    what: &'static str,
    sections: BTreeMap<String, Node<'static>>,
}

impl Named {
    /// None of these.
    pub(super) const fn none(what: &'static str) -> Self {
        Self {
            what,
            sections: BTreeMap::new(),
        }
    }

    /// Reads a map from names to sections.
    pub(super) fn read(node: &Node<'_>, what: &'static str, problems: &mut Problems<'_>) -> Self {
        let mut named = Self::none(what);
        let Content::Map(entries) = &node.content else {
            wrong_shape(node, &format!("write each {what} under its name"), problems);
            return named;
        };
        for entry in entries {
            if names::id(&entry.key).is_ok_and(|name| name == entry.key) {
                let name = entry.key.to_string();
                named.sections.insert(name, entry.node.detached());
            } else {
                let message = format!("`{}` is no name of a {what}", entry.key);
                let help = "use letters, digits, single spaces and - _ . / # +";
                problems.add(Fault::BadName, entry.key_span, message, help);
            }
        }
        named
    }

    /// Each with its name, in order of the names.
    pub(super) fn all(&self) -> impl Iterator<Item = (&str, &Node<'static>)> + Clone {
        self.sections
            .iter()
            .map(|(name, node)| (name.as_str(), node))
    }

    /// The section of a name; one that is not there is reported where it is named.
    pub(super) fn get(
        &self,
        name: &str,
        span: Span,
        problems: &mut Problems<'_>,
    ) -> Option<&Node<'static>> {
        let found = self.sections.get(name);
        if found.is_none() {
            let known = self.all().map(|(known, _)| known);
            unknown(self.what, name, span, known, problems);
        }
        found
    }
}

/// The most names that are listed where none is near.
const MOST_LISTED: usize = 8;

/// Reports a name that the bench does not have.
pub(super) fn unknown<'k>(
    what: &str,
    name: &str,
    span: Span,
    known: impl Iterator<Item = &'k str> + Clone,
    problems: &mut Problems<'_>,
) {
    let help = match problems.near(name, known.clone()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => {
            let first: Vec<&str> = known.take(MOST_LISTED + 1).collect();
            match first.len() {
                0 => format!("it has no {what} at all"),
                1..=MOST_LISTED => format!("it has {}", quoted(&first)),
                _ => format!("it has more than {MOST_LISTED} others"),
            }
        }
    };
    let message = format!("the bench has no {what} `{name}`");
    problems.add(Fault::UnknownName, span, message, help);
}
