//! Findings that say the same of several subjects, put together, and lists of subjects.

use std::cmp::Ordering;

use crate::report::Finding;

/// Lists of subjects name so many and count the rest.
const MOST_NAMED: usize = 12;

/// Findings of one caution with one outcome: one or more.
#[derive(Debug, Clone)]
pub(super) struct Group<'r> {
    pub first: &'r Finding,
    more: Vec<&'r Finding>,
}

impl<'r> Group<'r> {
    /// All findings of the group.
    pub(super) fn findings(&self) -> impl Iterator<Item = &'r Finding> + Clone + '_ {
        std::iter::once(self.first).chain(self.more.iter().copied())
    }

    pub(super) fn len(&self) -> usize {
        1 + self.more.len()
    }

    /// The subjects in words.
    pub(super) fn subjects(&self) -> String {
        subjects(self.findings().map(|finding| finding.subject.as_str()))
    }

    /// What all findings of the group have in common; none if they differ.
    pub(super) fn common<T: PartialEq>(&self, of: impl Fn(&'r Finding) -> T) -> Option<T> {
        let first = of(self.first);
        self.more
            .iter()
            .all(|finding| of(finding) == first)
            .then_some(first)
    }

    fn sort(&mut self) {
        let by_subject = |a: &&Finding, b: &&Finding| as_people_count(&a.subject, &b.subject);
        self.more.sort_by(by_subject);
        if let Some(least) = self
            .more
            .first_mut()
            .filter(|least| by_subject(least, &self.first) == Ordering::Less)
        {
            std::mem::swap(least, &mut self.first);
            self.more.sort_by(by_subject);
        }
    }

    fn takes(&self, finding: &Finding) -> bool {
        let outcome = |one: &Finding| (one.verdict, one.best, one.worst, one.status, one.rung);
        self.first.caution == finding.caution && outcome(self.first) == outcome(finding)
    }
}

/// The findings in groups, each where its first finding stands.
pub(super) fn groups(findings: &[Finding]) -> Vec<Group<'_>> {
    let mut groups: Vec<Group<'_>> = Vec::new();
    for finding in findings {
        // Findings of one caution and verdict stand together, so the group is among the last few.
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
    groups.iter_mut().for_each(Group::sort);
    groups
}

/// More outcomes than one caution can have with one verdict.
const MOST_OUTCOMES: usize = 16;

/// `cable K4, K7, group A`: in order, the kind said once; a space between kind and name does not
/// break.
pub(super) fn subjects<'r>(all: impl Iterator<Item = &'r str>) -> String {
    let mut all: Vec<&str> = all.collect();
    all.sort_by(|a, b| as_people_count(a, b));
    all.dedup();
    let mut text = String::new();
    let mut before = "";
    for subject in all.iter().take(MOST_NAMED) {
        let (kind, name) = subject.split_once(' ').unwrap_or((subject, ""));
        let comma = if text.is_empty() { "" } else { ", " };
        match name {
            "" => text += &format!("{comma}{kind}"),
            name if kind == before => text += &format!("{comma}{name}"),
            name => text += &format!("{comma}{kind}\u{a0}{name}"),
        }
        before = kind;
    }
    match all.len().saturating_sub(MOST_NAMED) {
        0 => text,
        rest => format!("{text} and {rest} more"),
    }
}

/// The order of names with numbers in them: `K2` before `K10`.
fn as_people_count(a: &str, b: &str) -> Ordering {
    let (a_word, a_number) = name_and_number(a);
    let (b_word, b_number) = name_and_number(b);
    (a_word, a_number.len(), a_number, a).cmp(&(b_word, b_number.len(), b_number, b))
}

/// What stands before the number at the end, and the number without leading zeros.
fn name_and_number(name: &str) -> (&str, &str) {
    let word = name.trim_end_matches(|letter: char| letter.is_ascii_digit());
    (
        word,
        name.get(word.len()..)
            .unwrap_or_default()
            .trim_start_matches('0'),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_in_the_order_people_count() {
        let mut names = [
            "cable K10",
            "cable K2",
            "cable K02",
            "cable K",
            "annex",
            "cable B3",
            "cable K1",
        ];
        names.sort_by(|a, b| as_people_count(a, b));
        assert_eq!(
            names,
            [
                "annex",
                "cable B3",
                "cable K",
                "cable K1",
                "cable K02",
                "cable K2",
                "cable K10"
            ]
        );
    }

    #[test]
    fn subjects_are_named_shortly() {
        let list = |all: &[&str]| subjects(all.iter().copied()).replace('\u{a0}', " ");
        assert_eq!(list(&["annex"]), "annex");
        assert_eq!(list(&["cable K4", "cable K7"]), "cable K4, K7");
        assert_eq!(
            list(&["cable K4", "group A", "group B"]),
            "cable K4, group A, B"
        );
        let many: Vec<String> = (1..=14).map(|number| format!("cable {number}")).collect();
        let many: Vec<&str> = many.iter().map(String::as_str).collect();
        assert!(list(&many[..12]).ends_with(", 12"));
        assert!(list(&many[..13]).ends_with(", 12 and 1 more"));
    }
}
