//! One finding, or several of one caution that say the same, in full.

use std::collections::BTreeSet;

use super::first_page::{Standing, standing};
use super::group::{Group, subjects};
use super::narrowed;
use super::opening::{doubt, verdict};
use super::page::{Page, Part};
use super::sentences::{alike_at_the_end, sentences};
use super::style::Role;
use super::{basis, clause};
use crate::check::{FactReport, FactState, FigureUse, Finding, Report, Subject};
use crate::report::questions::several;

/// The column of labels, and that of what they label.
const INDENT: usize = 4;
const HANG: usize = 16;

/// So many subjects have their reasons, and so many facts are listed; the rest is counted.
const MOST_REASONS: usize = 12;
const MOST_FACTS: usize = 36;

pub(super) fn write(number: usize, group: &Group<'_>, report: &Report, page: &mut Page<'_>) {
    let first = group.first;
    page.gap();
    heading(number, group, page);
    if standing(first) == Standing::Open {
        asked(group, report, page);
    } else {
        reasons(group, page);
        remedies(group, page);
    }
    clause::write(group, report, INDENT, HANG, page);
    figures(group, page);
    facts(group, page);
    let label = |at: usize| if at == 0 { "Rests on:" } else { "" };
    for (at, one) in first.basis.iter().enumerate() {
        entry(label(at), basis(one, &report.sources), page);
    }
    let stage = first.stage.as_ref();
    let stage = stage.map_or_else(String::new, |stage| format!("stage {stage}, "));
    let (rung, caution) = (first.rung.key(), &first.caution);
    let rule = format!("{rung} of {caution}, {stage}{}", first.rule);
    page.entry(
        INDENT,
        &[Part::new(Role::Label, "Rule:")],
        HANG,
        &[Part::new(Role::Quiet, rule)],
    );
}

fn entry(label: &str, text: String, page: &mut Page<'_>) {
    page.entry(
        INDENT,
        &[Part::new(Role::Label, label)],
        HANG,
        &[Part::text(text)],
    );
}

/// What is asked, where nobody answered yet: no reason accuses, and no cure is due.
fn asked(group: &Group<'_>, report: &Report, page: &mut Page<'_>) {
    entry("Not known:", not_known(group, report).join(", "), page);
}

/// Where the answers belong that a group waits for.
pub(super) fn not_known(group: &Group<'_>, report: &Report) -> Vec<String> {
    let of = group.first.subject.kind();
    let findings = group.findings();
    let names: Vec<&str> = findings
        .filter_map(|finding| finding.subject.name())
        .collect();
    let names = several(&names);
    let place = |fact: &str| {
        let Some(place) = report.places.get(fact) else {
            return fact.to_owned();
        };
        let own = fact
            .split_once('.')
            .is_some_and(|(subject, _)| subject == of);
        match own && place.is_list {
            true => place.path(&Subject::named(of, &names)),
            false => place.path(&Subject::only(of)),
        }
    };
    let missing = group.findings().flat_map(|one| &one.missing);
    let missing: BTreeSet<&str> = missing.map(|fact| &**fact).collect();
    missing.into_iter().map(place).collect()
}

fn heading(number: usize, group: &Group<'_>, page: &mut Page<'_>) {
    let first = group.first;
    let doubt = doubt(group.first)
        .map(|doubt| format!(" ({doubt})"))
        .unwrap_or_default();
    let parts = [
        verdict(first.verdict, true),
        Part::text(doubt),
        Part::text(" "),
        Part::new(Role::Heading, first.title.as_ref()),
        Part::text(format!(": {} ", group.subjects())),
        Part::new(Role::Quiet, format!("[{}]", first.caution)),
    ];
    page.entry(
        0,
        &[Part::new(Role::Label, format!("{number:>2}."))],
        INDENT,
        &parts,
    );
}

/// The reasons. What they end with alike is said once.
fn reasons(group: &Group<'_>, page: &mut Page<'_>) {
    if let Some(reason) = group.common(|finding| finding.reason.to_string()) {
        return page.paragraph(INDENT, &[Part::text(reason)]);
    }
    let texts: Vec<String> = group
        .findings()
        .map(|finding| finding.reason.to_string())
        .collect();
    let split: Vec<Vec<&str>> = texts.iter().map(|text| sentences(text)).collect();
    let alike = alike_at_the_end(&split);
    for (finding, sentences) in group.findings().zip(&split).take(MOST_REASONS) {
        let own = sentences
            .get(..sentences.len() - alike)
            .unwrap_or(sentences)
            .join(" ");
        page.item(INDENT, INDENT + 2, &[Part::text(about(finding, &own))]);
    }
    if let count @ 1.. = group.len().saturating_sub(MOST_REASONS) {
        page.paragraph(INDENT, &[Part::text(format!("The same of {count} more."))]);
    }
    let last = split
        .first()
        .and_then(|sentences| sentences.get(sentences.len() - alike..))
        .unwrap_or_default()
        .join(" ");
    page.paragraph(INDENT, &[Part::text(last)]);
}

/// The text with its subject before it, unless the text names it.
fn about(finding: &Finding, text: &str) -> String {
    let subject = &finding.subject;
    if text.contains(subject.own().unwrap_or(subject.kind())) {
        text.to_owned()
    } else {
        format!("{}: {text}", subjects(std::iter::once(subject)))
    }
}

