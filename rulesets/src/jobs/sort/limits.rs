//! At which capacity and resistance what the rules say of a cell becomes something else.

use std::sync::Arc;

use rules_core::check::Options;
use rules_core::document::ProblemList;
use rules_core::facts::{FactOrFigure, Proposed};
use rules_core::quantity::{Kind, Quantity};
use rules_core::ruleset::Rules;

use super::cells::{ONE, Sorting, draft, with_cell};
use super::report::SortReport;
use super::rules_for::RulesFor;
use crate::bench::Bench;
use crate::jobs::Trial;
use crate::jobs::range::{Class, RangePiece, Vary, Written, range};
use crate::proposal::Proposal;

/// What limits are sought of, and how finely.
const FACTS: [(&str, &str); 2] = [("cell.capacity", "10 mAh"), ("cell.resistance", "0.5 mohm")];

/// So many checks are made at the most.
const MOST_CHECKS: usize = 20_000;

/// A value of a fact of a cell at which its verdict changes, all else as it is.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct CellLimit {
    /// The fact: `cell.capacity`.
    pub fact: &'static str,
    /// The cells that have this limit, in order.
    pub cells: Vec<String>,
    /// The value in words: `2.08 Ah`.
    pub text: String,
    /// The same in `unit`.
    pub value: f64,
    /// The unit.
    pub unit: String,
    /// What lower values come to, by the cautions that read the fact.
    pub below: Class,
    /// What higher values come to.
    pub above: Class,
}

impl CellLimit {
    /// The value in the base unit of a kind; none if it is of another.
    #[must_use]
    pub fn base(&self, kind: Kind) -> Option<f64> {
        let unit = Quantity::parse(&self.text).ok()?.unit()?;
        unit.suits(kind).then(|| unit.to_base(self.value))
    }
}

/// The limits of capacity and resistance of sorted cells; of all cells, or of as many as so much work
/// allows.
///
/// # Errors
///
/// Those of sorting.
pub fn limits(
    bench: &Arc<Bench>,
    rules: &Rules,
    sorting: Sorting<'_>,
    sorted: &SortReport,
) -> Result<Vec<CellLimit>, ProblemList> {
    let rules_for = RulesFor::of(rules)?;
    let options = Options {
        stages: &rules_for.sorting,
        ..Options::default()
    };
    let plan = draft(sorting.as_of, ONE, None);
    let alone = Trial::beside(Some(bench), plan, rules, options);
    let mut found: Vec<CellLimit> = Vec::new();
    let mut left = MOST_CHECKS;
    for (fact, resolution) in FACTS {
        let asked = Vary {
            fact,
            from: None,
            to: None,
            resolution: Some(Written {
                called: "resolution",
                text: resolution,
            }),
        };
        for cell in &sorted.cells {
            of_cell(&alone, (fact, &cell.id), &asked, &mut left, &mut found);
        }
    }
    Ok(found)
}

/// Adds the limits of a cell. One whose value is not known has none that could be drawn.
fn of_cell(
    alone: &Trial<'_>,
    (fact, cell): (&'static str, &str),
    asked: &Vary<'_>,
    left: &mut usize,
    found: &mut Vec<CellLimit>,
) {
    let trial = with_cell(alone, cell).ok();
    let Some(trial) = trial.filter(|trial| *left > 0 && is_given(trial, fact)) else {
        return;
    };
    let Ok(report) = range(&trial, asked, *left) else {
        return;
    };
    *left = left.saturating_sub(report.search.checks);
    let settled: Vec<&RangePiece> = report.pieces.iter().filter(is_settled).collect();
    for (lower, upper) in settled.iter().zip(settled.iter().skip(1)) {
        let limit = CellLimit {
            fact,
            cells: vec![cell.to_owned()],
            text: lower.to.text.clone(),
            value: lower.to.value,
            unit: report.fact.unit.clone(),
            below: lower.found.alone,
            above: upper.found.alone,
        };
        add(limit, found);
    }
}

/// Whether the plan of a cell has a value of a fact.
fn is_given(trial: &Trial<'_>, fact: &str) -> bool {
    let catalogue = trial.rules().catalogue();
    let Some(FactOrFigure::Fact(id)) = catalogue.find(fact) else {
        return false;
    };
    let subject = catalogue.fact(id).map(|def| def.subject);
    let given = |proposal: &Proposal| {
        let sheet = proposal.facts(catalogue).ok()?;
        let given = sheet.given(subject?, 0, catalogue.slot(id));
        given.map(drop)
    };
    trial
        .proposal()
        .is_ok_and(|proposal| given(&proposal).is_some())
}

fn is_settled(piece: &&RangePiece) -> bool {
    let shown = [Class::Pass, Class::Warn, Class::Refuse, Class::Open];
    shown.contains(&piece.found.alone)
}

/// Adds a limit; cells with the same one are told together.
fn add(limit: CellLimit, found: &mut Vec<CellLimit>) {
    let what = |one: &CellLimit| (one.fact, one.text.clone(), one.below, one.above);
    match found.iter_mut().find(|known| what(known) == what(&limit)) {
        Some(known) => known.cells.extend(limit.cells),
        None if limit.below != limit.above => found.push(limit),
        None => {}
    }
}
