//! What pieces come to, told: by which cautions, and what leaves them open.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rules_core::check::{BriefFinding, Finding, Report, Subject, Verdict};
use rules_core::document::ProblemList;
use rules_core::ruleset::Rules;

use super::axis::Axis;
use super::open::open_facts;
use super::probe::{Came, Judged, Probe, Supposed, Values};
use super::report::{Class, RangeApart, RangeCaution, RangeFound, RangeOpen};
use super::search::{Corner, Piece, Why, values};

/// A finding apart from its reasons: whose caution it is, of whom, and what it says.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Said {
    caution: Arc<str>,
    subject: Subject,
    verdict: Verdict,
    best: Verdict,
}

impl Said {
    fn of(finding: &BriefFinding) -> Self {
        Self {
            caution: Arc::clone(&finding.caution),
            subject: finding.subject.clone(),
            verdict: finding.verdict,
            best: finding.best,
        }
    }

    fn is_settled(&self) -> bool {
        self.verdict == self.best
    }

    fn is_same(&self, other: &Self) -> bool {
        self.caution == other.caution && self.subject == other.subject
    }
}

fn said(judged: &Judged) -> Vec<Said> {
    judged.findings.iter().map(Said::of).collect()
}

/// Tells what pieces come to. What leaves them open is looked up once for all that wait for the same
/// cautions.
#[derive(Default)]
pub(super) struct Teller {
    open: BTreeMap<BTreeSet<Arc<str>>, Vec<RangeOpen>>,
}

impl Teller {
    /// What adjoining pieces of one kind come to.
    pub(super) fn found<'r>(
        &mut self,
        pieces: &[Piece],
        axes: &[Axis<'r>],
        probe: &mut Probe<'r>,
    ) -> Result<RangeFound, ProblemList> {
        let (class, alone) = pieces
            .first()
            .map_or((Class::NotSearched, Class::NotSearched), |one| {
                (one.class, one.alone)
            });
        let whole = pieces.iter().filter_map(|one| match &one.why {
            Why::Judged { within, .. } => Some(within.whole),
            _ => None,
        });
        let contradiction = pieces.iter().find_map(|one| match &one.why {
            Why::CannotBe(why) => Some(why.clone()),
            _ => None,
        });
        let speaking = speaking(pieces, alone);
        let open = match alone {
            Class::Open => {
                let middle = pieces.get(pieces.len() / 2);
                let values = middle.map(|one| open_point(one, axes)).unwrap_or_default();
                self.open(&speaking, &values, probe)?
            }
            _ => Vec::new(),
        };
        Ok(RangeFound {
            class,
            alone,
            verdict: whole.clone().map(|came| came.verdict).max(),
            best: whole.map(|came| came.best).min(),
            cautions: told(&speaking, probe.rules()),
            open,
            contradiction,
        })
    }

    /// What single values come to, as an option of a choice.
    pub(super) fn of_values<'r>(
        &mut self,
        values: &Values<'_, 'r>,
        came: &Supposed,
        probe: &mut Probe<'r>,
    ) -> Result<RangeFound, ProblemList> {
        let judged = match came {
            Supposed::Judged(judged) => judged,
            Supposed::CannotBe(why) => {
                return Ok(RangeFound {
                    class: Class::CannotBe,
                    alone: Class::CannotBe,
                    verdict: None,
                    best: None,
                    cautions: Vec::new(),
                    open: Vec::new(),
                    contradiction: Some(why.clone()),
                });
            }
        };
        let all = said(judged);
        let waiting: Vec<Said> = all
            .iter()
            .filter(|one| !one.is_settled())
            .cloned()
            .collect();
        let open = match waiting.is_empty() {
            true => Vec::new(),
            false => self.open(&waiting, values, probe)?,
        };
        Ok(RangeFound {
            class: super::search::class(judged.whole),
            alone: super::search::class(judged.alone),
            verdict: Some(judged.whole.verdict),
            best: Some(judged.whole.best),
            cautions: told(&all, probe.rules()),
            open,
            contradiction: None,
        })
    }

    fn open<'r>(
        &mut self,
        waiting: &[Said],
        values: &Values<'_, 'r>,
        probe: &mut Probe<'r>,
    ) -> Result<Vec<RangeOpen>, ProblemList> {
        let waiting: BTreeSet<Arc<str>> =
            waiting.iter().map(|one| Arc::clone(&one.caution)).collect();
        if let Some(known) = self.open.get(&waiting) {
            return Ok(known.clone());
        }
        if !probe.may_check() {
            return Ok(Vec::new());
        }
        let report = probe.report(values)?;
        let open =
            report.map(|report| open_facts(&report, &waiting, probe.places(), probe.rules()));
        let open = open.unwrap_or_default();
        self.open.insert(waiting, open.clone());
        Ok(open)
    }
}

/// The cautions that are to be named of pieces of one kind.
fn speaking(pieces: &[Piece], alone: Class) -> Vec<Said> {
    let each = pieces.iter().filter_map(|piece| match &piece.why {
        Why::Judged { within, corners } => Some((within, corners)),
        _ => None,
    });
    match alone {
        Class::Warn | Class::Refuse => throughout(each.map(|(within, _)| said(within)).collect()),
        Class::Boundary => joined(each.map(|(within, corners)| changing(within, corners))),
        Class::Open => joined(each.map(|(within, corners)| waiting(within, corners))),
        Class::Pass | Class::CannotBe | Class::NotSearched => Vec::new(),
    }
}

