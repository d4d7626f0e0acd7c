//! Figures in an order in which each comes after those it rests on.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::subject::subject_of;
use crate::bounds::MOST_FIGURE_LEVELS;
use crate::document::{Fault, Problems};
use crate::facts::{Catalogue, SubjectId};
use crate::formula::{FigureCode, FigureId, FigureSort, resolve_figure};
use crate::ruleset::layer::{FigureText, FormulaText, Layer, Named};
use crate::ruleset::names::{Names, told};
use crate::ruleset::rules::FigureInfo;
use crate::ruleset::stack::Stack;

/// A figure that waits for those it rests on.
struct Waiting<'s> {
    layer: &'s Layer,
    /// The position of the layer.
    at: usize,
    figure: &'s Named<FigureText>,
    name: String,
    about: Option<SubjectId>,
    needs: BTreeSet<String>,
}

/// The figures that were compiled when the program was built: those of the first layers.
pub(super) struct DoneFigures {
    pub layers: usize,
    pub codes: Vec<FigureCode>,
    pub infos: Vec<FigureInfo>,
    pub levels: Vec<usize>,
}

impl DoneFigures {
    /// Makes their names known.
    fn name(&self, catalogue: &Catalogue, names: &mut Names) {
        for (at, (code, info)) in self.codes.iter().zip(&self.infos).enumerate() {
            let subject = info.name.split_once('.').map_or("", |(subject, _)| subject);
            let about = catalogue.subject_named(subject);
            let named = about.map(|about| (FigureId(at), about, sort_of(code)));
            names
                .figures
                .extend(named.map(|named| (info.name.to_string(), named)));
        }
    }

    fn levels(&self) -> BTreeMap<String, usize> {
        let names = self.infos.iter().map(|info| info.name.to_string());
        names.zip(self.levels.iter().copied()).collect()
    }
}

fn sort_of(code: &FigureCode) -> FigureSort {
    match code {
        FigureCode::Number(_, sort) => FigureSort::Number(*sort),
        FigureCode::Condition(_) => FigureSort::Condition,
    }
}

/// Compiles all figures of a stack that are not done, of which the problems are kept by layer. Those that are at
/// fault become faulty names.
pub(super) fn compile_figures(
    stack: &Stack,
    done: DoneFigures,
    catalogue: &Catalogue,
    names: &mut Names,
    problems: &mut [Problems<'_>],
) -> (Vec<FigureCode>, Vec<FigureInfo>) {
    let mut waiting = waiting(stack, done.layers, catalogue, names, problems);
    done.name(catalogue, names);
    let mut levels = done.levels();
    let (mut codes, mut infos) = (done.codes, done.infos);
    while let Some(next) = take_ready(&mut waiting, names) {
        let Some(problems) = problems.get_mut(next.at) else {
            continue;
        };
        too_deep(&next, &mut levels, problems);
        if let Some((code, about)) = compile_figure(&next, catalogue, names, problems) {
            let named = (FigureId(codes.len()), about, sort_of(&code));
            names.figures.insert(next.name.clone(), named);
            codes.push(code);
            infos.push(figure_info(next.name, next.figure, next.layer));
        }
    }
    endless(&waiting, catalogue, names, problems);
    (codes, infos)
}

fn waiting<'s>(
    stack: &'s Stack,
    done: usize,
    catalogue: &Catalogue,
    names: &mut Names,
    problems: &mut [Problems<'_>],
) -> Vec<Waiting<'s>> {
    let mut found = Vec::new();
    let layers = stack.layers.iter().enumerate().zip(problems);
    for ((at, layer), problems) in layers.skip(done) {
        for figure in &layer.figures {
            let about = figure
                .body
                .about
                .as_ref()
                .and_then(|about| subject_of(about, catalogue, problems));
            let subject = figure
                .body
                .about
                .as_ref()
                .map_or("", |about| &about.subject);
            let name = format!("{subject}.{}", figure.name);
            if about.is_none() {
                names.note_faulty(&name, catalogue);
            }
            if catalogue.find(&name).is_some() {
                let message = format!("there is a fact or figure `{name}` already");
                problems.add(
                    Fault::DefinedTwice,
                    figure.span,
                    message,
                    "give it another name",
                );
                names.faulty.insert(name.clone());
            }
            let named = figure
                .body
                .is
                .as_ref()
                .map(|is| is.tree.names())
                .unwrap_or_default();
            let needs = named
                .into_iter()
                .map(|(subject, word)| format!("{subject}.{word}"))
                .collect();
            found.push(Waiting {
                layer,
                at,
                figure,
                name,
                about,
                needs,
            });
        }
    }
    let all: BTreeSet<String> = found.iter().map(|figure| figure.name.clone()).collect();
    found
        .iter_mut()
        .for_each(|figure| figure.needs.retain(|need| all.contains(need)));
    found
}

