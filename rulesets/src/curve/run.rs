//! The discharge in a log: the rows under load, and the charge that was given by each.

use rules_core::document::{Fault, Problems, Span};
use rules_core::quantity::Interval;

use super::log::{Factors, Log, Reading, Row, missing};
use super::told::Beside;
use crate::span::span;

/// The voltage of a discharge falls; one that rises by more than this in V, digits apart, was not
/// all of a discharge. The rest is left for noise, and for a cell that warms itself.
const RISE: f64 = 0.005;

/// The fewest rows under load that are a curve.
const FEWEST: usize = 3;

/// What may have been given before the first row under load, as a part of the whole.
const MOST_BEFORE: f64 = 0.05;

/// A row under load, and the charge in Ah that had been given by then: times the factor of the run.
#[derive(Debug, Clone, Copy)]
pub(super) struct Point {
    pub row: Row,
    pub given: Interval,
}

/// A discharge.
#[derive(Debug, Clone)]
pub(super) struct Run {
    /// The last row before the load came on.
    pub rest: Option<Row>,
    /// The rows under load, to the end of the test.
    pub points: Vec<Point>,
    /// What was given in all, times the factor.
    pub given: Interval,
    /// What the charges share.
    pub factor: Interval,
    pub factors: Factors,
    /// Whether it ended at the voltage that was told.
    pub is_whole: bool,
}

impl Run {
    /// The discharge of a log; none with what is wrong in it reported.
    pub(super) fn of(log: &Log, beside: &Beside, problems: &mut Problems<'_>) -> Option<Self> {
        let (rest, rows) = under_load(log, problems)?;
        if rows.len() < FEWEST {
            let message = format!("{} rows under load are no curve", rows.len());
            let help = "log a row each minute or so, from before the load comes on to the end";
            problems.add(Fault::Empty, log.span, message, help);
            return None;
        }
        let rows = &rows;
        in_order(log.rows.iter().filter_map(|row| row.time), "time", problems)?;
        only_falls(rows, beside.end, problems)?;
        let counted = counted(rest.as_ref(), rows, problems)?;
        let (given, factor) = match counted {
            Some(given) => (given, log.factors.charge),
            None => summed(rest.as_ref(), rows, log, beside, problems)?,
        };
        let points = rows.iter().zip(given);
        let points: Vec<Point> = points
            .map(|(row, given)| Point { row: *row, given })
            .collect();
        let run = Self {
            rest,
            given: points.last()?.given,
            points,
            factor,
            factors: log.factors,
            is_whole: false,
        };
        run.starts_in_time(problems)?;
        run.to(beside.end, problems)
    }

    /// Whether its beginning is there.
    fn starts_in_time(&self, problems: &mut Problems<'_>) -> Option<()> {
        let first = self.points.first()?;
        let unknown = first.given.hi();
        if unknown <= MOST_BEFORE * self.given.hi() {
            return Some(());
        }
        let message = "the curve begins too late: too much was given before its first row";
        let help = "time and charge count from the moment that the load comes on, or a row before it \
                    says that the current is 0";
        problems.add(Fault::OutOfDomain, first.row.voltage.span, message, help);
        None
    }

    /// The run as far as its end voltage. One that ended early ends at the voltage of its last row.
    fn to(mut self, end: Option<f64>, problems: &mut Problems<'_>) -> Option<Self> {
        let reaches = |end: f64| {
            let at = |point: &Point| point.row.voltage.nominal <= end;
            self.points.iter().position(at)
        };
        let Some(last) = end.and_then(reaches) else {
            return Some(self);
        };
        let reached = *self.points.get(last)?;
        let Some(before) = last.checked_sub(1).and_then(|last| self.points.get(last)) else {
            let message = "the first row under load is below the voltage that the test ends at";
            let help = "see to the units, and to the end that the test is said to have";
            problems.add(Fault::OutOfDomain, reached.row.voltage.span, message, help);
            return None;
        };
        self.given = before.given.hull(reached.given);
        self.points.truncate(last + 1);
        self.is_whole = true;
        Some(self)
    }

    /// A voltage as it may have been.
    pub(super) fn voltage(&self, reading: &Reading) -> Interval {
        reading.core * self.factors.voltage
    }

    /// A charge as it may have been.
    pub(super) fn charge(&self, given: Interval) -> Interval {
        given * self.factor
    }
}

