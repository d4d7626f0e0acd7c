//! Readings that cannot both be true, reported as errors.

use super::catalogue::Catalogue;
use super::fact::FactId;
use super::readings::{Clash, Reading};
use super::sheet::{Given, Sheet};
use super::subject::SubjectId;
use crate::document::{Fault, Problems, Span};
use crate::quantity::{Interval, Measure};

/// Adds an error for all readings of a sheet that cannot both be true. `elsewhere` is the place to
/// report for readings that have no place in the text.
pub fn add_clashes(
    catalogue: &Catalogue,
    sheet: &Sheet,
    elsewhere: Span,
    problems: &mut Problems<'_>,
) {
    for clash in catalogue.figures().clashes(catalogue.facts_of(sheet)) {
        add(&clash, catalogue, sheet, elsewhere, problems);
    }
}

/// The error is at the reading that comes later in the text, and names the place of the other.
fn add(
    clash: &Clash,
    catalogue: &Catalogue,
    sheet: &Sheet,
    elsewhere: Span,
    problems: &mut Problems<'_>,
) {
    let placed = |reading: Reading| {
        let slot = catalogue.slot(reading.fact);
        let given = sheet.given(clash.subject, clash.position, slot);
        (given.and_then(Given::span), reading)
    };
    let [one, other] = clash.readings.map(placed);
    let start = |(at, _): &(Option<Span>, Reading)| at.map(|at| at.start);
    let (first, later) = if start(&one) <= start(&other) {
        (one, other)
    } else {
        (other, one)
    };
    let says = |(at, reading): (Option<Span>, Reading)| {
        let place = at.map(|at| problems.source().place(at.start));
        let shown = Measure::of(short(reading.value))
            .shown(clash.kind)
            .as_range();
        let place = place.map_or_else(String::new, |place| {
            format!(" (line {}, column {})", place.line, place.column)
        });
        format!("`{}`{place} gives {shown}", key(catalogue, reading.fact))
    };
    let message = format!(
        "two readings of {} cannot both be true: as {}, {}, and {}",
        called(clash.subject, clash.position, catalogue, sheet),
        clash.of,
        says(first),
        says(later)
    );
    problems.add(
        Fault::Contradiction,
        later.0.unwrap_or(elsewhere),
        message,
        "take both readings again, and leave out the wrong one",
    );
}

/// The interval with ends of four digits, rounded outward. A last bit does not count.
fn short(value: Interval) -> Interval {
    let end = |end: f64, outward: f64| {
        let place = 10_f64.powf(end.abs().log10().floor() - 3.0);
        let rounded = outward * (outward * end / place - 1e-6).ceil() * place;
        if rounded.is_finite() { rounded } else { end }
    };
    Interval::new(end(value.lo(), -1.0), end(value.hi(), 1.0)).unwrap_or(value)
}

/// The key that a reading has in a proposal: of several in one map, that of the map.
fn key(catalogue: &Catalogue, fact: FactId) -> &str {
    let key = catalogue.fact(fact).and_then(|def| def.key.as_deref());
    key.map_or("", |key| key.split_once('.').map_or(key, |(map, _)| map))
}

/// What messages call one of a subject.
pub(crate) fn called(
    subject: SubjectId,
    position: usize,
    catalogue: &Catalogue,
    sheet: &Sheet,
) -> String {
    let kind = catalogue.subject_name(subject);
    match sheet.instance(subject, position) {
        Some(one) if catalogue.is_many(subject) => format!("{kind} `{}`", one.name),
        _ => format!("`{kind}`"),
    }
}
