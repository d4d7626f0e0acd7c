//! What the library works out from facts, as intervals that hold.
//!
//! Simple figures are formulas in rulesets. Those here take a model of the cell, or a choice
//! between facts that a formula cannot make. The model is pure arithmetic on intervals and knows no
//! facts; `of_build` and its like read the facts of their subject and ask the model. `table` lists
//! every figure.

pub mod charging;
pub mod class_voltages;
pub mod discharge;
mod drained;
mod drift;
pub mod margin;
pub mod ocv;
pub mod operating;
pub mod parallel;
pub mod rating;
pub mod resistance;
pub mod rest;
pub mod stop;
pub mod storage;
pub mod string;

mod assumed;
mod battery;
mod cell_facts;
mod counted;
mod joined;
mod light;
mod needs;
mod of_build;
mod of_cell;
mod of_group;
mod of_pack;
mod questions;
mod reader;
mod readings;
mod shared_work;
mod table;

use std::sync::Arc;

use rules_core::facts::{
    Catalogue, Clash, FactId, Facts, Figures, Narrowing, Needs, Unused, Worked, WorkedId, Workings,
};
use rules_core::quantity::Interval;

pub use self::needs::ListFault;
use self::reader::{Notes, Reader};
use self::shared_work::SharedWork;

/// Adds the library's figures to a catalogue that has the facts they rest on.
///
/// # Errors
///
/// The first name of the library's lists that the catalogue does not know; then no figure is added.
pub fn add_to(catalogue: &mut Catalogue) -> Result<(), ListFault> {
    let ids = needs::find_all(catalogue)?;
    let definitions = table::definitions(catalogue)?;
    catalogue.set_figures(definitions, Arc::new(Library { ids }));
    Ok(())
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
        Box::new(SharedWork::of(Reader::new(facts, &self.ids)))
    }

    fn clashes(&self, facts: Facts<'_>) -> Vec<Clash> {
        readings::clashes(Reader::new(facts, &self.ids))
    }
}

impl Workings for SharedWork<'_> {
    fn work(&self, figure: WorkedId, position: usize) -> Worked {
        match table::ROWS.get(figure.position()) {
            Some(row) => (row.work)(self, position, Notes::of(row.needs)),
            None => Notes::of(Needs::NONE).worked(Interval::WHOLE),
        }
    }

    fn narrowings(&self, figure: WorkedId, position: usize) -> Vec<Narrowing> {
        let row = table::ROWS.get(figure.position());
        row.map(|row| questions::narrowings(self, row, position))
            .unwrap_or_default()
    }

    fn unused(&self) -> Vec<Unused> {
        readings::unused(self)
    }
}
