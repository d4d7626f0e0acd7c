//! The entries of a map whose keys are written more than once, or which a comma has split.

use std::borrow::Cow;
use std::collections::{BTreeSet, HashMap};

use super::node::{Content, Entry, Scalar};
use super::source::{Source, Span};
use super::units::Quotes;

/// Entries whose key was in the map before, with the place where it was last.
pub(super) fn repeated<'e, 's>(entries: &'e [Entry<'s>]) -> Vec<(&'e Entry<'s>, Span)> {
    /// With so few, comparing each with each is faster than hashing.
    const FEW: usize = 64;
    if entries.len() > FEW {
        let mut seen = HashMap::with_capacity(entries.len());
        return entries
            .iter()
            .filter_map(|entry| Some((entry, seen.insert(&*entry.key, entry.key_span)?)))
            .collect();
    }
    let before = |at: usize, key: &str| {
        entries
            .iter()
            .take(at)
            .rfind(|entry| entry.key == key)
            .map(|entry| entry.key_span)
    };
    let mut marks = 0_u64;
    let mut may_be_repeated = |key: &str| {
        let mark = 1 << (key_number(key) % 64);
        let met = marks & mark != 0;
        marks |= mark;
        met
    };
    entries
        .iter()
        .enumerate()
        .filter(|(_, entry)| may_be_repeated(&entry.key))
        .filter_map(|(at, entry)| Some((entry, before(at, &entry.key)?)))
        .collect()
}

/// A number that equal keys share and few others do.
pub(crate) fn key_number(key: &str) -> usize {
    let [first, between @ .., last] = key.as_bytes() else {
        return 0;
    };
    let middle = between.get(between.len() / 2).copied().unwrap_or(0);
    usize::from(*first) + 5 * usize::from(middle) + 7 * usize::from(*last) + key.len()
}

/// Entries of which no two have one key: of a key that is written more than once the first value,
/// or the entries of all, if they are maps.
pub(super) fn joined(entries: Vec<Entry<'_>>) -> Vec<Entry<'_>> {
    let mut at = HashMap::with_capacity(entries.len());
    let (mut kept, mut grown): (Vec<Entry<'_>>, BTreeSet<usize>) = Default::default();
    for entry in entries {
        let first = *at.entry(entry.key.clone()).or_insert(kept.len());
        match kept.get_mut(first).map(|first| &mut first.node.content) {
            None => kept.push(entry),
            Some(Content::Map(all)) => {
                if let Content::Map(more) = entry.node.content {
                    all.extend(more);
                    grown.insert(first);
                }
            }
            Some(_) => {}
        }
    }
    for first in grown {
        if let Some(Content::Map(all)) = kept.get_mut(first).map(|first| &mut first.node.content) {
            *all = joined(std::mem::take(all));
        }
    }
    kept
}

/// Joins entries that a comma in a number has split, so that what follows the comma became a key.
pub(super) fn unsplit<'s>(source: &'s Source, entries: Vec<Entry<'s>>) -> Vec<Entry<'s>> {
    let without_value = |entry: &Entry<'_>| matches!(entry.node.content, Content::Nothing);
    if !entries.iter().any(without_value) {
        return entries;
    }
    let mut kept: Vec<Entry<'s>> = Vec::with_capacity(entries.len());
    for entry in entries {
        match kept.last_mut() {
            Some(before) if without_value(&entry) && is_split(source, before, &entry) => {
                let span = Span {
                    start: before.node.span.start,
                    end: entry.key_span.end,
                };
                let text = Cow::Borrowed(source.slice(span));
                let quotes = Quotes::None;
                let split = true;
                before.node.content = Content::Scalar(Scalar {
                    text,
                    quotes,
                    split,
                });
                before.node.span = span;
            }
            _ => kept.push(entry),
        }
    }
    kept
}

/// Whether a value ends with a digit, and after a comma alone a key begins with one.
fn is_split(source: &Source, before: &Entry<'_>, after: &Entry<'_>) -> bool {
    let between = Span {
        start: before.node.span.end,
        end: after.key_span.start,
    };
    let written = source.slice(before.node.span);
    let key = source.slice(after.key_span);
    before.node.scalar().is_some()
        && source.slice(between) == ","
        && written.ends_with(|letter: char| letter.is_ascii_digit())
        && key.starts_with(|letter: char| letter.is_ascii_digit())
}
