//! A catalogue from its file: subjects, and facts with the places at which they are in a proposal.

use std::borrow::Cow;
use std::sync::Arc;

use super::catalogue::Catalogue;
use super::definition::{FactDefinition, FactsOf, fact_definition};
use super::fact::{FactDef, FactKind, OverTime};
use super::notice::read_notice;
use super::read_relation::relation;
use super::read_subject::subject_and_name;
use super::read_summary::summary;
use super::relation::RelationDef;
use super::subject::{MOST_SUBJECTS, SubjectDef, SubjectId};
use crate::document::{
    Entry, Fault, Fields, Node, Prepared, ProblemList, Problems, Source, Syntax, digest, option,
    read, source,
};
use crate::quantity::{Interval, Nature};

impl Catalogue {
    /// Reads a catalogue from YAML or JSON; `name` is what messages call it. Its form is described
    /// at the head of `rulesets/facts.yaml`.
    ///
    /// # Errors
    ///
    /// Every problem found, each with its place.
    pub fn read(name: &str, bytes: Vec<u8>, syntax: Syntax) -> Result<Self, ProblemList> {
        let source = Arc::new(source(name, bytes)?);
        let tree = read(&source, syntax)?;
        read_tree(&tree, &source, &digest(&tree))
    }

    /// Reads a catalogue that was read before, when the program was built.
    ///
    /// # Errors
    ///
    /// Every problem found, each with its place.
    pub fn read_prepared(name: &str, prepared: Prepared) -> Result<Self, ProblemList> {
        let source = Arc::new(prepared.source(name));
        match prepared.digest().zip(prepared.tree(&source, None)) {
            Some((digest, tree)) => read_tree(&tree, &source, digest),
            None => Self::read(name, prepared.text.into(), Syntax::Yaml),
        }
    }
}

fn read_tree(
    tree: &Node<'_>,
    source: &Arc<Source>,
    digest: &str,
) -> Result<Catalogue, ProblemList> {
    let mut problems = Problems::new(source);
    let read = catalogue(tree, source, &mut problems);
    match read.filter(|_| problems.is_empty()) {
        Some(mut catalogue) => {
            catalogue.set_digest(digest.to_owned());
            Ok(catalogue)
        }
        None => Err(problems.finish()),
    }
}

fn catalogue(
    tree: &Node<'_>,
    source: &Arc<Source>,
    problems: &mut Problems<'_>,
) -> Option<Catalogue> {
    let mut fields = Fields::of(tree, "a catalogue", problems)?;
    fields.need_format(problems);
    fields.must_text("title", problems);
    // Where ranges come from is for people.
    fields.may("sources");
    let mut subjects = Vec::new();
    for entry in fields.may_entries("subjects", problems) {
        subjects.extend(subject(entry, &subjects, problems));
    }
    if subjects.len() > MOST_SUBJECTS {
        let message = format!("there are more than {MOST_SUBJECTS} subjects");
        problems.add(Fault::TooLarge, tree.span, message, "leave some out");
    }
    let mut catalogue = Catalogue::of_subjects(&subjects);
    for entry in fields.may_entries("facts", problems) {
        if let Some(fact) = fact(entry, &catalogue, problems) {
            catalogue.add(fact);
        }
    }
    for entry in fields.may_entries("summaries", problems) {
        if let Some(summary) = summary(entry, &catalogue, problems) {
            catalogue.add_summary(summary);
        }
    }
    let notice = fields.may_entries("notice", problems).iter();
    let notice = notice.filter_map(|entry| read_notice(entry, problems));
    catalogue.set_notice(notice.collect());
    let mut relations: Vec<RelationDef> = Vec::new();
    for node in fields.may_list("consistent", problems) {
        relations.extend(relation(node, &relations, (&catalogue, source), problems));
    }
    catalogue.set_relations(relations);
    fields.finish(problems);
    Some(catalogue)
}

