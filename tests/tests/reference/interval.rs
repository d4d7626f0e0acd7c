//! `interval.json`: interval arithmetic as an arithmetic library works it out.

use rules_core::quantity::Interval;
use serde::Deserialize;

use super::table::{Outcome, Part, doubles_apart, same};

/// The ends of an interval, as texts.
#[derive(Deserialize, Clone, Copy, Debug)]
#[serde(try_from = "[String; 2]")]
struct Ends(f64, f64);

impl TryFrom<[String; 2]> for Ends {
    type Error = std::num::ParseFloatError;

    fn try_from([low, high]: [String; 2]) -> Result<Self, Self::Error> {
        Ok(Self(low.parse()?, high.parse()?))
    }
}

impl Ends {
    fn interval(self) -> Interval {
        Interval::new(self.0, self.1).expect("the ends are in order")
    }
}

#[derive(Deserialize, Clone, Copy)]
#[serde(rename_all = "lowercase")]
enum Operation {
    Abs,
    Add,
    Div,
    Max,
    Min,
    Mul,
    Neg,
    Sub,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    op: Operation,
    a: Ends,
    b: Option<Ends>,
    /// None where there is nothing to enclose.
    low: Option<String>,
    high: Option<String>,
    /// What arithmetic that rounds to the nearest double gives; ours rounds outward.
    near: Option<Ends>,
    /// What the language gives, even if something else would enclose too.
    language: Option<Ends>,
}

impl Operation {
    /// How many doubles further out than necessary a bound may be. A sum knows on which side of the
    /// nearest double the true bound is, and the rest is exact; a product or quotient that is not
    /// exact takes the next double outward on either side.
    const fn loosest(self) -> u64 {
        match self {
            Self::Mul | Self::Div => 1,
            Self::Abs | Self::Add | Self::Max | Self::Min | Self::Neg | Self::Sub => 0,
        }
    }
}

impl Row {
    fn result(&self) -> Interval {
        let a = self.a.interval();
        let b = || self.b.expect("a second operand").interval();
        match self.op {
            Operation::Abs => a.abs(),
            Operation::Add => a + b(),
            Operation::Div => a / b(),
            Operation::Max => a.max(b()),
            Operation::Min => a.min(b()),
            Operation::Mul => a * b(),
            Operation::Neg => -a,
            Operation::Sub => a - b(),
        }
    }

    /// The tightest enclosure.
    fn tightest(&self) -> Option<Ends> {
        let read = |end: &Option<String>| {
            end.as_ref()
                .map(|end| end.parse::<f64>().expect("a number"))
        };
        Some(Ends(read(&self.low)?, read(&self.high)?))
    }

    /// No end is NaN, and nothing that the operands allow is left out.
    fn encloses(&self) -> Outcome {
        let result = self.result();
        let Some(Ends(low, high)) = self.tightest() else {
            return Ok(());
        };
        // Not by `Interval::encloses`, which is itself under test here; NaN fails both comparisons.
        if result.lo() <= low && result.hi() >= high {
            Ok(())
        } else {
            Err(format!("{result:?} leaves out part of {low:e}..{high:e}"))
        }
    }

    fn is_tight(&self) -> Outcome {
        let result = self.result();
        let Some(Ends(low, high)) = self.tightest() else {
            return Ok(());
        };
        let loose = doubles_apart(result.lo(), low).max(doubles_apart(result.hi(), high));
        if loose <= self.op.loosest() {
            Ok(())
        } else {
            Err(format!(
                "{result:?} is {loose} doubles wider than {low:e}..{high:e}"
            ))
        }
    }

    /// The table against itself: the nearest doubles are at most one inside the tightest enclosure.
    fn agrees_with_near(&self) -> Outcome {
        let (Some(Ends(low, high)), Some(near)) = (self.tightest(), self.near) else {
            return Ok(());
        };
        let agrees = near.0 >= low
            && near.1 <= high
            && doubles_apart(near.0, low) <= 1
            && doubles_apart(near.1, high) <= 1;
        if agrees {
            Ok(())
        } else {
            Err(format!("{near:?} is not next to {low:e}..{high:e}"))
        }
    }
}

#[test]
fn results_enclose_the_exact_ones_and_no_more_than_they_must() {
    Part::read("interval", "rows", 352).run(|row: &Row| {
        row.encloses()?;
        row.is_tight()?;
        row.agrees_with_near()
    });
}

#[test]
fn a_quotient_by_zero_is_as_the_language_says() {
    Part::read("interval", "zero_divisors", 30).run(|row: &Row| {
        row.encloses()?;
        let expected = row
            .language
            .ok_or("the row does not say what the language gives")?
            .interval();
        same("the quotient", &row.result(), &expected)
    });
}

#[test]
fn ends_without_bound_come_to_exact_results() {
    Part::read("interval", "unbounded", 27).run(|row: &Row| {
        row.encloses()?;
        // The operands are small whole numbers and halves, so that nothing is rounded.
        let Ends(low, high) = row.tightest().ok_or("the row has no ends")?;
        same("the result", &row.result(), &Ends(low, high).interval())
    });
}
