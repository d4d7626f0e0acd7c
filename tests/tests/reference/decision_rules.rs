//! `decision_rules.json`: simple and guarded acceptance, on and beside every limit, by whole
//! checks.
//!
//! Each requirement becomes a ruleset with a limit for each side and one caution, each measured
//! value a proposal that gives it. There is no tolerance: verdicts have to be equal, on the limits
//! too.

use std::collections::BTreeMap;

use rules_core::check::{self, Options};
use rules_core::facts::Proposed;
use rules_core::formula::{Evaluator, Truth};
use rules_core::quantity::{Kind, Unit};
use rules_core::report::{Status, Verdict};
use rules_core::ruleset::{Acceptance, Rules, Texts};
use rulesets::proposal::Proposal;
use serde::Deserialize;
use serde_json::{Value, json};

use super::proposals::{self, outcomes, told};
use super::table::{Outcome, Part, double, same};

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
struct Decision {
    condition: Truth,
    verdict: Verdict,
    status: Status,
}

impl Decision {
    const PASSED: Self = Self {
        condition: Truth::Yes,
        verdict: Verdict::Pass,
        status: Status::Decided,
    };
    const IN_DOUBT: Self = Self {
        condition: Truth::Doubt,
        verdict: Verdict::Refuse,
        status: Status::InDoubt,
    };
    const FAILED: Self = Self {
        condition: Truth::No,
        verdict: Verdict::Refuse,
        status: Status::Decided,
    };

