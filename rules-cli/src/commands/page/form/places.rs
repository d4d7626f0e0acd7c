//! The facts of a section as fields, by the stage of the work that first asks for them.

use std::collections::BTreeMap;

use rules_core::check::FactPlace;
use rules_core::facts::{FactDef, FactId, FactKind, SubjectDef};
use rules_core::ruleset::Rules;

use super::field::{Word, Writes};
use crate::commands::interview::said;

/// A fact, or a word that says several, as a field of a section.
pub(super) struct Place {
    /// The key in the section, with dots.
    pub(super) key: String,
    pub(super) meaning: String,
    pub(super) writes: Writes,
    /// The first stage with a caution that looks at it.
    pub(super) stage: Option<usize>,
}

/// A section of a plan: the key at its top, and what there is of each.
pub(super) struct Section<'r> {
    pub(super) key: &'r str,
    pub(super) is_list: bool,
    pub(super) subject: &'r SubjectDef,
}

/// The sections of a plan, as the table of facts has them.
pub(super) fn sections(rules: &Rules) -> impl Iterator<Item = Section<'_>> {
    let all = rules.catalogue().subjects().iter();
    all.filter(|subject| subject.has_section).map(|subject| {
        let plural = subject.plural.as_deref();
        Section {
            key: plural.unwrap_or(&subject.name),
            is_list: plural.is_some(),
            subject,
        }
    })
}

/// The fact that is written at a key of a section.
pub(super) fn fact_at<'r>(section: &str, key: &str, rules: &'r Rules) -> Option<&'r str> {
    let catalogue = rules.catalogue();
    let is_there = |id: FactId| {
        let place = rules.place_of(id);
        place.is_some_and(|place| place.section == section && place.key.as_deref() == Some(key))
    };
    let mut all = catalogue.facts();
    all.find(|(id, _)| is_there(*id))
        .map(|(id, _)| catalogue.fact_name(id))
}

/// What can be said in a section, those together that the same stage asks for.
pub(super) fn places(section: &Section<'_>, rules: &Rules) -> Vec<Place> {
    let stages = stages(rules);
    let mut all = summaries(section, &stages, rules);
    for (id, def) in facts(section, rules) {
        let place = rules.place_of(id);
        let Some((place, key)) = place.and_then(|place| {
            let key = place.key.clone()?;
            (place.section == section.key).then_some((place, key))
        }) else {
            continue;
        };
        let stage = stages.get(&id).copied();
        match all.iter_mut().find(|known| known.key == key) {
            Some(known) => known.join(def, stage),
            None => all.push(Place {
                key,
                meaning: def.meaning.to_string(),
                writes: writes((id, def), place, rules),
                stage,
            }),
        }
    }
    all.sort_by_key(|place| place.stage.unwrap_or(usize::MAX));
    all
}

/// The facts of a section but those by which its entries are told apart.
fn facts<'r>(
    section: &Section<'r>,
    rules: &'r Rules,
) -> impl Iterator<Item = (FactId, &'r FactDef)> {
    let catalogue = rules.catalogue();
    let name = section.subject.name.clone();
    let facts = catalogue.facts();
    facts.filter(move |(_, def)| {
        let is_name = def.kind == FactKind::Id && def.name == "id";
        !is_name && *catalogue.subject_name(def.subject) == *name
    })
}

fn summaries(section: &Section<'_>, stages: &BTreeMap<FactId, usize>, rules: &Rules) -> Vec<Place> {
    let catalogue = rules.catalogue();
    let all = catalogue.summaries().iter();
    let own = all.filter(|one| catalogue.subject_name(one.subject) == section.subject.name);
    own.map(|summary| {
        let facts = summary.words.iter().flat_map(|word| &word.says);
        Place {
            key: summary.key.clone(),
            meaning: summary.meaning.clone(),
            writes: Writes::Words(Word::saying(said(summary, |_| true))),
            stage: facts
                .filter_map(|(fact, _)| stages.get(fact).copied())
                .min(),
        }
    })
    .collect()
}

impl Place {
    /// A further fact that is written at the same key.
    fn join(&mut self, def: &FactDef, stage: Option<usize>) {
        self.meaning = format!("{}; {}", self.meaning, def.meaning);
        if let (Writes::Like(known), Some(example)) = (&mut self.writes, &def.example) {
            *known = format!("{known} or {example}");
        }
        self.stage = self.stage.into_iter().chain(stage).min();
    }
}

fn writes((id, def): (FactId, &FactDef), place: &FactPlace, rules: &Rules) -> Writes {
    match (&def.example, &def.kind) {
        (Some(example), _) => Writes::Like(example.to_string()),
        (None, FactKind::Number(_)) => Writes::Number {
            kind: place.kind.to_string(),
            unit: place.unit.as_deref().unwrap_or_default().to_owned(),
        },
        (None, FactKind::Choice(_) | FactKind::YesNo) => {
            let fact = rules.catalogue().fact_name(id);
            Writes::Words(Word::options_of(fact, place.options.clone()))
        }
        (None, FactKind::Id | FactKind::Text) => Writes::Text,
    }
}

/// By fact, the first stage that has a caution which looks at it.
fn stages(rules: &Rules) -> BTreeMap<FactId, usize> {
    let mut first = BTreeMap::new();
    let ids: Vec<&str> = rules.stages().iter().map(|stage| &*stage.id).collect();
    for caution in rules.cautions() {
        let stage = rules.stage_of(caution).map_or("", |stage| &stage.id);
        let at = ids.iter().position(|id| *id == stage).unwrap_or(ids.len());
        for fact in rules.uses_of(caution).facts {
            let known = first.entry(fact).or_insert(at);
            *known = at.min(*known);
        }
    }
    first
}
