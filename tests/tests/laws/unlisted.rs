//! Cells that are not listed are one subject with a count. Everything must have the same result as
//! if each of them were listed with its id alone, as long as no rule looks at ids and at how many
//! are listed.

use std::collections::BTreeSet;

use proptest::test_runner::TestCaseError;
use rules_core::check::{Finding, Options, Report, RungName, Status, Verdict, figures};
use rules_core::ruleset::{Acceptance, Rules};
use rules_tests::law::law;

use crate::generate::choices::{Choices, broken, three, words};
use crate::generate::document::Style;
use crate::generate::proposal::{Cell, Draft, Facts, Wish, draft_of};
use crate::generate::scene::{Plan, Scene};
use crate::generate::setting::{checked, load_files, proposal};
use crate::generate::sound::{WORDS, near};
use crate::generate::vocabulary::{FactAt, fact_named};

/// What distinguishes a cell that is listed from one that is not.
fn told_apart_by() -> [FactAt; 3] {
    ["cell.id", "group.id", "build.listed"].map(fact_named)
}

/// A proposal that leaves the last cells off its list, and the same with these listed by their ids.
fn both_ways(draft: &Draft, choices: &mut Choices<'_>) -> (Draft, Draft) {
    let mut left_out = draft.clone();
    left_out.cells.truncate(draft.called());
    let most = left_out.cells.len();
    let unlisted = 1 + choices.below(most);
    for (at, cell) in left_out.cells.iter_mut().rev().enumerate() {
        if at < unlisted || !cell.listed {
            (cell.listed, cell.facts) = (false, Facts::new());
        }
    }
    let mut by_id = left_out.clone();
    by_id.cells.iter_mut().for_each(|cell| cell.listed = true);
    (left_out, by_id)
}

/// What a finding says that does not hang on names.
type Said = (
    String,
    (Verdict, Verdict, Verdict),
    &'static str,
    RungName,
    Vec<String>,
    BTreeSet<String>,
);

/// With all facts, if no finding leaves out some of them.
fn said(finding: &Finding, whole: bool) -> Said {
    let facts = finding.facts.iter().filter(|_| whole);
    (
        finding.caution.to_string(),
        (finding.verdict, finding.best, finding.worst),
        finding.status.words(),
        finding.rung,
        finding.missing.iter().map(ToString::to_string).collect(),
        facts.map(|fact| fact.name.to_string()).collect(),
    )
}

/// All findings, each as often as it has subjects.
fn each(report: &Report, but: &[&str], whole: bool) -> Vec<String> {
    let mut all: Vec<String> = report
        .findings
        .iter()
        .filter(|finding| !but.contains(&&*finding.caution))
        .flat_map(|finding| {
            std::iter::repeat_n(
                format!("{:?}", said(finding, whole)),
                finding.subject.count(),
            )
        })
        .collect();
    all.sort();
    all
}

/// What is asked for in place of all cells that do not say it: where these are several, no single
/// answer settles it.
const OF_ALL: [&str; 2] = ["cell.group", "cell.pack"];

fn whole(report: &Report) -> String {
    // Where groups are not known, one cell's group is named for those of all.
    let alone = report
        .measure_next
        .iter()
        .any(|next| next.could_improve && !OF_ALL.contains(&&*next.fact));
    format!(
        "{:?} {:?} {:?}, nothing checked: {}, one fact could improve it: {alone}, not applicable: {:?}",
        report.gravest().verdict,
        report.gravest().best,
        report.gravest().worst,
        report.gravest().nothing_checked,
        report.not_applicable
    )
}

fn alike(one: &Report, other: &Report, but: &[&str]) -> Result<(), String> {
    if but.is_empty() && whole(one) != whole(other) {
        return Err(format!("{}\n{}", whole(one), whole(other)));
    }
    let all = [one, other].map(|report| report.findings.iter());
    let whole = all
        .into_iter()
        .flatten()
        .all(|finding| finding.more_facts == 0);
    let (one, other) = (each(one, but, whole), each(other, but, whole));
    if one == other {
        return Ok(());
    }
    let differ: BTreeSet<&String> = one
        .iter()
        .filter(|said| !other.contains(said))
        .chain(other.iter().filter(|said| !one.contains(said)))
        .collect();
    Err(format!(
        "{} and {} findings; {differ:#?}",
        one.len(),
        other.len()
    ))
}

#[test]
fn what_is_not_listed_comes_out_as_if_it_were_listed_by_id() {
    law(
        "what is not listed comes out as listed by id",
        500,
        three(),
        |[rules, proposal, steps], seen| {
            let shunned = told_apart_by();
            let plan = Plan {
                shunned: &shunned,
                ..Plan::ANY
            };
            let scene = Scene::grow(&rules, &proposal, plan)?;
            let mut choices = Choices::of(&steps);
            let drafts = [scene.draft.clone(), larger(&scene, &proposal, &mut choices)];
            for draft in &drafts {
                let (left_out, by_id) = both_ways(draft, &mut choices);
                for acceptance in [Acceptance::Guarded, Acceptance::Simple] {
                    let one = scene.report(&left_out, Some(acceptance))?;
                    let other = scene.report(&by_id, Some(acceptance))?;
                    seen.count(one.counts.checks);
                    alike(&one, &other, &[]).map_err(|why| {
                        scene.broken(why, &left_out, &by_id.doc().write(Style::Yaml))
                    })?;
                }
            }
            Ok(())
        },
    );
}

