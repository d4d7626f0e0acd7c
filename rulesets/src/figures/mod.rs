//! What the library works out from facts, as intervals that hold.
//!
//! Simple figures are formulas in rulesets. Those here take a model of the cell, or a choice
//! between facts that a formula cannot make. The model is pure arithmetic on intervals and knows no
//! facts; `of_build` and its like read the facts of their subject and ask the model. `table` lists
//! every figure.

pub mod discharge;
pub mod keeping;
pub mod margin;
pub mod ocv;
pub mod operating;
pub mod parallel;
pub mod resistance;
pub mod rest;
pub mod stop;
pub mod string;

mod battery;
mod cells;
mod desk;
mod needs;
mod of_build;
mod of_cell;
mod of_group;
mod of_pack;
mod open;
mod readings;
mod table;

use std::sync::Arc;

use rules_core::facts::{Catalogue, Clash, FactId, Facts, Figures, Unused, Workings};

use self::needs::Reader;

/// Adds the library's figures to a catalogue that has the facts they rest on.
pub fn add_to(catalogue: &mut Catalogue) {
    if let Some((ids, definitions)) = needs::find_all(catalogue).zip(table::definitions(catalogue))
    {
        catalogue.set_figures(definitions, Arc::new(Library { ids }));
    }
}

/// The figures of this library, with the facts they look at.
#[derive(Debug)]
struct Library {
    ids: Vec<FactId>,
}

impl Figures for Library {
    fn needs(&self) -> &[FactId] {
        &self.ids
    }

    fn open<'s>(&'s self, facts: Facts<'s>) -> Box<dyn Workings + 's> {
        Box::new(desk::Desk::new(facts, &self.ids))
    }

    fn clashes(&self, facts: Facts<'_>) -> Vec<Clash> {
        readings::clashes(Reader::new(facts, &self.ids))
    }

    fn unused(&self, facts: Facts<'_>) -> Vec<Unused> {
        readings::unused(Reader::new(facts, &self.ids))
    }
}
