//! What changed between two reports, as text.

use super::first_page::notice_in_short;
use super::group::subjects;
use super::opening::verdict;
use super::page::{Page, Part};
use super::style::{Role, Style};
use super::summary::{counted, others};
use crate::check::{Outcome, Status};
use crate::report::changes::{Changes, FindingOf, Found, Without};
use crate::ruleset::Acceptance;

/// The columns of verdicts and of the text beside them.
const INDENT: usize = 2;
const TEXT: usize = 10;

/// What changed between two reports, wrapped to a width in columns.
#[must_use]
pub fn changed(changes: &Changes, width: usize, style: &dyn Style) -> String {
    let mut page = Page::new(width, style);
    head(changes, &mut page);
    stages(changes, &mut page);
    let went = changes.went.iter().map(|one| {
        let now = Now::Without(one.after);
        (&one.of, Some(one.before), now)
    });
    findings("Gone", went, &mut page);
    let came = changes.came.iter();
    let came = came.map(|one| (&one.of, None, Now::Found(one.after, Some(one.before))));
    findings("New", came, &mut page);
    let other = changes.changed.iter();
    let other = other.map(|one| (&one.of, Some(one.before), Now::Found(one.after, None)));
    findings("Changed", other, &mut page);
    page.gap();
    page.paragraph(0, &[Part::text(unchanged(changes))]);
    notice_in_short(&changes.notice, &mut page);
    page.finish()
}

fn head(changes: &Changes, page: &mut Page<'_>) {
    let (before, after) = (&changes.before, &changes.after);
    let title = Part::new(Role::Heading, after.title.as_ref());
    let file = Part::new(Role::Quiet, format!(" ({})", after.proposal));
    page.paragraph(0, &[title, file]);
    page.paragraph(0, &outcome(before.outcome, after.outcome));
    let mut notes = Vec::new();
    if !changes.same_proposal {
        notes.push(format!(
            "These are reports on two plans: the older one is on {} ({}).",
            before.title, before.proposal
        ));
    } else if before.title != after.title {
        notes.push(format!("The title was {}.", before.title));
    } else if before.proposal != after.proposal {
        notes.push(format!("The file was {}.", before.proposal));
    }
    if before.asked != after.asked {
        let (was, is) = (asked(&before.asked), asked(&after.asked));
        notes.push(format!("Checked was {was}, now {is}."));
    }
    if before.acceptance != after.acceptance {
        let (was, is) = (word(before.acceptance), word(after.acceptance));
        notes.push(format!("Acceptance was {was}, now it is {is}."));
    }
    if !changes.same_rules {
        notes.push(
            "The rules differ, by their digests: what changed may come of them and not of the plan."
                .to_owned(),
        );
    }
    for note in notes {
        page.item(0, 2, &[Part::text(note)]);
    }
}

/// `WARN, was REFUSE.`
fn outcome(before: Option<Outcome>, after: Option<Outcome>) -> Vec<Part<'static>> {
    let nothing = |came: Outcome| match came.nothing_checked {
        true => " (nothing was checked)",
        false => "",
    };
    match (before, after) {
        (Some(before), Some(after)) if before.verdict == after.verdict => vec![
            verdict(after.verdict, true),
            Part::text(format!("{}, as before.", nothing(after))),
        ],
        (Some(before), Some(after)) => vec![
            verdict(after.verdict, true),
            Part::text(format!("{}, was ", nothing(after))),
            verdict(before.verdict, true),
            Part::text(format!("{}.", nothing(before))),
        ],
        (Some(before), None) => vec![
            Part::text("No verdict on the whole now; it was "),
            verdict(before.verdict, true),
            Part::text("."),
        ],
        (None, Some(after)) => vec![
            verdict(after.verdict, true),
            Part::text("; there was no verdict on the whole."),
        ],
        (None, None) => vec![Part::text("Neither has a verdict on the whole.")],
    }
}

fn asked(stages: &[std::sync::Arc<str>]) -> String {
    match stages {
        [] => "all".to_owned(),
        some => format!("{} only", some.join(", ")),
    }
}

const fn word(acceptance: Acceptance) -> &'static str {
    match acceptance {
        Acceptance::Guarded => "guarded",
        Acceptance::Simple => "simple",
    }
}

fn stages(changes: &Changes, page: &mut Page<'_>) {
    let ids = changes.stages.iter().map(|stage| stage.stage.len());
    let Some(longest) = ids.max() else { return };
    page.gap();
    page.paragraph(0, &[Part::new(Role::Heading, "Stages")]);
    for stage in &changes.stages {
        let id = Part::new(Role::Label, stage.stage.as_ref());
        let came = [
            of_stage(stage.after),
            Part::text(", was "),
            of_stage(stage.before),
            Part::text(possible(stage.before, stage.after)),
        ];
        page.entry(INDENT, &[id], INDENT + longest + 2, &came);
    }
}

