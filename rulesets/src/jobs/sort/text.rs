//! Sorted cells, as text: how many have each grade, why, and which may go into which light.

use std::collections::BTreeMap;

use rules_core::check::Verdict;
use rules_core::report::text::{Page, Part, Role, Style, counted, notice_in_short, openly};
use unicode_width::UnicodeWidthStr;

use super::grade::Grade;
use super::reason::{beside, said, with_number};
use super::report::{DecidedBy, SortReport, SortedCell, SortedLight};
use super::suits::Suits;
use crate::jobs::without_shipped;

/// The columns of a grade, of its count and of the cells.
const INDENT: usize = 2;
const CELLS: usize = 17;
const REASONS: usize = 19;

/// Between two columns of the table.
const GAP: usize = 2;

/// A space that a line is not broken at: the columns of a table are made of it.
const HARD_SPACE: char = '\u{a0}';

/// Sorted cells as text, wrapped to a width in columns.
#[must_use]
pub fn text(report: &SortReport, width: usize, style: &dyn Style) -> String {
    let mut page = Page::new(width, style);
    page.paragraph(0, &[Part::new(Role::Heading, opening(report))]);
    if let Some(said) = without_shipped(&report.rules) {
        page.paragraph(0, &[Part::text(said)]);
    }
    if !report.cells.is_empty() {
        page.gap();
        Grade::ALL
            .iter()
            .for_each(|grade| of_grade(*grade, report, &mut page));
        in_lights_already(report, &mut page);
        table(report, width, &mut page);
    }
    openly(report.acceptance, &report.loosened, &mut page);
    notice_in_short(&report.notice, &mut page);
    page.finish()
}

/// What was sorted, by which rules, on which day.
#[must_use]
pub fn opening(report: &SortReport) -> String {
    let rules: Vec<String> = report
        .rules
        .iter()
        .map(|rules| format!("{} {}", rules.ruleset, rules.version))
        .collect();
    let day = report.as_of.as_ref().map(|day| format!(", as of {day}"));
    let bench = &report.bench;
    let by = format!("by {}{}", rules.join(", "), day.unwrap_or_default());
    match report.cells.len() {
        0 => format!("No cells: the bench `{bench}` lists none ({by})"),
        count => format!("{} of the bench `{bench}`, {by}", counted(count, "cell")),
    }
}

fn role(grade: Grade) -> Role {
    Role::Verdict(match grade {
        Grade::Sound => Verdict::Pass,
        Grade::Watch | Grade::ToTest => Verdict::Warn,
        Grade::SetAside | Grade::Retire => Verdict::Refuse,
    })
}

/// A grade with its cells, and below them why.
fn of_grade(grade: Grade, report: &SortReport, page: &mut Page<'_>) {
    let cells: Vec<&SortedCell> = report
        .cells
        .iter()
        .filter(|cell| cell.grade == grade)
        .collect();
    let label = [
        Part::new(role(grade), grade.words()),
        Part::text(format!(
            "{:>width$}",
            cells.len(),
            width = CELLS - 3 - INDENT - grade.words().len()
        )),
    ];
    let ids: Vec<&str> = cells.iter().map(|cell| cell.id.as_str()).collect();
    page.entry(INDENT, &label, CELLS, &[Part::text(ids.join(" "))]);
    for group in alike(&cells) {
        let text = Part::text(of_group(&group, cells.len()));
        page.item(REASONS, REASONS + 2, &[text]);
    }
}

/// Cells of one grade of which the same is said, in the order of the first of each.
fn alike<'r>(cells: &[&'r SortedCell]) -> Vec<(String, Vec<&'r SortedCell>)> {
    let mut groups: Vec<(String, Vec<&SortedCell>)> = Vec::new();
    let mut places: BTreeMap<(String, Option<&str>), usize> = BTreeMap::new();
    for cell in cells {
        let Some(said) = said(cell) else {
            continue;
        };
        let limit = with_number(cell).and_then(|decided| decided.limit.as_deref());
        let at = *places.entry((said.clone(), limit)).or_insert(groups.len());
        match groups.get_mut(at) {
            Some((_, alike)) => alike.push(cell),
            None => groups.push((said, vec![cell])),
        }
    }
    groups
}

/// What is said of several cells, with the number of each.
fn of_group((said, cells): &(String, Vec<&SortedCell>), of_grade: usize) -> String {
    let ids: Vec<&str> = cells.iter().map(|cell| cell.id.as_str()).collect();
    let whose = match cells.len() == of_grade && of_grade > 1 {
        true => "all".to_owned(),
        false => ids.join(" "),
    };
    let numbers: Vec<(&str, &DecidedBy)> = cells
        .iter()
        .filter_map(|cell| Some((cell.id.as_str(), with_number(cell)?)))
        .collect();
    let Some((_, first)) = numbers.first() else {
        return format!("{whose}: {said}");
    };
    let limit = beside(first.limit.as_deref());
    let value = |decided: &DecidedBy| decided.value.clone().unwrap_or_default();
    let one_value = numbers.iter().all(|(_, other)| other.value == first.value);
    if one_value && numbers.len() == cells.len() {
        return format!("{whose}: {said}, {}{limit}", value(first));
    }
    let each = numbers
        .iter()
        .map(|(id, decided)| format!("{id}\u{a0}{}", value(decided)));
    let each: Vec<String> = each.collect();
    format!("{said}{limit}: {}", each.join(", "))
}

