//! Every figure of the library: one table, read by formulas, the list of facts and the work that figures share.

use super::needs::Need::*;
use super::needs::{
    COUNTED, DRAINED, DRIFT, FALL, FULL, JOINED, LABEL, LOAD, ListFault, MODEL, NOW, RESISTANCE,
    REST, SHARES, SIZE, set,
};
use super::reader::Notes;
use super::shared_work::SharedWork;
use super::{of_build, of_cell, of_group, of_pack};
use rules_core::facts::AsMoreJoin::{self, Apart, Rises, Unknown, Widens, WithContainer};
use rules_core::facts::{Catalogue, Needs, Worked, WorkedDef};
use rules_core::quantity::Kind::{
    self, Charge, Count, Current, Energy, Power, Rate, Ratio, Time, Voltage,
};

/// A row: the figure's name, kind and meaning, the facts it may look at, what happens to it when more
/// cells join, and how it is worked out.
pub(super) struct Row {
    name: &'static str,
    kind: Kind,
    pub(super) needs: Needs,
    as_more_join: AsMoreJoin,
    meaning: &'static str,
    /// Works it out for one of its subject.
    pub(super) work: fn(&SharedWork<'_>, usize, Notes) -> Worked,
}

const fn row(
    name: &'static str,
    kind: Kind,
    needs: Needs,
    as_more_join: AsMoreJoin,
    work: fn(&SharedWork<'_>, usize, Notes) -> Worked,
    meaning: &'static str,
) -> Row {
    Row {
        name,
        kind,
        needs,
        as_more_join,
        meaning,
        work,
    }
}

macro_rules! figures_of_the_library {
    ($($name:literal, $kind:expr, $needs:expr, $as_more_join:expr, $work:path, $meaning:literal;)+) => {
        pub(super) const ROWS: &[Row] = &[
            $(row($name, $kind, $needs, $as_more_join, $work, $meaning)),+
        ];
    };
}

include!("rows.rs");

/// The definitions of all rows, as the catalogue keeps them.
///
/// # Errors
///
/// The first name that is about no subject of the catalogue.
pub(super) fn definitions(catalogue: &Catalogue) -> Result<Vec<WorkedDef>, ListFault> {
    ROWS.iter().map(|row| row.definition(catalogue)).collect()
}

impl Row {
    /// The subject that it is about.
    pub(super) fn subject(&self) -> &'static str {
        self.name.split_once('.').map_or("", |(subject, _)| subject)
    }

    /// The figure of one of its subject.
    pub(super) fn worked(&self, shared: &SharedWork<'_>, position: usize) -> Worked {
        (self.work)(shared, position, Notes::of(self.needs))
    }

    /// Amounts are never negative. Most voltages can be: that of a weak cell in a string is.
    fn never_negative(&self) -> bool {
        match self.kind {
            Charge | Count | Current | Energy | Power | Rate | Time | Kind::Resistance => true,
            Voltage => self.name == "build.nominal_voltage",
            _ => false,
        }
    }

    fn definition(&self, catalogue: &Catalogue) -> Result<WorkedDef, ListFault> {
        let found = self
            .name
            .split_once('.')
            .and_then(|(subject, name)| Some((catalogue.subject_named(subject)?, name)));
        let (subject, name) = found.ok_or(ListFault::NoSubject(self.name))?;
        Ok(WorkedDef {
            subject,
            name,
            kind: self.kind,
            meaning: self.meaning,
            needs: self.needs,
            as_more_join: self.as_more_join,
            never_negative: self.never_negative(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_of_no_subject_is_named() {
        let nothing = Catalogue::of_subjects(&[]);
        let fault = definitions(&nothing).map(|_| ());
        assert_eq!(fault, Err(ListFault::NoSubject("build.current")));
    }
}
