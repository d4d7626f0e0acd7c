//! What the light and the place of use ask of the battery: how much, until when, how warm.

use super::class_voltages;
use super::discharge::Draw;
use super::needs::Need;
use super::reader::Notes;
use super::shared_work::SharedWork;
use crate::class::Classes;
use crate::span::{not_known, not_negative, span};
use rules_core::quantity::Interval;

/// The one light, build and place of use.
const ONE: usize = 0;
/// Temperatures in degC that may be written for that of use, where none is.
const ANY_TEMPERATURE: (f64, f64) = (-60.0, 90.0);
/// The voltage in V at which a cell is empty: where the curve of its class starts.
pub(super) fn empty(classes: Classes) -> Interval {
    class_voltages::empty(classes)
}

/// The temperature of use.
pub(super) fn temperature(shared: &SharedWork<'_>, notes: &mut Notes) -> Interval {
    shared
        .reader
        .must(Need::Ambient, ONE, notes)
        .unwrap_or(span(ANY_TEMPERATURE.0, ANY_TEMPERATURE.1))
}

/// The voltage of the battery at which the light stops: the higher of its own cut-off and the
/// lowest that it runs at. 0 where neither is.
pub(super) fn light_stops(shared: &SharedWork<'_>, notes: &mut Notes) -> Interval {
    let open = span(0.0, f64::INFINITY);
    let cut_off = shared.reader.must(Need::CutOff, ONE, notes).unwrap_or(open);
    let lowest = shared
        .reader
        .must(Need::InputMin, ONE, notes)
        .unwrap_or(open);
    cut_off.max(lowest)
}

/// Groups in series.
pub(super) fn series(shared: &SharedWork<'_>, notes: &mut Notes) -> Option<Interval> {
    shared.reader.must(Need::Series, ONE, notes)
}

/// What the light takes from the battery as a whole.
pub(super) fn battery_draw(shared: &SharedWork<'_>, notes: &mut Notes) -> Option<Draw> {
    if let Some(current) = shared.reader.may(Need::DrawCurrent, ONE, notes) {
        return Some(Draw::Current(current));
    }
    if let Some(power) = shared.reader.may(Need::DrawPower, ONE, notes) {
        return Some(Draw::Power(power));
    }
    notes.lacks(Need::DrawCurrent);
    notes.lacks(Need::DrawPower);
    None
}

/// The highest current that the light takes from the battery.
pub(super) fn highest_current(shared: &SharedWork<'_>, notes: &mut Notes) -> Interval {
    let reader = shared.reader;
    let power = match battery_draw(shared, notes) {
        Some(Draw::Current(current)) => return current,
        Some(Draw::Power(power)) => power,
        None => return not_known(),
    };
    let cut_off = reader.must(Need::CutOff, ONE, notes);
    let input_min = reader.must(Need::InputMin, ONE, notes);
    match (cut_off, input_min) {
        (Some(cut_off), Some(input_min)) => not_negative(power / cut_off.max(input_min)),
        // One of the two is enough for an upper bound: the other can only raise the lowest voltage.
        (Some(lowest), None) | (None, Some(lowest)) => span(0.0, (power / lowest).hi()),
        (None, None) => not_known(),
    }
}
