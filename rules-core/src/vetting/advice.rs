//! What a working ruleset lacks: cautions that can never have an effect, outcomes no case shows,
//! definitions nothing uses.

use std::sync::Arc;

use super::adjusted::vet_adjusted;
use super::conditions::advise_on_comparisons;
use super::outcomes::outcomes;
use super::rungs::{for_all, is_lax, rungs};
use super::unused::{unused_figures, unused_sources, unused_stages, used, vet_limit, vet_meters};
use super::worth_a_look::worth_a_look;
use crate::document::{Fault, Problems, SetAside, Source};
use crate::facts::{Instance, Sheet};
use crate::formula::{Evaluator, Truth};
use crate::ruleset::{Caution, CautionCondition, CautionText, Named, Rules, Stack, View};

/// A file asked for, and what it lacks although it works.
#[derive(Debug, Clone)]
pub(super) struct Advised {
    pub source: Arc<Source>,
    pub advice: SetAside,
    /// What is worth a look, and no fault.
    pub worth_a_look: SetAside,
}

/// Everything vetting finds in the files asked for, except cases that do not give what they expect.
pub(super) fn advice(rules: &Rules, stack: &Stack, view: &View) -> Vec<Advised> {
    let sheet = blank(rules);
    let evaluator = Evaluator::new(rules.catalogue(), rules.program(), &sheet, false);
    let used = used(rules);
    let mut all = Vec::new();
    for layer in stack.asked.iter().filter_map(|at| stack.layers.get(*at)) {
        let mut found = Problems::new(&layer.source);
        for named in &layer.cautions {
            let kept = rules.cautions().iter().find(|caution| {
                *caution.id == *named.name && view.cautions.contains_key(&named.name)
            });
            if let Some(caution) = kept {
                vet_caution(caution, named, rules, &evaluator, &mut found);
            }
        }
        layer
            .limits
            .iter()
            .for_each(|limit| vet_limit(limit, rules, &used, &mut found));
        vet_adjusted(layer, rules, &evaluator, &mut found);
        vet_meters(layer, &mut found);
        unused_figures(layer, rules, &used, &mut found);
        unused_sources(layer, stack, &mut found);
        unused_stages(layer, view, &mut found);
        let advice = found.set_aside();
        all.push(Advised {
            source: Arc::clone(&layer.source),
            advice,
            worth_a_look: worth_a_look(layer, rules),
        });
    }
    all
}

/// A sheet of which nothing is known: three of each of the many, two of them together.
fn blank(rules: &Rules) -> Sheet {
    let catalogue = rules.catalogue();
    let mut sheet = Sheet::new(catalogue);
    for subject in catalogue.subject_ids().filter(|id| catalogue.is_many(*id)) {
        let contains = catalogue
            .subjects()
            .iter()
            .any(|other| other.container == Some(subject));
        let members = [vec![0, 1], vec![2]];
        if let Some(roster) = sheet.roster_mut(subject) {
            roster.instances = match contains {
                true => members
                    .into_iter()
                    .map(|members| Instance::default().holding(members))
                    .collect(),
                false => [0, 0, 1]
                    .map(|container| {
                        Instance::default().inside(catalogue.container(subject).map(|_| container))
                    })
                    .to_vec(),
            };
        }
    }
    sheet
}

fn vet_caution(
    caution: &Caution,
    named: &Named<CautionText>,
    rules: &Rules,
    evaluator: &Evaluator<'_>,
    found: &mut Problems<'_>,
) {
    let on_anything = |rung: &CautionCondition| for_all(rung, caution, evaluator);
    let applies = caution.applies_when.as_ref().map(on_anything);
    let asked: Vec<Truth> = rungs(caution).map(|(_, rung)| on_anything(rung)).collect();
    advise_on_sense(caution, named, (applies, &asked), rules, found);
    for (_, rung) in rungs(caution) {
        advise_on_comparisons(&rung.condition, true, rules, named.span, found);
    }
    if let Some(when) = &caution.applies_when {
        advise_on_comparisons(&when.condition, false, rules, named.span, found);
    }
    let optional = applies.is_some_and(|truth| truth != Truth::Yes);
    // Of what can never be kept no case can show a pass.
    if !asked.contains(&Truth::No) {
        outcomes(caution, named, optional, rules, found);
    }
}

/// Whether a caution rests on something, can apply, can fail, and warns earlier than it refuses.
fn advise_on_sense(
    caution: &Caution,
    named: &Named<CautionText>,
    (applies, asked): (Option<Truth>, &[Truth]),
    rules: &Rules,
    found: &mut Problems<'_>,
) {
    let id = &caution.id;
    let mut advise = |fault, message, help: &str| found.advise(fault, named.span, message, help);
    if named.body.basis.is_empty() {
        let help = "add `basis`: a source, common practice, memory or arithmetic";
        let message = format!("the caution `{id}` has no basis");
        advise(Fault::MissingBasis, message, help);
    }
    if applies == Some(Truth::No) {
        let message = format!("the caution `{id}` can never apply");
        advise(
            Fault::NeverApplies,
            message,
            "no proposal meets its `applies_when`",
        );
    }
    if asked.contains(&Truth::No) {
        let message = format!("what the caution `{id}` asks can never be kept");
        advise(Fault::NeverKept, message, "no proposal meets what it asks");
    }
    if asked.iter().all(|truth| *truth == Truth::Yes) {
        let message = format!("the caution `{id}` can never fail");
        advise(
            Fault::NeverFails,
            message,
            "every proposal meets what it asks",
        );
    }
    if is_lax(caution, rules) {
        let help = "the warn rung must ask more than the refuse rung, or it never has an effect";
        let message = format!("the warn rung of `{id}` asks no more than its refuse rung");
        advise(Fault::LaxWarning, message, help);
    }
}
