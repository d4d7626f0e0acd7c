//! The number of a finding beside its limit, or the word that decided.

use std::collections::BTreeSet;

use crate::check::{ClauseReport, FactState, Finding, ReportedNumber};
use crate::formula::Truth;
use crate::report::text::group::Group;

/// So many different values are shown of a group.
const MOST_VALUES: usize = 2;

/// `14.3 % (limit 10 %)`, of several subjects `K4 14.3 %, K7 12 % (limit 10 %)`; or what was given,
/// `wrap torn`. None where nothing short can be said.
pub(super) fn measured(group: &Group<'_>) -> Option<String> {
    let of_each: Vec<(Option<&str>, Compared)> = group
        .findings()
        .filter_map(|finding| Some((finding.subject.own(), compared(finding)?)))
        .collect();
    let (_, first) = of_each.first()?;
    let limit = first
        .limit
        .as_ref()
        .map_or_else(String::new, |limit| format!(" (limit {limit})"));
    let values: BTreeSet<&str> = of_each.iter().map(|(_, one)| one.value.as_str()).collect();
    if values.len() == 1 {
        return Some(format!("{}{limit}", first.value));
    }
    let named = |(own, one): &(Option<&str>, Compared)| {
        format!("{} {}", own.unwrap_or_default(), one.value)
    };
    let shown: Vec<String> = of_each.iter().take(MOST_VALUES).map(named).collect();
    let more = match of_each.len().saturating_sub(MOST_VALUES) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    Some(format!("{}{more}{limit}", shown.join(", ")))
}

/// A value, and the limit that it was held against.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Compared {
    /// The number, or the word that decided: `1.62 V`, `wrap torn`.
    pub value: String,
    /// The limit: `2 V`. None of a word.
    pub limit: Option<String>,
}

/// The number of a finding and its limit, or the word that decided. None where nothing short can be said.
#[must_use]
pub fn compared(finding: &Finding) -> Option<Compared> {
    let clauses = finding.clauses.iter();
    let decided = clauses.filter(|clause| !clause.of_condition && clause.truth != Truth::Yes);
    let mut all = decided.peekable();
    let first = all.next()?;
    // Of several parts the first has the number, if it is held against a limit of the rules.
    let is_whole = all.peek().is_none();
    let has_limit = !first.limits.is_empty();
    let number = numbers(first).filter(|_| is_whole || has_limit);
    number.or_else(|| words(finding))
}

fn numbers(clause: &ClauseReport) -> Option<Compared> {
    let (left, right) = clause.left.as_ref().zip(clause.right.as_ref())?;
    let (value, limit) = match (&left.limit, &right.limit) {
        (Some(_), None) => (right, left),
        _ => (left, right),
    };
    let known = |number: &&ReportedNumber| !number.is_unknown();
    let value = Some(value).filter(known)?.to_string();
    let limit = Some(limit).filter(known).map(ToString::to_string);
    Some(Compared { value, limit })
}

/// What was given of the only fact that decided, where it is a word.
fn words(finding: &Finding) -> Option<Compared> {
    let own = finding
        .facts
        .iter()
        .filter(|fact| fact.subject == finding.subject);
    let mut given = own.filter(|fact| fact.state != FactState::Missing);
    let (only, None) = (given.next()?, given.next()) else {
        return None;
    };
    let name = only.name.rsplit('.').next().unwrap_or_default();
    let word = only.value.as_ref()?.to_string();
    if !word.starts_with(char::is_alphabetic) {
        return None;
    }
    let value = format!("{} {word}", name.replace('_', " "));
    Some(Compared { value, limit: None })
}
