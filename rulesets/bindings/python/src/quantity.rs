//! Quantities as pairs of a number and a unit, and as those of general-purpose libraries of units.
//!
//! Such a library is never imported here. What has a magnitude, units and a way to other units is taken
//! for a quantity of one.

use pyo3::prelude::*;
use pyo3::types::PyFloat;
use rules_core::document::Fault;
use rules_core::quantity::Quantity;

use crate::from_python::Unusable;

/// Units of the libraries by their English names, with ours, by which a quantity is written whose own unit
/// is none of ours.
const UNITS: [(&str, &str); 13] = [
    ("volt", "V"),
    ("ampere", "A"),
    ("ampere * hour", "Ah"),
    ("watt", "W"),
    ("watt * hour", "Wh"),
    ("ohm", "Ω"),
    ("second", "s"),
    ("meter", "m"),
    ("kilogram", "kg"),
    ("kelvin", "K"),
    ("ampere / second", "A/s"),
    ("volt / second", "V/s"),
    ("dimensionless", ""),
];

/// A pair of a number and a unit as a text; `place` names it in messages.
pub(crate) fn of_pair(
    number: &Bound<'_, PyAny>,
    unit: &str,
    place: &str,
) -> Result<String, Unusable> {
    let text = number_text(number, place)?;
    Ok(format!("{text} {unit}").trim_end().to_owned())
}

/// A number with the digits that it is written with: those of a decimal are kept.
fn number_text(number: &Bound<'_, PyAny>, place: &str) -> Result<String, Unusable> {
    let text = number.str()?.to_string();
    let value = match text.parse::<f64>() {
        Ok(value) => Some(value),
        Err(_) => number.extract::<f64>().ok(),
    };
    match value {
        Some(value) if !value.is_finite() => {
            let message = format!("{place} is {text}, which is no finite number");
            let help = "leave out what is not known";
            Err(Unusable::new(Fault::NotFinite, message, help))
        }
        Some(_) if text.parse::<f64>().is_ok() => Ok(text),
        Some(value) => Ok(value.to_string()),
        None => {
            let message = format!("{place} has {text} before its unit, which is no number");
            let help = "write it as (3.71, \"V\"), or as the text \"3.71 V ± 0.02 V\"";
            Err(Unusable::new(Fault::BadNumber, message, help))
        }
    }
}

/// Whether a value is a quantity of a library of units.
pub(crate) fn is_of_library(object: &Bound<'_, PyAny>) -> PyResult<bool> {
    Ok(object.hasattr("magnitude")? && object.hasattr("units")? && object.hasattr("m_as")?)
}

/// English names of units, with whatever prefix, of which the short forms mean the same in a proposal. (A
/// coulomb is none of them: its `C` is a rate of charging here.)
const SAME: [&str; 14] = [
    "volt",
    "ampere",
    "ampere_hour",
    "watt",
    "watt_hour",
    "ohm",
    "second",
    "minute",
    "hour",
    "day",
    "meter",
    "gram",
    "kelvin",
    "degree_Celsius",
];

/// The quantity in its own unit, where that is one of ours.
fn in_own_unit(
    object: &Bound<'_, PyAny>,
    units: &Bound<'_, PyAny>,
    place: &str,
) -> Result<Option<String>, Unusable> {
    let name = units.str()?.to_string();
    if name.contains(' ') || !SAME.iter().any(|same| name.ends_with(same)) {
        return Ok(None);
    }
    let short: String = units.call_method1("__format__", ("~",))?.extract()?;
    let text = of_pair(&object.getattr("magnitude")?, &short, place)?;
    Ok(Quantity::parse(&text).is_ok().then_some(text))
}

/// A quantity of a library of units as a text. It keeps its unit where that is one of ours, and with it
/// its digits.
pub(crate) fn of_library(object: &Bound<'_, PyAny>, place: &str) -> Result<String, Unusable> {
    let units = object.getattr("units")?;
    if let Some(text) = in_own_unit(object, &units, place)? {
        return Ok(text);
    }
    for (theirs, ours) in UNITS {
        let Ok(number) = object.call_method1("m_as", (theirs,)) else {
            continue;
        };
        let number = number.extract::<f64>()?;
        // What the conversion added behind the digits of a double says nothing.
        let plain = format!("{number:.11e}").parse::<f64>().unwrap_or(number);
        return of_pair(PyFloat::new(object.py(), plain).as_any(), ours, place);
    }
    let message = format!("{place} is in `{units}`, which is no unit of a proposal");
    let help = "give it in V, A, Ah, W, Wh, Ω, s, m, kg or K, or as a text";
    Err(Unusable::new(Fault::UnknownUnit, message, help))
}
