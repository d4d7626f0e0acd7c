//! `units.json`: units, prefixes, what kinds multiply to, and worked examples.

use rules_core::document::Fault;
use rules_core::quantity::{Dimension, Interval, Kind, Measure, Nature, Quantity, Unit};
use serde::Deserialize;

use super::formulas::Desk;
use super::table::{Outcome, Part, double, doubles_apart, same};

/// Formulas whose result is exact in decimals: a few roundings of one part in 10^16 each are all
/// that may show.
const EXACT: f64 = 1e-12;

/// The precision to which the language compares (`rulesets/LANGUAGE.md`, section 4).
const COMPARED: f64 = 1e-9;

/// A value as written in the table, exact where it has no tolerance.
fn stated(text: &str, kind: &str) -> Result<Measure, String> {
    let kind = Kind::from_name(kind).ok_or(format!("there is no kind `{kind}`"))?;
    Quantity::read(text, kind, Nature::Stated, None).map_err(|error| format!("`{text}`: {error}"))
}

/// One double, to the last bit: numbers are scaled in decimal and rounded once. (Where doubles are
/// scaled instead, one off is right too.)
fn is_double(text: &str, found: Measure, expected: f64) -> Outcome {
    let apart = doubles_apart(found.nominal(), expected);
    if apart > 0 {
        return Err(format!(
            "`{text}` is {:e}, which is {apart} doubles from {expected:e}",
            found.nominal()
        ));
    }
    same("whether it is exact", &found.range().is_point(), &true)
}

/// Whether both ends are within a relative tolerance of the expected value.
fn near(what: &str, range: Interval, expected: f64, tolerance: f64) -> Outcome {
    let off = (range.lo() - expected)
        .abs()
        .max((range.hi() - expected).abs());
    let within = off <= tolerance * expected.abs();
    if within {
        Ok(())
    } else {
        Err(format!(
            "{what} is {range:?}, not {expected:e} within {tolerance:e}"
        ))
    }
}

/// Whether a formula comes to what another says, in kind and in size.
fn comes_to(desk: &Desk, formula: &str, result: &str, tolerance: f64) -> Outcome {
    let (found, expected) = (desk.work_out(formula)?, desk.work_out(result)?);
    same(
        &format!("the kind of `{formula}`"),
        &found.sort.dimension,
        &expected.sort.dimension,
    )?;
    near(
        &format!("`{formula}`"),
        found.range,
        expected.range.middle(),
        tolerance,
    )
}

