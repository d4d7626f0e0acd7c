//! A requirement of the table as a ruleset of one caution, and what a whole check decides by it.

use rules_core::check::{self, Options, Status, Verdict};

use rules_core::facts::Proposed;
use rules_core::formula::{Evaluator, Truth};
use rules_core::quantity::{Kind, Unit};
use rules_core::ruleset::{Acceptance, Rules, Texts};
use rulesets::proposal::Proposal;
use serde_json::{Value, json};

use crate::proposals::{self, outcomes, told};
use crate::table::same;

/// The caution of the ruleset that a requirement becomes.
const CAUTION: &str = "requirement-not-met";

/// `x >= 4.15 V and x <= 4.25 V`: comparisons of a measured value with limits.
struct Requirement<'r> {
    comparisons: Vec<(&'r str, &'r str)>,
}

impl<'r> Requirement<'r> {
    fn read(relation: &'r str) -> Result<Self, String> {
        let comparison = |one: &'r str| one.strip_prefix("x ")?.split_once(' ');
        let comparisons: Option<Vec<_>> = relation.split(" and ").map(comparison).collect();
        let comparisons =
            comparisons.ok_or(format!("`{relation}` is no requirement of this table"))?;
        Ok(Self { comparisons })
    }

    /// The kind of what is measured, by the unit of the limits.
    fn kind(&self) -> Result<Kind, String> {
        let unit = self
            .comparisons
            .first()
            .and_then(|(_, limit)| Unit::parse(limit.split_once(' ')?.1));
        let kind = unit.and_then(|unit| Kind::ALL.into_iter().find(|kind| unit.suits(*kind)));
        kind.ok_or("the limit has no unit of the language".to_owned())
    }

    /// A ruleset of one caution, which refuses unless the requirement is met.
    fn rules(&self, acceptance: &str) -> Result<Rules, String> {
        let basis = json!([{ "worked_out": "the row of the table" }]);
        let limit = |(at, (comparison, value)): (usize, &(&str, &str))| {
            let stricter = if comparison.starts_with('>') {
                "higher"
            } else {
                "lower"
            };
            (
                format!("side_{at}"),
                json!({ "value": value, "stricter": stricter, "meaning": "A limit of the row", "basis": basis }),
            )
        };
        let limits: serde_json::Map<String, Value> =
            self.comparisons.iter().enumerate().map(limit).collect();
        let clauses = self
            .comparisons
            .iter()
            .enumerate()
            .map(|(at, (comparison, _))| format!("cell.x {comparison} limit.side_{at}"));
        let document = json!({
            "format": 1, "ruleset": "requirement", "version": "1.0.0", "title": "One requirement", "acceptance": acceptance,
            "facts": { "cell.x": { "kind": self.kind()?.name(), "nature": "measured", "meaning": "What the row measures" } },
            "limits": limits,
            "cautions": [{
                "id": CAUTION, "title": "The requirement is not met", "about": "each cell", "reason": "{cell.x} was measured",
                "refuse_unless": clauses.collect::<Vec<_>>().join(" and "), "basis": basis,
            }],
        });
        Rules::load(
            &["requirement.json"],
            &Texts::of([("requirement.json", document.to_string())]),
            &rulesets::catalogue(),
        )
        .map_err(|problems| told(&problems))
    }
}

/// What came of a measured value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Decision {
    pub(super) condition: Truth,
    pub(super) verdict: Verdict,
    pub(super) status: Status,
}

impl Decision {
    pub(super) const PASSED: Self = Self {
        condition: Truth::Yes,
        verdict: Verdict::Pass,
        status: Status::Decided,
    };
    pub(super) const IN_DOUBT: Self = Self {
        condition: Truth::Doubt,
        verdict: Verdict::Refuse,
        status: Status::InDoubt,
    };
    pub(super) const FAILED: Self = Self {
        condition: Truth::No,
        verdict: Verdict::Refuse,
        status: Status::Decided,
    };

    /// Decides by a whole check, and looks at the report from every side.
    fn by_check(rules: &Rules, x: &str, acceptance: Option<Acceptance>) -> Result<Self, String> {
        let cell = json!({ "id": "K1", "extra": { "x": x } });
        let proposal =
            proposals::read("1S1P", &[cell], json!({})).map_err(|problems| told(&problems))?;
        let report = check::check(
            rules,
            &proposal,
            Options {
                acceptance,
                narrowing: false,
            },
        )
        .map_err(|problems| told(&problems))?;
        let [came] = outcomes(&report, CAUTION)?[..] else {
            return Err("there is not just one finding".to_owned());
        };
        let bounds = if came.status == Status::InDoubt {
            (Verdict::Pass, Verdict::Refuse)
        } else {
            (came.verdict, came.verdict)
        };
        same(
            "the best and worst verdict",
            &(came.best, came.worst),
            &bounds,
        )?;
        same(
            "the report's verdicts",
            &(report.verdict, report.best, report.worst),
            &(came.verdict, came.best, came.worst),
        )?;
        let condition = condition(rules, &proposal, report.acceptance)?;
        Ok(Self {
            condition,
            verdict: came.verdict,
            status: came.status,
        })
    }
}

/// The result of the requirement itself, which a report gives only if it is not met.
fn condition(rules: &Rules, proposal: &Proposal, acceptance: Acceptance) -> Result<Truth, String> {
    let sheet = proposal
        .facts(rules.catalogue())
        .map_err(|problems| told(&problems))?;
    let evaluator = Evaluator::new(
        rules.catalogue(),
        rules.program(),
        &sheet,
        acceptance == Acceptance::Simple,
    );
    let caution = rules
        .cautions()
        .first()
        .ok_or("the ruleset has no caution")?;
    let rung = caution
        .refuse_unless
        .as_ref()
        .ok_or("the caution has no refuse rung")?;
    Ok(evaluator.condition(&rung.condition, &evaluator.one(caution.about, 0)))
}

/// A measured value under both rules. Simple acceptance has to give the same whether the ruleset or
/// the caller asks for it.
pub(super) fn both(relation: &str, x: &str) -> Result<(Decision, Decision), String> {
    let requirement = Requirement::read(relation)?;
    let (guarded, simple) = (requirement.rules("guarded")?, requirement.rules("simple")?);
    let by_guarded = Decision::by_check(&guarded, x, None)?;
    let by_simple = Decision::by_check(&simple, x, None)?;
    let asked = |rules, acceptance| Decision::by_check(rules, x, Some(acceptance));
    same(
        "simple acceptance asked for by the caller",
        &asked(&guarded, Acceptance::Simple)?,
        &by_simple,
    )?;
    same(
        "guarded acceptance asked for by the caller",
        &asked(&simple, Acceptance::Guarded)?,
        &by_guarded,
    )?;
    Ok((by_guarded, by_simple))
}
