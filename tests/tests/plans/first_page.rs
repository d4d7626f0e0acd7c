//! The first page of every plan: it fits on a screen, and nothing is left out without its number.

use rules_core::check::{Finding, Report, Status, Verdict};
use rules_core::report::text::{Plain, USUAL_LINES, Ways, first_page, question_page};

use super::{Judged, Set, judged};

const WIDTH: usize = 80;

fn page(report: &Report) -> String {
    let ways = Ways {
        questions: "--questions",
        all: "All of it: --full",
    };
    first_page(report, (WIDTH, USUAL_LINES), ways, &Plain)
}

/// A text on one line, with single spaces.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn all() -> impl Iterator<Item = &'static Judged> {
    Set::ALL.into_iter().flat_map(judged)
}

fn listed_cells(report: &Report) -> usize {
    let named = report.findings.iter().map(|finding| &finding.subject);
    let cells = named.filter(|subject| subject.kind() == "cell");
    let names: std::collections::BTreeSet<_> = cells.filter_map(|one| one.own()).collect();
    names.len()
}

#[test]
fn it_fits_on_a_screen() {
    let mut seen = 0;
    for one in all().filter(|one| listed_cells(&one.report) <= 4) {
        let page = page(&one.report);
        let lines = page.lines().count();
        assert!(lines <= USUAL_LINES, "{lines} lines\n{page}");
        let widest = page.lines().map(|line| line.chars().count()).max();
        assert!(widest <= Some(WIDTH), "{widest:?} columns\n{page}");
        seen += 1;
    }
    assert!(seen > 250, "{seen}");
}

/// A plan of the club takes from its bench, which has remarks as well.
#[test]
fn it_fits_with_much_against_it_and_remarks() {
    let most = all().filter(|one| listed_cells(&one.report) <= 4);
    let most = most.max_by_key(|one| one.report.findings.len());
    let mut report = most.expect("a plan").report.clone();
    let says = "A remark as long as those of a bench, with a day, a value and what may be wrong with it; \
                it takes three lines of a page, or it would not be one that a bench makes of a reading.";
    report.remarks = vec![report.remarks.first().expect("a remark").clone(); 9];
    for remark in &mut report.remarks {
        says.clone_into(&mut remark.says);
    }
    let page = page(&report);
    assert!(page.lines().count() <= USUAL_LINES, "{page}");
    assert!(page.contains("remark"), "{page}");
}

/// It speaks, whatever becomes known, or may for a reading that is too wide.
fn is_spoken(finding: &&Finding) -> bool {
    finding.best > Verdict::Pass || finding.status != Status::Unmeasured
}

#[test]
fn what_is_against_a_use_or_in_doubt_is_never_cut() {
    for one in all() {
        let (page, findings) = (flat(&page(&one.report)), one.report.findings.iter());
        for finding in findings.filter(is_spoken) {
            assert!(page.contains(&*finding.title), "{}\n{page}", finding.title);
        }
    }
}

#[test]
fn what_nobody_answered_accuses_nobody() {
    let mut seen = 0;
    for one in all() {
        let page = flat(&page(&one.report));
        let findings = one.report.findings.iter();
        let spoken: Vec<&Finding> = findings.clone().filter(is_spoken).collect();
        for finding in findings.filter(|finding| !is_spoken(finding)) {
            if spoken.iter().all(|other| other.title != finding.title) {
                assert!(!page.contains(&*finding.title), "{}\n{page}", finding.title);
                seen += 1;
            }
        }
        for hole in ["(unknown)", "not measured", "unmeasured"] {
            assert!(!page.contains(hole), "{hole}\n{page}");
        }
        let waits = page.contains("nothing is against it yet");
        let verdict = one.report.gravest().verdict;
        let expected = spoken.is_empty() && verdict > Verdict::Pass;
        assert_eq!(waits, expected, "{page}");
    }
    assert!(seen > 1000, "{seen}");
}

/// The questions shown and those counted are all that there are.
#[test]
fn no_question_is_lost() {
    for one in all() {
        let page = page(&one.report);
        let listed = question_page(&one.report, 400, &Plain);
        let total = listed
            .lines()
            .skip(1)
            .filter(|line| !line.starts_with("   "))
            .count();
        let Some((_, after)) = page.split_once("Not known yet") else {
            assert_eq!(total, 0, "{page}");
            continue;
        };
        let part = after.split("\n\n").next().unwrap_or_default();
        let lines: Vec<&str> = part.lines().skip(1).collect();
        let more: usize = part
            .split_whitespace()
            .skip_while(|word| *word != "and" && *word != ":")
            .nth(1)
            .and_then(|count| count.parse().ok())
            .unwrap_or(0);
        let shown = lines
            .iter()
            .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
            .filter(|line| !line.starts_with("  and "))
            .count();
        assert_eq!(shown + more, total, "{page}\n{listed}");
    }
}
