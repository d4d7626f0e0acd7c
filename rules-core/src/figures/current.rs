//! The highest current the light takes from the battery.

use crate::facts::{Inputs, SubjectId, Worked, WorkedDef};
use crate::quantity::{Interval, Kind, Measure};

const DRAW_CURRENT: usize = 0;
const DRAW_POWER: usize = 1;
const CUT_OFF: usize = 2;
const INPUT_MIN: usize = 3;

/// The figure `build.current`.
pub(super) fn definition(build: SubjectId) -> WorkedDef {
    WorkedDef {
        subject: build,
        name: "current",
        kind: Kind::Current,
        meaning: "Highest current the light takes from the battery: `draw`, or its power over the lowest voltage it still runs at (the higher of `cut_off` and `input.min`)",
        needs: &["light.draw_current", "light.draw_power", "light.cut_off", "light.input_min"],
        work: current,
    }
}

/// A driver that holds its power draws more as the voltage falls, so the lowest voltage gives the highest current.
fn current(inputs: &dyn Inputs) -> Worked {
    if let Some(draw) = inputs.number(DRAW_CURRENT) {
        return Worked { value: draw, used: 1 << DRAW_CURRENT, missing: 0 };
    }
    let Some(power) = inputs.number(DRAW_POWER) else {
        let both = 1 << DRAW_CURRENT | 1 << DRAW_POWER;
        return Worked { value: unknown(), used: both, missing: both };
    };
    let ends = [(CUT_OFF, inputs.number(CUT_OFF)), (INPUT_MIN, inputs.number(INPUT_MIN))];
    let missing = ends.iter().filter(|(_, end)| end.is_none()).fold(0, |bits, (need, _)| bits | 1 << need);
    let used = 1 << DRAW_POWER | 1 << CUT_OFF | 1 << INPUT_MIN;
    let lowest = ends.into_iter().filter_map(|(_, end)| end).reduce(Measure::max);
    match lowest {
        // One of the two is enough for an upper bound: the other can only raise the lowest voltage.
        Some(lowest) => {
            let highest = (power / lowest).range().hi();
            let value = if missing == 0 { power / lowest } else { Interval::new(0.0, highest).map_or(unknown(), Measure::of) };
            Worked { value: not_negative(value), used, missing }
        }
        None => Worked { value: unknown(), used, missing },
    }
}

fn not_negative(value: Measure) -> Measure {
    Interval::new(0.0, f64::INFINITY).and_then(|domain| value.clipped_to(domain)).unwrap_or(value)
}

fn unknown() -> Measure {
    Interval::new(0.0, f64::INFINITY).map_or(Measure::of(Interval::WHOLE), Measure::of)
}