fn subject(
    entry: &Entry<'_>,
    before: &[SubjectDef],
    problems: &mut Problems<'_>,
) -> Option<SubjectDef> {
    let mut fields = Fields::of(&entry.node, "a subject", problems)?;
    let container = fields
        .may_text("in", problems)
        .and_then(|name| before.iter().position(|one| one.name == name))
        .and_then(|at| u8::try_from(at).ok())
        .map(SubjectId::new);
    let owned = |text: &str| Cow::Owned(text.to_owned());
    let subject = SubjectDef {
        name: owned(&entry.key),
        plural: fields.may_text("plural", problems).map(owned),
        container,
        has_section: fields.may_yes_no("section", problems).unwrap_or(true),
        if_none: fields.may_text("if_none", problems).map(owned),
        meaning: owned(fields.must_text("meaning", problems)?),
    };
    fields.finish(problems);
    Some(subject)
}

fn fact(entry: &Entry<'_>, catalogue: &Catalogue, problems: &mut Problems<'_>) -> Option<FactDef> {
    let (subject, name) = subject_and_name(entry, catalogue, problems)?;
    let mut fields = Fields::of(&entry.node, "a fact", problems)?;
    let definition = fact_definition(&mut fields, FactsOf::Catalogue, problems);
    let mut word = |key| fields.may_text(key, problems).map(str::to_owned);
    let (key, from, example) = (word("place"), word("from"), word("example"));
    origin(entry, name, (key.as_deref(), from.as_deref()), problems);
    if let Some(key) = &key
        && catalogue
            .facts()
            .any(|(_, one)| one.subject == subject && one.key.as_deref() == Some(key))
    {
        let message = format!("another fact already has the place `{key}`");
        problems.add(
            Fault::DefinedTwice,
            entry.key_span,
            message,
            "give each its own place",
        );
    }
    let none_is_zero = fields.may_yes_no("none_is_zero", problems).unwrap_or(false);
    let changeable = fields.may_yes_no("changeable", problems).unwrap_or(false);
    let over_time = fields.may("over_time").map(|node| {
        let of = definition.as_ref().filter(|_| key.is_some());
        over_time(node, of, problems)
    });
    fields.may("basis");
    fields.finish(problems);
    let definition = definition?;
    Some(FactDef {
        subject,
        name: name.to_owned().into(),
        domain: definition
            .domain
            .map_or(Interval::WHOLE, |(_, domain)| domain.range()),
        kind: definition.kind,
        nature: definition.nature,
        meaning: definition.meaning.into(),
        none_is_zero,
        changeable,
        over_time: over_time.unwrap_or_default(),
        key: key.map(Cow::Owned),
        from: from.map(Cow::Owned),
        example: example.map(Cow::Owned),
    })
}

/// Which of several readings counts. Only what is measured, and has a place, is read again and again.
fn over_time(
    node: &Node<'_>,
    of: Option<&FactDefinition>,
    problems: &mut Problems<'_>,
) -> OverTime {
    let is_read = |of: &FactDefinition| {
        matches!(of.kind, FactKind::Number(_)) && of.nature == Nature::Measured
    };
    if !of.is_some_and(is_read) {
        let message = "only a measured number with a place has readings over time";
        problems.add(
            Fault::WrongShape,
            node.span,
            message,
            "leave `over_time` out",
        );
        return OverTime::Newest;
    }
    let words = [("least", OverTime::Least), ("greatest", OverTime::Greatest)];
    option(node, &words, problems).unwrap_or_default()
}

/// A fact has a place that its name follows, or is worked out from a key.
fn origin(
    entry: &Entry<'_>,
    name: &str,
    origin: (Option<&str>, Option<&str>),
    problems: &mut Problems<'_>,
) {
    let place = match origin {
        (Some(place), None) => place,
        (None, Some(_)) => return,
        _ => {
            let message = format!("`{}` needs a `place` or a `from`, and not both", entry.key);
            let help = "write `place` where a proposal gives it, `from` where it is worked out";
            problems.add(Fault::MissingKey, entry.key_span, message, help);
            return;
        }
    };
    let joined = place.replace('.', "_");
    let follows = joined.strip_suffix("_value").unwrap_or(&joined);
    if follows != name {
        let message = format!("`{}` does not follow from its place `{place}`", entry.key);
        let help = format!("call it `{follows}`, or correct the place");
        problems.add(Fault::BadName, entry.key_span, message, help);
    }
}
