//! A ruleset's adjustments: it tightens freely, loosens in the open, and cannot loosen what is
//! fixed.

use super::seen::{SeenCaution, SeenLimit, View};
use crate::document::{Fault, Problems, Span};
use crate::facts::read_stated;
use crate::ruleset::adjustment::Adjustment;
use crate::ruleset::layer::{
    Adjust, AdjustAcceptance, AdjustCaution, AdjustLimit, CautionChange, Layer, Named, written,
};
use crate::ruleset::limit::LimitText;
use crate::ruleset::loosening::{DROPPED, Loosened, Loosening};
use crate::ruleset::model::Acceptance;
use crate::ruleset::stack::Stack;

pub(super) struct Adjusting<'a, 'p> {
    pub stack: &'a Stack,
    pub layer: &'a Layer,
    pub view: &'a mut View,
    pub problems: &'a mut Problems<'p>,
}

impl Adjusting<'_, '_> {
    pub(super) fn all(mut self, adjust: &Adjust) {
        adjust.limits.iter().for_each(|limit| self.limit(limit));
        adjust.meters.iter().for_each(|meter| self.meter(meter));
        adjust
            .cautions
            .iter()
            .for_each(|caution| self.caution(caution));
        if let Some(acceptance) = &adjust.acceptance {
            self.acceptance(acceptance);
        }
    }

    fn limit(&mut self, adjusted: &Named<AdjustLimit>) {
        let Some(seen) = self.view.limits.get(&adjusted.name).cloned() else {
            return self.unknown("limit", adjusted.name.clone(), adjusted.span);
        };
        match self.adjusted_limit(&seen, adjusted) {
            Some(limit) => drop(self.view.limits.insert(adjusted.name.clone(), limit)),
            None => drop(
                self.view
                    .unsure
                    .limits
                    .names
                    .insert(adjusted.name.clone(), adjusted.span),
            ),
        }
    }

    /// A limit as it is after an adjustment, or none if that is at fault or rests on a fault.
    fn adjusted_limit(
        &mut self,
        seen: &SeenLimit,
        adjusted: &Named<AdjustLimit>,
    ) -> Option<SeenLimit> {
        let defined = self.limit_text(seen.layer, seen.index)?;
        let node = adjusted.body.to.as_ref()?;
        let to = read_stated(node, defined.kind, self.problems)?;
        if self.view.unsure.changes || self.view.unsure.limits.names.contains_key(&adjusted.name) {
            return None;
        }
        let written = written(node.scalar().unwrap_or_default());
        let what = Loosened::Limit(adjusted.name.clone());
        let mut adjusted_limit = SeenLimit {
            value: to,
            written,
            ..seen.clone()
        };
        if !seen.is_met_by(to) {
            let (from, to) = (seen.written.as_str(), adjusted_limit.written.as_str());
            let loosening = self.loosening(
                what,
                (from, to),
                adjusted.body.because.as_deref(),
                defined.written.fixed,
                adjusted.span,
            )?;
            adjusted_limit.loosened.push(loosening);
            adjusted_limit.before = seen.before.or(Some(seen.value));
        } else if seen.is_restored_by(to) {
            adjusted_limit.loosened.clear();
            adjusted_limit.before = None;
        }
        let adjustment = Adjustment {
            by: self.layer.name.clone(),
            from: seen.written.clone(),
            to: adjusted_limit.written.clone(),
            because: adjusted.body.because.clone(),
        };
        adjusted_limit.adjusted.push(adjustment);
        Some(adjusted_limit)
    }

    fn limit_text(&self, layer: usize, index: usize) -> Option<LimitText> {
        self.stack
            .layers
            .get(layer)
            .and_then(|layer| layer.limits.get(index))
            .map(|limit| limit.body.clone())
    }

    fn caution(&mut self, adjusted: &Named<AdjustCaution>) {
        let Some(seen) = self.view.cautions.get(&adjusted.name).cloned() else {
            return self.unknown("caution", adjusted.name.clone(), adjusted.span);
        };
        match &adjusted.body.change {
            Some(CautionChange::Drop) => self.drop_caution(adjusted, &seen),
            Some(CautionChange::Move(to)) => self.move_caution(adjusted, to),
            None => {}
        }
    }

