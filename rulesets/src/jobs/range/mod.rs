//! The verdict on a plan over the range of one of its facts, or of two: enclosed, not sampled.
//!
//! A piece of the range is checked as an interval. What its verdict is, is then proved for each value
//! in it (ignorance never pays); what is not decided is split, down to a resolution. What is varied is
//! the true value: no meter widens it.
//!
//! ```text
//! a fact (named) - its values (ends, grid, axis) - boxes checked and split (search, probe) - told (found) - report
//! ```

mod along;
mod axis;
mod choices;
mod chosen;
mod decimal;
mod ends;
mod found;
mod grid;
mod map_text;
mod named;
mod open;
mod probe;
mod report;
mod search;
#[cfg(test)]
mod tests;
mod text;
mod told;

use rules_core::document::{Fault, Problem, ProblemList};

pub use self::along::{Along, AlongPoint, along, run_time_by_draw};
use self::axis::Axis;
use self::chosen::{Chosen, chosen, is_no_side};
pub use self::ends::{Vary, Written};
use self::found::{Teller, apart};
pub use self::map_text::{all_else, map_text, meaning, read_by_none};
use self::named::number_kind;
use self::probe::Probe;
pub use self::report::{
    Class, MapArea, MapReport, RangeApart, RangeCaution, RangeEnd, RangeEnds, RangeFact,
    RangeFound, RangeOpen, RangeOption, RangePiece, RangeReport, RangeSearch,
};
use self::search::{Piece, Why, search, values};
pub use self::text::{
    ApartSaid, RangeLine, apart_said, how_searched, narrow_said, not_read, range_heading,
    range_lines, text,
};
use self::told::{ends, fact, of_search};
use crate::jobs::trial::Trial;

/// So many checks are enough for nearly every range.
pub const USUAL_CHECKS: usize = 5_000;
/// So many checks are enough for nearly every map.
pub const USUAL_MAP_CHECKS: usize = 10_000;

/// Into so many steps a range goes at the most, if nobody says how fine it is to be.
const STEPS: f64 = 500.0;
/// The same of a map that goes across, which a page has to hold.
const COLUMNS: f64 = 56.0;
/// The same of a map that goes up.
const ROWS: f64 = 20.0;

/// The verdict on a plan over the range of one fact, or over the options of a choice, by so many checks
/// at the most.
///
/// # Errors
///
/// Those of the plan; a fact that there is none of or that has no range; ends or a resolution that make
/// none.
pub fn range(
    trial: &Trial<'_>,
    asked: &Vary<'_>,
    most_checks: usize,
) -> Result<RangeReport, ProblemList> {
    let probe = Probe::of(trial, most_checks)?;
    let (mut probe, varied) = chosen(trial, probe, asked)?;
    probe.vary(&[&varied.fact]);
    match number_kind(varied.fact.def) {
        Some(kind) => {
            let axis = Axis::of(varied.fact, kind, asked, varied.own.as_ref(), STEPS)?;
            of_number(axis, probe)
        }
        None => choices::report(varied.fact, asked, probe),
    }
}

/// The verdict on a plan over the ranges of two facts that are numbers, by so many checks at the most:
/// one goes across, one goes up.
///
/// # Errors
///
/// Those of [`range`], for each of the two; a choice; twice the same fact.
pub fn map(
    trial: &Trial<'_>,
    across: &Vary<'_>,
    up: &Vary<'_>,
    most_checks: usize,
) -> Result<MapReport, ProblemList> {
    let probe = Probe::of(trial, most_checks)?;
    let (probe, first) = chosen(trial, probe, across)?;
    let (mut probe, second) = chosen(trial, probe, up)?;
    if first.fact.path == second.fact.path {
        let message = format!("`{}` cannot go both across and up", first.fact.path);
        let help = "name two facts";
        return Err(Problem::of_file(Fault::DefinedTwice, message, help).into());
    }
    probe.vary(&[&first.fact, &second.fact]);
    let axes = [of_map(first, across, COLUMNS)?, of_map(second, up, ROWS)?];
    map_of(&axes, probe)
}

fn of_map<'r>(varied: Chosen<'r>, asked: &Vary<'_>, steps: f64) -> Result<Axis<'r>, Problem> {
    let kind = number_kind(varied.fact.def).ok_or_else(|| is_no_side(&varied.fact.path))?;
    Axis::of(varied.fact, kind, asked, varied.own.as_ref(), steps)
}

fn of_number<'r>(axis: Axis<'r>, mut probe: Probe<'r>) -> Result<RangeReport, ProblemList> {
    let axes = [axis];
    let (apart, pieces) = searched(&axes, &mut probe)?;
    let [axis] = &axes;
    let mut teller = Teller::default();
    let mut told = Vec::new();
    for alike in pieces.chunk_by(are_alike) {
        let steps = |piece: &Piece| piece.steps.first().cloned().unwrap_or_default();
        let start = alike.first().map_or(0, |one| steps(one).start);
        let end = alike.last().map_or(0, |one| steps(one).end);
        let ends = ends(axis, &(start..end));
        told.push(RangePiece {
            from: ends.from,
            to: ends.to,
            holds_own: axis.holds_own(&(start..end)),
            found: teller.found(alike, &axes, &mut probe)?,
        });
    }
    Ok(RangeReport {
        search: of_search(apart, &probe),
        fact: fact(axis, &probe),
        pieces: told,
        options: Vec::new(),
    })
}

fn map_of<'r>(axes: &[Axis<'r>; 2], mut probe: Probe<'r>) -> Result<MapReport, ProblemList> {
    let (apart, pieces) = searched(axes, &mut probe)?;
    let [across, up] = axes;
    let mut teller = Teller::default();
    let mut areas = Vec::new();
    for piece in &pieces {
        let [columns, rows] = &piece.steps;
        areas.push(MapArea {
            across: ends(across, columns),
            up: ends(up, rows),
            columns: [columns.start, columns.end],
            rows: [rows.start, rows.end],
            found: teller.found(std::slice::from_ref(piece), axes, &mut probe)?,
        });
    }
    Ok(MapReport {
        search: of_search(apart, &probe),
        across: fact(across, &probe),
        up: fact(up, &probe),
        areas,
    })
}

/// What is the same for all values, and the pieces. Where nothing reads the facts there is one piece.
fn searched<'r>(
    axes: &[Axis<'r>],
    probe: &mut Probe<'r>,
) -> Result<(RangeApart, Vec<Piece>), ProblemList> {
    let all = values(axes, |_, axis| axis.value(&(0..axis.steps())));
    let report = match probe.report(&all)? {
        Some(report) => Some(report),
        None => probe.report(&[])?,
    };
    let apart = report.map_or_else(RangeApart::nothing, |report| apart(&report, probe));
    Ok((apart, search(axes, probe)?))
}

/// Whether adjoining pieces are told as one.
fn are_alike(one: &Piece, other: &Piece) -> bool {
    let came = |piece: &Piece| match &piece.why {
        Why::Judged { within, .. } => {
            let whole = (piece.class == Class::Open).then_some(within.whole);
            let alone = (piece.alone == Class::Open).then_some(within.alone);
            (whole, alone)
        }
        _ => (None, None),
    };
    (one.class, one.alone) == (other.class, other.alone) && came(one) == came(other)
}
