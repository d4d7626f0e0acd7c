//! The meters that a ruleset assumes: of all that it sees of one kind those that no other is as wide
//! as.

use super::adjust::Adjusting;
use super::seen::SeenMeter;
use crate::document::Fault;
use crate::quantity::Kind;
use crate::quantity::Meter;
use crate::ruleset::layer::{AdjustMeter, Layer, Named};
use crate::ruleset::loosening::{Loosened, Loosening};
use crate::ruleset::meter::{BETWEEN, in_words};

/// Adds a meter to those that are seen of its kind. The widest counts, whichever comes first.
pub(super) fn add(seen: &mut Vec<SeenMeter>, more: SeenMeter) {
    if let Some(same) = seen.iter_mut().find(|one| one.is_worth(&more)) {
        return same.join(more);
    }
    if seen.iter().any(|one| one.meter.is_as_wide_as(&more.meter)) {
        return;
    }
    seen.retain(|one| !more.meter.is_as_wide_as(&one.meter));
    seen.push(more);
    seen.sort_by(|one, other| one.written.cmp(&other.written));
}

/// The meters that a layer declares, by kind.
pub(super) fn declared(layer: &Layer) -> impl Iterator<Item = (&str, SeenMeter)> {
    layer.meters.iter().flat_map(|named| {
        let told = |loosening: &&Loosening| {
            matches!(&loosening.what, Loosened::Meter(kind) if *kind == named.name)
        };
        let loosened: Vec<Loosening> = layer.merged_loosened.iter().filter(told).cloned().collect();
        let before: Vec<Meter> = loosened
            .iter()
            .flat_map(|loosening| read_words(&loosening.from, &named.name))
            .collect();
        let basis: Vec<_> = named.body.basis.iter().map(|(basis, _)| basis.clone()).collect();
        named.body.meters.iter().map(move |(meter, written)| {
            let seen = SeenMeter {
                meter: *meter,
                written: written.clone(),
                basis: basis.clone(),
                loosened: loosened.clone(),
                before: before.clone(),
            };
            (named.name.as_str(), seen)
        })
    })
}

/// What a merged file says the meters of a kind were.
fn read_words(text: &str, kind: &str) -> Vec<Meter> {
    let Some(kind) = Kind::from_name(kind) else {
        return Vec::new();
    };
    let parsed = |part| Meter::parse(part, kind).ok();
    text.split(BETWEEN).filter_map(parsed).collect()
}

impl SeenMeter {
    /// Whether both make the same of every reading.
    fn is_worth(&self, other: &Self) -> bool {
        self.meter.is_as_wide_as(&other.meter) && other.meter.is_as_wide_as(&self.meter)
    }

    /// Equal meters may be written in two ways, and each may have come about by a loosening.
    fn join(&mut self, other: Self) {
        self.written = self.written.clone().min(other.written);
        for basis in other.basis {
            if !self.basis.contains(&basis) {
                self.basis.push(basis);
            }
        }
        self.loosened.extend(other.loosened);
        self.loosened.sort();
        self.loosened.dedup();
        self.before.extend(other.before);
    }
}

impl Adjusting<'_, '_> {
    /// Whoever assumes a better meter lets more pass, so that is a loosening.
    pub(super) fn meter(&mut self, adjusted: &Named<AdjustMeter>) {
        let kind = &adjusted.name;
        let Some(seen) = self.view.meters.get(kind).cloned() else {
            return self.no_meter(adjusted);
        };
        if self.view.unsure.meters.may_hold(kind) {
            return;
        }
        let Some(to) = &adjusted.body.to else {
            let unsure = &mut self.view.unsure.meters.names;
            unsure.insert(kind.clone(), adjusted.span);
            return;
        };
        if let Some(meters) = self.adjusted_meters(&seen, to, adjusted) {
            self.view.meters.insert(kind.clone(), meters);
        }
    }

    fn adjusted_meters(
        &mut self,
        seen: &[SeenMeter],
        to: &[(Meter, String)],
        adjusted: &Named<AdjustMeter>,
    ) -> Option<Vec<SeenMeter>> {
        let reaches = |old: &Meter| to.iter().any(|(new, _)| new.is_as_wide_as(old));
        let mut all = SeenMeter::together(seen)?;
        if !seen.iter().all(|one| reaches(&one.meter)) {
            let words =
                |of: &mut dyn Iterator<Item = &String>| in_words(&of.cloned().collect::<Vec<_>>());
            let from = words(&mut seen.iter().map(|one| &one.written));
            let now = words(&mut to.iter().map(|(_, written)| written));
            let loosening = self.loosening(
                Loosened::Meter(adjusted.name.clone()),
                (&from, &now),
                adjusted.body.because.as_deref(),
                false,
                adjusted.span,
            )?;
            all.loosened.push(loosening);
            all.before.extend(seen.iter().map(|one| one.meter));
        } else if all.before.iter().all(reaches) {
            all.loosened.clear();
            all.before.clear();
        }
        let mut meters = Vec::new();
        for (meter, written) in to {
            let (meter, written) = (*meter, written.clone());
            add(
                &mut meters,
                SeenMeter {
                    meter,
                    written,
                    ..all.clone()
                },
            );
        }
        Some(meters)
    }

    fn no_meter(&mut self, adjusted: &Named<AdjustMeter>) {
        let kind = &adjusted.name;
        if self.view.unsure.meters.may_hold(kind) || Kind::from_name(kind).is_none() {
            return;
        }
        let message = format!("there is no meter `{kind}` to adjust");
        let help = "declare it under `meters`: no ruleset that is extended assumes one";
        self.problems
            .add(Fault::UnknownName, adjusted.span, message, help);
    }
}

impl SeenMeter {
    /// What several rest on, with the first of them as the meter; none of none.
    fn together(seen: &[Self]) -> Option<Self> {
        let (first, others) = seen.split_first()?;
        let mut all = first.clone();
        others.iter().for_each(|other| all.join(other.clone()));
        Some(all)
    }
}