/// The last row at rest, and the rows under load with their currents and charges above zero. Without
/// a column of currents all rows are under load.
fn under_load(log: &Log, problems: &mut Problems<'_>) -> Option<(Option<Row>, Vec<Row>)> {
    let size = |row: &Row| row.current.map_or(f64::INFINITY, |one| one.nominal.abs());
    let strongest = log.rows.iter().map(size).fold(0.0, f64::max);
    let is_on = |row: &&Row| strongest > 0.0 && size(row) >= strongest / 2.0;
    let rest = log
        .rows
        .iter()
        .take_while(|row| !is_on(row))
        .last()
        .copied();
    let from_load = log.rows.iter().skip_while(|row| !is_on(row));
    let rows: Vec<Row> = from_load.clone().take_while(is_on).copied().collect();
    if let Some(again) = from_load.skip(rows.len()).find(is_on) {
        let message = "the current comes on again here: this is more than one discharge";
        let help = "a curve is one discharge without a pause; leave the other rows out";
        problems.add(Fault::Contradiction, again.voltage.span, message, help);
        return None;
    }
    let rows = positive(rows, problems)?;
    Some((rest, rows))
}

/// The same with currents and charges above zero, where the log has all of them below.
fn positive(mut rows: Vec<Row>, problems: &mut Problems<'_>) -> Option<Vec<Row>> {
    let currents = rows.iter().filter_map(|row| row.current);
    let is_negative = currents
        .clone()
        .next()
        .is_some_and(|first| first.nominal < 0.0);
    if let Some(other) = currents
        .clone()
        .find(|one| (one.nominal < 0.0) != is_negative)
    {
        let message = "the current changes its sign here: a discharge does not turn into a charge";
        let help = "leave the rows of the charge out";
        problems.add(Fault::Contradiction, other.span, message, help);
        return None;
    }
    if is_negative {
        for row in &mut rows {
            row.current = row.current.map(Reading::negative);
        }
    }
    Some(rows)
}

/// Reports the first reading that is below the one before it.
fn in_order(
    readings: impl Iterator<Item = Reading> + Clone,
    what: &str,
    problems: &mut Problems<'_>,
) -> Option<()> {
    let mut pairs = readings.clone().zip(readings.skip(1));
    let Some((_, back)) = pairs.find(|(one, next)| next.nominal < one.nominal) else {
        return Some(());
    };
    let message = format!("the {what} goes back here");
    let help = "the rows of a curve are in the order in which they were read";
    problems.add(Fault::Contradiction, back.span, message, help);
    None
}

/// Reports the first voltage that is above an earlier one, as far as the end of the test: after it
/// the load may be gone.
fn only_falls(rows: &[Row], end: Option<f64>, problems: &mut Problems<'_>) -> Option<()> {
    let mut lowest: Option<Reading> = None;
    for reading in rows.iter().map(|row| row.voltage) {
        if let Some(lowest) = lowest.filter(|lowest| reading.core.lo() > lowest.core.hi() + RISE) {
            rises(&lowest, &reading, problems);
            return None;
        }
        if end.is_some_and(|end| reading.nominal <= end) {
            break;
        }
        if lowest.is_none_or(|lowest| reading.core.hi() < lowest.core.hi()) {
            lowest = Some(reading);
        }
    }
    Some(())
}

/// Reports a voltage that is above an earlier one.
fn rises(lowest: &Reading, reading: &Reading, problems: &mut Problems<'_>) {
    let source = problems.source();
    let (earlier, here) = (
        source.place(lowest.span.start).line,
        source.place(reading.span.start).line,
    );
    let message = format!(
        "the voltage rises from {:.3} V in line {earlier} to {:.3} V in line {here}, and under load it only \
         falls: the load was off between them, or weaker",
        lowest.nominal, reading.nominal
    );
    let help = format!(
        "cut the log there: without line {here} and those after it, it is a test that ended early; what \
         was given after a pause counts in no curve"
    );
    problems.add(Fault::Contradiction, reading.span, message, help);
}

