//! Findings that say the same of several subjects, put together: the text shows them as one, and
//! so does what is written.

use crate::check::Finding;

/// Findings of one caution with one outcome: one or more.
#[derive(Debug, Clone)]
pub(super) struct Group<'r> {
    pub first: &'r Finding,
    pub more: Vec<&'r Finding>,
}

impl<'r> Group<'r> {
    /// All findings of the group.
    pub(super) fn findings(&self) -> impl Iterator<Item = &'r Finding> + Clone + '_ {
        std::iter::once(self.first).chain(self.more.iter().copied())
    }

    pub(super) fn len(&self) -> usize {
        1 + self.more.len()
    }

    /// What all findings of the group have in common; none if they differ.
    pub(super) fn common<T: PartialEq>(&self, of: impl Fn(&'r Finding) -> T) -> Option<T> {
        let first = of(self.first);
        self.more
            .iter()
            .all(|finding| of(finding) == first)
            .then_some(first)
    }

    fn takes(&self, finding: &Finding) -> bool {
        let outcome = |one: &Finding| (one.verdict, one.best, one.worst, one.status, one.rung);
        outcome(self.first) == outcome(finding) && self.first.caution == finding.caution
    }
}

/// More outcomes than one caution can have with one verdict.
const MOST_OUTCOMES: usize = 16;

/// The findings in groups, each where its first finding is.
pub(super) fn groups(findings: &[Finding]) -> Vec<Group<'_>> {
    let mut groups: Vec<Group<'_>> = Vec::new();
    for finding in findings {
        // Findings of one caution and verdict are together, so the group is among the last few.
        let group = groups
            .iter_mut()
            .rev()
            .take(MOST_OUTCOMES)
            .find(|group| group.takes(finding));
        match group {
            Some(group) => group.more.push(finding),
            None => groups.push(Group {
                first: finding,
                more: Vec::new(),
            }),
        }
    }
    groups
}