fn of_stage(came: Option<Outcome>) -> Part<'static> {
    match came {
        None => Part::text("not checked"),
        Some(came) if came.nothing_checked => Part::text("nothing that applies"),
        Some(came) => verdict(came.verdict, false),
    }
}

/// What else a verdict could be, where only that changed.
fn possible(before: Option<Outcome>, after: Option<Outcome>) -> String {
    match before.zip(after) {
        Some((before, after)) if before.verdict == after.verdict => {
            match others(after.verdict, after.best, after.worst) {
                Some(others) => format!("; could now be {others}"),
                None => "; now settled".to_owned(),
            }
        }
        _ => String::new(),
    }
}

/// What there is of a finding in the newer report.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Now {
    /// Nothing, and what became of its caution.
    Without(Without),
    /// This, and what was said of its caution where it was not there.
    Found(Found, Option<Without>),
}

/// A list, those together that differ in their subjects alone.
fn findings<'c>(
    heading: &'static str,
    all: impl Iterator<Item = (&'c FindingOf, Option<Found>, Now)>,
    page: &mut Page<'_>,
) {
    let mut alike: Vec<(Vec<&FindingOf>, Option<Found>, Now)> = Vec::new();
    let mut count = 0;
    for (of, before, now) in all {
        count += 1;
        match alike.last_mut() {
            Some((last, was, is))
                if (*was, *is) == (before, now)
                    && last.iter().all(|one| one.caution == of.caution) =>
            {
                last.push(of);
            }
            _ => alike.push((vec![of], before, now)),
        }
    }
    if count == 0 {
        return;
    }
    page.gap();
    page.paragraph(
        0,
        &[Part::new(Role::Heading, format!("{heading}: {count}"))],
    );
    for (of, before, now) in alike {
        finding(&of, before, now, page);
    }
}

fn finding(of: &[&FindingOf], before: Option<Found>, now: Now, page: &mut Page<'_>) {
    let shown = match now {
        Now::Found(found, _) => Some(found),
        Now::Without(_) => before,
    };
    let (Some(shown), Some(first)) = (shown, of.first()) else {
        return;
    };
    let whom = match first.subject.is_only() {
        true => String::new(),
        false => format!(", {}", subjects(of.iter().map(|one| &one.subject))),
    };
    let text = [
        Part::text(first.title.as_ref()),
        Part::text(format!("{whom}: {}", told(before, now))),
    ];
    page.entry(INDENT, &[verdict(shown.verdict, false)], TEXT, &text);
}

/// What became of a finding, in words.
fn told(before: Option<Found>, now: Now) -> String {
    match (before, now) {
        (_, Now::Without(Without::Passed)) => "met now".to_owned(),
        (_, Now::Without(Without::NotApplicable)) => "does not apply any more".to_owned(),
        (_, Now::Without(Without::OfOthers)) => "no finding any more".to_owned(),
        (_, Now::Without(Without::NotChecked)) => "not checked any more".to_owned(),
        (Some(before), Now::Found(after, _)) => {
            format!("{}; was {}", sure(after), whole(before))
        }
        (None, Now::Found(after, was)) => {
            let was = match was {
                Some(Without::Passed) => "met before",
                Some(Without::NotApplicable) => "did not apply before",
                Some(Without::OfOthers) => "no finding before",
                Some(Without::NotChecked) | None => "not checked before",
            };
            format!("{}; {was}", sure(after))
        }
    }
}

/// How sure a finding is: `unmeasured (could be pass)`.
fn sure(found: Found) -> String {
    match others(found.verdict, found.best, found.worst) {
        Some(others) if found.status != Status::Decided => {
            format!("{} (could be {others})", found.status.words())
        }
        _ => Status::Decided.words().to_owned(),
    }
}

fn whole(found: Found) -> String {
    format!("{}, {}", found.verdict.word(), sure(found))
}

fn unchanged(changes: &Changes) -> String {
    match (changes.is_nothing(), changes.unchanged) {
        (true, 0) => "Nothing changed: there is no finding in either.".to_owned(),
        (true, 1) => "Nothing changed: the one finding came to the same.".to_owned(),
        (true, count) => format!("Nothing changed: all {count} findings came to the same."),
        (false, 1) => "1 finding came to the same in both.".to_owned(),
        (false, count) => format!("{} came to the same in both.", counted(count, "finding")),
    }
}
