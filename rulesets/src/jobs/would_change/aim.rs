//! What a change is to reach.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rules_core::check::{Brief, Report, Status, Verdict};

/// That a plan is refused no more: by what surely speaks against it; or, where that is nothing, by
/// what is in doubt.
#[derive(Debug)]
pub(super) struct Aim {
    /// Whether it is refused whatever the answers to its questions are.
    surely: bool,
    /// The cautions that refuse, with the entries of lists that they are of.
    refusing: BTreeMap<Arc<str>, BTreeSet<String>>,
}

impl Aim {
    /// None of a plan that is not refused, or of which an answer is missing that could lift it: then
    /// the questions come first.
    pub(super) fn of(report: &Report) -> Option<Self> {
        let now = report.gravest();
        let surely = now.best == Verdict::Refuse;
        let mut refusing: BTreeMap<Arc<str>, BTreeSet<String>> = BTreeMap::new();
        for finding in &report.findings {
            if refuses(finding.verdict, finding.status, surely) {
                let of = refusing.entry(Arc::clone(&finding.caution)).or_default();
                of.extend(finding.subject.name().map(str::to_owned));
            }
        }
        let waits = |status| status == Status::Unmeasured && !surely;
        let mut all = report.findings.iter();
        let waiting =
            all.any(|finding| finding.verdict == Verdict::Refuse && waits(finding.status));
        (now.verdict == Verdict::Refuse && !refusing.is_empty() && !waiting)
            .then_some(Self { surely, refusing })
    }

    /// How many cautions refuse.
    pub(super) fn against(&self) -> usize {
        self.refusing.len()
    }

    /// The cautions that refuse in a check.
    pub(super) fn left(&self, brief: &Brief) -> BTreeSet<Arc<str>> {
        let left = brief.findings.iter();
        let left = left.filter(|one| refuses(one.verdict, one.status, self.surely));
        left.map(|one| Arc::clone(&one.caution)).collect()
    }

    /// Whether leaving a value open shows that no value is enough. What is missing holds a verdict,
    /// and not what could be the best.
    pub(super) const fn can_be_ruled_out(&self) -> bool {
        self.surely
    }

    /// How many of the cautions are of an entry.
    pub(super) fn of_entry(&self, name: &str) -> usize {
        let of = self.refusing.values();
        of.filter(|names| names.contains(name)).count()
    }

    /// The cautions that refuse, by id.
    pub(super) fn refusing(&self) -> impl Iterator<Item = &Arc<str>> {
        self.refusing.keys()
    }
}

/// Whether a finding is one of those that are to be lifted.
fn refuses(verdict: Verdict, status: Status, surely: bool) -> bool {
    verdict == Verdict::Refuse && (!surely || status == Status::Decided)
}