    /// Decides by a whole check, and looks at the report from every side.
    fn by_check(rules: &Rules, x: &str, acceptance: Option<Acceptance>) -> Result<Self, String> {
        let cell = json!({ "id": "K1", "extra": { "x": x } });
        let proposal =
            proposals::read("1S1P", &[cell], json!({})).map_err(|problems| told(&problems))?;
        let report = check::check(rules, &proposal, Options { acceptance })
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

/// What the requirement itself comes to, which a report tells only where it is not met.
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

/// A measured value under both rules. Simple acceptance has to come out alike whether the ruleset
/// or the caller asks for it.
fn both(relation: &str, x: &str) -> Result<(Decision, Decision), String> {
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

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    x: String,
    relation: String,
    unit: String,
    measured: String,
    #[serde(rename = "U")]
    uncertainty: String,
    limits: BTreeMap<Side, String>,
    acceptance_limits: BTreeMap<Side, String>,
    /// Decisions by the publications' rules.
    simple: String,
    guarded: String,
    zone: String,
    /// Decisions by ours.
    ours: Ours,
    #[serde(default)]
    binary_trap: bool,
    #[serde(rename = "quantity")]
    _quantity: Option<String>,
}

#[derive(Deserialize, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[serde(rename_all = "lowercase")]
enum Side {
    Low,
    High,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Ours {
    guarded: Written,
    simple: Written,
}

/// A decision in the words of the table.
#[derive(Deserialize, Debug, PartialEq, Eq)]
#[serde(deny_unknown_fields)]
struct Written {
    condition: String,
    verdict: String,
    status: String,
}

impl From<Decision> for Written {
    fn from(decision: Decision) -> Self {
        let (verdict, status) = (
            decision.verdict.word().to_owned(),
            decision.status.words().to_owned(),
        );
        Self {
            condition: word(decision.condition),
            verdict,
            status,
        }
    }
}

fn word(truth: Truth) -> String {
    format!("{truth:?}").to_lowercase()
}

/// A decimal in thousand-millionths, so that nothing is rounded.
fn exact(decimal: &str) -> i64 {
    let (sign, digits) = decimal
        .strip_prefix('-')
        .map_or((1, decimal), |digits| (-1, digits));
    let (whole, fraction) = digits.split_once('.').unwrap_or((digits, ""));
    format!("{whole}{fraction:0<9}")
        .parse::<i64>()
        .map(|units| sign * units)
        .unwrap_or_else(|_| panic!("`{decimal}` is no decimal"))
}

impl Row {
    /// By how much each limit is kept, in thousand-millionths of the unit.
    fn rooms(&self) -> impl Iterator<Item = i64> {
        let measured = exact(&self.measured);
        self.limits.iter().map(move |(side, limit)| {
            if *side == Side::High {
                exact(limit) - measured
            } else {
                measured - exact(limit)
            }
        })
    }

    /// The table against the definitions at its top, in exact numbers.
    fn follows_the_definitions(&self) -> Outcome {
        let (room, u) = (
            self.rooms().min().ok_or("the row has no limit")?,
            exact(&self.uncertainty),
        );
        let zone = match room {
            _ if room >= u => "pass",
            0.. => "conditional pass",
            _ if room >= -u => "conditional fail",
            _ => "fail",
        };
        let accepted = |accepted: bool| if accepted { "accept" } else { "reject" };
        same("the zone", &zone, &self.zone.as_str())?;
        same(
            "simple acceptance",
            &accepted(room >= 0),
            &self.simple.as_str(),
        )?;
        same(
            "guarded acceptance",
            &accepted(room >= u),
            &self.guarded.as_str(),
        )?;
        self.limits.iter().try_for_each(|(side, limit)| {
            let moved = if *side == Side::High {
                exact(limit) - u
            } else {
                exact(limit) + u
            };
            same(
                "the acceptance limit",
                &self.acceptance_limits.get(side).map(|limit| exact(limit)),
                &Some(moved),
            )
        })
    }

    /// What is run is what the row says.
    fn is_written_alike(&self) -> Outcome {
        let (unit, u) = (&self.unit, &self.uncertainty);
        same(
            "the value",
            &self.x,
            &format!("{} {unit} ± {u} {unit}", self.measured),
        )?;
        let side = |(side, limit): (&Side, &String)| {
            format!(
                "x {} {limit} {unit}",
                if *side == Side::High { "<=" } else { ">=" }
            )
        };
        same(
            "the requirement",
            &self.relation,
            &self
                .limits
                .iter()
                .map(side)
                .collect::<Vec<_>>()
                .join(" and "),
        )
    }

    /// On a limit in decimals, and beside it where doubles are added and compared as they are.
    fn is_trap(&self) -> bool {
        let (measured, u) = (double(&self.measured), double(&self.uncertainty));
        let beside = |(side, limit): (&Side, &String)| {
            let reach = if *side == Side::High {
                measured + u
            } else {
                measured - u
            };
            (reach - double(limit)).abs() > 0.0
        };
        self.rooms().any(|room| room == exact(&self.uncertainty)) && self.limits.iter().all(beside)
    }
}

#[test]
fn rows() {
    Part::read("decision_rules", "rows", 85).run(|row: &Row| {
        row.follows_the_definitions()?;
        row.is_written_alike()?;
        same(
            "whether it is a trap",
            &(!row.binary_trap || row.is_trap()),
            &true,
        )?;
        let by_zone = match row.zone.as_str() {
            "pass" => Decision::PASSED,
            "fail" => Decision::FAILED,
            _ => Decision::IN_DOUBT,
        };
        let by_nominal = if row.simple == "accept" {
            Decision::PASSED
        } else {
            Decision::FAILED
        };
        same(
            "our guarded decision in the table",
            &row.ours.guarded,
            &by_zone.into(),
        )?;
        same(
            "our simple decision in the table",
            &row.ours.simple,
            &by_nominal.into(),
        )?;
        let (guarded, simple) = both(&row.relation, &row.x)?;
        same("the guarded decision", &guarded, &by_zone)?;
        same("the simple decision", &simple, &by_nominal)
    });
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct StrictRow {
    x: String,
    relation: String,
    guarded_condition: String,
    guarded_verdict: String,
    simple_condition: String,
}

#[test]
fn strict() {
    Part::read("decision_rules", "strict", 7).run(|row: &StrictRow| {
        let (guarded, simple) = both(&row.relation, &row.x)?;
        same(
            "the guarded condition",
            &word(guarded.condition),
            &row.guarded_condition,
        )?;
        same(
            "the guarded verdict",
            &guarded.verdict.word(),
            &row.guarded_verdict.as_str(),
        )?;
        same(
            "the simple condition",
            &word(simple.condition),
            &row.simple_condition,
        )?;
        let verdict = if simple.condition == Truth::Yes {
            Verdict::Pass
        } else {
            Verdict::Refuse
        };
        same("the simple verdict", &simple.verdict, &verdict)
    });
}

/// A rule that is not ours, and what ours says where it decides otherwise.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct OtherRow {
    ours_on: OursOn,
    /// The guard band as a multiple of U and as a width, and what it leaves of 9 to 11.
    r: Option<String>,
    w: Option<String>,
    acceptance_limits: Option<BTreeMap<Side, String>>,
    #[serde(rename = "rule")]
    _rule: String,
    #[serde(rename = "rule_says")]
    _rule_says: String,
    #[serde(rename = "text")]
    _text: String,
    #[serde(rename = "limit")]
    _limit: Option<String>,
    #[serde(rename = "measured")]
    _measured: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct OursOn {
    x: String,
    relation: String,
    guarded: String,
    simple: String,
}

impl OtherRow {
    /// The table against the post it comes from: 10 ± 1 with U = 0.2, and w = r U.
    fn follows_the_post(&self) -> Outcome {
        let (Some(r), Some(w), Some(limits)) = (&self.r, &self.w, &self.acceptance_limits) else {
            return Ok(());
        };
        same("the width", &exact(w), &(exact(r) / 5))?;
        same(
            "the lower limit",
            &limits.get(&Side::Low).map(|limit| exact(limit)),
            &Some(exact("9") + exact(w)),
        )?;
        same(
            "the upper limit",
            &limits.get(&Side::High).map(|limit| exact(limit)),
            &Some(exact("11") - exact(w)),
        )?;
        let on_limit = limits
            .get(&Side::High)
            .map(|limit| format!("{limit} mm ± 0.2 mm"));
        same("the value", &Some(&self.ours_on.x), &on_limit.as_ref())
    }
}

#[test]
fn others() {
    Part::read("decision_rules", "others", 5).run(|row: &OtherRow| {
        row.follows_the_post()?;
        let (guarded, simple) = both(&row.ours_on.relation, &row.ours_on.x)?;
        same(
            "the guarded verdict",
            &guarded.verdict.word(),
            &row.ours_on.guarded.as_str(),
        )?;
        same(
            "the simple verdict",
            &simple.verdict.word(),
            &row.ours_on.simple.as_str(),
        )
    });
}
