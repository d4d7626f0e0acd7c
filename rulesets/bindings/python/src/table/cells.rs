//! The values of a column, as those of JSON.

use std::sync::Arc;

use arrow_array::cast::AsArray;
use arrow_array::{Array, ArrayRef, BooleanArray, ListArray, StringArray, StructArray};
use arrow_cast::{CastOptions, cast_with_options};
use arrow_schema::{ArrowError, DataType, Field};
use rules_core::quantity::Quantity;
use serde_json::{Map, Number, Value};

/// The values of a column.
pub(super) enum Cells {
    /// Texts; of numbers, whether they are to stay numbers.
    Texts(StringArray, bool),
    Truths(BooleanArray),
    Maps(StructArray, Vec<(String, Cells)>),
    Lists(ListArray, Box<Cells>),
}

/// What a column can hold.
pub(super) enum Kind<'s> {
    Scalar,
    Map(&'s [Arc<Field>]),
    List(&'s Field),
    /// Bytes and whatever else has no place in a proposal.
    Other,
}

/// What a column of a type holds.
pub(super) fn kind(of: &DataType) -> Kind<'_> {
    match of {
        DataType::Struct(fields) => Kind::Map(fields),
        DataType::List(field) | DataType::LargeList(field) => Kind::List(field),
        DataType::Dictionary(_, values) => kind(values),
        DataType::Binary
        | DataType::LargeBinary
        | DataType::BinaryView
        | DataType::FixedSizeBinary(_)
        | DataType::Map(..)
        | DataType::Union(..)
        | DataType::FixedSizeList(..)
        | DataType::ListView(_)
        | DataType::LargeListView(_)
        | DataType::RunEndEncoded(..) => Kind::Other,
        _ => Kind::Scalar,
    }
}

/// An array of another type; what cannot be is an error and no gap.
pub(super) fn cast(array: &ArrayRef, to: &DataType) -> Result<ArrayRef, ArrowError> {
    let options = CastOptions {
        safe: false,
        ..CastOptions::default()
    };
    cast_with_options(array, to, &options)
}

fn is_number(of: &DataType) -> bool {
    match of {
        DataType::Dictionary(_, values) => is_number(values),
        other => other.is_numeric(),
    }
}

impl Cells {
    /// The values of an array.
    pub(super) fn of(array: &ArrayRef) -> Result<Self, ArrowError> {
        match array.data_type() {
            DataType::Boolean => Ok(Self::Truths(array.as_boolean().clone())),
            DataType::Struct(fields) => {
                let own = array.as_struct();
                let parts = fields.iter().zip(own.columns());
                let parts = parts.map(|(field, part)| Ok((field.name().clone(), Self::of(part)?)));
                Ok(Self::Maps(
                    own.clone(),
                    parts.collect::<Result<_, ArrowError>>()?,
                ))
            }
            DataType::List(_) => {
                let lists = array.as_list::<i32>();
                let parts = Self::of(lists.values())?;
                Ok(Self::Lists(lists.clone(), Box::new(parts)))
            }
            DataType::LargeList(field) => {
                Self::of(&cast(array, &DataType::List(Arc::clone(field)))?)
            }
            other => {
                let texts = cast(array, &DataType::Utf8)?;
                Ok(Self::Texts(
                    texts.as_string::<i32>().clone(),
                    is_number(other),
                ))
            }
        }
    }

    /// The value of a row, if it has one; numbers in the unit of the column, if that has one.
    pub(super) fn value(&self, row: usize, unit: Option<&str>) -> Option<Value> {
        match self {
            Self::Texts(texts, is_number) => {
                let text = texts.is_valid(row).then(|| texts.value(row))?;
                Some(scalar(text, *is_number, unit))
            }
            Self::Truths(truths) => {
                let truth = truths.is_valid(row).then(|| truths.value(row))?;
                Some(Value::Bool(truth))
            }
            Self::Maps(own, parts) => {
                let parts = own.is_valid(row).then_some(parts)?;
                let said = parts.iter();
                let said =
                    said.filter_map(|(key, cells)| Some((key.clone(), cells.value(row, None)?)));
                Some(Value::Object(said.collect::<Map<_, _>>()))
            }
            Self::Lists(own, parts) => {
                let offsets = own.is_valid(row).then(|| own.value_offsets())?;
                let end = |at: usize| usize::try_from(*offsets.get(at)?).ok();
                let items = end(row)?..end(row + 1)?;
                let items = items.map(|item| parts.value(item, None).unwrap_or(Value::Null));
                Some(Value::Array(items.collect()))
            }
        }
    }
}

fn scalar(text: &str, is_number: bool, unit: Option<&str>) -> Value {
    if let Some(unit) = unit {
        // A text that has its own unit keeps it.
        let is_plain = is_number || Quantity::parse(text).is_ok_and(|one| one.unit().is_none());
        return match is_plain {
            true => Value::String(format!("{text} {unit}")),
            false => Value::String(text.to_owned()),
        };
    }
    let number = is_number.then(|| number(text)).flatten();
    number.map_or_else(|| Value::String(text.to_owned()), Value::Number)
}

/// A number of JSON; what is none, as one that is not finite, stays a text and is told as it is read.
fn number(text: &str) -> Option<Number> {
    let whole = text.parse::<i64>().ok().map(Number::from);
    whole.or_else(|| Number::from_f64(text.parse().ok()?))
}
