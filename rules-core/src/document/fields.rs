//! Reading the keys of a map: required keys, optional keys, and unknown keys.

use super::fault::Fault;
use super::node::{Content, Entry, Node};
use super::problems::Problems;
use super::source::Span;
use crate::bounds::MOST_WORDING;
use crate::characters::is_blank;

/// The entries of a map while they are being read. A key that has not been asked for by the end is
/// unknown.
#[derive(Debug)]
pub struct Fields<'n> {
    entries: &'n [Entry<'n>],
    what: &'static str,
    span: Span,
    asked: Vec<&'static str>,
}

impl<'n> Fields<'n> {
    /// The entries of a node that must be a map; `what` names it in messages: "a limit".
    pub fn of(node: &'n Node<'n>, what: &'static str, problems: &mut Problems<'_>) -> Option<Self> {
        match &node.content {
            Content::Map(entries) => Some(Self {
                entries,
                what,
                span: node.span,
                asked: Vec::with_capacity(entries.len()),
            }),
            _ => {
                wrong_shape(
                    node,
                    &format!("{what} is a map of keys and values"),
                    problems,
                );
                None
            }
        }
    }

    /// What the map describes, in the words of messages.
    #[must_use]
    pub fn what(&self) -> &'static str {
        self.what
    }

    /// The value of a key that may be left out.
    pub fn may(&mut self, key: &'static str) -> Option<&'n Node<'n>> {
        self.asked.push(key);
        self.entry(key).map(|entry| &entry.node)
    }

    /// The value of a key that must be there.
    pub fn must(&mut self, key: &'static str, problems: &mut Problems<'_>) -> Option<&'n Node<'n>> {
        let node = self.may(key);
        if node.is_none() {
            let message = format!("{} needs `{key}`", self.what);
            problems.add(
                Fault::MissingKey,
                self.span,
                message,
                format!("add `{key}: ...`"),
            );
        }
        node
    }

    /// The `format` key, which every file starts with.
    pub fn need_format(&mut self, problems: &mut Problems<'_>) {
        let Some(node) = self.must("format", problems) else {
            return;
        };
        if node.scalar() != Some("1") {
            problems.add(
                Fault::UnknownOption,
                node.span,
                "the format is not known",
                "this version reads `format: 1`",
            );
        }
    }

    /// Reports a document of another kind than is read here. It shows by a key that only the other
    /// kind has.
    pub fn refuse_other(
        &self,
        key: &str,
        message: &str,
        help: &str,
        problems: &mut Problems<'_>,
    ) -> bool {
        let found = self.entry(key);
        if let Some(entry) = found {
            problems.add(Fault::WrongShape, entry.key_span, message, help);
        }
        found.is_some()
    }

    /// Reports a document of one of several other kinds: each by its key, what to say, and the help.
    pub fn refuse_others(
        &self,
        others: &[(&str, &str, &str)],
        problems: &mut Problems<'_>,
    ) -> bool {
        let mut others = others.iter();
        others.any(|(key, message, help)| self.refuse_other(key, message, help, problems))
    }

    /// A text that must be there.
    pub fn must_text(&mut self, key: &'static str, problems: &mut Problems<'_>) -> Option<&'n str> {
        let node = self.must(key, problems)?;
        text(node, problems)
    }

    /// A text that may be left out.
    pub fn may_text(&mut self, key: &'static str, problems: &mut Problems<'_>) -> Option<&'n str> {
        let node = self.may(key)?;
        text(node, problems)
    }

    /// Yes or no, if it is given.
    pub fn may_yes_no(&mut self, key: &'static str, problems: &mut Problems<'_>) -> Option<bool> {
        let node = self.may(key)?;
        yes_no(node, problems)
    }

    /// The entries of a list, if it is given.
    pub fn may_list(&mut self, key: &'static str, problems: &mut Problems<'_>) -> &'n [Node<'n>] {
        match self.may(key) {
            None => &[],
            Some(node) => list(node, problems),
        }
    }

    /// The entries of a map with free keys, if it is given.
    pub fn may_entries(
        &mut self,
        key: &'static str,
        problems: &mut Problems<'_>,
    ) -> &'n [Entry<'n>] {
        match self.may(key) {
            None => &[],
            Some(Node {
                content: Content::Map(entries),
                ..
            }) => entries,
            Some(node) => {
                wrong_shape(node, &format!("`{key}` is a map of names"), problems);
                &[]
            }
        }
    }

    /// The entries that were never asked for. Each may have been meant for one that was.
    pub fn unknown(&self) -> impl Iterator<Item = &'n Entry<'n>> + '_ {
        self.entries
            .iter()
            .filter(|entry| !self.asked.contains(&&*entry.key))
    }

    /// Reports every key that was never asked for.
    pub fn finish(self, problems: &mut Problems<'_>) {
        for entry in self.unknown() {
            unknown_key(entry, self.what, &self.asked, problems);
        }
    }

    fn entry(&self, key: &str) -> Option<&'n Entry<'n>> {
        self.entries.iter().find(|entry| entry.key == key)
    }
}