/// The charge by each row, as it was counted. `Some(None)` without such a column.
fn counted(
    rest: Option<&Row>,
    rows: &[Row],
    problems: &mut Problems<'_>,
) -> Option<Option<Vec<Interval>>> {
    let read: Option<Vec<Reading>> = rows.iter().map(|row| row.charge).collect();
    let Some(read) = read else {
        return Some(None);
    };
    let (first, last) = (read.first()?, read.last()?);
    let is_negative = last.nominal < first.nominal;
    let signed = |one: Reading| if is_negative { one.negative() } else { one };
    in_order(read.iter().map(|one| signed(*one)), "charge", problems)?;
    let first = signed(*first).core;
    let start = match rest.and_then(|row| row.charge) {
        Some(before) => signed(before).core,
        None => span(first.lo().min(0.0), first.hi().max(0.0)),
    };
    let given = |one: &Reading| {
        let given = signed(*one).core - start;
        span(given.lo().max(0.0), given.hi().max(0.0))
    };
    Some(Some(read.iter().map(given).collect()))
}

/// The charge by each row, as current over time, and what these charges share. Between two rows the
/// current is between those of the two.
fn summed(
    rest: Option<&Row>,
    rows: &[Row],
    log: &Log,
    beside: &Beside,
    problems: &mut Problems<'_>,
) -> Option<(Vec<Interval>, Interval)> {
    let times: Option<Vec<Reading>> = rows.iter().map(|row| row.time).collect();
    let Some(times) = times else {
        missing("time", "time [s]", log.span, problems);
        return None;
    };
    let read: Option<Vec<Interval>> = rows.iter().map(|row| Some(row.current?.core)).collect();
    let is_read = read.is_some();
    let Some((currents, factor)) = read.map_or_else(
        || of_tester(beside, rows.len()),
        |read| Some((read, log.factors.current)),
    ) else {
        no_current(log.span, problems);
        return None;
    };
    let start = Start::of(rest, &times, is_read)?;
    let given = start.sums(&times, &currents)?;
    Some((given, factor * log.factors.time))
}

/// A current that the tester holds: its error is the same in all rows.
fn of_tester(beside: &Beside, rows: usize) -> Option<(Vec<Interval>, Interval)> {
    let current = beside.current.filter(|current| current.lo() > 0.0)?;
    let middle = Interval::point(current.middle());
    Some((vec![middle; rows], current / middle))
}

fn no_current(span: Span, problems: &mut Problems<'_>) {
    let message = "the curve has no current, and its tester says none";
    let help = "add a column `current [A]` or `charge [mAh]`, or write `at` beside the curve";
    problems.add(Fault::MissingKey, span, message, help);
}

/// The hours from when the load may have come on to the first row, at most, and by how much later
/// than the first row it may have come on.
struct Start {
    before: f64,
    later: f64,
}

impl Start {
    /// With a row at rest it came on after that; else after time 0. Without currents the first row
    /// may itself have been at rest.
    fn of(rest: Option<&Row>, times: &[Reading], is_read: bool) -> Option<Self> {
        let (first, second) = (times.first()?, times.get(1)?);
        let since = match rest.and_then(|row| row.time) {
            Some(rest) => rest.nominal,
            None => first.nominal.min(0.0),
        };
        let later = if is_read {
            0.0
        } else {
            second.nominal - first.nominal
        };
        Some(Self {
            before: (first.nominal - since).max(0.0),
            later,
        })
    }

    /// Charge by each row in Ah.
    fn sums(&self, times: &[Reading], currents: &[Interval]) -> Option<Vec<Interval>> {
        let most = currents.iter().map(|one| one.hi()).fold(0.0, f64::max);
        let digits = clock_share(times, currents, most);
        let mut least = -self.later * most - digits;
        let mut greatest = self.before * currents.first()?.hi() + digits;
        let mut all = vec![span(0.0, greatest.max(0.0))];
        let steps = times.iter().zip(times.iter().skip(1));
        let ends = currents.iter().zip(currents.iter().skip(1));
        for ((from, to), (one, next)) in steps.zip(ends) {
            let hours = to.nominal - from.nominal;
            least += hours * one.lo().min(next.lo()).max(0.0);
            greatest += hours * one.hi().max(next.hi());
            all.push(span(least.max(0.0), greatest.max(0.0)));
        }
        Some(all)
    }
}

/// What the digits of the clock may come to in a sum. Each time ends one step and starts the next, so
/// that only the difference of the two currents counts, and of the first and last row the whole.
fn clock_share(times: &[Reading], currents: &[Interval], most: f64) -> f64 {
    let half = |one: &Reading| one.core.width() / 2.0;
    let half = times.iter().map(half).fold(0.0, f64::max);
    let middles = currents.iter().map(|one| one.middle());
    let pairs = middles.clone().zip(middles.skip(1));
    let varies: f64 = pairs.map(|(one, next)| (next - one).abs()).sum();
    half * (2.0 * most + varies)
}