/// A size in an SI unit as a formula: what the unit is called there, and how it is made of units of
/// the language.
fn in_si(size: &str, unit: &str) -> Result<String, String> {
    let (name, rest) = match unit {
        "C" => ("A", " * 1 s"),
        "J" => ("W", " * 1 s"),
        "1" => ("", ""),
        "1/s" => ("", " / 1 s"),
        "V/s" => ("V", " / 1 s"),
        "V" | "A" | "Ω" | "W" | "s" | "m" | "K" => (unit, ""),
        _ => return Err(format!("`{unit}` is not among the SI units of this test")),
    };
    Ok(match size.split_once('/') {
        Some((over, under)) => format!("{over} {name}{rest} / {under}"),
        None => format!("{size} {name}{rest}"),
    })
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AmountRow {
    text: String,
    kind: String,
    inside: String,
    inside_unit: String,
    si: String,
    si_unit: String,
}

#[test]
fn amounts_come_to_their_worth_in_si() {
    let desk = Desk::new();
    Part::read("units", "amounts", 53).run(|row: &AmountRow| {
        is_double(
            &row.text,
            stated(&row.text, &row.kind)?,
            double(&row.inside),
        )?;
        let kind = Kind::from_name(&row.kind).ok_or("no such kind")?;
        same(
            "the unit inside",
            &inside_unit(kind.dimension()),
            &row.inside_unit,
        )?;
        comes_to(&desk, &row.text, &in_si(&row.si, &row.si_unit)?, EXACT)
    });
}

/// The product of base units, as the language page writes it.
fn inside_unit(dimension: Dimension) -> String {
    if dimension.is_none() {
        "1".to_owned()
    } else {
        dimension.unit_product()
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct UnitRow {
    unit: String,
    kind: String,
    si: String,
    si_unit: String,
}

#[test]
fn one_of_each_unit_comes_to_its_worth_in_si() {
    let desk = Desk::new();
    Part::read("units", "units", 14).run(|row: &UnitRow| {
        let one = format!("1 {}", row.unit);
        stated(&one, &row.kind)?;
        comes_to(&desk, &one, &in_si(&row.si, &row.si_unit)?, EXACT)
    });
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PrefixRow {
    symbol: String,
    factor: String,
}

/// Every unit of the language that is a prefix before another unit of the same kind.
fn prefixed(symbol: &str) -> impl Iterator<Item = (Kind, &'static str, &'static str)> {
    let pairs = move |kind: Kind| {
        kind.unit_names()
            .iter()
            .filter_map(move |name| Some((kind, *name, name.strip_prefix(symbol)?)))
    };
    Kind::ALL
        .into_iter()
        .flat_map(pairs)
        .filter(|(kind, _, plain)| kind.unit_names().contains(plain))
}

#[test]
fn a_prefix_multiplies_by_its_factor() {
    Part::read("units", "prefixes", 4).run(|row: &PrefixRow| {
        same(
            "whether a unit has the prefix",
            &prefixed(&row.symbol).next().is_some(),
            &true,
        )?;
        prefixed(&row.symbol).try_for_each(|(kind, name, plain)| {
            let (with, without) = (
                stated(&format!("1 {name}"), kind.name())?,
                stated(&format!("1 {plain}"), kind.name())?,
            );
            near(
                name,
                with.range(),
                double(&row.factor) * without.nominal(),
                EXACT,
            )
        })
    });
}

#[test]
fn other_prefixes_make_no_unit() {
    Part::read("units", "prefixes_beyond_the_language", 1).run(|row: &PrefixRow| {
        let names = Kind::ALL
            .into_iter()
            .flat_map(|kind| kind.unit_names().iter().copied());
        let read: Vec<String> = names
            .map(|name| format!("{}{name}", row.symbol))
            .filter(|name| Unit::parse(name).is_some())
            .collect();
        same("what is read as a unit", &read, &Vec::new())
    });
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct TemperatureRow {
    texts: Vec<String>,
    celsius: String,
    kelvin: String,
}

#[test]
fn a_temperature_is_the_same_in_each_of_its_texts() {
    Part::read("units", "temperatures", 6).run(|row: &TemperatureRow| {
        same(
            "whether the kelvins are written",
            &row.texts.contains(&format!("{} K", row.kelvin)),
            &true,
        )?;
        row.texts.iter().try_for_each(|text| {
            is_double(text, stated(text, "temperature")?, double(&row.celsius))
        })
    });
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ToleranceRow {
    text: String,
    kind: String,
    low: String,
    high: String,
    #[serde(rename = "published")]
    _published: Option<String>,
}

#[test]
fn a_tolerance_reaches_as_far_as_published() {
    Part::read("units", "tolerances", 9).run(|row: &ToleranceRow| {
        let range = stated(&row.text, &row.kind)?.range();
        let end = |text: &str| stated(text, &row.kind).map(|value| value.nominal());
        near(
            "the low end",
            Interval::point(range.lo()),
            end(&row.low)?,
            COMPARED,
        )?;
        near(
            "the high end",
            Interval::point(range.hi()),
            end(&row.high)?,
            COMPARED,
        )
    });
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ConfusionRow {
    text: String,
    never: Vec<String>,
    /// The reading that is right; none if the text has to be an error for every kind.
    may_be: Option<Reading>,
    #[serde(rename = "si_meaning")]
    _si_meaning: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Reading {
    text: String,
    kind: String,
}

#[test]
fn what_is_easily_confused_is_read_as_nothing_else() {
    Part::read("units", "confusions", 17).run(|row: &ConfusionRow| {
        Kind::ALL.into_iter().try_for_each(|kind| {
            let Ok(found) = stated(&row.text, kind.name()) else {
                return Ok(());
            };
            let Some(meant) = row
                .may_be
                .as_ref()
                .filter(|meant| meant.kind == kind.name())
            else {
                return Err(format!(
                    "`{}` is read as {}: {found:?}",
                    row.text,
                    kind.with_article()
                ));
            };
            let never = row
                .never
                .iter()
                .filter_map(|text| stated(text, kind.name()).ok());
            same(
                "whether it is what it never is",
                &never.into_iter().any(|never| never == found),
                &false,
            )?;
            same("its value", &found, &stated(&meant.text, &meant.kind)?)
        })
    });
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RelationRow {
    left: String,
    op: String,
    right: String,
    result: String,
    example: String,
    example_result: String,
}

fn dimension(unit: &str) -> Result<Dimension, String> {
    match unit {
        "1" => Ok(Dimension::NONE),
        _ => Unit::parse(unit)
            .map(Unit::dimension)
            .ok_or(format!("`{unit}` is no unit")),
    }
}

#[test]
fn products_and_sums_have_the_dimension_of_the_si() {
    let desk = Desk::new();
    Part::read("units", "relations", 21).run(|row: &RelationRow| {
        let (left, right) = (dimension(&row.left)?, dimension(&row.right)?);
        let combined = match row.op.as_str() {
            "*" => left.times(right),
            "/" => left.per(right),
            "+" => left.plus(right),
            "-" => left.minus(right),
            other => return Err(format!("`{other}` is no operation of this table")),
        };
        same("the dimension", &combined, &Some(dimension(&row.result)?))?;
        comes_to(&desk, &row.example, &row.example_result, EXACT)
    });
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RefusedRow {
    formula: String,
}

#[test]
fn what_has_no_dimension_is_refused() {
    let desk = Desk::new();
    Part::read("units", "refused", 10).run(|row: &RefusedRow| {
        same(
            &format!("the fault of `{}`", row.formula),
            &desk.refusal(&row.formula),
            &Some(Fault::KindsDiffer),
        )
    });
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WorkedRow {
    formula: String,
    result: String,
    /// `1e-12`, or what the rounding of a published result leaves open.
    relative_tolerance: String,
}

#[test]
fn worked_formulas_come_out_as_published() {
    let desk = Desk::new();
    Part::read("units", "worked", 61).run(|row: &WorkedRow| {
        comes_to(
            &desk,
            &row.formula,
            &row.result,
            double(&row.relative_tolerance),
        )
    });
}
