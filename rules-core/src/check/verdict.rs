//! Pass, warn or refuse, how sure it is, and what gave it.

use serde::{Deserialize, Serialize};

/// What a check says of a use.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Nothing speaks against it that the rules know of.
    Pass,
    /// Something should be done or measured first.
    Warn,
    /// It should not be done.
    Refuse,
}

impl Verdict {
    /// The word in reports.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Pass => "pass",
            Self::Warn => "warn",
            Self::Refuse => "refuse",
        }
    }
}

/// How sure a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Status {
    /// What is known settles it.
    Decided,
    /// A value that was given is too wide to settle it.
    InDoubt,
    /// A missing fact leaves it open.
    Unmeasured,
}

impl Status {
    /// The words in reports.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Decided => "decided",
            Self::InDoubt => "in doubt",
            Self::Unmeasured => "unmeasured",
        }
    }
}

/// The rung that gave a finding its verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum RungName {
    /// `refuse_unless`
    RefuseUnless,
    /// `warn_unless`
    WarnUnless,
}

impl RungName {
    /// The key in rulesets.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::RefuseUnless => "refuse_unless",
            Self::WarnUnless => "warn_unless",
        }
    }
}
