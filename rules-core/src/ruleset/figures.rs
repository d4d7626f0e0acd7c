//! Figures in an order in which each comes after those it rests on.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};

use super::compile::{FigureNames, figure_info, subject_of};
use super::layer::{FigureText, Layer, Named};
use super::merge::Stack;
use super::rules::FigureInfo;
use crate::bounds::MOST_FIGURE_LEVELS;
use crate::document::{Fault, Problem, Problems};
use crate::facts::{Catalogue, SubjectId};
use crate::formula::{FigureCode, FigureId, FigureSort, LimitId, Vocabulary, resolve_figure};
use crate::quantity::Kind;

type LimitNames = BTreeMap<String, (LimitId, Kind)>;

/// A figure that waits for those it rests on.
struct Waiting<'s> {
    layer: &'s Layer,
    figure: &'s Named<FigureText>,
    name: String,
    about: SubjectId,
    needs: BTreeSet<String>,
}

/// Compiles all figures of a stack.
pub(super) fn compile_figures(
    stack: &Stack,
    catalogue: &Catalogue,
    limits: &LimitNames,
    folds: &Cell<usize>,
    names: &mut FigureNames,
    problems: &mut Vec<Problem>,
) -> (Vec<FigureCode>, Vec<FigureInfo>) {
    let mut waiting = waiting(stack, catalogue, problems);
    let (mut codes, mut infos, mut levels) = (Vec::new(), Vec::new(), BTreeMap::new());
    while let Some(next) = take_ready(&mut waiting, names, problems) {
        too_deep(&next, &mut levels, problems);
        let vocabulary = Vocabulary { catalogue, limits, figures: names, folds };
        match resolve_figure(&next.figure.body.is.tree, next.about, &vocabulary) {
            Ok(code) => {
                let sort = match &code {
                    FigureCode::Number(_, sort) => FigureSort::Number(*sort),
                    FigureCode::Condition(_) => FigureSort::Condition,
                };
                names.insert(next.name.clone(), (FigureId(codes.len()), next.about, sort));
                codes.push(code);
                infos.push(figure_info(next.name, next.figure, next.layer));
            }
            Err(fault) => {
                let mut found = Problems::new(&next.layer.source);
                found.add_within(fault.fault, &next.figure.body.is.node, fault.span, fault.message, fault.help);
                problems.extend(found.finish());
            }
        }
    }
    (codes, infos)
}

fn waiting<'s>(stack: &'s Stack, catalogue: &Catalogue, problems: &mut Vec<Problem>) -> Vec<Waiting<'s>> {
    let mut found = Vec::new();
    for layer in &stack.layers {
        for figure in &layer.figures {
            let about = match subject_of(&figure.body.about, layer, catalogue) {
                Ok(about) => about,
                Err(problem) => {
                    problems.push(problem);
                    continue;
                }
            };
            let name = catalogue.full_name(about, &figure.name);
            if catalogue.find(&name).is_some() {
                problems.push(layer.problem(
                    Fault::DefinedTwice,
                    figure.span,
                    format!("there is a fact or figure `{name}` already"),
                    "give it another name",
                ));
                continue;
            }
            let needs = figure.body.is.tree.names().into_iter().map(|(subject, word)| format!("{subject}.{word}")).collect();
            found.push(Waiting { layer, figure, name, about, needs });
        }
    }
    let all: BTreeSet<String> = found.iter().map(|figure| figure.name.clone()).collect();
    found.iter_mut().for_each(|figure| figure.needs.retain(|need| all.contains(need)));
    found
}

/// The next figure whose needs are all compiled. If none is ready, what is left rests on itself or on something faulty.
fn take_ready<'s>(waiting: &mut Vec<Waiting<'s>>, names: &FigureNames, problems: &mut Vec<Problem>) -> Option<Waiting<'s>> {
    let ready = waiting.iter().position(|figure| figure.needs.iter().all(|need| names.contains_key(need)));
    if let Some(position) = ready {
        return Some(waiting.remove(position));
    }
    let left: BTreeSet<String> = waiting.iter().map(|figure| figure.name.clone()).collect();
    for figure in waiting.drain(..).filter(|figure| figure.needs.iter().any(|need| left.contains(need))) {
        let message = format!("the figure `{}` rests on itself, or on one that does", figure.name);
        problems.push(figure.layer.problem(Fault::Cycle, figure.figure.span, message, "take one of the names out of its formula"));
    }
    None
}

fn too_deep(figure: &Waiting<'_>, levels: &mut BTreeMap<String, usize>, problems: &mut Vec<Problem>) {
    let below = figure.needs.iter().filter_map(|need| levels.get(need)).max().copied().unwrap_or(0);
    levels.insert(figure.name.clone(), below + 1);
    if below + 1 > MOST_FIGURE_LEVELS {
        let message = format!("more than {MOST_FIGURE_LEVELS} figures rest on one another");
        problems.push(figure.layer.problem(Fault::TooDeep, figure.figure.span, message, "join some of them"));
    }
}