/// The cells that are in a light already, by light.
fn in_lights_already(report: &SortReport, page: &mut Page<'_>) {
    let mut by_light: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for cell in &report.cells {
        if let Some(light) = &cell.in_light {
            by_light.entry(light).or_default().push(&cell.id);
        }
    }
    let said: Vec<String> = by_light
        .iter()
        .map(|(light, ids)| format!("{} in {light}", ids.join(" ")))
        .collect();
    if !said.is_empty() {
        page.gap();
        page.paragraph(
            0,
            &[Part::text(format!(
                "In a light already: {}.",
                said.join(", ")
            ))],
        );
    }
}

/// The cells that may go somewhere, and each light: as many tables beside a column of ids as the width
/// asks for.
fn table(report: &SortReport, width: usize, page: &mut Page<'_>) {
    let rows: Vec<&SortedCell> = report
        .cells
        .iter()
        .filter(|cell| !cell.grade.is_out())
        .collect();
    if report.lights.is_empty() || rows.is_empty() {
        return;
    }
    let first = rows
        .iter()
        .map(|cell| label(cell).width())
        .max()
        .unwrap_or_default();
    let columns: Vec<usize> = report.lights.iter().map(column).collect();
    let mut from = 0;
    while from < columns.len() {
        let to = fitting(&columns, from, width.saturating_sub(INDENT + first));
        page.gap();
        head(report, (first, from..to), page);
        rows.iter()
            .for_each(|cell| row(cell, (first, from..to), &columns, page));
        from = to;
    }
    page.gap();
    closed_lights(&rows, page);
    legend(report, rows.len() < report.cells.len(), page);
}

/// The end of the columns that find room from one on; one at least.
fn fitting(columns: &[usize], from: usize, room: usize) -> usize {
    let mut used = 0;
    let fits = columns.iter().skip(from).take_while(|column| {
        used += GAP + **column;
        used <= room
    });
    from + fits.count().max(1)
}

/// A cell in the first column of the table.
fn label(cell: &SortedCell) -> String {
    match &cell.known.capacity {
        Some(capacity) => format!("{} {capacity}", cell.id),
        None => cell.id.clone(),
    }
}

fn column(light: &SortedLight) -> usize {
    light.light.width().max(Suits::WithOthers.words().len())
}

fn head(
    report: &SortReport,
    (first, lights): (usize, std::ops::Range<usize>),
    page: &mut Page<'_>,
) {
    let mut line = " ".repeat(first);
    for light in report.lights.iter().skip(lights.start).take(lights.len()) {
        line += &padded(&light.light, column(light));
    }
    page.paragraph(INDENT, &[Part::new(Role::Heading, hard(&line))]);
}

fn row(
    cell: &SortedCell,
    (first, lights): (usize, std::ops::Range<usize>),
    columns: &[usize],
    page: &mut Page<'_>,
) {
    let id = label(cell);
    let mut parts = vec![Part::text(hard(&format!(
        "{id}{}",
        " ".repeat(first.saturating_sub(id.width()))
    )))];
    let entries = cell.lights.iter().zip(columns);
    for (entry, column) in entries.skip(lights.start).take(lights.len()) {
        let role = match entry.suits {
            Suits::Pass | Suits::WithOthers => Role::Verdict(Verdict::Pass),
            Suits::Warn | Suits::ToTest => Role::Verdict(Verdict::Warn),
            Suits::Refuse => Role::Verdict(Verdict::Refuse),
            Suits::NotSaid => Role::Quiet,
        };
        let space = column.saturating_sub(entry.suits.words().len());
        parts.push(Part::text(hard(&" ".repeat(GAP))));
        parts.push(Part::new(role, hard(entry.suits.words())));
        parts.push(Part::text(hard(&" ".repeat(space))));
    }
    page.paragraph(INDENT, &parts);
}

fn padded(text: &str, column: usize) -> String {
    let space = column.saturating_sub(text.width());
    format!("{}{text}{}", " ".repeat(GAP), " ".repeat(space))
}

fn hard(text: &str) -> String {
    text.replace(' ', &HARD_SPACE.to_string())
}

/// The lights that one caution keeps every cell out of.
fn closed_lights(rows: &[&SortedCell], page: &mut Page<'_>) {
    let count = rows.first().map_or(0, |cell| cell.lights.len());
    for at in 0..count {
        let mut entries = rows.iter().filter_map(|cell| cell.lights.get(at));
        let Some((light, first)) = entries
            .clone()
            .next()
            .map(|entry| (&entry.light, &entry.kept_out_by))
        else {
            continue;
        };
        let Some(by) = first
            .as_ref()
            .filter(|_| entries.all(|entry| entry.kept_out_by == *first))
        else {
            continue;
        };
        let text = format!("No cell goes into {light}: {}.", by.title);
        page.paragraph(0, &[Part::text(text)]);
    }
}

/// What the words of the table mean, of those that need it.
fn legend(report: &SortReport, has_others: bool, page: &mut Page<'_>) {
    let shown = |suits: Suits| {
        report
            .cells
            .iter()
            .flat_map(|cell| &cell.lights)
            .any(|entry| entry.suits == suits)
    };
    let mut said =
        vec!["By the cell and its fit alone: charger, place and use are for a check of the plan."];
    if shown(Suits::WithOthers) {
        said.push(
            "With others: the light takes more cells, and nothing about this one alone refuses it.",
        );
    }
    if shown(Suits::NotSaid) {
        said.push("Not said: the bench gives no `arrangement` of the light.");
    }
    if has_others {
        said.push("Cells to set aside or to retire go into no light.");
    }
    page.paragraph(0, &[Part::text(said.join(" "))]);
}
