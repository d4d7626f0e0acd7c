//! The figures of a proposal.

use super::closing;
use super::page::{Page, Part};
use super::style::{Role, Style};
use crate::formula::Truth;
use crate::report::{FactReport, FactState, FigureReport, FigureSheet};

const INDENT: usize = 2;
const HANG: usize = 6;
/// So many facts are listed under a figure; the rest is counted.
const MOST_FACTS: usize = 12;

/// The figures of a proposal as text, wrapped to a width in columns.
#[must_use]
pub fn figures(sheet: &FigureSheet, width: usize, style: &dyn Style) -> String {
    let mut page = Page::new(width, style);
    page.paragraph(0, &[Part::text("Figures of: "), Part::new(Role::Heading, sheet.title.as_ref())]);
    page.paragraph(0, &[Part::new(Role::Quiet, sheet.proposal.as_str())]);
    let mut subject = "";
    for figure in &sheet.figures {
        if figure.subject != subject {
            page.gap();
            page.paragraph(0, &[Part::new(Role::Heading, figure.subject.as_str())]);
            subject = &figure.subject;
        }
        write(figure, &mut page);
    }
    closing::notice(&sheet.notice, &mut page);
    page.finish()
}

fn write(figure: &FigureReport, page: &mut Page<'_>) {
    page.item(
        INDENT,
        HANG,
        &[Part::new(Role::Label, figure.name.as_str()), Part::text(": "), Part::new(Role::Heading, value(figure))],
    );
    page.paragraph(HANG, &[Part::text(format!("{}.", figure.meaning))]);
    if let Some(open) = &figure.open {
        page.paragraph(HANG, &[Part::text(format!("Open: {open}."))]);
    }
    if let Some(is) = &figure.is {
        page.paragraph(HANG, &[Part::new(Role::Quiet, format!("Is: {is}"))]);
    }
    if let Some(facts) = worked_from(figure) {
        page.paragraph(HANG, &[Part::new(Role::Quiet, facts)]);
    }
}

fn value(figure: &FigureReport) -> String {
    match (&figure.value, figure.truth) {
        (Some(value), _) if value.missing && (value.low, value.high) == (None, None) => "unknown".to_owned(),
        (Some(value), _) => value.text.clone(),
        (None, Some(Truth::Yes)) => "yes".to_owned(),
        (None, Some(Truth::No)) => "no".to_owned(),
        (None, _) => "unknown".to_owned(),
    }
}

/// `From: ...; missing: ...`
fn worked_from(figure: &FigureReport) -> Option<String> {
    let (missing, given): (Vec<&FactReport>, Vec<&FactReport>) = figure.facts.iter().partition(|fact| fact.state == FactState::Missing);
    let own = |fact: &FactReport| fact.subject == figure.subject || !fact.subject.contains(' ');
    let name = |fact: &FactReport| if own(fact) { fact.name.clone() } else { format!("{} of {}", fact.name, fact.subject) };
    let shown = |fact: &&FactReport| format!("{} {}", name(fact), fact.value.as_deref().unwrap_or("not shown"));
    let from = listed(given.iter().map(|fact| shown(&fact)), given.len());
    let lacking = listed(missing.iter().map(|fact| name(fact)), missing.len());
    let more = if figure.more_facts > 0 { format!("; and {} more", figure.more_facts) } else { String::new() };
    match (from, lacking) {
        (None, None) => None,
        (Some(from), None) => Some(format!("From: {from}{more}")),
        (None, Some(lacking)) => Some(format!("Missing: {lacking}{more}")),
        (Some(from), Some(lacking)) => Some(format!("From: {from}; missing: {lacking}{more}")),
    }
}

fn listed(names: impl Iterator<Item = String>, count: usize) -> Option<String> {
    let listed: Vec<String> = names.take(MOST_FACTS).collect();
    let more = if count > MOST_FACTS { format!(" and {} more", count - MOST_FACTS) } else { String::new() };
    (count > 0).then(|| format!("{}{more}", listed.join(", ")))
}