    /// Whether nobody may loosen a caution.
    pub(super) fn is_fixed(&self, seen: &SeenCaution) -> bool {
        self.stack
            .layers
            .get(seen.layer)
            .and_then(|layer| layer.cautions.get(seen.index))
            .is_some_and(|caution| caution.body.fixed)
    }

    fn drop_caution(&mut self, adjusted: &Named<AdjustCaution>, seen: &SeenCaution) {
        let fixed = self.is_fixed(seen);
        let what = Loosened::Caution(adjusted.name.clone());
        let loosening = self.loosening(
            what,
            ("applies", DROPPED),
            adjusted.body.because.as_deref(),
            fixed,
            adjusted.span,
        );
        if let (Some(loosening), Some(seen)) =
            (loosening, self.view.cautions.get_mut(&adjusted.name))
        {
            seen.dropped.push(loosening);
        }
    }

    fn acceptance(&mut self, adjusted: &AdjustAcceptance) {
        if adjusted.to == Acceptance::Guarded {
            self.view.acceptance = Acceptance::Guarded;
            return self.view.acceptance_loosened.clear();
        }
        if self.view.acceptance == Acceptance::Simple || self.view.unsure.acceptance {
            return;
        }
        let loosening = self.loosening(
            Loosened::Acceptance,
            ("guarded", "simple"),
            adjusted.because.as_deref(),
            false,
            adjusted.span,
        );
        if let Some(loosening) = loosening {
            self.view.acceptance = Acceptance::Simple;
            self.view.acceptance_loosened.push(loosening);
        } else {
            self.view.unsure.acceptance = true;
        }
    }

    /// A loosening, or none with the reason why it may not be.
    pub(super) fn loosening(
        &mut self,
        what: Loosened,
        (from, to): (&str, &str),
        because: Option<&str>,
        fixed: bool,
        span: Span,
    ) -> Option<Loosening> {
        if fixed {
            let help = "leave it as it is, or tighten it";
            self.problems.add(
                Fault::Fixed,
                span,
                format!("the {what} is fixed and cannot be loosened"),
                help,
            );
            return None;
        }
        let Some(because) = because else {
            let message =
                format!("this loosens the {what} (from `{from}` to `{to}`) without a reason");
            self.problems.add(
                Fault::LooseningWithoutReason,
                span,
                message,
                "add `because: ...`; every report shows it",
            );
            return None;
        };
        let text = str::to_owned;
        Some(Loosening {
            by: self.layer.name.clone(),
            what,
            from: text(from),
            to: text(to),
            because: text(because),
        })
    }

    /// The new name of a limit or caution, by a name that it had before.
    fn now_called(&self, what: &str, name: &str) -> Option<&str> {
        let had = |formerly: &[String]| formerly.iter().any(|former| former == name);
        let layer = |at: usize| self.stack.layers.get(at);
        if what == "limit" {
            let limit = |seen: &SeenLimit| layer(seen.layer)?.limits.get(seen.index);
            let mut all = self.view.limits.values().filter_map(limit);
            return all
                .find(|limit| had(&limit.body.written.formerly))
                .map(|limit| limit.name.as_str());
        }
        let caution = |seen: &SeenCaution| layer(seen.layer)?.cautions.get(seen.index);
        let mut all = self.view.cautions.values().filter_map(caution);
        all.find(|caution| had(&caution.body.formerly))
            .map(|caution| caution.name.as_str())
    }

    fn unknown(&mut self, what: &str, name: String, span: Span) {
        let View {
            limits,
            cautions,
            unsure,
            ..
        } = &*self.view;
        let (near, may_be) = match what {
            "limit" => (
                self.problems.near(&name, limits.keys().map(String::as_str)),
                unsure.limits.may_hold(&name),
            ),
            _ => (
                self.problems
                    .near(&name, cautions.keys().map(String::as_str)),
                unsure.cautions.may_hold(&name),
            ),
        };
        if may_be {
            return;
        }
        let help = match (self.now_called(what, &name), near) {
            (Some(now), _) => format!("it is now called `{now}`"),
            (None, Some(near)) => format!("did you mean `{near}`?"),
            (None, None) => "only what an extended ruleset defines can be adjusted".to_owned(),
        };
        self.problems.add(
            Fault::UnknownName,
            span,
            format!("there is no {what} `{name}` to adjust"),
            help,
        );
    }
}
