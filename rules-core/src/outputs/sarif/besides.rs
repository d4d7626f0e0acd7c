//! What stands beside the results of a run.

use std::collections::BTreeMap;

use super::model::{Notification, ReportingDescriptor};

/// Rules and notifications, which come after all results.
#[derive(Debug, Default)]
pub(in crate::outputs) struct Besides {
    /// The rules that results are of, by name.
    pub(super) rules: BTreeMap<String, ReportingDescriptor>,
    pub(super) notifications: Vec<Notification>,
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
        self.unusable |= other.unusable;
        self.names_shipped |= other.names_shipped;
    }
}
