//! What would change a verdict, in a few lines.

use std::collections::BTreeMap;

use super::page::{Page, Part};
use super::style::Role;
use super::summary::counted;
use crate::check::{Change, Report, Turn, Verdict, WouldChange};

/// The columns of a line, and of what of it is wrapped.
const INDENT: usize = 2;
const WRAPPED: usize = 4;
/// So many single changes are shown, and so many values of one; the rest is counted.
const MOST_ALONE: usize = 3;
const MOST_VALUES: usize = 6;

/// Writes what was found, with the titles of what nothing lifts; nothing where nobody tried.
pub(super) fn write(report: &Report, page: &mut Page<'_>) {
    if let Some(found) = &report.would_change {
        write_lines(lines(found, stands(found, report)), page);
    }
}

/// The same in few lines: what nothing lifts is counted, for it stands above. Nothing where no change
/// was found: the cures above say what helps.
pub(super) fn lines_in_short(report: &Report) -> Vec<String> {
    let found = report.would_change.as_ref();
    let has_changes = |found: &&WouldChange| {
        let several = found.together.is_some() || found.partly.is_some();
        several || !found.alone.is_empty()
    };
    let in_short = |found| lines(found, how_many_stand(found).into_iter().collect());
    found.filter(has_changes).map(in_short).unwrap_or_default()
}

/// Writes these; or, where there is no room for them, that they stand among all reasons.
pub(super) fn write_in_short(report: &Report, has_room: bool, page: &mut Page<'_>) {
    let lines = lines_in_short(report);
    if lines.is_empty() {
        return;
    }
    if has_room {
        return write_lines(lines, page);
    }
    page.gap();
    let heading = Part::new(Role::Heading, "Would change it");
    page.paragraph(0, &[heading, Part::text(": told among all reasons")]);
}

fn write_lines(lines: Vec<String>, page: &mut Page<'_>) {
    page.gap();
    page.paragraph(0, &[Part::new(Role::Heading, "Would change it")]);
    for line in lines {
        page.item(INDENT, WRAPPED, &[Part::text(line)]);
    }
}

fn lines(found: &WouldChange, stands: Vec<String>) -> Vec<String> {
    let mut lines: Vec<String> = found.alone.iter().take(MOST_ALONE).map(turn).collect();
    match found.alone.len().saturating_sub(MOST_ALONE) {
        0 => {}
        more => lines.push(format!("and {more} more, each by itself")),
    }
    if let Some(together) = &found.together {
        let fewest = match together.fewest {
            true => "; fewer are not enough",
            false => "",
        };
        lines.push(format!("{}{fewest}", turn(&together.turn)));
    }
    lines.extend(
        found
            .partly
            .as_ref()
            .map(|partly| in_part(partly, found.against)),
    );
    lines.extend(stands);
    if lines.is_empty() {
        let tried = counted(found.checks, "check");
        lines.push(format!("nothing that was tried, in {tried}"));
    }
    if !found.all_tried {
        lines.push("not all was tried, for there is too much of it".to_owned());
    }
    lines
}

/// What is done otherwise, and what it comes to.
fn turn(turn: &Turn) -> String {
    let comes_to = match turn.verdict {
        Verdict::Refuse => "then only what is in doubt or not known holds it",
        Verdict::Warn => "then it warns",
        Verdict::Pass => "then it passes",
    };
    format!("{}: {comes_to}", changes(&turn.changes))
}

fn in_part(turn: &Turn, against: usize) -> String {
    let go = match turn.lifts {
        1 => "goes",
        _ => "go",
    };
    format!(
        "{}: {} of the {against} that refuse {go}",
        changes(&turn.changes),
        turn.lifts
    )
}

fn changes(all: &[Change]) -> String {
    let mut said = String::new();
    for (at, change) in all.iter().enumerate() {
        said += match (at, change.to.is_empty()) {
            (0, _) => "",
            (_, true) => ", ",
            (_, false) => ", with ",
        };
        said += &one_change(change);
    }
    said
}

fn one_change(change: &Change) -> String {
    let Change { place, is, to } = change;
    let (shown, more) = to.split_at(MOST_VALUES.min(to.len()));
    let more = match more.len() {
        0 => String::new(),
        count => format!(" or {count} others"),
    };
    let shown = format!("{place} {}{more}", shown.join(" or "));
    match (is.is_empty(), to.is_empty()) {
        (_, true) => format!("{place} without {is}"),
        (true, false) => format!("{shown} as well"),
        (false, false) => format!("{shown} instead of {is}"),
    }
}

/// How many of those that refuse no value lifts that could be changed.
fn how_many_stand(found: &WouldChange) -> Option<String> {
    let (others, nothing) = (found.only_others.as_ref(), found.stands.len());
    let of_others = others.map_or(0, |others| others.cautions.len());
    let all = of_others + nothing;
    let rest = match (others, nothing) {
        _ if all == 0 => return None,
        (Some(others), 0) => format!("; at most other {} do", others.list),
        (Some(others), _) => format!("; at most other {} lift {of_others} of them", others.list),
        (None, _) => String::new(),
    };
    Some(format!(
        "no value of the plan lifts {all} of the {} that refuse{rest}",
        found.against
    ))
}

/// What no value lifts that could be changed, by the titles of the report's findings.
fn stands(found: &WouldChange, report: &Report) -> Vec<String> {
    let findings = report.findings.iter();
    let named: BTreeMap<&str, &str> = findings
        .map(|finding| (&*finding.caution, &*finding.title))
        .collect();
    let titles = |ids: &[String]| {
        let ids = ids.iter().map(String::as_str);
        let titles = ids.map(|id| named.get(id).copied().unwrap_or(id));
        titles.collect::<Vec<_>>().join("; ")
    };
    let others = found.only_others.iter();
    let others =
        others.map(|one| format!("at most other {} lift: {}", one.list, titles(&one.cautions)));
    let stands = Some(&found.stands).filter(|stands| !stands.is_empty());
    let stands = stands.map(|stands| format!("no value of the plan lifts: {}", titles(stands)));
    others.chain(stands).collect()
}
