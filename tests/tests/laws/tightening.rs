//! Law 5: adding a caution or tightening a limit never improves a verdict.

use proptest::test_runner::TestCaseError;
use rules_core::check::{Report, Subject, Verdict};
use rules_core::ruleset::Rules;
use rules_tests::law::law;

use crate::generate::choices::{Choices, broken, three};
use crate::generate::document::{Doc, Style, map, text};
use crate::generate::grow::Ground;
use crate::generate::ruleset::{Ruleset, caution, head};
use crate::generate::scene::{Plan, Scene};
use crate::generate::setting::{Outcomes, checked, listed, load_files, rules};

/// A further caution leaves all findings as they are, and the report no better.
#[test]
fn a_further_caution_never_pays() {
    law(
        "a further caution never pays",
        250,
        three(),
        |[rules_words, proposal, further], seen| {
            let scene = Scene::grow(&rules_words, &proposal, Plan::ANY)?;
            let mut more = scene.ruleset.clone();
            let ground = Ground {
                limits: &more.limits,
                figures: &more.figures,
                shunned: &[],
                directed: false,
            };
            let grown = caution(&mut Choices::of(&further), &ground, "further");
            more.cautions.push(grown);
            let more_rules = rules(&more.doc().write(Style::Yaml))?;
            let (before, after) = (
                scene.report(&scene.draft, None)?,
                checked(&more_rules, &scene.draft.doc().write(Style::Yaml), None)?,
            );
            let kept: Vec<_> = after
                .findings
                .iter()
                .filter(|finding| &*finding.caution != "further")
                .map(judged)
                .collect();
            seen.count(1);
            let same = before.findings.iter().map(judged).eq(kept);
            // Where no caution applied there was nothing but a warning that nothing was checked,
            // and a caution that is met may end that.
            let no_better = before.gravest().nothing_checked
                || (before.gravest().verdict <= after.gravest().verdict
                    && before.gravest().worst <= after.gravest().worst
                    && before.gravest().best <= after.gravest().best);
            if same && no_better && no_stage_better(&before, &after) {
                return Ok(());
            }
            Err(scene.broken(
                format!("with a further caution, {}", of(&before, &after)),
                &scene.draft,
                &more.doc().write(Style::Yaml),
            ))
        },
    );
}

/// Whether each stage is as grave as it was, where something of it was checked.
fn no_stage_better(before: &Report, after: &Report) -> bool {
    let stages = before.stages.iter().zip(&after.stages);
    let mut checked = stages.filter(|(before, _)| !before.nothing_checked);
    checked.all(|(before, after)| {
        before.verdict <= after.verdict && before.worst <= after.worst && before.best <= after.best
    })
}

type JudgedFinding<'r> = (&'r str, &'r Subject, Verdict, Verdict, Verdict);

fn judged(finding: &rules_core::check::Finding) -> JudgedFinding<'_> {
    (
        &finding.caution,
        &finding.subject,
        finding.verdict,
        finding.best,
        finding.worst,
    )
}

fn of(before: &Report, after: &Report) -> String {
    let whole = |report: &Report| Outcomes::of(report).whole;
    format!("{:?} becomes {:?}", whole(before), whole(after))
}

/// A tighter limit, by changing its definition or under `adjust`, which must come to the same.
#[test]
fn a_tighter_limit_never_pays() {
    law(
        "a tighter limit never pays",
        300,
        three(),
        |[rules_words, proposal, change], seen| {
            let scene = Scene::grow(
                &rules_words,
                &proposal,
                Plan {
                    directed: true,
                    ..Plan::ANY
                },
            )?;
            if scene.ruleset.limits.is_empty() {
                return Ok(());
            }
            let mut choices = Choices::of(&change);
            let at = choices.below(scene.ruleset.limits.len());
            let mut tight = scene.ruleset.clone();
            tight.limits[at] = scene.ruleset.limits[at].tightened(&mut choices);
            let proposal = scene.draft.doc().write(Style::Yaml);
            let (defined, adjusted) = (
                rules(&tight.doc().write(Style::Yaml))?,
                adjusted(&scene.ruleset, at, &tight.limits[at].text)?,
            );
            let before = checked(&scene.rules, &proposal, None)?;
            let (by_definition, by_adjusting) = (
                checked(&defined, &proposal, None)?,
                checked(&adjusted, &proposal, None)?,
            );
            seen.count(1);
            let broken = |why: &str| {
                scene.broken(
                    format!(
                        "{why} with l{at} at {}: {}",
                        tight.limits[at].text,
                        of(&before, &by_definition)
                    ),
                    &scene.draft,
                    "",
                )
            };
            if !by_definition
                .findings
                .iter()
                .map(judged)
                .eq(by_adjusting.findings.iter().map(judged))
                || !by_adjusting.loosened.is_empty()
            {
                return Err(broken("adjusted and defined differ"));
            }
            tighter(&before, &by_definition).map_err(|why| broken(&why))
        },
    );
}

fn adjusted(base: &Ruleset, at: usize, to: &str) -> Result<Rules, TestCaseError> {
    let mut entries = head("tighter");
    entries.push(("extends", Doc::List(vec![text("./base.yaml")])));
    entries.push((
        "adjust",
        map([("limits", map([(format!("l{at}"), map([("to", text(to))]))]))]),
    ));
    let files = [("base.yaml", base.doc()), ("tighter.yaml", map(entries))]
        .map(|(name, doc)| (name.to_owned(), doc.write(Style::Yaml).into_bytes()));
    load_files(&files, &["tighter.yaml"]).map_err(|problems| {
        broken(
            "a tighter limit is refused",
            &[
                ("problems", &listed(&problems)),
                ("to", to),
                ("base", &base.doc().write(Style::Yaml)),
            ],
        )
    })
}

/// Why the report under a tighter limit is better, if it is.
fn tighter(before: &Report, after: &Report) -> Result<(), String> {
    let outcomes = Outcomes::of(after);
    for finding in &before.findings {
        let now = after
            .findings
            .iter()
            .find(|now| now.caution == finding.caution && now.subject == finding.subject);
        let (verdict, best, worst) = now
            .map_or((Verdict::Pass, Verdict::Pass, Verdict::Pass), |now| {
                (now.verdict, now.best, now.worst)
            });
        if worst < finding.worst || best < finding.best || verdict < finding.verdict {
            return Err(format!(
                "`{}` for {} is better, {verdict:?} between {best:?} and {worst:?} instead of {finding:?}",
                finding.caution, finding.subject
            ));
        }
    }
    let whole = outcomes.whole;
    let better = whole.worst < before.gravest().worst
        || whole.best < before.gravest().best
        || whole.verdict < before.gravest().verdict;
    if !no_stage_better(before, after) {
        return Err("a stage is better".to_owned());
    }
    // Where nothing was checked, a caution that now applies may be met.
    if better && !before.gravest().nothing_checked {
        Err("the report is better".to_owned())
    } else {
        Ok(())
    }
}
