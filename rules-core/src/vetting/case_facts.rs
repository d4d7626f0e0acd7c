//! The facts of a case: given by name, everything else missing.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::document::{Content, Entry, Fault, Node, Problems, Span, list, wrong_shape};
use crate::facts::{Catalogue, Given, Instance, Sheet, SubjectId, Value, read_value};
use crate::formula::Vocabulary;

pub(super) fn sheet(
    given: &Node<'_>,
    vocabulary: &Vocabulary<'_>,
    problems: &mut Problems<'_>,
) -> Option<Sheet> {
    let catalogue = vocabulary.catalogue;
    let Content::Map(entries) = &given.content else {
        wrong_shape(given, "`given` is a map of facts by name", problems);
        return None;
    };
    let mut sheet = Sheet::new(catalogue);
    let (lists, facts): (Vec<&Entry<'_>>, Vec<&Entry<'_>>) = entries
        .iter()
        .partition(|entry| catalogue.subject_of_plural(&entry.key).is_some());
    for entry in lists {
        let subject = catalogue.subject_of_plural(&entry.key);
        let contains = |subject| {
            catalogue
                .subjects()
                .iter()
                .any(|other| other.container == Some(subject))
        };
        if subject.is_some_and(contains) {
            let help = "list the members; each says which one it belongs to";
            problems.add(
                Fault::WrongShape,
                entry.key_span,
                format!("`{}` are not listed in a case", entry.key),
                help,
            );
        } else if let Some(subject) = subject {
            listed(entry, subject, vocabulary, &mut sheet, problems);
        }
    }
    at_least_one_of_many(catalogue, &mut sheet);
    for entry in facts {
        one_fact(entry, vocabulary, &mut sheet, problems);
    }
    settle_containers(catalogue, &mut sheet);
    for subject in catalogue.subject_ids() {
        sheet.join_to_origin(catalogue, subject);
    }
    Some(sheet)
}

/// `cables: [ { drop: 3.9 V }, ... ]`
fn listed(
    entry: &Entry<'_>,
    subject: SubjectId,
    vocabulary: &Vocabulary<'_>,
    sheet: &mut Sheet,
    problems: &mut Problems<'_>,
) {
    for (position, node) in list(&entry.node, problems).iter().enumerate() {
        let mut instance = Instance::named(&format!("{}", position + 1));
        let Content::Map(facts) = &node.content else {
            wrong_shape(node, "each is a map of facts", problems);
            continue;
        };
        for fact in facts {
            let name = vocabulary.catalogue.full_name(subject, &fact.key);
            set(fact, &name, vocabulary, &mut [&mut instance], problems);
        }
        if let Some(roster) = sheet.roster_mut(subject) {
            roster.instances.push(instance);
        }
    }
}

fn at_least_one_of_many(catalogue: &Catalogue, sheet: &mut Sheet) {
    for subject in catalogue
        .subject_ids()
        .filter(|subject| catalogue.is_many(*subject))
    {
        if let Some(roster) = sheet
            .roster_mut(subject)
            .filter(|roster| roster.instances.is_empty())
        {
            roster.instances.push(Instance::named("1"));
        }
    }
}

/// `cable.drop: 3.9 V`, for each of the many there are.
fn one_fact(
    entry: &Entry<'_>,
    vocabulary: &Vocabulary<'_>,
    sheet: &mut Sheet,
    problems: &mut Problems<'_>,
) {
    let subject = entry
        .key
        .split_once('.')
        .and_then(|(subject, _)| vocabulary.catalogue.subject_named(subject));
    let Some(roster) = subject.and_then(|subject| sheet.roster_mut(subject)) else {
        return unknown_fact(&entry.key, entry.key_span, vocabulary, problems);
    };
    let mut instances: Vec<&mut Instance> = roster.instances.iter_mut().collect();
    set(entry, &entry.key, vocabulary, &mut instances, problems);
}

fn set(
    entry: &Entry<'_>,
    name: &str,
    vocabulary: &Vocabulary<'_>,
    instances: &mut [&mut Instance],
    problems: &mut Problems<'_>,
) {
    let catalogue = vocabulary.catalogue;
    let Some((id, def)) = catalogue
        .fact_named(name)
        .filter(|_| !vocabulary.faulty.contains(name))
    else {
        return unknown_fact(name, entry.key_span, vocabulary, problems);
    };
    let Some(given) = read_value(&entry.node, name, def, None, problems) else {
        return;
    };
    for instance in instances {
        instance.set(catalogue.slot(id), given.clone());
    }
}

/// Reports a name that is no fact, unless its definition is what is at fault.
pub(super) fn unknown_fact(
    name: &str,
    span: Span,
    vocabulary: &Vocabulary<'_>,
    problems: &mut Problems<'_>,
) {
    if vocabulary.may_be_defined(name) {
        return;
    }
    let catalogue = vocabulary.catalogue;
    let facts = catalogue
        .facts()
        .map(|(id, _)| catalogue.fact_name(id))
        .collect::<Vec<_>>();
    let near = problems.near(name, facts.iter().copied());
    let help = match (catalogue.successor(name), near) {
        (Some(successor), _) => format!("it is now called `{}`", successor.now),
        (None, Some(near)) => format!("did you mean `{near}`?"),
        (None, None) => "a case gives facts; figures follow from them".to_owned(),
    };
    problems.add(
        Fault::UnknownName,
        span,
        format!("there is no fact `{name}`"),
        help,
    );
}

/// Members that name their container alike are in one; members that name none are together.
fn settle_containers(catalogue: &Catalogue, sheet: &mut Sheet) {
    for member in catalogue.subject_ids() {
        let Some(container) = catalogue.container(member) else {
            continue;
        };
        let slot = catalogue
            .belonging(container)
            .map(|(id, _)| catalogue.slot(id));
        let labels: Vec<String> = (0..sheet.count(member))
            .map(|at| {
                slot.and_then(|slot| label(sheet.given(member, at, slot)))
                    .unwrap_or_default()
            })
            .collect();
        let mut containers: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        labels
            .into_iter()
            .enumerate()
            .for_each(|(at, label)| containers.entry(label).or_default().push(at));
        join(sheet, member, container, containers, catalogue);
    }
}

fn label(given: Option<&Given>) -> Option<String> {
    match given.map(|given| &given.value) {
        Some(Value::Text(text)) => Some(text.to_string()),
        _ => None,
    }
}

fn join(
    sheet: &mut Sheet,
    member: SubjectId,
    container: SubjectId,
    containers: BTreeMap<String, Vec<usize>>,
    catalogue: &Catalogue,
) {
    let kept = sheet.instance(container, 0).cloned().unwrap_or_default();
    let mut instances = Vec::new();
    for (position, (label, members)) in containers.into_iter().enumerate() {
        for at in &members {
            if let Some(instance) = sheet.instance_mut(member, *at) {
                instance.container = Some(position);
            }
        }
        let mut instance = kept.clone();
        instance.members = members;
        if !label.is_empty() {
            instance.name = label;
            name_itself(&mut instance, container, catalogue);
        }
        instances.push(instance);
    }
    if let Some(roster) = sheet.roster_mut(container) {
        roster.instances = instances;
    }
}

/// A container's own `id` is its name.
fn name_itself(instance: &mut Instance, container: SubjectId, catalogue: &Catalogue) {
    if let Some((id, _)) = catalogue.fact_named(&catalogue.full_name(container, "id")) {
        let text: Arc<str> = instance.name.as_str().into();
        instance.set(
            catalogue.slot(id),
            Given::new(Value::Text(Arc::clone(&text)), text, None),
        );
    }
}
