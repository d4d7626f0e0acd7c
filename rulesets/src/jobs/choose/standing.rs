//! How good a set is beside others, and what is known of that before all of it is checked.

use std::cmp::Ordering;
use std::collections::BTreeSet;

use rules_core::check::{Outcome, Verdict, Weighed};

/// Margins are told apart to this many parts of one.
const PARTS: f64 = 1e9;

/// The whole set is worked out in another order than its parts: the last digits may differ, by less
/// than this.
const ROUNDING: f64 = 1e-13;

/// How good a set is: what is less is better.
///
/// First counts the lowest verdict that is known to be possible, then the verdict; then how many
/// findings refuse whatever is still open, then how many warn so, then how many are open. Sets that
/// are alike in that are compared by their margins, from the narrowest upwards.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Standing {
    pub head: Head,
    /// In parts of the limit, the narrowest first. One that ends is as if wide margins followed.
    margins: Vec<i64>,
}

/// What counts before margins do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Head {
    pub best: Verdict,
    pub verdict: Verdict,
    pub refused: usize,
    pub warned: usize,
    pub open: usize,
}

impl Head {
    const NONE: Self = Self {
        best: Verdict::Pass,
        verdict: Verdict::Pass,
        refused: 0,
        warned: 0,
        open: 0,
    };

    /// Both together.
    pub(super) fn and(self, other: Self) -> Self {
        Self {
            best: self.best.max(other.best),
            verdict: self.verdict.max(other.verdict),
            refused: self.refused + other.refused,
            warned: self.warned + other.warned,
            open: self.open + other.open,
        }
    }

    /// With a mark more.
    pub(super) fn with(self, mark: &Mark) -> Self {
        self.and(Self {
            best: mark.best,
            verdict: mark.verdict,
            refused: usize::from(mark.best == Verdict::Refuse),
            warned: usize::from(mark.best == Verdict::Warn),
            open: usize::from(mark.open),
        })
    }
}

impl Standing {
    /// That of nothing.
    pub(super) const NONE: Self = Self {
        head: Head::NONE,
        margins: Vec::new(),
    };

    /// The worst that a set can stand which passes.
    pub(super) fn narrowest_pass() -> Self {
        Self {
            margins: vec![i64::MIN],
            ..Self::NONE
        }
    }

    /// The same, but for what all sets have alike.
    pub(super) fn without_margins(self) -> Self {
        Self {
            margins: Vec::new(),
            ..self
        }
    }

    /// That of a set which was checked; margins that all sets have alike are left out.
    pub(super) fn of(outcome: Outcome, each: &[Weighed], alike: &BTreeSet<usize>) -> Self {
        let mark = |one: &Weighed| {
            let mark = Mark::exact(one);
            let margin = mark.margin.filter(|_| !alike.contains(&one.caution));
            Mark { margin, ..mark }
        };
        let marks: Vec<Mark> = each.iter().map(mark).collect();
        let standing = Self::NONE.with(marks.iter());
        let head = Head {
            best: outcome.best,
            verdict: outcome.verdict,
            ..standing.head
        };
        Self { head, ..standing }
    }

    /// The same with more marks.
    pub(super) fn with<'m>(&self, marks: impl Iterator<Item = &'m Mark>) -> Self {
        let mut more = Self::NONE;
        for mark in marks {
            more.head = more.head.with(mark);
            more.margins.extend(mark.margin);
        }
        more.margins.sort_unstable();
        self.and(&more)
    }

    /// Both together.
    pub(super) fn and(&self, other: &Self) -> Self {
        Self {
            head: self.head.and(other.head),
            margins: merged(&self.margins, &other.margins),
        }
    }
}

/// Two lists in order as one.
fn merged(one: &[i64], other: &[i64]) -> Vec<i64> {
    let mut all = Vec::with_capacity(one.len() + other.len());
    let (mut one, mut other) = (one.iter().peekable(), other.iter().peekable());
    while let (Some(a), Some(b)) = (one.peek(), other.peek()) {
        let next = if a <= b { one.next() } else { other.next() };
        all.extend(next);
    }
    all.extend(one);
    all.extend(other);
    all
}

impl Ord for Standing {
    fn cmp(&self, other: &Self) -> Ordering {
        self.head
            .cmp(&other.head)
            .then_with(|| by_margins(&self.margins, &other.margins))
    }
}

impl PartialOrd for Standing {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// The wider at the first difference is the better one.
fn by_margins(one: &[i64], other: &[i64]) -> Ordering {
    let differing = one.iter().zip(other).find(|(a, b)| a != b);
    match differing {
        Some((a, b)) => b.cmp(a),
        None => one.len().cmp(&other.len()),
    }
}

/// What one caution came to for one of its subject, or the best that can still come of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Mark {
    pub best: Verdict,
    pub verdict: Verdict,
    pub open: bool,
    pub margin: Option<i64>,
}

impl Mark {
    /// Of what there is no word yet.
    pub(super) const FREE: Self = Self {
        best: Verdict::Pass,
        verdict: Verdict::Pass,
        open: false,
        margin: None,
    };

    /// What a caution came to that nothing will change.
    pub(super) fn exact(weighed: &Weighed) -> Self {
        Self {
            best: weighed.judged.best,
            verdict: weighed.judged.verdict,
            open: weighed.judged.best != weighed.judged.worst,
            margin: weighed.leeway.map(|leeway| parts(leeway.share)),
        }
    }

    /// The best that can still come of a caution that only gets worse, and that surely says this.
    pub(super) fn at_most(weighed: &Weighed, best: Verdict) -> Self {
        let verdict = weighed.least.max(best);
        Self {
            best,
            verdict,
            open: verdict > Verdict::Pass && best == Verdict::Pass,
            margin: weighed.leeway.map(|leeway| parts(leeway.share + ROUNDING)),
        }
    }

    /// Keeps the better of two in each part by itself, and gives back the worse.
    pub(super) fn keep_the_best(&mut self, other: Self) -> Self {
        let both = [*self, other];
        let [best, verdict] = [both.map(|one| one.best), both.map(|one| one.verdict)];
        let open = both.map(|one| one.open);
        // No margin is as wide as can be.
        let margins = both.map(|one| one.margin.unwrap_or(i64::MAX));
        let margin = |wide: i64| Some(wide).filter(|wide| *wide < i64::MAX);
        let of = |place: fn(i64, i64) -> i64, worse: bool| Self {
            best: sorted(best, worse),
            verdict: sorted(verdict, worse),
            open: sorted(open, worse),
            margin: margin(margins.into_iter().reduce(place).unwrap_or(i64::MAX)),
        };
        *self = of(i64::max, false);
        of(i64::min, true)
    }

    /// The worse of two of one caution.
    pub(super) fn worse(self, other: Self) -> Self {
        let verdict = self.verdict.max(other.verdict);
        let best = self.best.max(other.best);
        let margins = [self.margin, other.margin];
        Self {
            best,
            verdict,
            open: verdict > Verdict::Pass && best == Verdict::Pass,
            margin: margins
                .into_iter()
                .flatten()
                .min()
                .filter(|_| verdict == Verdict::Pass),
        }
    }
}

/// The less of two, or the greater.
fn sorted<T: Ord + Copy>([one, other]: [T; 2], greater: bool) -> T {
    if greater {
        one.max(other)
    } else {
        one.min(other)
    }
}

/// A share in whole parts. What is beyond whole numbers is as wide as can be.
#[allow(
    clippy::cast_possible_truncation,
    reason = "a cast to a whole number saturates"
)]
fn parts(share: f64) -> i64 {
    ((share * PARTS).round() as i64).min(i64::MAX - 1)
}
