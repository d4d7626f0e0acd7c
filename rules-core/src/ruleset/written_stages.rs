//! The stages of a ruleset as data.

use serde::{Serialize, Serializer};

use super::model::Refused;
use super::stages::Stage;

/// The stages of a ruleset, as a map in their order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WrittenStages(pub Vec<Stage>);

impl WrittenStages {
    pub(super) const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl Serialize for WrittenStages {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(
            self.0
                .iter()
                .map(|stage| (&stage.id, WrittenStage::of(stage))),
        )
    }
}

/// A stage as it is declared: its title, or the title with what becomes of the one that a caution of it
/// refuses.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub(crate) enum WrittenStage {
    /// What it is, on one line.
    Title(
        #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::one_line"))] String,
    ),
    /// The title with more.
    Full(FullStage),
}

/// The title of a stage with what becomes of the one that a caution of it refuses.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub(crate) struct FullStage {
    /// What it is, on one line.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::one_line"))]
    title: String,
    /// What becomes of the one that a caution of it refuses, where the caution does not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    refused: Option<Refused>,
}

impl WrittenStage {
    fn of(stage: &Stage) -> Self {
        let title = stage.title.to_string();
        match stage.refused {
            None => Self::Title(title),
            refused => Self::Full(FullStage { title, refused }),
        }
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for WrittenStages {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Stages".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        crate::schema::stages_by_names(&generator.subschema_for::<WrittenStage>())
    }
}
