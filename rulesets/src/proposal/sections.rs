//! The sections of a proposal, walked by the table of facts.

use std::fmt;

use super::extras::Extra;
use super::meant;
use rules_core::document::{
    Content, Entry, Fault, Node, Problems, quoted, unknown_key, wrong_shape,
};
use rules_core::facts::{
    Catalogue, FactDef, FactId, Given, InnerKeys, Instance, Key, StatedMeters, SubjectId,
    read_value, value_help,
};

/// Reads sections into instances.
pub(super) struct SectionReader<'c, 'm> {
    pub catalogue: &'c Catalogue,
    /// The facts that rulesets declare as well, where they are known.
    pub declared: Option<&'c Catalogue>,
    pub meters: &'m StatedMeters,
    pub extras: Vec<Extra>,
}

impl SectionReader<'_, '_> {
    /// Reads a section. `special` are its keys that the table does not hold, left to the caller.
    pub(super) fn read(
        &mut self,
        node: &Node<'_>,
        at: (SubjectId, usize),
        what: fmt::Arguments<'_>,
        special: &[&str],
        instance: &mut Instance,
        problems: &mut Problems<'_>,
    ) {
        let Content::Map(entries) = &node.content else {
            return wrong_shape(
                node,
                &format!("{what} is a map of keys and values"),
                problems,
            );
        };
        instance.make_room(
            entries.iter().map(|entry| size(&entry.node)).sum(),
            self.catalogue.slots(at.0),
        );
        let mut summaries = Vec::new();
        for entry in entries
            .iter()
            .filter(|entry| !special.contains(&&*entry.key))
        {
            match self.catalogue.key(at.0, &entry.key) {
                _ if entry.key == "extra" => self.extra(&entry.node, at, problems),
                Some(_) if self.is_listed(at.0, &entry.key, entries) => {
                    listed_already(entry, problems);
                }
                Some(Key::Fact(id)) => self.fact(entry, *id, instance, problems),
                Some(Key::Summary(id)) => summaries.push((entry, *id)),
                Some(Key::Map(keys)) => {
                    let wanted = (&*entry.key, &entry.node);
                    if !self.repeated(wanted, at.0, keys, instance, problems) {
                        self.nested(wanted, at.0, keys, instance, problems);
                    }
                }
                None => self.unknown(entry, at.0, what, special, problems),
            }
        }
        for (entry, id) in summaries {
            self.summary(entry, id, instance, problems);
        }
    }

    /// The keys in the map of one of a subject's keys.
    fn keys(&self, subject: SubjectId, under: &str) -> Vec<&str> {
        self.catalogue
            .facts()
            .filter(|(_, def)| def.subject == subject)
            .filter_map(|(_, def)| def.key.as_deref())
            .filter_map(|key| key.strip_prefix(under)?.strip_prefix('.'))
            .collect()
    }

    pub(super) fn nested(
        &self,
        (key, node): (&str, &Node<'_>),
        subject: SubjectId,
        inside: &InnerKeys,
        instance: &mut Instance,
        problems: &mut Problems<'_>,
    ) {
        let keys = || self.keys(subject, key);
        let Content::Map(inner) = &node.content else {
            return wrong_shape(
                node,
                &format!("`{key}` is a map with {}", quoted(&keys())),
                problems,
            );
        };
        for one in inner {
            match inside.get(&one.key) {
                Some(id) => self.fact(one, id, instance, problems),
                None => {
                    let what = format!("`{key}`");
                    let whole = format!("{key}.{}", one.key);
                    match meant::now_written(self.catalogue, subject, &whole) {
                        Some(help) => no_key(one, &what, help, problems),
                        None => unknown_key(one, &what, &keys(), problems),
                    }
                }
            }
        }
    }

    fn fact(
        &self,
        entry: &Entry<'_>,
        id: FactId,
        instance: &mut Instance,
        problems: &mut Problems<'_>,
    ) {
        let Some(def) = self.catalogue.fact(id) else {
            return;
        };
        if let Some(given) = self.value(&entry.node, id, def, problems) {
            instance.set(self.catalogue.slot(id), given);
        }
    }

    fn value(
        &self,
        node: &Node<'_>,
        id: FactId,
        def: &FactDef,
        problems: &mut Problems<'_>,
    ) -> Option<Given> {
        let meter = self.meters.serving(def);
        if matches!(node.content, Content::Nothing) {
            let help = format!("{}, or leave the key out", value_help(&def.kind));
            problems.add(
                Fault::WrongShape,
                node.span,
                format!("`{}` has no value", self.catalogue.fact_name(id)),
                help,
            );
            return None;
        }
        read_value(node, self.catalogue.fact_name(id), def, meter, problems)
    }

    fn unknown(
        &self,
        entry: &Entry<'_>,
        subject: SubjectId,
        what: fmt::Arguments<'_>,
        special: &[&str],
        problems: &mut Problems<'_>,
    ) {
        let catalogues = (self.catalogue, self.declared);
        let help = match problems.is_full() {
            true => String::new(),
            false => meant::help(&entry.key, subject, catalogues, special, problems),
        };
        no_key(entry, what, help, problems);
    }

    fn extra(
        &mut self,
        node: &Node<'_>,
        (subject, position): (SubjectId, usize),
        problems: &mut Problems<'_>,
    ) {
        let Content::Map(entries) = &node.content else {
            return wrong_shape(
                node,
                "`extra` is a map of facts that a ruleset declares",
                problems,
            );
        };
        self.extras.extend(entries.iter().map(|entry| Extra {
            subject,
            position,
            entry: entry.detached(),
        }));
    }
}

fn no_key(entry: &Entry<'_>, what: impl fmt::Display, help: String, problems: &mut Problems<'_>) {
    let message = format!("{what} has no key `{}`", entry.key);
    problems.add(Fault::UnknownKey, entry.key_span, message, help);
}

/// How many values are in a node, at most one map deep.
fn size(node: &Node<'_>) -> usize {
    match &node.content {
        Content::Map(entries) => entries.len(),
        _ => 1,
    }
}

/// Says that a place is given by a list already.
fn listed_already(entry: &Entry<'_>, problems: &mut Problems<'_>) {
    let message = format!("`{}` stands beside a list that holds its place", entry.key);
    problems.add(
        Fault::DefinedTwice,
        entry.key_span,
        message,
        "write it as an entry of the list",
    );
}
