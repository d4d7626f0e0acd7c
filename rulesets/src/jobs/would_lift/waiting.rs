//! Which answers a finding waits for.
//!
//! What is not among the missing facts of a finding cannot lift it, whatever its value. So an answer
//! that is the only one a finding waits for is in every set that is enough; and so many findings that
//! share no answer take as many answers at the least.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet, HashSet};

use rules_core::check::{FactPlace, FactReport, FactState, Finding, Report, Subject, Verdict};
use rules_core::facts::{FactId, Proposed, Sheet};
use rules_core::ruleset::Rules;

use super::tries::{Answer, Tries};

/// By finding, the answers that it waits for, by their places in a list.
pub(super) struct Waiting(Vec<BTreeSet<usize>>);

impl Waiting {
    /// Of the findings that have a verdict; those are left out of which not all is listed.
    pub(super) fn of(
        report: &Report,
        aim: Verdict,
        answers: &[(Answer, bool)],
        tries: &Tries<'_, '_>,
    ) -> Self {
        let givers = Givers::of(report, answers, tries);
        let holding = report.findings.iter();
        let holding = holding.filter(|finding| finding.verdict >= aim && finding.more_facts == 0);
        Self(holding.filter_map(|one| givers.of_finding(one)).collect())
    }

    /// The answers that some finding waits for and for no other.
    pub(super) fn forced(&self) -> BTreeSet<usize> {
        let alone = self.0.iter().filter(|one| one.len() == 1);
        alone.flatten().copied().collect()
    }

    /// So many answers it takes at the least: findings that share none, the narrowest first.
    pub(super) fn at_least(&self) -> usize {
        let mut narrowest: Vec<&BTreeSet<usize>> = self.0.iter().collect();
        narrowest.sort_by_key(|one| (one.len(), *one));
        let mut taken: BTreeSet<usize> = BTreeSet::new();
        let mut count = 0;
        for one in narrowest {
            if taken.is_disjoint(one) {
                taken.extend(one);
                count += 1;
            }
        }
        count
    }

    /// Whether every finding waits for one of some answers.
    pub(super) fn are_met_by(&self, some: &BTreeSet<usize>) -> bool {
        self.0.iter().all(|one| !one.is_disjoint(some))
    }
}

/// By fact and subject, the answers that give it.
struct Givers(BTreeMap<(Cow<'static, str>, Subject), BTreeSet<usize>>);

impl Givers {
    fn of(report: &Report, answers: &[(Answer, bool)], tries: &Tries<'_, '_>) -> Self {
        let at: BTreeMap<&str, usize> = answers
            .iter()
            .enumerate()
            .map(|(at, (answer, _))| (answer.place.as_str(), at))
            .collect();
        let mut all = Self(BTreeMap::new());
        for next in report.measure_next.iter().filter(|next| next.missing) {
            let Some(place) = report.places.get(&next.fact) else {
                continue;
            };
            let paths = paths(place, &next.subject);
            let own = paths
                .iter()
                .filter_map(|path| at.get(path.as_str()).copied());
            let of = (next.fact.clone(), next.subject.clone());
            all.0.entry(of).or_default().extend(own);
        }
        all.add_read_out(answers, tries);
        all
    }

    /// Adds what is read out of an answer besides: a text can say several facts.
    fn add_read_out(&mut self, answers: &[(Answer, bool)], tries: &Tries<'_, '_>) {
        let rules = tries.rules();
        let Some(plain) = known(&[], tries) else {
            return;
        };
        for (at, (answer, says_several)) in answers.iter().enumerate() {
            let with = says_several.then(|| known(std::slice::from_ref(answer), tries));
            for new in with
                .flatten()
                .iter()
                .flat_map(|with| with.difference(&plain))
            {
                let (fact, name) = new;
                let fact = rules.catalogue().fact_name(*fact);
                for (_, givers) in self.0.iter_mut().filter(|((of, subject), _)| {
                    of == fact && subject.name().unwrap_or_default() == name
                }) {
                    givers.insert(at);
                }
            }
        }
    }

    /// The answers that give one of the missing facts of a finding; none where one is given by no answer.
    fn of_finding(&self, finding: &Finding) -> Option<BTreeSet<usize>> {
        let missing = finding.facts.iter();
        let missing = missing.filter(|fact| fact.state == FactState::Missing);
        let mut all = BTreeSet::new();
        for fact in missing {
            let givers = self.of_fact(fact).filter(|givers| !givers.is_empty())?;
            all.extend(givers);
        }
        (!all.is_empty()).then_some(all)
    }

    fn of_fact(&self, fact: &FactReport) -> Option<&BTreeSet<usize>> {
        self.0.get(&(fact.name.clone(), fact.subject.clone()))
    }
}

/// Where a fact can be written: by itself, or in one word with others.
pub(super) fn paths(place: &FactPlace, of: &Subject) -> Vec<String> {
    let word = place.in_one_word.as_ref().map(|word| {
        let mut of_word = place.clone();
        of_word.key = Some(word.key.clone());
        of_word.path(of)
    });
    std::iter::once(place.path(of)).chain(word).collect()
}

/// The facts that a plan with answers gives, each with the name of whom it is of.
fn known(answers: &[Answer], tries: &Tries<'_, '_>) -> Option<HashSet<(FactId, String)>> {
    let proposal = tries.proposal(answers)?;
    let sheet = proposal.facts(tries.rules().catalogue()).ok()?;
    Some(given(&sheet, tries.rules()))
}

fn given(sheet: &Sheet, rules: &Rules) -> HashSet<(FactId, String)> {
    let catalogue = rules.catalogue();
    let mut all = HashSet::new();
    for (fact, def) in catalogue.facts() {
        let slot = catalogue.slot(fact);
        for position in 0..sheet.count(def.subject) {
            if sheet.given(def.subject, position, slot).is_none() {
                continue;
            }
            let one = sheet.instance(def.subject, position);
            let name = one.filter(|_| catalogue.is_many(def.subject));
            all.insert((fact, name.map_or_else(String::new, |one| one.name.clone())));
        }
    }
    all
}
