//! Groups of findings in the order of their subjects, and lists of subjects.

use std::cmp::Ordering;

use crate::check::{Finding, Subject};
use crate::report::alike;
pub(super) use crate::report::alike::Group;

/// Lists of subjects name so many and count the rest.
const MOST_NAMED: usize = 12;

/// The groups of findings with their subjects in the order in which people count.
pub(super) fn groups(findings: &[Finding]) -> Vec<Group<'_>> {
    let mut groups = alike::groups(findings);
    groups.iter_mut().for_each(sort);
    groups
}

fn sort(group: &mut Group<'_>) {
    let by_subject = |a: &&Finding, b: &&Finding| as_people_count(&a.subject, &b.subject);
    group.more.sort_by(by_subject);
    if let Some(least) = group
        .more
        .first_mut()
        .filter(|least| by_subject(least, &group.first) == Ordering::Less)
    {
        std::mem::swap(least, &mut group.first);
        group.more.sort_by(by_subject);
    }
}

impl Group<'_> {
    /// The subjects in words.
    pub(super) fn subjects(&self) -> String {
        subjects(self.findings().map(|finding| &finding.subject))
    }
}

/// `cable K4, K7, group A`: in order, the kind said once; a space between kind and name does not
/// break.
pub(super) fn subjects<'r>(all: impl Iterator<Item = &'r Subject>) -> String {
    let mut all: Vec<&Subject> = all.collect();
    all.sort_by(|a, b| as_people_count(a, b));
    all.dedup();
    let mut text = String::new();
    let mut before = "";
    for subject in all.iter().take(MOST_NAMED) {
        let kind = subject.kind();
        let comma = if text.is_empty() { "" } else { ", " };
        match subject.own_with_count() {
            None => text += &format!("{comma}{kind}"),
            Some(own) if kind == before => text += &format!("{comma}{own}"),
            Some(own) => text += &format!("{comma}{kind}\u{a0}{own}"),
        }
        before = kind;
    }
    match all.len().saturating_sub(MOST_NAMED) {
        0 => text,
        rest => format!("{text} and {rest} more"),
    }
}

/// By kind, then in the order in which people count.
fn as_people_count(a: &Subject, b: &Subject) -> Ordering {
    let of_names = || as_names_count(a.own().unwrap_or_default(), b.own().unwrap_or_default());
    let by_kind = a.kind().cmp(b.kind());
    by_kind.then_with(of_names).then_with(|| a.cmp(b))
}

/// The order of names with numbers in them: `K2` before `K10`.
#[must_use]
pub fn as_names_count(a: &str, b: &str) -> Ordering {
    let (a_word, a_number) = name_and_number(a);
    let (b_word, b_number) = name_and_number(b);
    (a_word, a_number.len(), a_number, a).cmp(&(b_word, b_number.len(), b_number, b))
}

/// What is before the number at the end, and the number without leading zeros.
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
        let names = ["K10", "K2", "K02", "K", "B3", "K1"];
        let mut all = names.map(|name| Subject::named("cable", name)).to_vec();
        all.push(Subject::only("annex"));
        all.sort_by(as_people_count);
        let sorted: Vec<String> = all.iter().map(Subject::in_words).collect();
        assert_eq!(
            sorted,
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
        let list = |all: &[Subject]| subjects(all.iter()).replace('\u{a0}', " ");
        let (cable, group) = (
            |name: &str| Subject::named("cable", name),
            |name: &str| Subject::named("group", name),
        );
        assert_eq!(list(&[Subject::only("annex")]), "annex");
        assert_eq!(list(&[cable("K4"), cable("K7")]), "cable K4, K7");
        assert_eq!(
            list(&[cable("K4"), group("A"), group("B")]),
            "cable K4, group A, B"
        );
        let many: Vec<Subject> = (1..=14).map(|number| cable(&number.to_string())).collect();
        assert!(list(&many[..12]).ends_with(", 12"));
        assert!(list(&many[..13]).ends_with(", 12 and 1 more"));
        let unlisted = Subject::not_listed("cable", "(not listed)", 3);
        assert_eq!(
            list(&[cable("K4"), unlisted]),
            "cable (not listed; 3 of them), K4"
        );
    }
}
