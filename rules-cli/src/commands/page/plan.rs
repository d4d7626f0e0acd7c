//! A plan as the browser holds it, and what a check says of it.

use std::collections::BTreeSet;
use std::sync::Arc;

use rules_core::check::{Options, Report};
use rules_core::document::ProblemList;
use rules_core::ruleset::Rules;
use rulesets::bench::{Bench, Plan};
use rulesets::jobs::{Trial, would_lift_without};
use rulesets::proposal::Draft;
use serde::Deserialize;
use serde_json::Value;

use super::desk::Desk;

/// What the browser sends with each request about a plan.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Sent {
    /// The name of its file.
    pub(super) name: String,
    /// All of it.
    pub(super) plan: Value,
    /// Of which file it was read: its digest; empty for a new one.
    #[serde(default)]
    pub(super) digest: String,
    /// The places of which nobody knows what belongs there.
    #[serde(default)]
    pub(super) not_known: BTreeSet<String>,
    /// What else is asked for: a part, a fact, a name.
    #[serde(default)]
    pub(super) about: String,
}

/// A plan with its bench and its rules.
pub(super) struct AtHand {
    pub(super) draft: Draft,
    pub(super) bench: Option<Arc<Bench>>,
    pub(super) rules: Arc<Rules>,
}

impl AtHand {
    /// Finds what a plan is checked with.
    pub(super) fn of(name: &str, plan: &Value, desk: &Desk) -> Result<Self, ProblemList> {
        let mut draft = Draft::of(name, plan.clone());
        let named = draft.remove("bench")?;
        let named = named.as_ref().and_then(Value::as_str);
        let bench = named.map(|named| desk.bench_of(name, named)).transpose()?;
        let rules = desk.rules_with(bench.as_deref())?;
        Ok(Self {
            draft,
            bench,
            rules,
        })
    }

    pub(super) fn trial(&self) -> Trial<'_> {
        Trial::beside(
            self.bench.as_ref(),
            self.draft.clone(),
            &self.rules,
            Options::default(),
        )
    }

    /// The report, and no more.
    pub(super) fn report(&self) -> Result<Report, ProblemList> {
        self.trial().report()
    }

    /// The report with the answers that would lift its verdict, so that these are asked first.
    pub(super) fn asking(&self, not_known: &BTreeSet<String>) -> Result<Report, ProblemList> {
        let trial = self.trial();
        let mut report = trial.report()?;
        report.would_lift = would_lift_without(&trial, &report, not_known);
        Ok(report)
    }

    /// The plan with all that it takes from its bench, as far as that can be told.
    pub(super) fn plain(&self) -> Value {
        let Some(bench) = &self.bench else {
            return self.draft.value().clone();
        };
        let plain = Plan::of_draft_beside(&self.draft, bench)
            .and_then(|plan| plan.plain_value(&self.rules));
        plain.unwrap_or_else(|_| self.draft.value().clone())
    }
}

/// What stands at a path of a plan: `cells[K4].rest.voltage`.
pub(super) fn value_at<'v>(plan: &'v Value, path: &str) -> Option<&'v Value> {
    let (list, rest) = match path.split_once('[') {
        None => return path.split('.').try_fold(plan, |at, key| at.get(key)),
        Some((list, rest)) => (list, rest.split_once(']')?),
    };
    let (id, keys) = rest;
    let entry = plan.get(list)?.as_array()?.iter();
    let entry = entry.into_iter().find(|entry| id_of(entry) == Some(id))?;
    let mut keys = keys.split('.').filter(|key| !key.is_empty());
    keys.try_fold(entry, |at, key| at.get(key))
}

/// The name of an entry of a list: that of a bench stands by itself, or under `of`.
pub(super) fn id_of(entry: &Value) -> Option<&str> {
    let named = entry.get("id").or_else(|| entry.get("of"));
    named.unwrap_or(entry).as_str()
}

/// A value as it is written into a field.
pub(super) fn written(value: &Value) -> Option<String> {
    match value {
        Value::String(text) => Some(text.clone()),
        Value::Number(number) => Some(number.to_string()),
        Value::Bool(yes) => Some(if *yes { "yes" } else { "no" }.to_owned()),
        _ => None,
    }
}
