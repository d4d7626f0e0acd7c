//! What a bench offers to a proposal, by name.

use rules_core::document::Node;

use super::file::Bench;

impl Bench {
    /// The names of its lights, in order.
    pub fn lights(&self) -> impl Iterator<Item = &str> + Clone {
        self.sections.lights.all().map(|(name, _)| name)
    }

    /// The arrangement of a light as it is written, if that is said.
    #[must_use]
    pub fn written_arrangement(&self, light: &str) -> Option<&str> {
        let mut all = self.sections.lights.all();
        let (_, light) = all.find(|(name, _)| *name == light)?;
        light.at("arrangement").and_then(Node::scalar)
    }

    /// The names of its chargers, in order.
    pub fn chargers(&self) -> impl Iterator<Item = &str> + Clone {
        self.sections.chargers.all().map(|(name, _)| name)
    }

    /// Its places that say something of a section of a proposal, `charging` or `conditions`, each with
    /// the keys that it says.
    pub fn places_of(&self, section: &str) -> impl Iterator<Item = (&str, Vec<&str>)> {
        let all = self.sections.places.all();
        all.filter_map(move |(name, place)| {
            let said = place.at(section)?.entries().iter();
            Some((name, said.map(|entry| &*entry.key).collect()))
        })
    }

    /// The ids of its cells, in order.
    pub fn cells(&self) -> impl Iterator<Item = &str> + Clone {
        self.cells.ids()
    }

    /// The light that a cell is in, if it is in one.
    #[must_use]
    pub fn light_of(&self, cell: &str) -> Option<&str> {
        self.cells.get(cell)?.in_light.as_deref()
    }
}
