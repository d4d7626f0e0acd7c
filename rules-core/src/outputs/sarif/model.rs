//! The part of SARIF that is used, named as the standard names it (section 3).

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use crate::check::Verdict;
use crate::facts::Notice;
use crate::ruleset::LoadedRuleset;

/// 3.27.10, 3.58.6
#[derive(Debug, Clone, Copy, Serialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Level {
    Note,
    Warning,
    Error,
}

impl Level {
    pub(super) const fn of(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Pass => Self::Note,
            Verdict::Warn => Self::Warning,
            Verdict::Refuse => Self::Error,
        }
    }
}

/// 3.27
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct SarifResult<'a> {
    pub(super) rule_id: &'a str,
    pub(super) level: Level,
    pub(super) message: Message,
    pub(super) locations: Vec<Location>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) related_locations: Vec<Location>,
    pub(super) partial_fingerprints: BTreeMap<&'static str, String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) properties: Option<ResultProperties<'a>>,
}

/// What a finding says that the standard has no place for.
#[derive(Debug, Serialize)]
pub(super) struct ResultProperties<'a> {
    pub(super) verdict: &'a str,
    pub(super) best: &'a str,
    pub(super) worst: &'a str,
    pub(super) status: crate::check::Status,
    pub(super) subject: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) stage: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) remedy: Option<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) missing: Vec<String>,
    pub(super) proposal: &'a str,
}

/// 3.11
#[derive(Debug, Serialize)]
pub(super) struct Message {
    pub(super) text: String,
}

/// 3.28
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Location {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) id: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) message: Option<Message>,
    pub(super) physical_location: PhysicalLocation,
}

/// 3.29
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct PhysicalLocation {
    pub(super) artifact_location: ArtifactLocation,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) region: Option<Region>,
}

/// 3.4
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct ArtifactLocation {
    pub(super) uri: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) uri_base_id: Option<&'static str>,
}

/// 3.30
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Region {
    pub(super) start_line: usize,
    pub(super) start_column: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) end_line: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) end_column: Option<usize>,
}

/// 3.49
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct ReportingDescriptor {
    pub(super) id: String,
    pub(super) short_description: Message,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) full_description: Option<Message>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) help_uri: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) help: Option<Message>,
    pub(super) default_configuration: Configuration,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) properties: Option<RuleProperties>,
}

/// 3.50
#[derive(Debug, Serialize)]
pub(super) struct Configuration {
    pub(super) level: Level,
}

/// What a caution says that the standard has no place for.
#[derive(Debug, Serialize)]
pub(super) struct RuleProperties {
    pub(super) stage: String,
    pub(super) fixed: bool,
}

/// 3.58
#[derive(Debug, Serialize)]
pub(super) struct Notification {
    pub(super) level: Level,
    pub(super) message: Message,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) descriptor: Option<DescriptorReference>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) locations: Vec<Location>,
}

/// 3.52
#[derive(Debug, Serialize)]
pub(super) struct DescriptorReference {
    pub(super) id: String,
}

/// 3.20
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Invocation {
    pub(super) execution_successful: bool,
    pub(super) tool_execution_notifications: Vec<Notification>,
}

/// What of a run comes after its results (3.14).
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct RestOfRun<'a> {
    pub(super) tool: ToolOfRun<'a>,
    pub(super) invocations: [Invocation; 1],
    pub(super) column_kind: &'static str,
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub(super) original_uri_base_ids: BTreeMap<&'static str, BaseOfAddresses>,
    pub(super) properties: RunProperties,
}

/// An entry of 3.14.14, which need not have an address.
#[derive(Debug, Serialize)]
pub(super) struct BaseOfAddresses {
    pub(super) description: Message,
}

/// The rules of all reports, and the standing notice, whole.
#[derive(Debug, Serialize)]
pub(super) struct RunProperties {
    #[serde(skip_serializing_if = "BTreeSet::is_empty")]
    pub(super) rulesets: BTreeSet<UsedRuleset>,
    pub(super) notice: Vec<Notice>,
}

/// A ruleset that reports of the run were made by.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub(super) struct UsedRuleset {
    pub(super) ruleset: String,
    pub(super) version: String,
    pub(super) digest: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) file: Option<String>,
}

impl UsedRuleset {
    pub(super) fn of(loaded: &LoadedRuleset) -> Self {
        Self {
            ruleset: loaded.ruleset.clone(),
            version: loaded.version.clone(),
            digest: loaded.digest.clone(),
            file: loaded.file.clone(),
        }
    }
}

/// 3.18
#[derive(Debug, Serialize)]
pub(super) struct ToolOfRun<'a> {
    pub(super) driver: Driver<'a>,
}

/// 3.19
#[derive(Debug, Serialize)]
pub(super) struct Driver<'a> {
    pub(super) name: &'a str,
    pub(super) version: &'a str,
    pub(super) rules: Vec<ReportingDescriptor>,
}
