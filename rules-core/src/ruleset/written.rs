//! A ruleset as data: what a file holds, what `cellrules merged` prints, and what the schema
//! describes.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::Value;

use super::left_out::is_no;
use super::limit::WrittenLimit;
use super::loosening::Loosening;
use super::meter::{WrittenAdjustMeter, WrittenMeter};
use super::model::{
    Acceptance, Basis, Expectation, IfUnmeasured, LayerName, Refused, WrittenSource,
};
use super::written_stages::WrittenStages;

/// A ruleset file.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenRuleset {
    /// The version of the format: 1.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "crate::schema::format_one")
    )]
    pub format: u32,
    /// The ruleset's name: letters, digits and hyphens.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "crate::schema::identifier", example = "club-practice")
    )]
    pub ruleset: String,
    /// Its version.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::version"))]
    pub version: String,
    /// What it is about, in one line.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::one_line"))]
    pub title: String,
    /// What decides where a value is in doubt; guarded if left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub acceptance: Option<Acceptance>,
    /// Rulesets this one rests on: shipped names, or paths relative to this file.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::rulesets")
    )]
    pub extends: Vec<String>,
    /// The stages of the work in their order: each with its title, on one line.
    #[serde(skip_serializing_if = "WrittenStages::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    pub stages: WrittenStages,
    /// Published sources by name.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default, transform = crate::schema::named_by_texts))]
    pub sources: BTreeMap<String, WrittenSource>,
    /// Facts that proposals may give under `extra`, by dotted name.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default, transform = crate::schema::named_by_dotted_words))]
    pub facts: BTreeMap<String, WrittenFact>,
    /// What every report says as well, by name.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default, transform = crate::schema::named_by_words))]
    pub notice: BTreeMap<String, WrittenNotice>,
    /// The meters that readings without a tolerance are taken to be by, where a proposal states none
    /// of their kind; none that is worse may be stated.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "super::meter::by_kind::<WrittenMeter>")
    )]
    pub meters: BTreeMap<String, WrittenMeter>,
    /// Named thresholds.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default, transform = crate::schema::named_by_words))]
    pub limits: BTreeMap<String, WrittenLimit>,
    /// Named formulas.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default, transform = crate::schema::named_by_words))]
    pub figures: BTreeMap<String, WrittenFigure>,
    /// The cautions.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default, extend("uniqueItems" = true)))]
    pub cautions: Vec<WrittenCaution>,
    /// What this ruleset changes in those it extends.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub adjust: Option<WrittenAdjust>,
    /// In a merged file: what it was made of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub merged: Option<WrittenMerged>,
}

/// What a merged file was made of.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenMerged {
    /// The rulesets, by name.
    #[cfg_attr(feature = "schema", schemars(default))]
    pub from: Vec<LayerName>,
    /// What they loosened.
    #[cfg_attr(feature = "schema", schemars(default))]
    pub loosened: Vec<WrittenLoosening>,
}

/// A loosening as a merged file tells it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(
    feature = "schema",
    schemars(rename = "Loosening", deny_unknown_fields)
)]
pub struct WrittenLoosening {
    /// The ruleset that loosens.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "crate::schema::identifier")
    )]
    pub by: String,
    /// What: `limit rest_floor`, `caution torn-wrap`, `meter voltage`, `acceptance`.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "crate::schema::loosened", example = "limit rest_floor")
    )]
    pub what: String,
    /// What it was.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::one_line"))]
    pub from: String,
    /// What it is now.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::one_line"))]
    pub to: String,
    /// The reason given.
    pub because: String,
}

impl From<Loosening> for WrittenLoosening {
    fn from(loosening: Loosening) -> Self {
        let Loosening {
            by,
            what,
            from,
            to,
            because,
        } = loosening;
        Self {
            by,
            what: what.to_string(),
            from,
            to,
            because,
        }
    }
}

/// A point of the notice that a ruleset adds.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenNotice {
    /// What is said.
    pub says: String,
    /// The same in a few words, for where there is little room.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub short: Option<String>,
    /// Who says it, and where.
    pub source: String,
}

/// A fact that a ruleset declares.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[cfg_attr(feature = "schema", schemars(transform = crate::schema::as_the_kind_says))]
pub struct WrittenFact {
    /// A kind of quantity, `choice`, `yes-no` or `text`.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::fact_kind"))]
    pub kind: String,
    /// What it means.
    pub meaning: String,
    /// Measured (as good as its digits or its meter) or stated (exact); stated if left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::nature")
    )]
    pub nature: Option<String>,
    /// The options of a choice.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::options")
    )]
    pub options: Vec<String>,
    /// The values a number can have at all, as a range.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::quantity", example = "0..50 K")
    )]
    pub domain: Option<String>,
}

