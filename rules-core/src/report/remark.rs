//! What a report tells without a verdict.

use std::sync::Arc;

use serde::Serialize;

/// Something that a person should look at and that decides nothing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct Remark {
    /// What is told.
    pub remark: RemarkKind,
    /// What it is about, by the name of its subject.
    pub subject: String,
    /// The names that it is about.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    pub names: Vec<Arc<str>>,
    /// The same for people, in one or two sentences.
    pub says: String,
}

/// What a remark tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum RemarkKind {
    /// The names differ only in capitals, in 0 and O, or in 1, l and I.
    LooksAlike,
    /// The proposal brings none of what it need not bring, and nothing was checked of it.
    NoneBrought,
}
