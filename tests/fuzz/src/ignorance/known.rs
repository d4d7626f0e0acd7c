//! Classes of violations that are known and not mended yet. Each goes with its line in [`KNOWN`].

use super::Violation;

/// A class: its name, and whether a violation is of it.
type Known = (&'static str, fn(&Violation) -> bool);

/// All of them.
const KNOWN: &[Known] = &[
    ("two readings are joined", |it| it.is_told_twice()),
    ("figures at their middle", |it| it.simple && it.on_figures),
    ("packs are left out", |it| it.is_without_packs()),
    ("names with spaces", |it| it.is_respelt()),
];

/// The class that a violation is of, if it is known.
pub(super) fn class(violation: &Violation) -> Option<&'static str> {
    let of = |(_, is): &&Known| is(violation);
    KNOWN.iter().find(of).map(|(name, _)| *name)
}
