//! All faults of a formula, each where it is.

mod folds;
mod parts;
mod resting;

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};

use super::whole::Resolved;
use super::*;
use crate::document::{Fault, Suggestions};
use crate::facts::{Catalogue, SubjectId};
use crate::formula::parse;
use crate::formula::program::FigureSort;
use crate::formula::typed::{Condition, Sort};
use crate::formula::typed::{FigureId, LimitId};
use crate::quantity::Kind;

/// Resolves formulas against the facts of the trade, a limit `limit.floor` of a voltage, a figure
/// `cable.load` of a current, and `cable.broken` and `lamp.broken`, of which the definitions are at
/// fault.
struct Setting {
    catalogue: Catalogue,
    limits: BTreeMap<String, (LimitId, Kind)>,
    figures: BTreeMap<String, (FigureId, SubjectId, FigureSort)>,
    faulty: BTreeSet<String>,
}

impl Setting {
    fn new() -> Self {
        let catalogue = crate::heating::catalogue();
        let cable = catalogue
            .subject_named("cable")
            .expect("a cable is a subject");
        let load = (
            FigureId(0),
            cable,
            FigureSort::Number(Sort::of(Kind::Current)),
        );
        Self {
            limits: BTreeMap::from([("floor".to_owned(), (LimitId(0), Kind::Voltage))]),
            figures: BTreeMap::from([("cable.load".to_owned(), load)]),
            faulty: BTreeSet::from(["cable.broken".to_owned(), "lamp.broken".to_owned()]),
            catalogue,
        }
    }

    fn resolve<T>(
        &self,
        about: &str,
        of: impl FnOnce(Option<SubjectId>, &Vocabulary<'_>) -> T,
    ) -> T {
        let (folds, suggestions) = (Cell::new(0), Suggestions::default());
        let Self {
            catalogue,
            limits,
            figures,
            faulty,
        } = self;
        let vocabulary = Vocabulary {
            catalogue,
            limits,
            former_limits: &BTreeMap::new(),
            figures,
            faulty,
            folds: &folds,
            unread: UnreadSorts::default(),
            suggestions: &suggestions,
        };
        of(catalogue.subject_named(about), &vocabulary)
    }

    fn condition(&self, about: &str, text: &str) -> Resolved<Condition> {
        let tree = parse(text).unwrap_or_else(|fault| panic!("{text}: {fault}"));
        self.resolve(about, |about, vocabulary| {
            resolve_condition(&tree, about, vocabulary)
        })
    }

    /// The faults of a condition, each with the text it is at.
    fn faults(&self, about: &str, text: &str) -> Vec<(Fault, String)> {
        let found = self.condition(about, text).err().unwrap_or_default();
        found
            .into_iter()
            .map(|fault| {
                (
                    fault.fault,
                    text.get(fault.span).unwrap_or_default().to_owned(),
                )
            })
            .collect()
    }
}

/// A subject, a formula about it, and all its faults.
type Row<'t> = (&'t str, &'t str, &'t [(Fault, &'t str)]);

fn all_as_expected(table: &[Row<'_>]) {
    let setting = Setting::new();
    for (about, text, expected) in table {
        let found = setting.faults(about, text);
        let found: Vec<(Fault, &str)> = found
            .iter()
            .map(|(fault, at)| (*fault, at.as_str()))
            .collect();
        assert_eq!(found, *expected, "{text}");
        assert!(setting.condition(about, text).is_err(), "{text}");
    }
}
