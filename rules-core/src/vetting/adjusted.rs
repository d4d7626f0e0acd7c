//! Limits that a ruleset adjusts and another defines: whether what cautions ask by them still has a sense.
//! The ruleset's own cautions are vetted whole, whatever their limits are.

use std::collections::{BTreeMap, BTreeSet};

use super::rungs::{for_all, is_lax, rungs};
use crate::document::{Fault, Problems};
use crate::formula::{Evaluator, LimitId, Truth, Uses};
use crate::quantity::Quantity;
use crate::ruleset::{AdjustLimit, Caution, CautionCondition, Layer, LimitInfo, Named, Rules};

/// A limit that a layer adjusts, as the rules have it, and what rests on it.
struct Adjusted<'a> {
    id: LimitId,
    info: &'a LimitInfo,
    text: &'a Named<AdjustLimit>,
    rungs: Vec<Rung<'a>>,
}

/// A rung of a caution of another layer.
#[derive(Clone, Copy)]
struct Rung<'a> {
    caution: &'a Caution,
    /// What it does where it is not met.
    does: &'static str,
    condition: &'a CautionCondition,
}

/// The limits that a layer adjusts.
fn adjusted<'a>(layer: &'a Layer, rules: &'a Rules) -> Vec<Adjusted<'a>> {
    let texts = layer.adjust.limits.iter();
    let texts: BTreeMap<&str, _> = texts.map(|text| (text.name.as_str(), text)).collect();
    if texts.is_empty() {
        return Vec::new();
    }
    let mut resting = resting(layer, rules);
    let limits = rules.limits().iter().enumerate();
    limits
        .filter_map(|(at, info)| {
            let id = LimitId(at);
            Some(Adjusted {
                id,
                info,
                text: texts.get(&*info.name)?,
                rungs: resting.remove(&id).unwrap_or_default(),
            })
        })
        .collect()
}

/// The rungs of cautions of other layers, by the limits that they rest on.
fn resting<'a>(layer: &Layer, rules: &'a Rules) -> BTreeMap<LimitId, Vec<Rung<'a>>> {
    let own: BTreeSet<&str> = layer.cautions.iter().map(|own| own.name.as_str()).collect();
    let others = rules.cautions().iter();
    let others = others.filter(|caution| !own.contains(&*caution.id));
    let mut by_limit: BTreeMap<LimitId, Vec<Rung<'_>>> = BTreeMap::new();
    for caution in others {
        for (does, condition) in rungs(caution) {
            let mut uses = Uses::default();
            uses.add_condition(&condition.condition, rules.program(), rules.catalogue());
            let rung = Rung {
                caution,
                does,
                condition,
            };
            for limit in uses.limits {
                by_limit.entry(limit).or_default().push(rung);
            }
        }
    }
    by_limit
}

/// Advises on adjusted limits that are of the wrong scale, or by which cautions of others can never be
/// kept or never fail.
pub(super) fn vet_adjusted(
    layer: &Layer,
    rules: &Rules,
    of_nothing: &Evaluator<'_>,
    found: &mut Problems<'_>,
) {
    for limit in adjusted(layer, rules) {
        plain_for_percent(&limit, rules, found);
        for rung in &limit.rungs {
            let truth = for_all(rung.condition, rung.caution, of_nothing);
            limit.advise_on(truth, *rung, found);
        }
    }
}

/// Warnings of others that have no effect any more by an adjusted limit: who refuses what others warn
/// of may mean that.
pub(super) fn lax_by_adjusting(layer: &Layer, rules: &Rules, found: &mut Problems<'_>) {
    let all = adjusted(layer, rules).into_iter();
    for limit in all.filter(|limit| limit.plain_number(rules).is_none()) {
        let rungs = limit.rungs.iter();
        let cautions: BTreeMap<&str, _> =
            rungs.map(|one| (&*one.caution.id, one.caution)).collect();
        for (id, _) in cautions.into_iter().filter(|(_, one)| is_lax(one, rules)) {
            let name = &limit.info.name;
            let message = format!(
                "by `limit.{name}` the warn rung of `{id}` asks no more than its refuse rung"
            );
            let help = "adjust the limit of the warn rung too, if a warning is to come first";
            found.advise(Fault::LaxWarning, limit.text.span, message, help);
        }
    }
}

impl Adjusted<'_> {
    /// The plain number over one that a share is adjusted to, if it is. Of all kinds only a share may be
    /// written without the unit that its limit was defined with.
    fn plain_number(&self, rules: &Rules) -> Option<f64> {
        rules.program().limits.get(self.id.0)?.unit?;
        let to = Quantity::parse(self.text.body.to.as_ref()?.scalar()?).ok()?;
        Some(to.nominal()).filter(|value| to.unit().is_none() && *value > 1.0)
    }

    /// Advises on a rung that comes to the same for all proposals.
    fn advise_on(&self, truth: Truth, rung: Rung<'_>, found: &mut Problems<'_>) {
        let (name, id, does) = (&self.info.name, &rung.caution.id, rung.does);
        let (fault, can, help) = match truth {
            Truth::Yes => (
                Fault::NeverFails,
                format!("can never {does}"),
                "if that is meant, drop the caution and say why",
            ),
            Truth::No => (
                Fault::NeverKept,
                format!("can do nothing but {does}"),
                "no proposal meets what it asks: look at the number and its unit",
            ),
            _ => return,
        };
        let message = format!("by `limit.{name}` the caution `{id}` {can}");
        found.advise(fault, self.text.span, message, help);
    }
}

/// A limit defined in per cent and adjusted to `85` is 8500 %.
fn plain_for_percent(limit: &Adjusted<'_>, rules: &Rules, found: &mut Problems<'_>) {
    if let Some(value) = limit.plain_number(rules) {
        let name = &limit.info.name;
        let message =
            format!("`limit.{name}` is a share, and is adjusted to the plain number {value}");
        let help = format!("write `{value} %` if that is meant");
        found.advise(Fault::KindsDiffer, limit.text.span, message, help);
    }
}
