//! From where to where a number is varied: as asked for, or around what the plan has.

use rules_core::document::{Fault, Problem, Source, Span};
use rules_core::facts::{FactDef, Given};
use rules_core::quantity::{Interval, Kind, Measure, Nature, Quantity, QuantityError, Unit};

/// So many kelvins below and above the plan's own temperature, where nothing else is asked for.
const KELVINS: f64 = 30.0;
/// So many times the plan's own value, and this part of it, where nothing else is asked for.
const TIMES: f64 = 4.0;

/// A text of a caller, with what the caller calls it: `--from`.
#[derive(Debug, Clone, Copy)]
pub struct Written<'a> {
    /// What messages call it.
    pub called: &'a str,
    /// The text.
    pub text: &'a str,
}

/// What is to be varied.
#[derive(Debug, Clone, Copy)]
pub struct Vary<'a> {
    /// The fact, by its path in the plan (`cells[K4].capacity.value`) or its dotted name.
    pub fact: &'a str,
    /// The first value.
    pub from: Option<Written<'a>>,
    /// The last value.
    pub to: Option<Written<'a>>,
    /// How narrow a piece gets at the most.
    pub resolution: Option<Written<'a>>,
}

/// The first and the last value, in base units.
pub(super) struct Ends {
    pub from: f64,
    pub to: f64,
    /// Where they come from, in words.
    pub chosen: String,
}

impl Ends {
    /// What is asked for; where it is not, what is usual around what the plan has.
    pub(super) fn of(
        asked: &Vary<'_>,
        kind: Kind,
        def: &FactDef,
        own: Option<&Interval>,
    ) -> Result<Self, Problem> {
        let wanted = |text: Option<Written<'_>>| text.map(|text| read(text, kind)).transpose();
        let (from, to) = (wanted(asked.from)?, wanted(asked.to)?);
        let usual = usual(kind, def, own);
        let (from, to) = (
            from.unwrap_or(usual.range.lo()),
            to.unwrap_or(usual.range.hi()),
        );
        for (end, written) in [(from, asked.from), (to, asked.to)] {
            within(end, written, def, kind)?;
        }
        if !(from.is_finite() && to.is_finite()) {
            return Err(no_ends(asked));
        }
        if from >= to {
            return Err(no_way_up((from, to), kind, asked));
        }
        let chosen = match (asked.from, asked.to) {
            (Some(_), Some(_)) => "as asked for".to_owned(),
            (Some(_), None) => format!("the first value asked for to {}", usual.last),
            (None, Some(_)) => format!("{} to the last value asked for", usual.first),
            (None, None) => format!("{} to {}", usual.first, usual.last),
        };
        Ok(Self { from, to, chosen })
    }
}

/// The unit of what is asked for, else of what the plan has, else the usual one.
pub(super) fn unit(kind: Kind, asked: &Vary<'_>, given: Option<&Given>) -> Option<Unit> {
    let texts = [asked.from, asked.to].into_iter().flatten();
    let texts = texts.map(|one| one.text);
    let written = given.map(|given| &*given.written);
    // Kelvins on a scale start elsewhere than degrees.
    let is_on_scale = |unit: &Unit| unit.dimension() == kind.dimension();
    let suits = |unit: &Unit| unit.suits(kind) && is_on_scale(unit) && kind != Kind::Count;
    let units = texts
        .chain(written)
        .filter_map(|text| Quantity::parse(text).ok()?.unit());
    let usual = match kind {
        Kind::Ratio => Unit::parse("%"),
        _ => Unit::parse(kind.base_unit()),
    };
    units.chain(usual).find(suits)
}

/// Where a range goes that nobody asked for, and where each end of it comes from.
struct Usual {
    range: Interval,
    first: &'static str,
    last: &'static str,
}

/// What can be believed of the fact, around what the plan has.
fn usual(kind: Kind, def: &FactDef, own: Option<&Interval>) -> Usual {
    let believed = Usual {
        range: def.domain,
        first: "the least that can be believed",
        last: "the most that can be believed",
    };
    let around = own.and_then(|own| {
        let (range, first, last) = match kind {
            Kind::Temperature => (
                Interval::new(own.lo() - KELVINS, own.hi() + KELVINS),
                "30 K below what the plan has",
                "30 K above it",
            ),
            _ if own.lo() > 0.0 => (
                Interval::new(own.lo() / TIMES, own.hi() * TIMES),
                "a quarter of what the plan has",
                "four times as much",
            ),
            _ => return None,
        };
        let range = range?.meets(def.domain)?;
        Some(Usual { range, first, last })
    });
    let usual = around.unwrap_or(believed);
    let whole = Interval::new(usual.range.lo().ceil(), usual.range.hi().floor());
    match (kind, whole) {
        (Kind::Count, Some(range)) => Usual { range, ..usual },
        _ => usual,
    }
}

/// A single value of a kind, in base units.
pub(super) fn read(written: Written<'_>, kind: Kind) -> Result<f64, Problem> {
    let read = Quantity::read(written.text, kind, Nature::Stated, None);
    let measure = read.map_err(|error| unreadable(written, &error))?;
    if measure.range().is_single() {
        return Ok(measure.nominal());
    }
    let message = format!("`{}` is no single value", written.text);
    Err(at(written, Fault::BadNumber, message, kind.how_to_write()))
}

fn within(
    end: f64,
    written: Option<Written<'_>>,
    def: &FactDef,
    kind: Kind,
) -> Result<(), Problem> {
    match written {
        Some(written) if !def.domain.contains(end) => {
            let domain = Measure::of(def.domain).shown(kind).as_range();
            let message = format!("`{}` cannot be believed of it", written.text);
            let help = format!("stay within {domain}: check the unit and the decimal point");
            Err(at(written, Fault::OutOfDomain, message, help))
        }
        _ => Ok(()),
    }
}

/// That nothing says from where to where.
fn no_ends(asked: &Vary<'_>) -> Problem {
    let message = format!("nothing says from where to where `{}` goes", asked.fact);
    Problem::of_file(
        Fault::OutOfDomain,
        message,
        "name the first value and the last one",
    )
}

fn no_way_up((from, to): (f64, f64), kind: Kind, asked: &Vary<'_>) -> Problem {
    let shown = |value: f64| Measure::exact(value).shown(kind).to_string();
    let message = format!(
        "a range from {} to {} has nothing in it",
        shown(from),
        shown(to)
    );
    let help = "name a first value and a last one above it";
    match asked.to.or(asked.from) {
        Some(written) => at(written, Fault::OutOfDomain, message, help),
        None => Problem::of_file(Fault::OutOfDomain, message, help),
    }
}

fn unreadable(written: Written<'_>, error: &QuantityError) -> Problem {
    let help = match error.suggestion() {
        Some(near) => format!("did you mean `{near}`? {}", error.help()),
        None => error.help(),
    };
    let source = Source::new(written.called, written.text.to_owned());
    let span = Span {
        start: error.span().start,
        end: error.span().end,
    };
    Problem::at(&source, Fault::BadNumber, span, error.message(), help)
}

/// A problem of a text of the caller.
pub(super) fn at(
    written: Written<'_>,
    fault: Fault,
    message: impl Into<String>,
    help: impl Into<String>,
) -> Problem {
    let source = Source::new(written.called, written.text.to_owned());
    let end = written.text.len();
    Problem::at(&source, fault, Span { start: 0, end }, message, help)
}