/// The next figure whose needs are all compiled. If none is ready, the rest depend on themselves.
fn take_ready<'s>(waiting: &mut Vec<Waiting<'s>>, names: &Names) -> Option<Waiting<'s>> {
    let ready = |need: &String| names.figures.contains_key(need) || names.faulty.contains(need);
    let position = waiting
        .iter()
        .position(|figure| figure.needs.iter().all(ready))?;
    Some(waiting.remove(position))
}

/// The code of a figure and what it is about, or a faulty name.
fn compile_figure(
    figure: &Waiting<'_>,
    catalogue: &Catalogue,
    names: &mut Names,
    problems: &mut Problems<'_>,
) -> Option<(FigureCode, SubjectId)> {
    let resolve = |is: &FormulaText, names: &Names| {
        resolve_figure(&is.tree, figure.about, &names.vocabulary(catalogue))
    };
    let is = figure.figure.body.is.as_ref();
    let code = is.and_then(|is| told(resolve(is, names), &is.node(), problems));
    let compiled = code.zip(figure.about);
    if compiled.is_none() {
        names.faulty.insert(figure.name.clone());
    }
    compiled
}

/// The rest when none is ready: figures that depend on themselves, and figures that depend on
/// those. Their formulas are looked at for other faults when all of them are faulty names.
fn endless(
    figures: &[Waiting<'_>],
    catalogue: &Catalogue,
    names: &mut Names,
    problems: &mut [Problems<'_>],
) {
    names
        .faulty
        .extend(figures.iter().map(|figure| figure.name.clone()));
    let innocent = innocent(figures);
    for figure in figures {
        let Some(problems) = problems.get_mut(figure.at) else {
            continue;
        };
        if !innocent.contains(figure.name.as_str()) {
            let message = format!(
                "the figure `{}` rests on itself, or on one that does",
                figure.name
            );
            problems.add(
                Fault::Cycle,
                figure.figure.span,
                message,
                "take one of the names out of its formula",
            );
        }
        compile_figure(figure, catalogue, names, problems);
    }
}

/// Those that no other needs, directly or indirectly: they depend on a figure that depends on
/// itself, but not on themselves.
fn innocent<'f>(figures: &'f [Waiting<'_>]) -> BTreeSet<&'f str> {
    let by_name: BTreeMap<&str, &Waiting<'_>> = figures
        .iter()
        .map(|figure| (figure.name.as_str(), figure))
        .collect();
    let mut needed: BTreeMap<&str, usize> = BTreeMap::new();
    figures
        .iter()
        .flat_map(|figure| &figure.needs)
        .for_each(|need| *needed.entry(need).or_default() += 1);
    let mut free: Vec<&str> = by_name
        .keys()
        .copied()
        .filter(|name| !needed.contains_key(name))
        .collect();
    let mut found = BTreeSet::new();
    while let Some(name) = free.pop() {
        found.insert(name);
        for need in by_name
            .get(name)
            .into_iter()
            .flat_map(|figure| &figure.needs)
        {
            let Some(many) = needed.get_mut(need.as_str()) else {
                continue;
            };
            *many -= 1;
            if *many == 0 {
                free.push(need);
            }
        }
    }
    found
}

fn too_deep(
    figure: &Waiting<'_>,
    levels: &mut BTreeMap<String, usize>,
    problems: &mut Problems<'_>,
) {
    let below = figure
        .needs
        .iter()
        .filter_map(|need| levels.get(need))
        .max()
        .copied()
        .unwrap_or(0);
    levels.insert(figure.name.clone(), below + 1);
    if below + 1 > MOST_FIGURE_LEVELS {
        let message = format!("more than {MOST_FIGURE_LEVELS} figures rest on one another");
        problems.add(
            Fault::TooDeep,
            figure.figure.span,
            message,
            "join some of them",
        );
    }
}

/// A figure's definition for explanations.
fn figure_info(name: String, figure: &Named<FigureText>, layer: &Layer) -> FigureInfo {
    FigureInfo {
        name: name.into(),
        is: figure
            .body
            .is
            .as_ref()
            .map(|is| Arc::clone(&is.text))
            .unwrap_or_default(),
        meaning: figure.body.meaning.clone().into(),
        place: layer.source.place(figure.span.start),
    }
}
