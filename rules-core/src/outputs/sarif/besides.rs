//! What stands beside the results of a run.

use std::collections::{BTreeMap, BTreeSet};

use super::model::{Notification, ReportingDescriptor, UsedRuleset};
use crate::report::text::InTheOpen;

/// Rules and notifications, which come after all results.
#[derive(Debug, Default)]
pub(in crate::outputs) struct Besides {
    /// The rules that results are of, by name.
    pub(super) rules: BTreeMap<String, ReportingDescriptor>,
    pub(super) notifications: Vec<Notification>,
    /// The rulesets that reports were made by, each once.
    pub(super) rulesets: BTreeSet<UsedRuleset>,
    /// What weakens checks, with the proposals that it does so of.
    pub(super) in_the_open: BTreeMap<InTheOpen, BTreeSet<String>>,
    /// Whether there was something that could not be used.
    pub(super) unusable: bool,
    /// Whether a place in a shipped ruleset is named.
    pub(super) names_shipped: bool,
}

impl Besides {
    /// Takes what stands beside further results.
    pub(in crate::outputs) fn take(&mut self, other: Self) {
        for (id, rule) in other.rules {
            self.rules.entry(id).or_insert(rule);
        }
        self.notifications.extend(other.notifications);
        self.rulesets.extend(other.rulesets);
        for (one, proposals) in other.in_the_open {
            self.in_the_open.entry(one).or_default().extend(proposals);
        }
        self.unusable |= other.unusable;
        self.names_shipped |= other.names_shipped;
    }
}
