//! The named sections of a bench: kinds of cells, testers, chargers, lights and places.

use rules_core::document::{Content, Entry, Fields, Node, Problems};

use super::kinds::Kinds;
use super::named::Named;
use super::nodes::map;
use super::testers::Testers;
use crate::facts::{CELL, CHARGING, CONDITIONS, LIGHT, PROTECTION};
use crate::proposal::Vetting;

/// The keys of a light on a bench that are sections of a proposal, and not of `light`.
pub(super) const BESIDE_LIGHT: [&str; 2] = ["arrangement", "protection"];

/// The sections of a proposal that a place on a bench says something of.
const OF_PLACE: [&str; 2] = ["charging", "conditions"];

/// What proposals take by name.
#[derive(Debug, Clone)]
pub(super) struct Sections {
    pub kinds: Kinds,
    pub testers: Testers,
    pub chargers: Named,
    pub lights: Named,
    pub places: Named,
}

impl Sections {
    /// Reads them from the keys of a bench, each for its faults too.
    pub(super) fn read(
        fields: &mut Fields<'_>,
        vetting: &Vetting,
        problems: &mut Problems<'_>,
    ) -> Self {
        let mut named = |key, what, problems: &mut Problems<'_>| match fields.may(key) {
            Some(node) => Named::read(node, what, problems),
            None => Named::none(what),
        };
        let sections = Self {
            kinds: Kinds(named("kinds", "kind of cells", problems)),
            testers: Testers(named("testers", "tester", problems)),
            chargers: named("chargers", "charger", problems),
            lights: named("lights", "light", problems),
            places: named("places", "place", problems),
        };
        sections.vet(vetting, problems);
        sections
    }

    /// The entries of a cell, with what its kind and its testers say in place of their names.
    pub(super) fn spelt_out(
        &self,
        cell: &[Entry<'static>],
        problems: &mut Problems<'_>,
    ) -> Vec<Entry<'static>> {
        let with_kind = self.kinds.expanded(cell, problems);
        self.testers.expanded(&with_kind, problems)
    }

    fn vet(&self, vetting: &Vetting, problems: &mut Problems<'_>) {
        for (name, node) in self.kinds.0.all() {
            vetting.section(node, CELL, &format!("the kind `{name}`"), problems);
        }
        for (name, node) in self.testers.0.all() {
            vetting.section(node, CELL, &format!("the tester `{name}`"), problems);
        }
        for (name, node) in self.chargers.all() {
            vetting.section(node, CHARGING, &format!("the charger `{name}`"), problems);
        }
        for (name, node) in self.lights.all() {
            let own = without(node, &BESIDE_LIGHT);
            vetting.section(&own, LIGHT, &format!("the light `{name}`"), problems);
            if let Some(protection) = node.at("protection") {
                vetting.section(protection, PROTECTION, "`protection`", problems);
            }
        }
        for (name, node) in self.places.all() {
            vet_place(name, node, vetting, problems);
        }
    }
}

fn vet_place(name: &str, node: &Node<'_>, vetting: &Vetting, problems: &mut Problems<'_>) {
    let Some(mut fields) = Fields::of(node, "a place", problems) else {
        return;
    };
    for (key, subject) in OF_PLACE.into_iter().zip([CHARGING, CONDITIONS]) {
        if let Some(section) = fields.may(key) {
            vetting.section(section, subject, &format!("`{key}` of `{name}`"), problems);
        }
    }
    fields.finish(problems);
}

/// The same map without some of its keys; anything else as it is.
pub(super) fn without(node: &Node<'static>, keys: &[&str]) -> Node<'static> {
    match &node.content {
        Content::Map(entries) => {
            let kept = entries.iter().filter(|entry| !keys.contains(&&*entry.key));
            map(kept.cloned().collect(), node.span)
        }
        _ => node.clone(),
    }
}
