//! Figures of the build.

use super::desk::Desk;
use super::needs::{Need, Notes};
use crate::facts::Worked;
use crate::quantity::Interval;

/// The one build.
const BUILD: usize = 0;

/// `build.current`. A driver that holds its power draws more as the voltage falls, so the lowest voltage gives the highest current.
pub(super) fn current(desk: &Desk<'_>, _: usize) -> Worked {
    let mut notes = Notes::default();
    let current = highest_current(desk, &mut notes);
    notes.worked(current)
}

fn highest_current(desk: &Desk<'_>, notes: &mut Notes) -> Interval {
    let reader = desk.reader;
    if let Some(draw) = reader.may(Need::DrawCurrent, BUILD, notes) {
        return draw;
    }
    let Some(power) = reader.may(Need::DrawPower, BUILD, notes) else {
        notes.lacks(Need::DrawCurrent);
        notes.lacks(Need::DrawPower);
        return not_negative(Interval::WHOLE);
    };
    let cut_off = reader.must(Need::CutOff, BUILD, notes);
    let input_min = reader.must(Need::InputMin, BUILD, notes);
    match (cut_off, input_min) {
        (Some(cut_off), Some(input_min)) => not_negative(power / cut_off.max(input_min)),
        // One of the two is enough for an upper bound: the other can only raise the lowest voltage.
        (Some(lowest), None) | (None, Some(lowest)) => up_to((power / lowest).hi()),
        (None, None) => not_negative(Interval::WHOLE),
    }
}

fn up_to(highest: f64) -> Interval {
    Interval::new(0.0, highest).unwrap_or(Interval::WHOLE)
}

fn not_negative(value: Interval) -> Interval {
    Interval::new(0.0, f64::INFINITY).and_then(|domain| value.meets(domain)).unwrap_or(value)
}