fn remedies(group: &Group<'_>, page: &mut Page<'_>) {
    let remedy_of = |finding: &Finding| finding.remedy.as_ref().map(ToString::to_string);
    if let Some(remedy) = group.common(remedy_of) {
        return remedy
            .into_iter()
            .for_each(|remedy| entry("Do:", remedy, page));
    }
    for (at, finding) in group.findings().take(MOST_REASONS).enumerate() {
        let remedy = remedy_of(finding).unwrap_or_else(|| "nothing is named".to_owned());
        entry(
            if at == 0 { "Do:" } else { "" },
            about(finding, &remedy),
            page,
        );
    }
}

/// The library's figures that took part, each once.
fn figures(group: &Group<'_>, page: &mut Page<'_>) {
    let mut seen: Vec<&FigureUse> = Vec::new();
    for figure in group
        .findings()
        .take(MOST_REASONS)
        .flat_map(|finding| &finding.figures)
    {
        if !seen
            .iter()
            .any(|known| (&known.name, &known.subject) == (&figure.name, &figure.subject))
        {
            seen.push(figure);
        }
    }
    for (at, figure) in seen.iter().take(MOST_FACTS).enumerate() {
        let open = figure
            .open
            .as_ref()
            .map(|open| format!("; open, {open}"))
            .unwrap_or_default();
        let of = if figure.subject.is_only() {
            String::new()
        } else {
            format!(" of {}", figure.subject)
        };
        let narrowed = figure
            .narrowed_by
            .as_ref()
            .map(|narrowed| format!("; {}", narrowed::clause(narrowed)))
            .unwrap_or_default();
        let text = format!("{}{of}: {}{open}{narrowed}", figure.name, figure.value);
        entry(if at == 0 { "Worked:" } else { "" }, text, page);
    }
}

/// The facts of the group, each once: those given with value and place, those missing by name.
fn facts(group: &Group<'_>, page: &mut Page<'_>) {
    let only = (group.len() == 1).then_some(&group.first.subject);
    let mut given: Vec<&FactReport> = Vec::new();
    let of_some = group
        .findings()
        .take(MOST_REASONS)
        .flat_map(|finding| &finding.facts);
    for fact in of_some.filter(|fact| fact.state != FactState::Missing) {
        if !given
            .iter()
            .any(|known| (&known.name, &known.subject) == (&fact.name, &fact.subject))
        {
            given.push(fact);
        }
    }
    for (at, fact) in given.iter().take(MOST_FACTS).enumerate() {
        entry(
            if at == 0 { "Given:" } else { "" },
            given_fact(fact, only),
            page,
        );
    }
    let unlisted: usize = group
        .findings()
        .take(MOST_REASONS)
        .map(|finding| finding.more_facts)
        .sum();
    match (
        given.len().saturating_sub(MOST_FACTS) + unlisted,
        group.len().saturating_sub(MOST_REASONS),
    ) {
        (0, 0) => {}
        (facts, 0) => entry("", format!("and {facts} more"), page),
        (_, subjects) if !given.is_empty() => {
            entry("", format!("and those of {subjects} more"), page)
        }
        _ => {}
    }
    missing_facts(group, only, page);
}

/// `cable.capacity of cable K7`, without the subject where it goes without saying.
fn name(fact: &FactReport, only: Option<&Subject>) -> String {
    let subject = &fact.subject;
    let of_one = subject.is_only() || Some(subject) == only;
    if of_one {
        fact.name.to_string()
    } else {
        format!("{} of {}", fact.name, subjects(std::iter::once(subject)))
    }
}

fn given_fact(fact: &FactReport, only: Option<&Subject>) -> String {
    let value = fact
        .value
        .as_ref()
        .map_or_else(|| "not shown".to_owned(), ToString::to_string);
    let place = fact
        .place
        .as_ref()
        .map(|place| format!(",\u{a0}{place}"))
        .unwrap_or_default();
    let assumed = match fact.meter_assumed {
        true => ", by the assumed meter",
        false => "",
    };
    format!(
        "{}: {value} ({}{assumed}{place})",
        name(fact, only),
        fact.state.word()
    )
}

fn missing_facts(group: &Group<'_>, only: Option<&Subject>, page: &mut Page<'_>) {
    let mut names: Vec<(&str, Vec<&Subject>)> = Vec::new();
    let all = group.findings().flat_map(|finding| &finding.facts);
    for fact in all.filter(|fact| fact.state == FactState::Missing) {
        match names.iter_mut().find(|(name, _)| *name == fact.name) {
            Some((_, subjects)) => subjects.push(&fact.subject),
            None => names.push((&fact.name, vec![&fact.subject])),
        }
    }
    for (at, (name, of)) in names.iter().enumerate() {
        let goes_without = of
            .iter()
            .all(|subject| subject.is_only() || Some(*subject) == only);
        let text = if goes_without {
            (*name).to_owned()
        } else {
            format!("{name} of {}", subjects(of.iter().copied()))
        };
        entry(if at == 0 { "Missing:" } else { "" }, text, page);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_are_split_into_sentences() {
        assert_eq!(
            sentences("At 0.5 A to 3 V. Slower promises more."),
            ["At 0.5 A to 3 V.", "Slower promises more."]
        );
        assert_eq!(sentences("One only"), ["One only"]);
    }

    #[test]
    fn what_all_end_with_is_found_and_each_keeps_something() {
        let alike = |all: &[&str]| {
            alike_at_the_end(&all.iter().map(|text| sentences(text)).collect::<Vec<_>>())
        };
        assert_eq!(alike(&["A1. B. C.", "A2. B. C."]), 2);
        assert_eq!(alike(&["A1. B1. C.", "A2. B2. C."]), 1);
        assert_eq!(alike(&["A1.", "A2."]), 0);
        assert_eq!(alike(&["A. B.", "B."]), 0);
    }
}
