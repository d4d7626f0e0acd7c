//! What a ruleset sees.

use std::collections::{BTreeMap, BTreeSet};

use crate::quantity::{Holds, Interval, Kind, Measure, Meter};
use crate::ruleset::adjustment::Adjustment;
use crate::ruleset::layer::{Layer, UnreadNames};
use crate::ruleset::loosening::Loosening;
use crate::ruleset::model::{Acceptance, Basis, Stricter};

/// A limit as a ruleset sees it.
#[derive(Debug, Clone)]
pub(crate) struct SeenLimit {
    /// The layer that defines it, and its place there.
    pub layer: usize,
    pub index: usize,
    pub stricter: Stricter,
    pub value: Measure,
    pub written: String,
    pub kind: Kind,
    /// What it was adjusted from and to, the first of a ruleset and those it extends first.
    pub adjusted: Vec<Adjustment>,
    /// Why it is laxer than it was seen to be, if it is.
    pub loosened: Vec<Loosening>,
    /// What it was before it was loosened.
    pub before: Option<Measure>,
}

impl SeenLimit {
    /// Whether a value asks at least as much as this one.
    pub(super) fn is_met_by(&self, value: Measure) -> bool {
        asks_at_least(self.stricter, value, self.value)
    }

    /// Whether a value undoes every loosening so far.
    pub(super) fn is_restored_by(&self, value: Measure) -> bool {
        self.before
            .is_some_and(|before| asks_at_least(self.stricter, value, before))
    }
}

/// Whether a limit with the one value asks at least as much as with the other.
pub(super) fn asks_at_least(stricter: Stricter, new: Measure, old: Measure) -> bool {
    let (new, old) = (new.range(), old.range());
    let (new, old) = if stricter == Stricter::Higher {
        (new, old)
    } else {
        (old, new)
    };
    let at_least = |a: f64, b: f64| Interval::point(b).at_most(Interval::point(a)) == Holds::Yes;
    at_least(new.lo(), old.lo()) && at_least(new.hi(), old.hi())
}

/// A meter that a ruleset sees to be assumed.
#[derive(Debug, Clone)]
pub(crate) struct SeenMeter {
    pub meter: Meter,
    pub written: String,
    pub basis: Vec<Basis>,
    /// Why it is better than what was assumed before, if it is.
    pub loosened: Vec<Loosening>,
    /// What was assumed before that.
    pub before: Vec<Meter>,
}

/// A caution as a ruleset sees it.
#[derive(Debug, Clone)]
pub(crate) struct SeenCaution {
    /// The layer that defines it, and its place there.
    pub layer: usize,
    pub index: usize,
    /// Why it does not apply any more, if it was dropped.
    pub dropped: Vec<Loosening>,
    /// The stage that it is of; none, if it is of every stage.
    pub stage: Option<String>,
    /// Why it is of another stage than it was, if it was moved.
    pub moved: Vec<Loosening>,
}

/// Everything a ruleset sees.
#[derive(Debug, Clone, Default)]
pub(crate) struct View {
    /// The stages that may be named.
    pub stages: BTreeSet<String>,
    pub limits: BTreeMap<String, SeenLimit>,
    /// By kind the meters of which the widest counts.
    pub meters: BTreeMap<String, Vec<SeenMeter>>,
    pub cautions: BTreeMap<String, SeenCaution>,
    pub acceptance: Acceptance,
    pub acceptance_loosened: Vec<Loosening>,
    pub unsure: Unsure,
}

/// What a ruleset cannot see for sure, because of faults where it is defined or changed. Nothing
/// more is asked of it.
#[derive(Debug, Clone, Default)]
pub(crate) struct Unsure {
    /// Stages that exist.
    pub stages: UnreadNames,
    /// Limits that exist, but whose value is not known.
    pub limits: UnreadNames,
    /// Meters that are assumed, but not known how wide.
    pub meters: UnreadNames,
    /// Cautions.
    pub cautions: UnreadNames,
    /// Whether any limit or meter may have been changed.
    pub changes: bool,
    /// Whether acceptance may have been.
    pub acceptance: bool,
}

impl Unsure {
    pub(super) fn join(&mut self, other: &Self) {
        self.stages.join(&other.stages);
        self.limits.join(&other.limits);
        self.meters.join(&other.meters);
        self.cautions.join(&other.cautions);
        self.changes |= other.changes;
        self.acceptance |= other.acceptance;
    }

    /// Adds what could not be read of a layer's definitions.
    pub(super) fn define(&mut self, layer: &Layer) {
        self.stages.join(&layer.unread.stages);
        self.limits.join(&layer.unread.limits);
        self.meters.join(&layer.unread.meters);
        self.cautions.join(&layer.unread.cautions);
        self.acceptance |= layer.unread.acceptance;
    }
}
