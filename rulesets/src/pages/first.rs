//! The first page: the answer, what speaks against the use, what is in doubt, what is not known.

use rules_core::check::Report;
use rules_core::report::text::{Asked, FirstPage, SpokenEntry, counted};

use super::html::Html;
use super::paper::{cells, fold, list, row_head, section, table, verdict};

/// So many questions stand on the first page.
const OPEN_QUESTIONS: usize = 8;

pub(super) fn write(report: &Report, html: &mut Html) {
    let first = FirstPage::of(report);
    head(report, &first, html);
    below(&first, html);
}

/// The same without the title, to stand in a page that has one.
pub(super) fn write_part(report: &Report, html: &mut Html) {
    let first = FirstPage::of(report);
    html.element("div", &[("class", "standing")], |html| {
        outcome(&first, None, html);
    });
    below(&first, html);
    all_questions(report, html);
}

/// What would change the verdict, by itself.
pub(super) fn write_changes(report: &Report, html: &mut Html) {
    let first = FirstPage::of(report);
    html.said("h3", &[], "What would change it");
    match first.would_change.as_slice() {
        [] => html.said("p", &[], "Nothing that was tried changes it."),
        lines => list(lines.iter().cloned(), html),
    }
}

fn below(first: &FirstPage<'_>, html: &mut Html) {
    stages(first, html);
    spoken(("against", "Against it"), &first.against, html);
    spoken(("in-doubt", "In doubt"), &first.in_doubt, html);
    not_known(first, html);
    lines(
        ("would-change", "Would change it"),
        &first.would_change,
        html,
    );
    lines(("notes", "Without a verdict"), &first.notes, html);
    html.said("p", &[("class", "notice")], &first.notice.join(" "));
}

fn head(report: &Report, first: &FirstPage<'_>, html: &mut Html) {
    html.element("header", &[], |html| {
        html.said("h1", &[], &report.title);
        outcome(first, Some(&report.proposal), html);
    });
}

fn outcome(first: &FirstPage<'_>, file: Option<&str>, html: &mut Html) {
    html.element("p", &[("class", "outcome")], |html| {
        verdict(first.verdict, html);
        html.text(first.scope.as_deref().unwrap_or_default());
    });
    html.element("p", &[], |html| {
        html.text(&first.counts);
        if let Some(file) = file {
            html.said("span", &[("class", "quiet")], &format!(" ({file})"));
        }
    });
    for said in [first.simple, first.without_shipped].into_iter().flatten() {
        html.told("p", &[], said);
    }
}

fn stages(first: &FirstPage<'_>, html: &mut Html) {
    if first.stages.is_empty() {
        return;
    }
    let heads = ["Stage", "Comes to", "Cautions"];
    section(("stages", "Stages of the work"), html, |html| {
        let caption = "What each stage comes to";
        table(caption, &heads, html, &first.stages, |stage, html| {
            row_head(stage.stage, html);
            html.element("td", &[], |html| match stage.came_to {
                Some(came) => verdict(came, html),
                None => html.text("-"),
            });
            cells(&[&stage.counts], html);
        });
    });
}

fn spoken(named: (&'static str, &str), entries: &[SpokenEntry], html: &mut Html) {
    if entries.is_empty() {
        return;
    }
    section(named, html, |html| {
        html.element("ul", &[("class", "spoken")], |html| {
            for entry in entries {
                html.element("li", &[], |html| one_spoken(entry, html));
            }
        });
    });
}

fn one_spoken(entry: &SpokenEntry, html: &mut Html) {
    verdict(entry.verdict, html);
    html.text(" ");
    html.text(&entry.title);
    if let Some(measured) = &entry.measured {
        html.text(": ");
        html.prose(measured);
    }
    if let Some(below) = &entry.below {
        html.text(" ");
        html.told("span", &[("class", "below")], below);
    }
}

fn not_known(first: &FirstPage<'_>, html: &mut Html) {
    let questions = first.questions.as_slice();
    if questions.is_empty() {
        return;
    }
    section(("not-known", "Not known yet"), html, |html| {
        if let Some(deciding) = &first.deciding {
            html.told("p", &[], deciding);
        }
        let shown = questions.iter().take(OPEN_QUESTIONS);
        asked("What to measure or state next", shown, html);
        let more = questions.len().saturating_sub(OPEN_QUESTIONS);
        if more > 0 {
            html.said("p", &[], &format!("And {more} more, listed below."));
        }
    });
}

/// All questions, where the first page has no room for them.
pub(super) fn all_questions(report: &Report, html: &mut Html) {
    let first = FirstPage::of(report);
    let count = first.questions.len();
    if count <= OPEN_QUESTIONS {
        return;
    }
    section(("questions", "All questions"), html, |html| {
        let summary = format!("Not known yet: {}", counted(count, "question"));
        let all = first.questions.iter();
        fold(&summary, html, |html| {
            asked("All that is not known yet", all, html)
        });
    });
}

fn asked<'q>(caption: &str, questions: impl Iterator<Item = &'q Asked<'q>>, html: &mut Html) {
    let heads = ["Where it is written", "What can be written", "What it is"];
    table(caption, &heads, html, questions, |one, html| {
        row_head(&one.place, html);
        cells(&[&one.answers, one.meaning], html);
    });
}

fn lines(named: (&'static str, &str), lines: &[String], html: &mut Html) {
    if lines.is_empty() {
        return;
    }
    section(named, html, |html| {
        html.element("ul", &[], |html| {
            for line in lines {
                html.told("li", &[], line);
            }
        });
    });
}