/// A proposal of more cells.
fn larger(scene: &Scene, words: &[u16], choices: &mut Choices<'_>) -> Draft {
    let likely = scene.ruleset.facts();
    let wish = Wish {
        likely: &likely,
        complete: false,
        care: crate::generate::quantity::Care::Any,
    };
    let arrangement = *choices.pick(&[(7, 1), (1, 7), (40, 1), (1, 30), (3, 4)]);
    draft_of(&mut Choices::of(words), &wish, arrangement)
}

/// The caution of the shipped rules that counts what is listed.
const COUNTS_THE_LIST: &str = "cell-count-wrong";

fn shipped() -> Rules {
    load_files(&[], &["rescued-cells"]).unwrap()
}

#[test]
fn so_it_does_by_the_shipped_rules() {
    let rules = shipped();
    assert!(
        rules
            .cautions()
            .iter()
            .any(|caution| *caution.id == *COUNTS_THE_LIST)
    );
    law(
        "what is not listed comes out as listed by id, shipped",
        60,
        (words(WORDS), words(60)),
        |(proposal, steps), seen| {
            let mut choices = Choices::of(&steps);
            let mut draft = near(&proposal);
            more_cells(&mut draft, &mut choices);
            let (left_out, by_id) = both_ways(&draft, &mut choices);
            let (text, listed) = (
                left_out.doc().write(Style::Yaml),
                by_id.doc().write(Style::Yaml),
            );
            let (one, other) = (
                checked(&rules, &text, None)?,
                checked(&rules, &listed, None)?,
            );
            seen.count(one.counts.checks);
            let failed = |why: String| broken(why, &[("proposal", &text), ("listed", &listed)]);
            alike(&one, &other, &[COUNTS_THE_LIST]).map_err(failed)?;
            same_figures(&rules, &text, &listed)
        },
    );
}

/// Cells in series as many as there are, so that the groups of those that are not listed are
/// several too.
fn more_cells(draft: &mut Draft, choices: &mut Choices<'_>) {
    if choices.one_in(2) {
        (draft.series, draft.parallel) = (draft.called() + choices.below(4), 1);
    }
    while draft.cells.len() < draft.called() {
        draft.cells.push(Cell {
            id: format!("M{}", draft.cells.len()),
            listed: true,
            facts: Facts::new(),
        });
    }
    for cell in &mut draft.cells {
        if draft.parallel == 1 {
            cell.facts.remove(&fact_named("cell.group"));
        }
    }
}

/// Every figure is the same, that of what is not listed for each.
fn same_figures(rules: &Rules, text: &str, listed: &str) -> Result<(), TestCaseError> {
    let of = |text: &str| -> Result<Vec<String>, TestCaseError> {
        let sheet = figures(rules, &proposal(text)?, Options::default())
            .map_err(|problems| broken(format!("{problems:?}"), &[("proposal", text)]))?;
        let mut all: Vec<String> = sheet
            .figures
            .iter()
            .flat_map(|figure| {
                let said = format!(
                    "{} {:?} {:?} {:?} {:?}",
                    figure.name,
                    figure.value.as_ref().map(|value| value.low().map(short)),
                    figure.value.as_ref().map(|value| value.high().map(short)),
                    figure.truth,
                    figure.open
                );
                std::iter::repeat_n(said, figure.subject.count())
            })
            .collect();
        all.sort();
        Ok(all)
    };
    let (one, other) = (of(text)?, of(listed)?);
    if one == other {
        return Ok(());
    }
    let differ: Vec<_> = one
        .iter()
        .zip(&other)
        .filter(|(one, other)| one != other)
        .collect();
    Err(broken(
        format!("figures differ: {differ:#?}"),
        &[("proposal", text), ("listed", listed)],
    ))
}

/// Sums of many may differ in their last bits.
fn short(value: f64) -> String {
    format!("{value:.9e}")
}

/// What is left open of one cell by one fact, of several is left open by as many.
#[test]
fn no_single_fact_settles_several_cells() {
    let rules = crate::generate::setting::rules(
        "format: 1\nruleset: r\nversion: 1.0.0\ntitle: R\ncautions:\n  - { id: a, title: A, about: each cell, refuse_unless: cell.rest_voltage >= 2 V, reason: low }\n",
    )
    .unwrap();
    for (arrangement, could_improve) in [("1S1P", true), ("2S1P", false), ("1S2P", false)] {
        let text = format!("format: 1\narrangement: {arrangement}\n");
        let report = checked(&rules, &text, None).unwrap();
        let next = &report.measure_next[0];
        assert_eq!(report.measure_next.len(), 1);
        assert_eq!(
            (next.findings, next.could_improve),
            (1, could_improve),
            "{arrangement}"
        );
        assert_eq!(report.findings[0].status, Status::Unmeasured);
        assert_eq!(report.counts.checks, 1);
    }
}
