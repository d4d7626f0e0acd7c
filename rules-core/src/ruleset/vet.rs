//! What a ruleset lacks though it works: cautions that can never speak, outcomes no case shows,
//! definitions nothing uses.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::layer::{CautionText, Layer, LimitText, Named};
use super::merge::Stack;
use super::model::{Basis, Expectation, Stricter};
use super::rules::{Caution, Rules, Rung};
use super::template::{Piece, Placeholder};
use super::vetting::Vetted;
use super::view::View;
use crate::document::{Fault, Problems, Span};
use crate::facts::{FactKind, Instance, Sheet};
use crate::formula::{Comparison, Condition, Evaluator, Number, Test, Truth, Uses};
use crate::quantity::{Holds, Kind, Nature};

/// Everything vetting finds in the files asked for, apart from cases that come out otherwise.
pub(super) fn advice(rules: &Rules, stack: &Stack, view: &View) -> Vec<Vetted> {
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
        unused_figures(layer, rules, &used, &mut found);
        unused_sources(layer, stack, &mut found);
        let advice = found.set_aside();
        all.push(Vetted {
            source: Arc::clone(&layer.source),
            advice,
        });
    }
    all
}

/// A sheet of which nothing is known: three of each of the many, two of them together.
fn blank(rules: &Rules) -> Sheet {
    let catalogue = rules.catalogue();
    let mut sheet = Sheet::new(catalogue);
    for subject in catalogue
        .subjects()
        .iter()
        .filter_map(|subject| catalogue.subject_named(&subject.name))
        .filter(|id| catalogue.is_many(*id))
    {
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
    let bound = evaluator.one(caution.about, 0);
    let on_anything = |rung: &Rung| evaluator.condition(&rung.condition, &bound);
    let rungs: Vec<_> = caution
        .refuse_unless
        .iter()
        .chain(&caution.warn_unless)
        .collect();
    let applies = caution.applies_when.as_ref().map(on_anything);
    let never_fails = rungs.iter().all(|rung| on_anything(rung) == Truth::Yes);
    advise_on_sense(caution, named, (applies, never_fails), rules, found);
    for rung in &rungs {
        against_strictness(&rung.condition, true, rules, named.span, found);
        plain_for_ratio(&rung.condition, rules, named.span, found);
    }
    if let Some(when) = &caution.applies_when {
        against_strictness(&when.condition, false, rules, named.span, found);
        plain_for_ratio(&when.condition, rules, named.span, found);
    }
    let optional = applies.is_some_and(|truth| truth != Truth::Yes);
    outcomes(caution, named, optional, rules, found);
}

/// Whether a caution rests on something, can apply, can fail, and warns earlier than it refuses.
fn advise_on_sense(
    caution: &Caution,
    named: &Named<CautionText>,
    (applies, never_fails): (Option<Truth>, bool),
    rules: &Rules,
    found: &mut Problems<'_>,
) {
    let id = &caution.id;
    let mut advise = |fault, message, help: &str| found.advise(fault, named.span, message, help);
    if named.body.basis.is_empty() {
        let help = "add `basis`: a source, common practice, memory or arithmetic";
        let message = format!("the caution `{id}` rests on nothing");
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
    if never_fails {
        let message = format!("the caution `{id}` can never fail");
        advise(
            Fault::NeverFails,
            message,
            "every proposal meets what it asks",
        );
    }
    if is_lax(caution, rules) {
        let help = "the warn rung should ask more than the refuse rung, or it never speaks";
        let message = format!("the warn rung of `{id}` asks no more than its refuse rung");
        advise(Fault::LaxWarning, message, help);
    }
}

/// A limit must stand where its stricter value is the harder to keep, or tightening it would let
/// more pass. `wanted` says whether the condition coming out yes lets a proposal pass.
fn against_strictness(
    condition: &Condition,
    wanted: bool,
    rules: &Rules,
    span: Span,
    found: &mut Problems<'_>,
) {
    match &condition.form {
        Test::And(parts) | Test::Or(parts) => parts
            .iter()
            .for_each(|part| against_strictness(part, wanted, rules, span, found)),
        Test::Not(inner) => against_strictness(inner, !wanted, rules, span, found),
        Test::Every(_, inner) | Test::Any(_, inner) => {
            against_strictness(inner, wanted, rules, span, found)
        }
        Test::Compare {
            comparison,
            left,
            right,
            ..
        } => {
            let floor = match comparison {
                Comparison::AtLeast | Comparison::Above => wanted,
                Comparison::AtMost | Comparison::Below => !wanted,
                Comparison::Equal | Comparison::NotEqual => return,
            };
            for (side, is_floor) in [(left, !floor), (right, floor)] {
                let Number::Limit(id) = side.number else {
                    continue;
                };
                let Some(limit) = rules
                    .limit(id)
                    .filter(|limit| (limit.stricter == Stricter::Higher) != is_floor)
                else {
                    continue;
                };
                let message = format!(
                    "`limit.{}` stands where its stricter value is the easier to keep",
                    limit.name
                );
                found.advise(
                    Fault::AgainstStrictness,
                    span,
                    message,
                    "turn the comparison, or `stricter` of the limit",
                );
            }
        }
        _ => {}
    }
}

/// A limit written `80` that is compared with a ratio is 8000 %, and passes everything or nothing.
fn plain_for_ratio(condition: &Condition, rules: &Rules, span: Span, found: &mut Problems<'_>) {
    match &condition.form {
        Test::And(parts) | Test::Or(parts) => parts
            .iter()
            .for_each(|part| plain_for_ratio(part, rules, span, found)),
        Test::Not(inner) | Test::Every(_, inner) | Test::Any(_, inner) => {
            plain_for_ratio(inner, rules, span, found)
        }
        Test::Compare {
            left, right, sort, ..
        } if sort.kind == Some(Kind::Ratio) => {
            for side in [left, right] {
                let Number::Limit(id) = side.number else {
                    continue;
                };
                let Some(limit) = rules
                    .program()
                    .limits
                    .get(id.0)
                    .filter(|limit| limit.unit.is_none() && limit.value.nominal() > 1.0)
                else {
                    continue;
                };
                let message = format!(
                    "`limit.{}` is the plain number {}, and is compared with a ratio",
                    limit.name,
                    limit.value.nominal()
                );
                found.advise(
                    Fault::KindsDiffer,
                    span,
                    message,
                    format!("write `{} %` if that is meant", limit.value.nominal()),
                );
            }
        }
        _ => {}
    }
}

/// Whether both rungs compare the same with limits, and the warn rung's limit is not the stricter.
fn is_lax(caution: &Caution, rules: &Rules) -> bool {
    let (Some(refuse), Some(warn)) = (&caution.refuse_unless, &caution.warn_unless) else {
        return false;
    };
    let (Some(refuse), Some(warn)) = (
        threshold(&refuse.condition, rules),
        threshold(&warn.condition, rules),
    ) else {
        return false;
    };
    if refuse.0 != warn.0 || refuse.1 != warn.1 {
        return false;
    }
    match refuse.0 {
        Comparison::AtLeast | Comparison::Above => warn.2.at_most(refuse.2) == Holds::Yes,
        Comparison::AtMost | Comparison::Below => refuse.2.at_most(warn.2) == Holds::Yes,
        Comparison::Equal | Comparison::NotEqual => false,
    }
}

fn threshold<'c>(
    condition: &'c Condition,
    rules: &Rules,
) -> Option<(Comparison, &'c Number, crate::quantity::Interval)> {
    let Test::Compare {
        comparison,
        left,
        right,
        ..
    } = &condition.form
    else {
        return None;
    };
    let value = match right.number {
        Number::Limit(id) => rules.program().limits.get(id.0)?.value,
        Number::Constant(value) => value,
        _ => return None,
    };
    Some((*comparison, &left.number, value.range()))
}

fn outcomes(
    caution: &Caution,
    named: &Named<CautionText>,
    optional: bool,
    rules: &Rules,
    found: &mut Problems<'_>,
) {
    let cases = &named.body.cases;
    let shows = |expect: Expectation| {
        cases
            .iter()
            .any(|case| case.expect == expect && !case.doubt && case.unmeasured.is_empty())
    };
    let mut missing = Vec::new();
    let mut need = |wanted: bool, shown: bool, what: &'static str| {
        if wanted && !shown {
            missing.push(what);
        }
    };
    need(true, shows(Expectation::Pass), "a decided `pass`");
    let can_fail =
        |rung: &Option<Rung>| rung.as_ref().is_some_and(|rung| rung.condition.can_be_no());
    need(
        can_fail(&caution.refuse_unless),
        shows(Expectation::Refuse),
        "a decided `refuse`",
    );
    need(
        can_fail(&caution.warn_unless),
        shows(Expectation::Warn),
        "a decided `warn`",
    );
    need(
        optional,
        shows(Expectation::NotApplicable),
        "`not-applicable`",
    );
    let uses = caution_uses(caution, rules);
    let measured = uses
        .facts
        .iter()
        .filter_map(|id| rules.catalogue().fact(*id))
        .any(|fact| fact.nature == Nature::Measured && matches!(fact.kind, FactKind::Number(_)));
    need(
        measured,
        cases.iter().any(|case| case.doubt),
        "a `doubt: yes`",
    );
    let any = !uses.facts.is_empty() || !uses.asked.is_empty();
    need(
        any,
        cases.iter().any(|case| !case.unmeasured.is_empty()),
        "an `unmeasured: [...]`",
    );
    if !missing.is_empty() {
        let message = format!(
            "no case of `{}` shows {}",
            caution.id,
            missing.join(" and no case ")
        );
        found.advise(
            Fault::OutcomeNotShown,
            named.span,
            message,
            "add one for each under `cases`",
        );
    }
}

