//! From values to places on a drawing, and the round values that an axis shows.

/// A stretch of values, laid along a stretch of a drawing.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scale {
    low: f64,
    high: f64,
    from: f64,
    to: f64,
}

impl Scale {
    /// Values from `low` to `high`, from one place to another.
    pub(super) fn new((low, high): (f64, f64), (from, to): (f64, f64)) -> Self {
        // A stretch of no length would have all of its places at once.
        let high = if high > low { high } else { low + 1.0 };
        Self {
            low,
            high,
            from,
            to,
        }
    }

    /// All of these values, with some room on either side. None where there are none.
    pub(super) fn around(
        values: impl IntoIterator<Item = f64>,
        places: (f64, f64),
    ) -> Option<Self> {
        let finite = values.into_iter().filter(|value| value.is_finite());
        let ends = finite.fold(None, |ends: Option<(f64, f64)>, value| {
            let (low, high) = ends.unwrap_or((value, value));
            Some((low.min(value), high.max(value)))
        });
        let (low, high) = ends?;
        let room = if high > low {
            (high - low) * ROOM
        } else {
            low.abs().max(1.0) * ROOM
        };
        Some(Self::new((low - room, high + room), places))
    }

    /// The place of a value; of one beyond an end, that end.
    pub(super) fn at(&self, value: f64) -> f64 {
        let part = (value.clamp(self.low, self.high) - self.low) / (self.high - self.low);
        self.from + part * (self.to - self.from)
    }

    /// Whether a value lies on it.
    pub(super) fn holds(&self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }

    /// The round values on it, with how they are written.
    pub(super) fn ticks(&self) -> Vec<(f64, String)> {
        let step = round_step((self.high - self.low) / WANTED);
        let decimals = decimals(step);
        let first = (self.low / step).ceil();
        let all = (0..MOST_TICKS).map(|count| (first + f64::from(count)) * step);
        let within = all.take_while(|value| *value <= self.high + step * 1e-6);
        within
            .map(|value| (value, written(value, decimals)))
            .collect()
    }
}

/// The part of the values that is left free on either side.
const ROOM: f64 = 0.08;
/// About so many ticks are wanted, and there are never more than so many.
const WANTED: f64 = 5.0;
const MOST_TICKS: u32 = 12;

/// The next step of 1, 2 or 5 times a power of ten.
pub fn round_step(least: f64) -> f64 {
    let power = 10_f64.powf(least.log10().floor());
    let steps = [1.0, 2.0, 5.0];
    let enough = steps.into_iter().find(|step| step * power >= least);
    enough.unwrap_or(10.0) * power
}

fn decimals(step: f64) -> usize {
    (0..9)
        .find(|count| {
            let shifted = step * 10_f64.powi(*count);
            (shifted - shifted.round()).abs() < 1e-6
        })
        .and_then(|count| usize::try_from(count).ok())
        .unwrap_or(9)
}

fn written(value: f64, decimals: usize) -> String {
    // No minus before a zero.
    format!("{:.decimals$}", value + 0.0).replace('-', "\u{2212}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ticks(low: f64, high: f64) -> Vec<String> {
        let scale = Scale::new((low, high), (0.0, 100.0));
        scale.ticks().into_iter().map(|(_, text)| text).collect()
    }

    #[test]
    fn ticks_are_round_and_within() {
        assert_eq!(ticks(2.4, 4.2), ["2.5", "3.0", "3.5", "4.0"]);
        assert_eq!(
            ticks(0.0, 1000.0),
            ["0", "200", "400", "600", "800", "1000"]
        );
        assert_eq!(ticks(-25.0, 40.0), ["\u{2212}20", "0", "20", "40"]);
        assert_eq!(
            ticks(3.0, 3.02),
            ["3.000", "3.005", "3.010", "3.015", "3.020"]
        );
    }

    #[test]
    fn places_go_from_end_to_end_and_not_beyond() {
        let scale = Scale::new((2.0, 4.0), (200.0, 0.0));
        let at = [1.0, 2.0, 3.0, 4.0, 5.0].map(|value| format!("{:.6}", scale.at(value)));
        let expected = [200.0, 200.0, 100.0, 0.0, 0.0].map(|place| format!("{place:.6}"));
        assert_eq!(at, expected);
    }

    #[test]
    fn one_value_has_room_and_no_value_has_no_scale() {
        let one = Scale::around([3.6], (0.0, 100.0)).expect("a value");
        assert!((one.at(3.6) - 50.0).abs() < 1e-9);
        assert!(Scale::around([f64::INFINITY], (0.0, 100.0)).is_none());
    }
}
