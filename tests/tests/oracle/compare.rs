//! The engine's report and the oracle's outcome, side by side.

use std::collections::BTreeSet;

use rules_core::check::{Report, StageOutcome};

use super::explain::Named;
use super::judge::{Finding, Outcome, Said, Whole};
use super::proposal::UNNAMED;

/// What a report says, as the oracle says it.
pub(crate) fn told(report: &Report) -> Outcome {
    let mut findings: Vec<Finding> = report.findings.iter().map(finding).collect();
    findings.sort_by(|one, other| one.said.cmp(&other.said));
    let mut not_applicable: Vec<String> = report
        .not_applicable
        .iter()
        .map(ToString::to_string)
        .collect();
    not_applicable.sort();
    let of_stage = |one: &StageOutcome| (one.stage.to_string(), whole(one.outcome()));
    Outcome {
        whole: report.outcome.map(whole),
        stages: report.stages.iter().map(of_stage).collect(),
        findings,
        not_applicable,
    }
}

const fn whole(came: rules_core::check::Outcome) -> Whole {
    Whole {
        verdict: came.verdict,
        best: came.best,
        worst: came.worst,
        nothing_checked: came.nothing_checked,
    }
}

fn finding(finding: &rules_core::check::Finding) -> Finding {
    let subject = &finding.subject;
    let said = Said {
        caution: finding.caution.to_string(),
        subject: if subject.called().is_some() {
            format!("{} {UNNAMED}", subject.kind())
        } else {
            subject.in_words()
        },
        count: finding.subject.count(),
        verdict: finding.verdict,
        best: finding.best,
        worst: finding.worst,
        status: finding.status.words(),
        rung: finding.rung.key(),
    };
    let missing = |name: &str| finding.missing.iter().any(|one| one == name);
    let named = finding
        .facts
        .iter()
        .map(|fact| fact.name.clone())
        .chain(finding.missing.iter().cloned());
    let facts: Named = named
        .map(|name| (name.to_string(), missing(&name)))
        .collect();
    Finding {
        said,
        facts,
        whole: finding.more_facts == 0,
    }
}

/// Where the two differ; nothing where they agree.
pub(crate) fn difference(engine: &Outcome, oracle: &Outcome) -> Option<String> {
    let mut lines = Vec::new();
    let whole = |of: &Outcome| format!("{:?}, {:?}", of.whole, of.stages);
    if whole(engine) != whole(oracle) {
        lines.push(format!(
            "the engine says {}\nthe oracle says {}",
            whole(engine),
            whole(oracle)
        ));
    }
    if engine.not_applicable != oracle.not_applicable {
        lines.push(format!(
            "not applicable by the engine {:?}, by the oracle {:?}",
            engine.not_applicable, oracle.not_applicable
        ));
    }
    if engine.findings.len() != oracle.findings.len() {
        lines.push(format!(
            "{} findings by the engine, {} by the oracle",
            engine.findings.len(),
            oracle.findings.len()
        ));
    }
    lines.extend(
        engine
            .findings
            .iter()
            .zip(&oracle.findings)
            .filter(|(one, other)| one.said != other.said)
            .flat_map(|(one, other)| {
                [
                    format!("by the engine: {:?}", one.said),
                    format!("by the oracle: {:?}", other.said),
                ]
            }),
    );
    if lines.is_empty() {
        lines.extend(
            engine
                .findings
                .iter()
                .zip(&oracle.findings)
                .filter_map(|(one, other)| facts(one, other)),
        );
    }
    (!lines.is_empty()).then(|| lines.join("\n"))
}

/// How the engine's facts differ. Where it lists only some, those that are missing are compared.
fn facts(engine: &Finding, oracle: &Finding) -> Option<String> {
    let same = |all: bool| {
        let names = |named: &Named| {
            named
                .iter()
                .filter(|(_, missing)| all || **missing)
                .map(|(name, _)| name.clone())
                .collect::<BTreeSet<_>>()
        };
        names(&engine.facts) == names(&oracle.facts)
    };
    let agree = same(false) && (!engine.whole || same(true));
    (!agree).then(|| {
        let (caution, subject) = (&engine.said.caution, &engine.said.subject);
        format!(
            "`{caution}` for {subject}: facts by the engine {:?}, by the oracle {:?}",
            engine.facts, oracle.facts
        )
    })
}
