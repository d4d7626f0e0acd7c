//! `decision_rules.json`: simple and guarded acceptance, on and beside every limit, by whole
//! checks.
//!
//! Each requirement becomes a ruleset with a limit for each side and one caution, each measured
//! value a proposal that gives it. There is no tolerance: verdicts have to be equal, on the limits
//! too.

mod decision;

use std::collections::BTreeMap;

use rules_core::check::Verdict;
use rules_core::formula::Truth;
use serde::Deserialize;

use super::table::{Outcome, Part, double, same};
use decision::{Decision, both};

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
fn guarded_and_simple_acceptance_decide_as_the_publications() {
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
fn a_strict_limit_is_not_kept_by_what_lies_on_it() {
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
fn ours_stands_beside_other_rules_as_the_table_says() {
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
