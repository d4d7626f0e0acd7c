//! What is in a ruleset file, apart from formulas.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};

use crate::snapshot::stored;

/// What decides where a value is in doubt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, Default)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Acceptance {
    /// What must hold has to hold for the whole interval (guarded acceptance of JCGM 106).
    #[default]
    Guarded,
    /// The nominal value decides (simple acceptance of JCGM 106), but not of a library figure.
    Simple,
}

/// The direction of a limit in which fewer proposals pass.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Stricter {
    /// A higher value is stricter: a floor.
    Higher,
    /// A lower value is stricter: a ceiling.
    Lower,
}

/// What a missing measurement gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum IfUnmeasured {
    /// A refusal.
    Refuse,
    /// A warning that says it could be a refusal.
    Warn,
}

/// What becomes of the one that a caution refuses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Refused {
    /// It is kept out of this use, and may serve in another.
    KeepOut,
    /// It is used nowhere as it is now.
    SetAside,
    /// It is not used again.
    Retire,
}

/// What a limit or a caution rests on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[serde(untagged)]
pub enum Basis {
    /// A published source.
    Source {
        /// The source's name under `sources`.
        source: Cow<'static, str>,
        /// Where in it.
        #[serde(skip_serializing_if = "Option::is_none")]
        at: Option<Cow<'static, str>>,
        /// A note about it, such as that others disagree.
        #[serde(skip_serializing_if = "Option::is_none")]
        note: Option<Cow<'static, str>>,
    },
    /// What practitioners do; no citable source.
    CommonPractice {
        /// What they do.
        common_practice: Cow<'static, str>,
    },
    /// Remembered; to be verified before anybody relies on it.
    FromMemory {
        /// What is remembered.
        from_memory: Cow<'static, str>,
    },
    /// Arithmetic from named inputs.
    WorkedOut {
        /// How.
        worked_out: Cow<'static, str>,
    },
}

/// How a source was consulted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum HowRead {
    /// The source itself was read.
    #[serde(rename = "in source")]
    InSource,
    /// Read in a copy, quotation or summary.
    #[serde(rename = "second-hand")]
    SecondHand,
    /// Not read this time.
    #[serde(rename = "from memory")]
    FromMemory,
}

/// A published source.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenSource {
    /// Its title.
    pub title: Cow<'static, str>,
    /// Who published it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub publisher: Option<Cow<'static, str>>,
    /// When, as written: a year or a date.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::text_or_number")
    )]
    pub year: Option<Cow<'static, str>>,
    /// Where it can be found.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub link: Option<Cow<'static, str>>,
    /// How it was consulted.
    pub read: HowRead,
}

/// What a case expects.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Expectation {
    /// The caution applies nowhere.
    NotApplicable,
    /// It is met.
    Pass,
    /// It warns.
    Warn,
    /// It refuses.
    Refuse,
}

impl Expectation {
    /// The word in files.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::NotApplicable => "not-applicable",
            Self::Pass => "pass",
            Self::Warn => "warn",
            Self::Refuse => "refuse",
        }
    }
}

/// A ruleset by name and version.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct LayerName {
    /// The ruleset's name.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "crate::schema::identifier")
    )]
    pub ruleset: String,
    /// Its version.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::version"))]
    pub version: String,
}

/// A ruleset of a check: what it calls itself, and what it is.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct LoadedRuleset {
    /// The name it gives itself. That of a shipped ruleset is its own only if it has no `file`.
    pub ruleset: String,
    /// The version it gives itself.
    pub version: String,
    /// The digest of its document.
    pub digest: String,
    /// The file it was read from; none if it is a shipped ruleset, unchanged.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
    /// Of a merged file: the rulesets that it says it was made of. Nothing shows that it was.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    pub claims: Vec<LayerName>,
    /// Whether it has the name of a shipped ruleset and is not it: such a one can be vetted, and
    /// nothing can be checked by it.
    #[serde(skip)]
    pub is_edited_copy: bool,
}

impl LoadedRuleset {
    /// Whether it is a shipped ruleset, unchanged.
    #[must_use]
    pub const fn is_shipped(&self) -> bool {
        self.file.is_none()
    }
}

stored!(
    enum Acceptance {
        Guarded,
        Simple,
    }
);
stored!(
    enum Stricter {
        Higher,
        Lower,
    }
);
stored!(
    enum IfUnmeasured {
        Refuse,
        Warn,
    }
);
stored!(
    enum Refused {
        KeepOut,
        SetAside,
        Retire,
    }
);
stored!(enum Basis { Source { source, at, note }, CommonPractice { common_practice }, FromMemory { from_memory }, WorkedOut { worked_out } });
stored!(
    enum HowRead {
        InSource,
        SecondHand,
        FromMemory,
    }
);
stored!(struct WrittenSource { title, publisher, year, link, read });
stored!(struct LayerName { ruleset, version });
stored!(struct LoadedRuleset { ruleset, version, digest, file, claims, is_edited_copy });
