//! What was chosen, as text.

use rules_core::check::Verdict;
use rules_core::report::text::{Page, Part, Role, Style, notice_in_short, openly};

use super::result::{AgainstSet, Choice, ChosenSet, Stands};
use super::said::{
    against_said, cells, in_short, margin_said, no_set_said, plan_said, refused_said,
    searched_said, set_said,
};
use crate::jobs::without_shipped;

const INDENT: usize = 2;
const HANG: usize = 10;
/// So many margins, and so many cautions, are shown; the rest is in the data.
const MARGINS: usize = 3;
const CAUTIONS: usize = 8;
/// So many names of cells are shown.
const NAMES: usize = 12;

/// What was chosen as text, wrapped to a width in columns.
#[must_use]
pub fn text(choice: &Choice, width: usize, style: &dyn Style) -> String {
    let mut page = Page::new(width, style);
    opening(choice, &mut page);
    if let Some(first) = choice.sets.first() {
        against(&first.against, &mut page);
        if first.stands != Stands::Passes {
            in_the_way(choice, &mut page);
        }
        margins(first, &mut page);
    } else {
        in_the_way(choice, &mut page);
    }
    others(choice, &mut page);
    left_out(choice, &mut page);
    openly(choice.acceptance, &choice.loosened, &mut page);
    notice_in_short(&choice.notice, &mut page);
    page.finish()
}

fn opening(choice: &Choice, page: &mut Page<'_>) {
    let parts = match choice.sets.first() {
        Some(set) => heading(set),
        None => vec![Part::new(Role::Heading, no_set_said(choice))],
    };
    page.item(0, HANG, &parts);
    page.paragraph(HANG, &[Part::text(plan_said(choice))]);
    page.paragraph(HANG, &[Part::text(searched_said(choice))]);
    if let Some(said) = without_shipped(&choice.rules) {
        page.paragraph(HANG, &[Part::text(said)]);
    }
}

/// The set, with what comes of it.
fn heading(set: &ChosenSet) -> Vec<Part<'static>> {
    vec![
        verdict(set.outcome.verdict),
        Part::new(Role::Heading, set_said(set)),
    ]
}

fn verdict(verdict: Verdict) -> Part<'static> {
    Part::new(Role::Verdict(verdict), verdict.word().to_uppercase())
}

fn section(title: &'static str, page: &mut Page<'_>) {
    page.gap();
    page.paragraph(0, &[Part::new(Role::Heading, title)]);
}

fn line(label: Part<'_>, text: String, page: &mut Page<'_>) {
    page.entry(INDENT, &[label], HANG, &[Part::text(text)]);
}

fn against(all: &[AgainstSet], page: &mut Page<'_>) {
    if all.is_empty() {
        return;
    }
    section("Against it", page);
    for one in all.iter().take(CAUTIONS) {
        let label = Part::new(Role::Verdict(one.verdict), one.verdict.word());
        line(label, against_said(one), page);
    }
    more(all.len(), CAUTIONS, page);
}

fn more(all: usize, shown: usize, page: &mut Page<'_>) {
    if all > shown {
        let text = format!("and {} more", all - shown);
        page.paragraph(HANG, &[Part::new(Role::Quiet, text)]);
    }
}

/// What stands in the way of any set.
fn in_the_way(choice: &Choice, page: &mut Page<'_>) {
    let way = &choice.in_the_way;
    if way.any_cells.is_empty() && way.by.is_empty() {
        return;
    }
    section("In the way", page);
    for one in &way.any_cells {
        let label = Part::new(Role::Verdict(one.verdict), one.verdict.word());
        line(label, format!("{}, with any cells", one.title), page);
    }
    if let Some(text) = refused_said(choice) {
        page.paragraph(INDENT, &[Part::text(text)]);
    }
    for one in way.by.iter().take(CAUTIONS) {
        let label = Part::new(Role::Label, one.cells.len().to_string());
        line(label, format!("{}: {}", one.title, names(&one.cells)), page);
    }
    more(way.by.len(), CAUTIONS, page);
}

fn names(cells: &[String]) -> String {
    let shown: Vec<&str> = cells.iter().take(NAMES).map(String::as_str).collect();
    match cells.len().saturating_sub(NAMES) {
        0 => shown.join(" "),
        more => format!("{} and {more} more", shown.join(" ")),
    }
}

fn margins(set: &ChosenSet, page: &mut Page<'_>) {
    if set.margins.is_empty() {
        return;
    }
    section("Its narrowest margins", page);
    for one in set.margins.iter().take(MARGINS) {
        let label = Part::new(Role::Label, format!("{} %", one.percent));
        line(label, margin_said(one), page);
    }
}

/// The other sets, one line each.
fn others(choice: &Choice, page: &mut Page<'_>) {
    if choice.sets.len() < 2 {
        return;
    }
    section("Next", page);
    for set in choice.sets.iter().skip(1) {
        let label = Part::new(
            Role::Verdict(set.outcome.verdict),
            set.outcome.verdict.word(),
        );
        line(label, format!("{}: {}", cells(set), in_short(set)), page);
    }
}

fn left_out(choice: &Choice, page: &mut Page<'_>) {
    if choice.in_other_lights.is_empty() && choice.unreadable.is_empty() {
        return;
    }
    section("Not offered", page);
    let elsewhere = choice.in_other_lights.iter();
    let elsewhere: Vec<String> = elsewhere
        .map(|one| format!("{} (in {})", one.cell, one.light))
        .collect();
    if !elsewhere.is_empty() {
        page.item(INDENT, INDENT + 2, &[Part::text(names(&elsewhere))]);
    }
    for one in &choice.unreadable {
        let text = format!("{}: {}", one.cell, one.says.join("; "));
        page.item(INDENT, INDENT + 2, &[Part::text(text)]);
    }
}
