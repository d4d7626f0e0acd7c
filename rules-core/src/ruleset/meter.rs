//! The meters that rulesets assume, where a proposal states none: what is said of those of one kind,
//! and what they make of a reading.

use serde::Serialize;

use super::model::Basis;
use crate::document::Span;
use crate::quantity::{BareReading, Kind, Meter};
use crate::snapshot::{Late, stored};

/// What a ruleset assumes of the meters of one kind.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenMeter {
    /// How well it reads, as a tolerance; of several the widest counts, at each reading.
    #[serde(serialize_with = "one_or_several")]
    pub is: Vec<String>,
    /// What it rests on.
    #[cfg_attr(feature = "schema", schemars(default))]
    pub basis: Vec<Basis>,
}

fn one_or_several<S: serde::Serializer>(is: &[String], serializer: S) -> Result<S::Ok, S::Error> {
    match is {
        [only] => serializer.serialize_str(only),
        several => serializer.collect_seq(several),
    }
}

/// The assumed meter of a kind adjusted.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenAdjustMeter {
    /// How well it reads, as a tolerance; of several the widest counts, at each reading.
    #[serde(serialize_with = "one_or_several")]
    pub to: Vec<String>,
    /// The reason; needed for a better meter, which is a loosening.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub because: Option<String>,
}

/// The schema of a map from kinds to what is said of the meter of each.
#[cfg(feature = "schema")]
pub(super) fn by_kind<T: schemars::JsonSchema>(
    generator: &mut schemars::SchemaGenerator,
) -> schemars::Schema {
    let any = T::json_schema(generator);
    let metered = Kind::ALL.into_iter().filter(|kind| *kind != Kind::Count);
    let of_kind = |kind: Kind| {
        let mut one = any.clone().to_value();
        for key in ["is", "to"] {
            if let Some(says) = one.pointer_mut(&format!("/properties/{key}")) {
                *says = tolerances(kind);
            }
        }
        (kind.name().to_owned(), one)
    };
    let kinds: serde_json::Map<String, serde_json::Value> = metered.map(of_kind).collect();
    schemars::json_schema!({ "type": "object", "properties": kinds, "additionalProperties": false })
}

/// How well a meter of a kind reads, or a list of several.
#[cfg(feature = "schema")]
fn tolerances(kind: Kind) -> serde_json::Value {
    let one = crate::schema::values::meter(kind);
    let several = serde_json::json!({
        "type": "array", "items": one, "minItems": 1, "maxItems": crate::bounds::MOST_METERS,
    });
    let description = "How well it reads; of several the widest counts, at each reading.";
    serde_json::json!({ "description": description, "anyOf": [one, several] })
}

/// The meters of one kind as a ruleset has them.
#[derive(Debug, Clone)]
pub(crate) struct MeterText {
    pub meters: Vec<(Meter, String)>,
    pub basis: Vec<(Basis, Span)>,
}

/// The worst meter that the rules reckon with for readings of one kind.
#[derive(Debug, Clone)]
pub struct AssumedMeter {
    /// The kind.
    pub kind: Kind,
    /// One or several, of which the widest counts.
    pub meters: Vec<Meter>,
    /// What is said of it.
    pub written: Late<WrittenMeter>,
}

impl AssumedMeter {
    /// The half width of a reading by this meter.
    #[must_use]
    pub fn half(&self, reading: &BareReading) -> f64 {
        let halves = self.meters.iter().map(|meter| reading.half_by(meter));
        halves.fold(0.0, f64::max)
    }

    /// Whether no reading is worth more by this one than by a meter.
    #[must_use]
    pub fn is_as_wide_as(&self, meter: &Meter) -> bool {
        self.meters.iter().any(|one| one.is_as_wide_as(meter))
    }

    /// How well it reads, for people: `± (1 % + 3 digits)`.
    #[must_use]
    pub fn says(&self) -> String {
        in_words(&self.written.is)
    }
}

/// Meters of one kind on one line.
pub(super) fn in_words(is: &[String]) -> String {
    is.join(BETWEEN)
}

/// What stands between several meters on one line.
pub(super) const BETWEEN: &str = " or ";

stored!(struct WrittenMeter { is, basis });
stored!(struct AssumedMeter { kind, meters, written });
