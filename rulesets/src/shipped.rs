//! The rulesets that come with this crate.

use rules_core::document::Problem;
use rules_core::ruleset::{Files, Library, Text, unknown_ruleset};

/// A ruleset that is part of this crate: its name and its text.
const SHIPPED: [(&str, &str); 1] = [("rescued-cells", include_str!("../rescued-cells.yaml"))];

/// The shipped rulesets, by name. It reads no files.
#[derive(Debug, Clone, Copy, Default)]
pub struct Shipped;

/// Shipped rulesets by name, and files by path.
pub const FILES: Files<Shipped> = Files(Shipped);

impl Shipped {
    /// The names of the shipped rulesets.
    pub fn names() -> impl Iterator<Item = &'static str> {
        SHIPPED.iter().map(|(name, _)| *name)
    }
}

impl Library for Shipped {
    fn find(&self, name: &str, _: Option<&str>) -> Result<Text, Problem> {
        let shipped = SHIPPED.iter().find(|(known, _)| *known == name);
        match shipped {
            Some((name, text)) => Ok(Text {
                name: (*name).to_owned(),
                bytes: text.as_bytes().to_vec(),
            }),
            None => {
                let known: Vec<&str> = Self::names().collect();
                Err(unknown_ruleset(name, &known))
            }
        }
    }
}