fn caution_uses(caution: &Caution, rules: &Rules) -> Uses {
    let mut uses = Uses::default();
    for rung in caution
        .applies_when
        .iter()
        .chain(&caution.refuse_unless)
        .chain(&caution.warn_unless)
    {
        uses.add_condition(&rung.condition, rules.program(), rules.catalogue());
    }
    uses
}

/// Everything that the cautions refer to, in formulas or in text.
fn used(rules: &Rules) -> Uses {
    let mut all = Uses::default();
    for caution in rules.cautions() {
        let uses = caution_uses(caution, rules);
        all.facts.extend(uses.facts);
        all.asked.extend(uses.asked);
        all.limits.extend(uses.limits);
        all.figures.extend(uses.figures);
        let texts = std::iter::once(&caution.reason).chain(&caution.remedy);
        for piece in texts.flat_map(|text| &text.pieces) {
            match piece {
                Piece::Value(Placeholder::Number(number, _)) => {
                    all.add_number(number, rules.program(), rules.catalogue())
                }
                Piece::Value(Placeholder::Condition(condition)) => {
                    all.add_condition(condition, rules.program(), rules.catalogue())
                }
                Piece::Value(Placeholder::Fact(_)) | Piece::Text(_) => {}
            }
        }
    }
    all
}

