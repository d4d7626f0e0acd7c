//! Every figure of the library: one table, read by formulas, the fact list and the desk.

use super::desk::Desk;
use super::needs::Need::{self, *};
use super::needs::needs;
use super::of_build;
use crate::facts::{Catalogue, Worked, WorkedDef};
use crate::quantity::Kind;

/// A row: the figure's name, kind and meaning, the facts it may look at, and how it is worked out.
pub(super) struct Row {
    name: &'static str,
    kind: Kind,
    needs: &'static [Need],
    meaning: &'static str,
    /// Works it out for one of its subject.
    pub(super) work: fn(&Desk<'_>, usize) -> Worked,
}

pub(super) const ROWS: &[Row] = &[Row {
    name: "build.current",
    kind: Kind::Current,
    needs: &[DrawCurrent, DrawPower, CutOff, InputMin],
    meaning: "Highest current the light takes from the battery: `draw`, or its power over the lowest voltage it still runs at (the higher of `cut_off` and `input.min`)",
    work: of_build::current,
}];

/// The definitions of all rows, as the catalogue keeps them.
pub(super) fn definitions(catalogue: &Catalogue) -> Option<Vec<WorkedDef>> {
    ROWS.iter().map(|row| row.definition(catalogue)).collect()
}

impl Row {
    fn definition(&self, catalogue: &Catalogue) -> Option<WorkedDef> {
        let (subject, name) = self.name.split_once('.')?;
        let subject = catalogue.subject_named(subject)?;
        Some(WorkedDef { subject, name, kind: self.kind, meaning: self.meaning, needs: needs(self.needs) })
    }
}