/// What is settled in all of some pieces; what is in any, where nothing of that weight is in all.
fn throughout(pieces: Vec<Vec<Said>>) -> Vec<Said> {
    let settled: Vec<Vec<Said>> = pieces
        .into_iter()
        .map(|all| all.into_iter().filter(Said::is_settled).collect())
        .collect();
    let gravest = |all: &[Said]| all.iter().map(|one| one.verdict).max();
    let any = joined(settled.iter().cloned());
    let in_all = |one: &&Said| {
        settled
            .iter()
            .all(|all| all.iter().any(|other| one.is_same(other)))
    };
    let common: Vec<Said> = any.iter().filter(in_all).cloned().collect();
    if gravest(&common) == gravest(&any) {
        common
    } else {
        any
    }
}

/// What differs from corner to corner; where nothing does, what the width of the piece leaves open.
fn changing(within: &Judged, corners: &[Corner]) -> Vec<Said> {
    let at_corners: Vec<Vec<Said>> = corners.iter().filter_map(at_corner).collect();
    let any = joined(at_corners.iter().cloned());
    let changes = |one: &Said| {
        let verdict = |all: &Vec<Said>| {
            let found = all.iter().find(|other| one.is_same(other));
            found.map_or(Verdict::Pass, |found| found.verdict)
        };
        let mut verdicts = at_corners.iter().map(verdict);
        let first = verdicts.next();
        verdicts.any(|other| Some(other) != first)
    };
    let changing: Vec<Said> = any.into_iter().filter(changes).collect();
    if changing.is_empty() {
        return said(within)
            .into_iter()
            .filter(|one| !one.is_settled())
            .collect();
    }
    changing
}

/// What is open at corners; of single values, what is open there.
fn waiting(within: &Judged, corners: &[Corner]) -> Vec<Said> {
    let at_corners = joined(corners.iter().filter_map(at_corner));
    let all = match corners {
        [] => said(within),
        _ => at_corners,
    };
    all.into_iter().filter(|one| !one.is_settled()).collect()
}

fn at_corner((_, came): &Corner) -> Option<Vec<Said>> {
    match &**came {
        Supposed::Judged(judged) => Some(said(judged)),
        Supposed::CannotBe(_) => None,
    }
}

/// All that is said anywhere, each caution of each subject once, at its gravest.
fn joined(lists: impl Iterator<Item = Vec<Said>>) -> Vec<Said> {
    let mut all: Vec<Said> = Vec::new();
    for one in lists.flatten() {
        match all.iter_mut().find(|known| known.is_same(&one)) {
            Some(known) => {
                known.verdict = known.verdict.max(one.verdict);
                known.best = known.best.min(one.best);
            }
            None => all.push(one),
        }
    }
    all
}

/// The values at a corner that is open; those of the whole piece, where it has no corners.
fn open_point<'a, 'r>(
    piece: &Piece,
    axes: &'a [Axis<'r>],
) -> Vec<(&'a super::named::Varied<'r>, rules_core::facts::Given)> {
    let corners = match &piece.why {
        Why::Judged { corners, .. } => corners.as_slice(),
        _ => &[],
    };
    let is_open = |came: &Supposed| match came {
        Supposed::Judged(judged) => !judged.alone.is_settled(),
        Supposed::CannotBe(_) => false,
    };
    match corners.iter().find(|(_, came)| is_open(came)) {
        Some((point, _)) => values(axes, |at, axis| axis.value_at(*point.get(at)?)),
        None => values(axes, |at, axis| axis.value(piece.steps.get(at)?)),
    }
}

/// Cautions with their titles, the gravest first, then by name.
fn told(all: &[Said], rules: &Rules) -> Vec<RangeCaution> {
    let mut cautions: Vec<RangeCaution> = Vec::new();
    for one in all {
        let own = one.subject.own().map(str::to_owned);
        match cautions
            .iter_mut()
            .find(|known| known.caution == one.caution)
        {
            Some(known) => {
                known.subjects.extend(own);
                known.verdict = known.verdict.max(one.verdict);
                known.best = known.best.min(one.best);
            }
            None => cautions.push(RangeCaution {
                caution: Arc::clone(&one.caution),
                title: title(&one.caution, rules),
                subjects: own.into_iter().collect(),
                verdict: one.verdict,
                best: one.best,
            }),
        }
    }
    for one in &mut cautions {
        one.subjects.sort();
    }
    cautions.sort_by(|one, other| {
        let weight = |caution: &RangeCaution| (caution.verdict, caution.best);
        weight(other)
            .cmp(&weight(one))
            .then_with(|| one.caution.cmp(&other.caution))
    });
    cautions
}

fn title(caution: &Arc<str>, rules: &Rules) -> Arc<str> {
    let found = rules.cautions().iter().find(|one| one.id == *caution);
    found.map_or_else(|| Arc::clone(caution), |one| Arc::clone(&one.title))
}

/// What the cautions come to that the varied facts do not bear on, by a report on the plan.
pub(super) fn apart(report: &Report, probe: &Probe<'_>) -> RangeApart {
    let is_apart = |finding: &&Finding| !probe.bearing().contains(&finding.caution);
    let all: Vec<Said> = report
        .findings
        .iter()
        .filter(is_apart)
        .map(|finding| Said {
            caution: Arc::clone(&finding.caution),
            subject: finding.subject.clone(),
            verdict: finding.verdict,
            best: finding.best,
        })
        .collect();
    let nothing = Came {
        verdict: Verdict::Pass,
        best: Verdict::Pass,
    };
    let came = all.iter().fold(nothing, |so_far, one| Came {
        verdict: so_far.verdict.max(one.verdict),
        best: so_far.best.max(one.best),
    });
    let waiting = all
        .iter()
        .filter(|one| !one.is_settled())
        .map(|one| Arc::clone(&one.caution))
        .collect();
    RangeApart {
        verdict: came.verdict,
        best: came.best,
        cautions: told(&all, probe.rules()),
        open: open_facts(report, &waiting, probe.places(), probe.rules()),
    }
}
