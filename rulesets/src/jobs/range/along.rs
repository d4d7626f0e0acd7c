//! What a figure comes to along the values of a fact: at some of them, not enclosed between them.

use rules_core::check::{FigureSheet, ReportedNumber};
use rules_core::document::ProblemList;

use super::axis::Axis;
use super::chosen::{Chosen, chosen, is_no_side};
use super::ends::Vary;
use super::named::number_kind;
use super::probe::Probe;
use super::report::{RangeEnd, RangeFact};
use super::told::fact;
use crate::jobs::trial::Trial;

/// About so many steps the whole range has, of which only those around what the plan has are taken.
const STEPS: f64 = 60.0;
/// They go from this part of what the plan has to so many times that.
const AROUND: f64 = 2.0;

/// A figure along the values of a fact.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Along {
    /// The fact.
    pub fact: RangeFact,
    /// The name of the figure: `build.run_time`.
    pub figure: String,
    /// What the figure comes to, from half of what the plan has to twice as much.
    pub points: Vec<AlongPoint>,
}

/// What a figure comes to at a value of a fact.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct AlongPoint {
    /// The value, which is exact here.
    pub at: RangeEnd,
    /// What the figure comes to; none where the value contradicts what else the plan says.
    pub value: Option<ReportedNumber>,
}

/// A figure of the build along the values of a fact that is a number.
///
/// # Errors
///
/// Those of [`super::map`], for the fact.
pub fn along(trial: &Trial<'_>, asked: &Vary<'_>, figure: &str) -> Result<Along, ProblemList> {
    let (mut probe, Chosen { fact: varied, own }) =
        chosen(trial, Probe::of(trial, usize::MAX)?, asked)?;
    let kind = number_kind(varied.def).ok_or_else(|| is_no_side(&varied.path))?;
    let axis = Axis::of(varied, kind, asked, own.as_ref(), STEPS)?;
    let mut points = Vec::new();
    for step in 0..=axis.steps() {
        let [(text, value), _] = axis.told(&(step..step));
        if !is_around(&axis, value) {
            continue;
        }
        points.push(AlongPoint {
            at: RangeEnd { text, value },
            value: at_step(&axis, step, figure, &mut probe)?,
        });
    }
    points.dedup_by(|one, other| one.at == other.at);
    Ok(Along {
        fact: fact(&axis, &probe),
        figure: figure.to_owned(),
        points,
    })
}

/// Whether a value is near what the plan has.
fn is_around(axis: &Axis<'_>, value: f64) -> bool {
    let own = axis.own_range();
    own.is_none_or(|[low, high]| (low / AROUND..=high * AROUND).contains(&value))
}

/// The run time of a plan along what its light draws; none where the plan does not say that, or has
/// faults.
#[must_use]
pub fn run_time_by_draw(trial: &Trial<'_>) -> Option<Along> {
    let draw = Vary {
        fact: "light.draw",
        from: None,
        to: None,
        resolution: None,
    };
    let along = along(trial, &draw, "build.run_time").ok()?;
    along.fact.own.is_some().then_some(along)
}

fn at_step<'r>(
    axis: &Axis<'r>,
    step: usize,
    figure: &str,
    probe: &mut Probe<'r>,
) -> Result<Option<ReportedNumber>, ProblemList> {
    let Some(value) = axis.value_at(step) else {
        return Ok(None);
    };
    let sheet = probe.figures(&[(&axis.varied, value)])?;
    Ok(sheet.and_then(|sheet| of(sheet, figure)))
}

fn of(sheet: FigureSheet, figure: &str) -> Option<ReportedNumber> {
    let mut all = sheet.figures.into_iter();
    all.find(|one| one.name == figure)?.value
}