/// Reports a key nobody knows, with the known key it may have been meant for.
pub fn unknown_key(entry: &Entry<'_>, what: &str, known: &[&str], problems: &mut Problems<'_>) {
    let help = match problems.near(&entry.key, known.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("the keys here are {}", quoted(known)),
    };
    problems.add(
        Fault::UnknownKey,
        entry.key_span,
        format!("{what} has no key `{}`", entry.key),
        help,
    );
}

/// Words in backticks, with commas.
pub fn quoted(words: &[&str]) -> String {
    words
        .iter()
        .map(|word| format!("`{word}`"))
        .collect::<Vec<_>>()
        .join(", ")
}

/// Reports a node of the wrong shape.
pub fn wrong_shape(node: &Node<'_>, expected: &str, problems: &mut Problems<'_>) {
    problems.add(
        Fault::WrongShape,
        node.span,
        format!("this is {}", node.what()),
        expected.to_owned(),
    );
}

/// Reports a text that a comma split.
pub fn tell_split(node: &Node<'_>, problems: &mut Problems<'_>) {
    let written = node.scalar().unwrap_or_default();
    let message = format!("in braces a comma ends a value, so `{written}` is not one value");
    problems.add(
        Fault::WrongShape,
        node.span,
        message,
        "put the text in quotes",
    );
}

/// The text of a node that must be a single value, neither blank nor too long.
pub fn text<'n>(node: &'n Node<'n>, problems: &mut Problems<'_>) -> Option<&'n str> {
    let Some(text) = node.scalar() else {
        wrong_shape(node, "a text belongs here", problems);
        return None;
    };
    if node.is_split() {
        tell_split(node, problems);
        return None;
    }
    if is_blank(text) {
        problems.add(
            Fault::WrongShape,
            node.span,
            "the text is empty or cannot be seen",
            "write one, or leave the key out",
        );
        return None;
    }
    if text.len() > MOST_WORDING && text.chars().nth(MOST_WORDING).is_some() {
        problems.add(
            Fault::TooLarge,
            node.span,
            format!("this text has more than {MOST_WORDING} characters"),
            "use fewer words",
        );
        return None;
    }
    Some(text)
}

/// Yes or no, in any of the spellings the formats allow.
pub fn yes_no(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<bool> {
    match node.scalar() {
        Some("yes" | "true") => Some(true),
        Some("no" | "false") => Some(false),
        Some(other) => {
            problems.add(
                Fault::UnknownOption,
                node.span,
                format!("`{other}` is neither yes nor no"),
                "write `yes` or `no`",
            );
            None
        }
        None => {
            wrong_shape(node, "write `yes` or `no`", problems);
            None
        }
    }
}

/// The items of a node that must be a list.
pub fn list<'n>(node: &'n Node<'n>, problems: &mut Problems<'_>) -> &'n [Node<'n>] {
    match &node.content {
        Content::List(items) => items,
        _ => {
            wrong_shape(node, "a list belongs here", problems);
            &[]
        }
    }
}

/// A name used in formulas: letters, digits, underscores, starting with a letter.
pub fn is_word(name: &str) -> bool {
    name.starts_with(|c: char| c.is_ascii_alphabetic())
        && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_')
        && name.len() <= 64
}

/// Reports a name that cannot be used in formulas.
pub fn word(name: &str, span: Span, problems: &mut Problems<'_>) {
    if !is_word(name) {
        let help = "use up to 64 letters, digits and underscores, starting with a letter";
        problems.add(
            Fault::BadName,
            span,
            format!("`{name}` cannot be used in a formula"),
            help,
        );
    }
}

/// One of a few words.
pub fn option<T: Copy>(
    node: &Node<'_>,
    options: &[(&str, T)],
    problems: &mut Problems<'_>,
) -> Option<T> {
    let word = text(node, problems)?;
    if let Some((_, value)) = options.iter().find(|(name, _)| *name == word) {
        return Some(*value);
    }
    let names: Vec<&str> = options.iter().map(|(name, _)| *name).collect();
    let help = match problems.near(word, names.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("write one of {}", quoted(&names)),
    };
    problems.add(
        Fault::UnknownOption,
        node.span,
        format!("`{word}` does not fit here"),
        help,
    );
    None
}

/// The texts of a list.
pub fn texts(node: &Node<'_>, problems: &mut Problems<'_>) -> Vec<(String, Span)> {
    list(node, problems)
        .iter()
        .filter_map(|item| Some((text(item, problems)?.to_owned(), item.span)))
        .collect()
}
