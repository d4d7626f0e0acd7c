//! The nearest value of one knob that is enough.

use rules_core::quantity::{Kind, Measure};

use super::knobs::{Knob, Values};
use super::tries::{Edit, Tried, Tries};

/// How far from a value that is written others are tried, as parts of it, the nearest first. Above it
/// they are the inverse.
const PARTS: [f64; 8] = [0.9, 0.8, 0.65, 0.5, 0.35, 0.2, 0.1, 0.05];
/// The same for temperatures, in kelvins.
const KELVINS: [f64; 7] = [2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 40.0];
/// So often the way between a value that is enough and one that is not is halved.
const HALVINGS: usize = 6;

/// The nearest value that was found to be enough by itself: for a number, no value between it and the
/// one that is written was found to be enough as well, at two digits.
pub(super) fn nearest(knob: &Knob, tries: &mut Tries<'_, '_>) -> Option<Tried> {
    nearest_beside(knob, &[], tries)
}

/// The same beside other changes.
pub(super) fn nearest_beside(
    knob: &Knob,
    others: &[Edit],
    tries: &mut Tries<'_, '_>,
) -> Option<Tried> {
    let mut at = |to: &str| {
        let edits = others.iter().cloned().chain([knob.set_to(to)]);
        let tried = tries.tried(edits.collect())?;
        tried.came.is_met.then_some(tried)
    };
    match &knob.values {
        Values::Words(words) | Values::OfBench(words) => {
            let all = words.iter().filter_map(|word| at(word));
            all.min_by_key(|tried| (tried.came.verdict, tried.came.best))
        }
        Values::Numbers { kind, now, .. } => {
            let mut last = [*now; 2];
            for steps in ladder(&knob.values) {
                for (last, value) in last.iter_mut().zip(steps) {
                    let Some(value) = value else { continue };
                    match at(&written(value, *kind)) {
                        Some(tried) => return Some(closer((*last, value), tried, *kind, at)),
                        None => *last = value,
                    }
                }
            }
            None
        }
    }
}

/// Between a value that is not enough and one that is, the nearest to the former that was found to be.
fn closer(
    (mut short, mut enough): (f64, f64),
    mut tried: Tried,
    kind: Kind,
    mut at: impl FnMut(&str) -> Option<Tried>,
) -> Tried {
    for _ in 0..HALVINGS {
        let middle = rounded(short.midpoint(enough), kind);
        let text = written(middle, kind);
        if [short, enough]
            .iter()
            .any(|known| written(*known, kind) == text)
        {
            break;
        }
        match at(&text) {
            Some(nearer) => (enough, tried) = (middle, nearer),
            None => short = middle,
        }
    }
    tried
}

/// Values of a number ever further from the one that is written, below and above it.
pub(super) fn ladder(values: &Values) -> Vec<[Option<f64>; 2]> {
    let Values::Numbers { kind, now, domain } = values else {
        return Vec::new();
    };
    let (kind, now) = (*kind, *now);
    let steps: Vec<[f64; 2]> = match kind {
        Kind::Temperature => KELVINS.map(|by| [now - by, now + by]).to_vec(),
        _ => PARTS.map(|part| [now * part, now / part]).to_vec(),
    };
    let fits = |value: f64| {
        let value = rounded(value, kind);
        let is_other = written(value, kind) != written(now, kind);
        (domain.contains(value) && is_other).then_some(value)
    };
    steps.into_iter().map(|step| step.map(fits)).collect()
}

/// A value with two digits in the unit in which it is written; a temperature in whole degrees.
fn rounded(value: f64, kind: Kind) -> f64 {
    if kind == Kind::Temperature || value == 0.0 {
        return value.round();
    }
    match Measure::exact(value).shown_in(kind) {
        Some(unit) => unit.to_base(in_two_digits(unit.from_base(value))),
        None => in_two_digits(value),
    }
}

fn in_two_digits(value: f64) -> f64 {
    let place = 10_f64.powi(1 - value.abs().log10().floor() as i32);
    (value * place).round() / place
}

/// A value as it is written in a plan.
pub(super) fn written(value: f64, kind: Kind) -> String {
    Measure::exact(value).shown(kind).to_string()
}