fn vet_limit(limit: &Named<LimitText>, rules: &Rules, used: &Uses, found: &mut Problems<'_>) {
    if limit.body.basis.is_empty() {
        found.advise(
            Fault::MissingBasis,
            limit.span,
            format!("the limit `{}` rests on nothing", limit.name),
            "add `basis`",
        );
    }
    let position = rules
        .limits()
        .iter()
        .position(|info| info.name == limit.name);
    if position.is_some_and(|position| !used.limits.contains(&crate::formula::LimitId(position))) {
        unused("limit", &limit.name, limit.span, found);
    }
}

fn unused_figures(layer: &Layer, rules: &Rules, used: &Uses, found: &mut Problems<'_>) {
    for figure in &layer.figures {
        let named = |info: &super::rules::FigureInfo| {
            info.name
                .split_once('.')
                .is_some_and(|(_, name)| name == figure.name)
        };
        let position = rules.figures().iter().position(named);
        if position
            .is_some_and(|position| !used.figures.contains(&crate::formula::FigureId(position)))
        {
            unused("figure", &figure.name, figure.span, found);
        }
    }
}

fn unused_sources(layer: &Layer, stack: &Stack, found: &mut Problems<'_>) {
    let limits = stack
        .layers
        .iter()
        .flat_map(|layer| &layer.limits)
        .flat_map(|limit| &limit.body.basis);
    let cautions = stack
        .layers
        .iter()
        .flat_map(|layer| &layer.cautions)
        .flat_map(|caution| &caution.body.basis);
    let named: BTreeSet<&str> = limits
        .chain(cautions)
        .filter_map(|(basis, _)| {
            if let Basis::Source { source, .. } = basis {
                Some(source.as_str())
            } else {
                None
            }
        })
        .collect();
    for source in layer
        .sources
        .iter()
        .filter(|source| !named.contains(source.name.as_str()))
    {
        unused("source", &source.name, source.span, found);
    }
}

fn unused(what: &str, name: &str, span: Span, found: &mut Problems<'_>) {
    found.advise(
        Fault::Unused,
        span,
        format!("nothing uses the {what} `{name}`"),
        "use it or take it out",
    );
}
