//! One finding in words, as data: for those who lay it out otherwise than as lines of text.

use super::basis;
use super::clause::ClauseSaid;
use super::finding::not_known;
use super::first_page::{Standing, standing};
use super::group::Group;
use super::opening::doubt;
use crate::check::{Finding, Report};

/// What is said of one finding.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct FindingSaid {
    /// How it stands to the use.
    pub standing: Standing,
    /// How sure it is, where it is not settled.
    pub doubt: Option<String>,
    /// Why. None where answers are missing: no reason accuses then.
    pub reason: Option<String>,
    /// What to do. None where answers are missing.
    pub remedy: Option<String>,
    /// Where the answers belong that it waits for, if it only waits.
    pub not_known: Vec<String>,
    /// The comparisons that decided.
    pub clauses: Vec<ClauseSaid>,
    /// What the caution rests on.
    pub rests_on: Vec<String>,
}

impl FindingSaid {
    /// Of a finding of a report.
    #[must_use]
    pub fn of(finding: &Finding, report: &Report) -> Self {
        let group = Group {
            first: finding,
            more: Vec::new(),
        };
        let standing = standing(finding);
        let is_open = standing == Standing::Open;
        let clauses = finding.clauses.iter();
        let bases = finding.basis.iter();
        Self {
            standing,
            doubt: doubt(finding),
            reason: (!is_open).then(|| finding.reason.to_string()),
            remedy: remedy(finding),
            not_known: match is_open {
                true => not_known(&group, report),
                false => Vec::new(),
            },
            clauses: clauses.map(|one| ClauseSaid::of(one, report)).collect(),
            rests_on: bases.map(|one| basis(one, &report.sources)).collect(),
        }
    }
}

/// What to do; nothing where an answer is due and no cure.
pub(crate) fn remedy(finding: &Finding) -> Option<String> {
    let remedy = finding.remedy.as_ref().map(ToString::to_string);
    remedy.filter(|_| standing(finding) != Standing::Open)
}
