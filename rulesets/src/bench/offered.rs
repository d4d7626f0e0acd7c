//! What a bench offers to a proposal, by name.

use rules_core::document::Node;

use super::file::Bench;

impl Bench {
    /// Its lights, each with its arrangement, if that is said.
    pub fn lights(&self) -> impl Iterator<Item = (&str, Option<&str>)> {
        let all = self.sections.lights.all();
        all.map(|(name, light)| (name, light.at("arrangement").and_then(Node::scalar)))
    }

    /// Its chargers.
    pub fn chargers(&self) -> impl Iterator<Item = &str> {
        self.sections.chargers.all().map(|(name, _)| name)
    }

    /// Its places that say something of a section of a proposal, `charging` or `conditions`, each with
    /// the keys that it says.
    pub fn places(&self, section: &str) -> impl Iterator<Item = (&str, Vec<&str>)> {
        let all = self.sections.places.all();
        all.filter_map(move |(name, place)| {
            let said = place.at(section)?.entries().iter();
            Some((name, said.map(|entry| &*entry.key).collect()))
        })
    }

    /// Its cells, each with the light that it is in, if it is in one.
    pub fn cells(&self) -> impl Iterator<Item = (&str, Option<&str>)> {
        let kept = self.cells.all();
        kept.map(|cell| (&*cell.id, cell.in_light.as_deref()))
    }
}