/// A figure.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenFigure {
    /// The subject: `each` and its name where there are many, or the name of a single one.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::about"))]
    pub about: String,
    /// The formula.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "crate::schema::formula", example = "subject.fact / 2")
    )]
    pub is: String,
    /// What it means.
    pub meaning: String,
}

/// A caution.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[cfg_attr(feature = "schema", schemars(transform = crate::schema::needs_a_rung))]
pub struct WrittenCaution {
    /// Its name, which names the fault: letters, digits and hyphens.
    #[cfg_attr(
        feature = "schema",
        schemars(
            schema_with = "crate::schema::identifier",
            example = "deeply-discharged"
        )
    )]
    pub id: String,
    /// What it is about, in a few words on one line.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::one_line"))]
    pub title: String,
    /// The subject: `each` and its name where there are many, or the name of a single one.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::about"))]
    pub about: String,
    /// The stage that it is of, one of `stages` here or in what is extended; every stage if left
    /// out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::name")
    )]
    pub stage: Option<String>,
    /// What becomes of the one that it refuses; what its stage says if left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub refused: Option<Refused>,
    /// When it applies; always if left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(
            default,
            schema_with = "crate::schema::formula",
            example = "subject.fact != word"
        )
    )]
    pub applies_when: Option<String>,
    /// What must hold, or the use is refused.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(
            default,
            schema_with = "crate::schema::formula",
            example = "subject.fact >= limit.name"
        )
    )]
    pub refuse_unless: Option<String>,
    /// What must hold, or the report warns.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(
            default,
            schema_with = "crate::schema::formula",
            example = "subject.fact >= limit.name + 1 V"
        )
    )]
    pub warn_unless: Option<String>,
    /// What a missing measurement gives; what the rung says if left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub if_unmeasured: Option<IfUnmeasured>,
    /// Whether other rulesets are kept from dropping it.
    #[serde(skip_serializing_if = "is_no")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::yes_no")
    )]
    pub fixed: bool,
    /// Why it is not met, with the numbers: `{subject.fact}` prints a fact, figure or limit.
    #[cfg_attr(
        feature = "schema",
        schemars(example = "it has {subject.fact}; under {limit.name} it is refused")
    )]
    pub reason: String,
    /// What to do.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub remedy: Option<String>,
    /// What it rests on.
    #[cfg_attr(feature = "schema", schemars(default))]
    pub basis: Vec<Basis>,
    /// Names that it had before, or that had what it took the place of.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::former_identifiers")
    )]
    pub formerly: Vec<String>,
    /// Examples that show each outcome.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    pub cases: Vec<WrittenCase>,
}

/// An example of a caution.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[cfg_attr(feature = "schema", schemars(transform = crate::schema::in_doubt_or_unmeasured))]
pub struct WrittenCase {
    /// Facts by dotted name, and lists, by the plural of a subject, of facts without the prefix.
    /// All else is missing.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::given"))]
    pub given: Value,
    /// The outcome, the worst over the subjects.
    pub expect: Expectation,
    /// Whether the finding is in doubt.
    #[serde(skip_serializing_if = "is_no")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::yes_no")
    )]
    pub doubt: bool,
    /// The missing facts that leave the finding undecided, all of them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::fact_names")
    )]
    pub unmeasured: Vec<String>,
    /// What the case is for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// What a ruleset changes in those it extends.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenAdjust {
    /// Limits by name.
    #[cfg_attr(feature = "schema", schemars(default))]
    pub limits: BTreeMap<String, WrittenAdjustLimit>,
    /// Assumed meters by kind.
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "super::meter::by_kind::<WrittenAdjustMeter>")
    )]
    pub meters: BTreeMap<String, WrittenAdjustMeter>,
    /// Cautions by id.
    #[cfg_attr(feature = "schema", schemars(default))]
    pub cautions: BTreeMap<String, WrittenAdjustCaution>,
    /// Acceptance.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub acceptance: Option<WrittenAdjustAcceptance>,
}

/// A limit adjusted.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenAdjustLimit {
    /// The new value.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::quantity"))]
    pub to: String,
    /// The reason; needed for a loosening.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub because: Option<String>,
}

/// A caution dropped, or moved to another stage.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[cfg_attr(feature = "schema", schemars(transform = crate::schema::dropped_or_moved))]
pub struct WrittenAdjustCaution {
    /// `yes`, to do without it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::only_yes")
    )]
    pub drop: Option<bool>,
    /// The stage that it is moved to.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::name")
    )]
    pub stage: Option<String>,
    /// The reason; needed to drop it, and to move it from where it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub because: Option<String>,
}

/// Acceptance adjusted.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenAdjustAcceptance {
    /// What decides from now on.
    pub to: Acceptance,
    /// The reason; needed to go to simple.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub because: Option<String>,
}
