//! Quantities: kinds and units, intervals, and values that know how well they are known.
//!
//! A value is an [`Interval`] with a nominal value inside ([`Measure`]). It is read from text such
//! as `3.71 V ± 0.02 V` in two steps: [`Quantity::parse`] reads the text, and [`Quantity::measure`]
//! binds it to a [`Kind`], to how the value came about ([`Nature`]) and to the [`Meter`] that read
//! it. [`Shown`] prints it again.
//!
//! Inside, every value is in the base unit of its kind: volt, ampere, hour, millimetre, kelvin and
//! what they multiply to; temperatures are in degrees Celsius, ratios are plain numbers.
//!
//! ```
//! use rules_core::quantity::{Holds, Kind, Measure, Meter, Nature, Quantity};
//!
//! let meter = Meter::parse("± (0.5 % + 1 mV)", Kind::Voltage)?;
//! let read = |text| Quantity::read(text, Kind::Voltage, Nature::Measured, Some(&meter));
//! let (low, high) = (read("3.850 V")?, read("3.860 V")?);
//! assert_eq!(low.shown(Kind::Voltage).to_string(), "3.850 V ± 0.021 V");
//!
//! // Both readings share the meter's gain error, so that their difference is known far better than either.
//! let limit = Measure::exact(0.015);
//! assert_eq!((high - low).range().at_most(limit.range()), Holds::Yes);
//! # Ok::<(), rules_core::quantity::QuantityError>(())
//! ```

mod amount;
mod bare;
mod binding;
mod cursor;
mod decimal;
mod dimension;
mod error;
mod fold;
mod interval;
mod kind;
mod measure;
mod number;
mod outward;
mod print;
mod rounding;
mod simple_unit;
mod suggest;
#[cfg(test)]
mod tests;
mod tolerance;
mod unit;
mod written;

pub use bare::BareReading;
pub use binding::Nature;
pub(crate) use decimal::significant;
pub use dimension::Dimension;
pub use error::{QuantityError, QuantityFault};
pub(crate) use fold::spread_of;
pub use interval::{Holds, Interval};
pub use kind::Kind;
pub(crate) use measure::Meters;
pub use measure::{Measure, OneMeter};
pub use print::Shown;
pub use tolerance::{Meter, Tolerance, is_wider};
pub use unit::Unit;
pub use written::Quantity;
