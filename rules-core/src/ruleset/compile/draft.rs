//! A merged view to rules: names become numbers, formulas are checked for kinds.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::cautions::cautions;
use super::definitions::{defined_twice, too_many};
use super::facts::declare_facts;
use super::figures::{DoneFigures, compile_figures};
use super::limits::limits;
use super::meters::meters;
use crate::facts::{Catalogue, Notice};
use crate::formula::{FigureCode, LimitCode, Program, Relations};
use crate::ruleset::digest::Digests;
use crate::ruleset::fact_place::LatePlaces;
use crate::ruleset::kept::Done;
use crate::ruleset::ledger::Ledger;
use crate::ruleset::limit::LimitInfo;
use crate::ruleset::made_of::MadeOf;
use crate::ruleset::merged;
use crate::ruleset::names::Names;
use crate::ruleset::rules::{Caution, FigureInfo, Rules};
use crate::ruleset::stack::Stack;
use crate::ruleset::stages::{Stage, stages};
use crate::ruleset::view::View;

/// A compiled view, which becomes rules if there is no problem.
pub(crate) struct Draft {
    pub catalogue: Catalogue,
    pub names: Names,
    stages: Vec<Stage>,
    pub cautions: Vec<Caution>,
    pub relations: Relations,
    limits: (Vec<LimitCode>, Vec<LimitInfo>),
    figures: (Vec<FigureCode>, Vec<FigureInfo>),
}

/// Compiles a view, of which a part may be done; nothing, if there is more than the bounds allow.
pub(in crate::ruleset) fn compile(
    stack: &Stack,
    view: &View,
    base: &Catalogue,
    done: Done,
    ledger: &mut Ledger<'_>,
) -> Option<Draft> {
    defined_twice(stack, base, &mut ledger.layers);
    let over = too_many(stack);
    if !over.is_empty() {
        ledger.apart.extend(over);
        return None;
    }
    let (mut catalogue, mut names) = (base.clone(), Names::default());
    for (layer, problems) in stack.layers.iter().zip(&mut ledger.layers) {
        declare_facts(layer, base, &mut catalogue, &mut names, problems);
        names.note_unread(layer, base);
        names.note_former(layer);
    }
    names.folds.set(done.program.folds);
    let limits = limits(stack, view, &done.limits, &mut names.limits);
    let figures = DoneFigures {
        layers: done.layers,
        codes: done.program.figures,
        infos: done.figures.into_value(),
        levels: done.levels,
    };
    let figures = compile_figures(stack, figures, &catalogue, &mut names, &mut ledger.layers);
    let stages = stages(stack);
    let cautions = cautions(
        stack,
        (done.layers, done.cautions),
        (view, &stages),
        &names.vocabulary(&catalogue),
        &mut ledger.layers,
    );
    let relations = done.relations.map_or_else(|| Relations::compile(base), Ok);
    let relations = relations.unwrap_or_else(|problems| {
        ledger.apart.extend(problems);
        Relations::default()
    });
    Some(Draft {
        catalogue,
        names,
        stages,
        cautions,
        relations,
        limits,
        figures,
    })
}

impl Draft {
    /// The rules, of a draft without problems.
    pub(in crate::ruleset) fn rules(self, stack: Stack, view: View) -> Rules {
        let Self {
            catalogue,
            names,
            stages,
            cautions,
            relations,
            limits: (limits, limit_info),
            figures: (figures, figure_info),
        } = self;
        let meters = meters(&view);
        let digests = Digests::of(&stack, catalogue.digest());
        Rules {
            program: Program {
                limits,
                figures,
                folds: names.folds.get(),
            },
            stages,
            cautions,
            relations,
            meters,
            limits: limit_info.into(),
            figures: figure_info.into(),
            layers: merged::loaded(&stack),
            loosened: merged::loosenings(&stack, &view),
            acceptance: view.acceptance,
            notice: notice(&stack, &catalogue),
            catalogue,
            sources: merged::sources(&stack).into(),
            digests,
            made_of: Arc::new(MadeOf::read(stack, view)),
            places: LatePlaces::default(),
        }
    }
}

/// What every report says: the notice of the catalogue, then what the rulesets add, by name.
fn notice(stack: &Stack, catalogue: &Catalogue) -> Vec<Notice> {
    let added = stack.layers.iter().flat_map(|layer| &layer.notice);
    let added: BTreeMap<&str, &Notice> = added
        .map(|point| (point.name.as_str(), &point.body))
        .collect();
    let added = added.into_values().cloned();
    catalogue.notice().iter().cloned().chain(added).collect()
}
