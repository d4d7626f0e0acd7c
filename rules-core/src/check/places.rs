//! Where all is written that a report asks for.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::subject::Subject;
use crate::facts::FactId;
use crate::ruleset::{FactPlace, Rules};

/// Places of facts, by the dotted names of these.
pub type Places = BTreeMap<Cow<'static, str>, Arc<FactPlace>>;

impl FactPlace {
    /// The place for one subject: `cables[K4].rated.current`. In the brackets stands nothing for what
    /// is not listed yet.
    #[must_use]
    pub fn path(&self, of: &Subject) -> String {
        let entry = match self.is_list {
            true => format!("[{}]", of.name().unwrap_or_default()),
            false => String::new(),
        };
        match &self.key {
            Some(key) => format!("{}{entry}.{key}", self.section),
            None => format!("{}{entry}", self.section),
        }
    }
}

/// The places of facts, by name.
pub(super) fn places(mut facts: Vec<FactId>, rules: &Rules) -> Places {
    let catalogue = rules.catalogue();
    facts.sort_unstable_by_key(|id| (catalogue.rank(*id), *id));
    facts.dedup();
    let placed = facts.into_iter().filter_map(|id| {
        let place = Arc::clone(rules.place_of(id)?);
        Some((catalogue.fact_name_to_keep(id), place))
    });
    placed.collect()
}
