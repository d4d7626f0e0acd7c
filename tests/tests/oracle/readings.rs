//! Readings of one thing that cannot both be true, by "Readings of one thing" of LANGUAGE.md section
//! 3.

use super::end::{Close, End, above};
use super::facts::{Facts, Given};
use super::number::Span;
use super::proposal::Proposal;

/// By how much a resistance after 10 s of direct current differs from a reading of each method.
const METHODS: [(&str, f64, f64); 5] = [
    ("dc-10s", 0.65, 1.06),
    ("dc-two-current", 0.65, 2.2),
    ("ac-1khz", 1.5, 3.5),
    ("known-load", 0.2, 1.3),
    ("charger-display", 0.6, 2.0),
];

/// Whether any cell has two such readings, or a word and a fact beside it disagree.
pub(crate) fn contradict(proposal: &Proposal, close: &Close) -> bool {
    let of_cell = |facts: &Facts| {
        resistances(facts, close) || capacities(facts, close) || watches(facts, close)
    };
    let mut cells = proposal.cells.iter();
    proposal.words_disagree || cells.any(|cell| cell.marks_disagree || of_cell(&cell.facts))
}

/// A fall is the first reading less the second.
fn watches(facts: &Facts, close: &Close) -> bool {
    let number = |word: &str| match facts.get(&format!("cell.drift_{word}"))? {
        Given::Number(whole, _) => Some(*whole),
        _ => None,
    };
    let Some((from, to)) = number("from").zip(number("to")) else {
        return false;
    };
    number("fall").is_some_and(|fall| apart(from.minus(to).span, fall.span, close))
}

fn span(facts: &Facts, name: &str) -> Option<Span> {
    match facts.get(name)? {
        Given::Number(whole, _) => Some(whole.span),
        _ => None,
    }
}

fn resistances(facts: &Facts, close: &Close) -> bool {
    let Some((by_method, loaded)) = by_method(facts).zip(loaded(facts, close)) else {
        return false;
    };
    apart(by_method, loaded, close)
}

fn by_method(facts: &Facts) -> Option<Span> {
    let value = span(facts, "cell.resistance")?;
    let stated = facts.get("cell.resistance_method");
    let may_be = |name: &str| match stated {
        Some(Given::Choice(method)) => method == name,
        _ => true,
    };
    let possible = || METHODS.iter().filter(|(name, ..)| may_be(name));
    let least = possible()
        .map(|(_, least, _)| *least)
        .fold(f64::INFINITY, f64::min);
    let most = possible().map(|(.., most)| *most).fold(0.0, f64::max);
    let (greatest, smallest) = match span(facts, "cell.resistance_temperature") {
        Some(read) => (
            factors(read.low.middle()).fold(0.0, f64::max),
            factors(read.high.middle()).fold(f64::INFINITY, f64::min),
        ),
        None => (1.0, 1.0),
    };
    Some(Span {
        low: value.low.times(End::exact(least)).over(End::near(greatest)),
        high: value.high.times(End::exact(most)).over(End::near(smallest)),
    })
}

/// By how much more resistance a cell has at a temperature in degC than at 25 degC, by either of the
/// two activation energies.
fn factors(celsius: f64) -> impl Iterator<Item = f64> {
    let inverse = 1.0 / (celsius.clamp(-40.0, 80.0) + 273.15) - 1.0 / 298.15;
    [2_000.0, 40_000.0]
        .into_iter()
        .map(move |energy: f64| (energy / 8.314_462_618 * inverse).exp())
}

fn loaded(facts: &Facts, close: &Close) -> Option<Span> {
    let [open, closed, resistor] =
        ["open", "closed", "resistor"].map(|word| span(facts, &format!("cell.loaded_{word}")));
    let (open, closed, resistor) = (open?, closed?, resistor?);
    if !above(open.low, closed.high, close) {
        return None;
    }
    let one = End::exact(1.0).negative();
    let (_, least, most) = METHODS[3];
    let low = if above(closed.high, End::ZERO, close) {
        open.low.over(closed.high).plus_low(one)
    } else {
        End::exact(f64::INFINITY)
    };
    let high = if above(closed.low, End::ZERO, close) {
        open.high.over(closed.low).plus_high(one)
    } else {
        End::exact(f64::INFINITY)
    };
    Some(Span {
        low: low.times(resistor.low).times(End::exact(least)),
        high: high.times(resistor.high).times(End::exact(most)),
    })
}

/// A capacity test: charge, current, end voltage, and where it is told temperature.
struct Test {
    charge: Span,
    at: Span,
    to: Span,
    temperature: Option<Span>,
}

fn tests(facts: &Facts) -> Vec<Test> {
    let of = |name: &str| {
        let of = |word: &str| span(facts, &format!("cell.{name}{word}"));
        Some(Test {
            charge: of("")?,
            at: of("_at")?,
            to: of("_to")?,
            temperature: of("_temperature"),
        })
    };
    ["capacity", "capacity_2", "capacity_3", "capacity_4"]
        .into_iter()
        .filter_map(of)
        .collect()
}

fn capacities(facts: &Facts, close: &Close) -> bool {
    let all = tests(facts);
    all.iter().enumerate().any(|(place, one)| {
        all.iter()
            .enumerate()
            .any(|(other_place, other)| place != other_place && too_little(one, other, close))
    })
}

/// Whether a test gave surely less than a harsher one allows.
fn too_little(gentler: &Test, harsher: &Test, close: &Close) -> bool {
    let part = match (&gentler.temperature, &harsher.temperature) {
        (Some(warm), Some(cold)) if above(cold.high, warm.low, close) => return false,
        (Some(_), Some(_)) => 0.97,
        _ => 0.9,
    };
    !above(gentler.at.high, harsher.at.low, close)
        && !above(gentler.to.high, harsher.to.low, close)
        && above(
            harsher.charge.low.times(End::exact(part)),
            gentler.charge.high,
            close,
        )
}

fn apart(one: Span, other: Span, close: &Close) -> bool {
    above(one.low, other.high, close) || above(other.low, one.high, close)
}
