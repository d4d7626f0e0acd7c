//! What of a plan can be changed: the facts that whoever plans decides, and the charger of the bench.

use std::collections::BTreeSet;

use rules_core::check::Subject;
use rules_core::facts::{FactDef, FactId, FactKind, Given, Proposed, Sheet, Value};
use rules_core::quantity::{Interval, Kind};
use rules_core::ruleset::Rules;

use super::aim::Aim;
use super::tries::Edit;
use crate::facts::CHARGING;
use crate::jobs::Trial;
use crate::jobs::reads::Reads;

/// Something of a plan that can be changed.
#[derive(Debug)]
pub(super) struct Knob {
    /// Where it is written: `light.draw`.
    place: String,
    /// What is written there.
    is: String,
    /// The facts that it gives.
    facts: Vec<FactId>,
    pub values: Values,
}

/// What a knob can be set to.
#[derive(Debug, Clone)]
pub(super) enum Values {
    /// A number of a kind.
    Numbers {
        kind: Kind,
        now: f64,
        domain: Interval,
    },
    /// One of these words.
    Words(Vec<String>),
    /// One of these names, of what the bench has.
    OfBench(Vec<String>),
}

impl Knob {
    /// Sets it.
    pub(super) fn set_to(&self, to: &str) -> Edit {
        let (place, is, to) = (self.place.clone(), self.is.clone(), to.to_owned());
        match self.values {
            Values::OfBench(_) => Edit::Taken { place, is, to },
            Values::Words(_) | Values::Numbers { .. } => Edit::Set { place, is, to },
        }
    }

    /// Leaves it open, which stands for every value.
    pub(super) fn left_open(&self) -> Edit {
        let place = match self.values {
            // All of it: a place of the bench says something of it too.
            Values::OfBench(_) => SECTION.to_owned(),
            Values::Words(_) | Values::Numbers { .. } => self.place.clone(),
        };
        let facts = self.facts.clone();
        Edit::LeftOpen { place, facts }
    }
}

/// What some caution that refuses reads, and that can be changed.
pub(super) fn knobs(trial: &Trial<'_>, aim: &Aim, reads: &Reads) -> Option<Vec<Knob>> {
    let rules = trial.rules();
    let proposal = trial.proposal().ok()?;
    let sheet = proposal.facts(rules.catalogue()).ok()?;
    let read: BTreeSet<FactId> = aim
        .refusing()
        .flat_map(|caution| reads.all(caution))
        .collect();
    let mut all: Vec<Knob> = Vec::new();
    let changeable = rules.catalogue().facts().filter(|(_, def)| def.changeable);
    for (id, def) in changeable.filter(|(id, _)| read.contains(id)) {
        let knob = fact(id, def, &sheet, rules);
        all.extend(knob.filter(|knob| all.iter().all(|known| known.place != knob.place)));
    }
    all.extend(charger(trial, &read));
    Some(all)
}

/// The knob of a fact that the plan gives.
fn fact(id: FactId, def: &FactDef, sheet: &Sheet, rules: &Rules) -> Option<Knob> {
    let given = sheet.given(def.subject, 0, rules.catalogue().slot(id))?;
    let subject = Subject::only(rules.catalogue().subject_name(def.subject));
    Some(Knob {
        place: rules.place_of(id)?.path(&subject),
        is: given.written.to_string(),
        facts: at_place(def, rules),
        values: values(def, given)?,
    })
}

/// The facts that are written at the place of one.
fn at_place(def: &FactDef, rules: &Rules) -> Vec<FactId> {
    let key = |one: &FactDef| one.key.clone().or_else(|| one.from.clone());
    facts_of(rules, |one| {
        one.subject == def.subject && key(one) == key(def)
    })
}

fn facts_of(rules: &Rules, is_meant: impl Fn(&FactDef) -> bool) -> Vec<FactId> {
    let all = rules.catalogue().facts();
    all.filter(|(_, def)| is_meant(def))
        .map(|(id, _)| id)
        .collect()
}

fn values(def: &FactDef, given: &Given) -> Option<Values> {
    let words = |all: Vec<String>| {
        let others = all.into_iter().filter(|word| **word != *given.written);
        Some(Values::Words(others.collect()))
    };
    match (&def.kind, &given.value) {
        (FactKind::Number(kind), Value::Number(now)) => Some(Values::Numbers {
            kind: *kind,
            now: now.nominal(),
            domain: def.domain,
        }),
        (FactKind::Choice(options), _) => words(options.clone()),
        (FactKind::YesNo, _) => words(vec!["yes".to_owned(), "no".to_owned()]),
        _ => None,
    }
}

/// Where a plan says how it is charged, and where in it the charger of its bench is named beside
/// something else.
const SECTION: &str = "charging";
const CHARGER: &str = "charging.of";

/// The other chargers of the bench, where the plan takes one from it.
fn charger(trial: &Trial<'_>, read: &BTreeSet<FactId>) -> Option<Knob> {
    let charging = trial.draft().value().get(SECTION)?;
    let (place, is) = match (charging.get("of"), charging) {
        (Some(of), _) => (CHARGER, of.as_str()?),
        (None, charging) => (SECTION, charging.as_str()?),
    };
    let others = trial.bench()?.chargers().filter(|name| *name != is);
    let others: Vec<String> = others.map(str::to_owned).collect();
    let facts = facts_of(trial.rules(), |def| def.subject == CHARGING);
    let is_read = facts.iter().any(|fact| read.contains(fact));
    (!others.is_empty() && is_read).then(|| Knob {
        place: place.to_owned(),
        is: is.to_owned(),
        facts,
        values: Values::OfBench(others),
    })
}
