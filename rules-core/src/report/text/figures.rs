//! The figures of a proposal.

use std::collections::HashMap;

use super::closing;
use super::group::subjects;
use super::narrowed;
use super::page::{Page, Part};
use super::style::{Role, Style};
use crate::check::{FactReport, FactState, FigureReport, FigureSheet, Subject};
use crate::formula::Truth;

const INDENT: usize = 2;
const HANG: usize = 6;
/// So many missing facts are listed under a figure; the rest is counted.
const MOST_FACTS: usize = 12;

/// The figures of a proposal as text, wrapped to a width in columns.
#[must_use]
pub fn figures(sheet: &FigureSheet, width: usize, style: &dyn Style) -> String {
    let mut page = Page::new(width, style);
    page.paragraph(
        0,
        &[
            Part::text("Figures of: "),
            Part::new(Role::Heading, sheet.title.as_ref()),
        ],
    );
    page.paragraph(0, &[Part::new(Role::Quiet, sheet.proposal.as_str())]);
    for (of, text) in alike(sheet, width, style) {
        page.gap();
        page.paragraph(0, &[Part::new(Role::Heading, subjects(of.into_iter()))]);
        page.append(&text);
    }
    closing::unused(&sheet.unused, &mut page);
    closing::notice(&sheet.notice, &mut page);
    page.finish()
}

/// The figures of each subject as text. Subjects with the same figures are shown together, at the
/// place of the first of them.
fn alike<'s>(
    sheet: &'s FigureSheet,
    width: usize,
    style: &dyn Style,
) -> Vec<(Vec<&'s Subject>, String)> {
    let mut blocks: Vec<(Vec<&Subject>, String)> = Vec::new();
    let mut places: HashMap<String, usize> = HashMap::new();
    for of_one in sheet
        .figures
        .chunk_by(|one, next| one.subject == next.subject)
    {
        let mut block = Page::new(width, style);
        of_one.iter().for_each(|figure| write(figure, &mut block));
        let text = block.finish();
        let place = *places.entry(text.clone()).or_insert(blocks.len());
        let subject = of_one.iter().map(|figure| &figure.subject).take(1);
        match blocks.get_mut(place) {
            Some((subjects, _)) => subjects.extend(subject),
            None => blocks.push((subject.collect(), text)),
        }
    }
    blocks
}

/// What is said of a figure, apart from lines of text.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct FigureSaid {
    /// What it came to.
    pub value: String,
    /// What it means, why it is open and what would narrow it: a sentence each.
    pub says: Vec<String>,
    /// Its formula and what it was worked from: a line each.
    pub rests_on: Vec<String>,
}

impl FigureSaid {
    /// Of a figure.
    #[must_use]
    pub fn of(figure: &FigureReport) -> Self {
        let meaning = Some(format!("{}.", figure.meaning));
        let open = figure.open.map(|open| format!("Open: {open}."));
        let narrowed = figure.narrowed_by.iter();
        let narrowed = narrowed.map(|one| format!("{}.", narrowed::sentence(one)));
        let is = figure.is.as_ref().map(|is| format!("Is: {is}"));
        Self {
            value: value(figure),
            says: meaning.into_iter().chain(open).chain(narrowed).collect(),
            rests_on: is.into_iter().chain(worked_from(figure)).collect(),
        }
    }
}

fn write(figure: &FigureReport, page: &mut Page<'_>) {
    let said = FigureSaid::of(figure);
    page.item(
        INDENT,
        HANG,
        &[
            Part::new(Role::Label, figure.name.as_str()),
            Part::text(": "),
            Part::new(Role::Heading, said.value),
        ],
    );
    for says in said.says {
        page.paragraph(HANG, &[Part::text(says)]);
    }
    for line in said.rests_on {
        page.paragraph(HANG, &[Part::new(Role::Quiet, line)]);
    }
}

fn value(figure: &FigureReport) -> String {
    match (&figure.value, figure.truth) {
        (Some(value), _) => value.to_string(),
        (None, Some(Truth::Yes)) => "yes".to_owned(),
        (None, Some(Truth::No)) => "no".to_owned(),
        (None, _) => "unknown".to_owned(),
    }
}

/// `From: ...; missing: ...`
fn worked_from(figure: &FigureReport) -> Option<String> {
    let (missing, given): (Vec<&FactReport>, Vec<&FactReport>) = figure
        .facts
        .iter()
        .map(|fact| &**fact)
        .partition(|fact| fact.state == FactState::Missing);
    let mut names: Vec<&str> = given.iter().map(|fact| &*fact.name).collect();
    names.sort_unstable();
    names.dedup();
    let own = |fact: &FactReport| fact.subject == figure.subject || fact.subject.is_only();
    let lacking: Vec<String> = missing
        .iter()
        .map(|fact| {
            if own(fact) {
                fact.name.to_string()
            } else {
                format!("{} of {}", fact.name, fact.subject)
            }
        })
        .collect();
    let more = if figure.more_facts > 0 {
        format!("; and {} more", figure.more_facts)
    } else {
        String::new()
    };
    match (names.is_empty(), lacking.is_empty()) {
        (true, true) => None,
        (false, true) => Some(format!("From {}{more}", names.join(", "))),
        (true, false) => Some(format!("Missing: {}{more}", listed(&lacking))),
        (false, false) => Some(format!(
            "From {}; missing: {}{more}",
            names.join(", "),
            listed(&lacking)
        )),
    }
}

fn listed(names: &[String]) -> String {
    let more = if names.len() > MOST_FACTS {
        format!(" and {} more", names.len() - MOST_FACTS)
    } else {
        String::new()
    };
    format!(
        "{}{more}",
        names
            .iter()
            .take(MOST_FACTS)
            .map(String::as_str)
            .collect::<Vec<_>>()
            .join(", ")
    )
}
