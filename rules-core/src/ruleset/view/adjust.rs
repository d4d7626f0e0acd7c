//! A ruleset's adjustments: tightening freely, loosening in the open, nothing of what is fixed.

use super::{SeenLimit, View};
use crate::document::{Fault, Problems, Span};
use crate::facts::read_stated;
use crate::ruleset::layer::{Adjust, AdjustAcceptance, AdjustCaution, AdjustLimit, Layer, LimitText, Named};
use crate::ruleset::merge::Stack;
use crate::ruleset::model::{Acceptance, Loosening};

pub(super) struct Adjusting<'a, 'p> {
    pub stack: &'a Stack,
    pub layer: &'a Layer,
    pub view: &'a mut View,
    pub problems: &'a mut Problems<'p>,
}

impl Adjusting<'_, '_> {
    pub(super) fn all(mut self, adjust: &Adjust) {
        adjust.limits.iter().for_each(|limit| self.limit(limit));
        adjust.cautions.iter().for_each(|caution| self.caution(caution));
        if let Some(acceptance) = &adjust.acceptance {
            self.acceptance(acceptance);
        }
    }

    fn limit(&mut self, adjusted: &Named<AdjustLimit>) {
        let Some(seen) = self.view.limits.get(&adjusted.name).cloned() else {
            return self.unknown("limit", adjusted.name.clone(), adjusted.span);
        };
        let Some(defined) = self.limit_text(seen.layer, seen.index) else { return };
        let Some(to) = read_stated(&adjusted.body.to, defined.kind, self.problems) else { return };
        let written = adjusted.body.to.scalar().unwrap_or_default().to_owned();
        let what = format!("limit {}", adjusted.name);
        let mut adjusted_limit = SeenLimit { value: to, written, ..seen.clone() };
        if !seen.is_met_by(to) {
            let (from, to) = (seen.written.as_str(), adjusted_limit.written.as_str());
            let Some(loosening) = self.loosening(&what, (from, to), adjusted.body.because.as_deref(), defined.fixed, adjusted.span) else {
                return;
            };
            adjusted_limit.loosened.push(loosening);
            adjusted_limit.before = seen.before.or(Some(seen.value));
        } else if seen.is_restored_by(to) {
            adjusted_limit.loosened.clear();
            adjusted_limit.before = None;
        }
        self.view.limits.insert(adjusted.name.clone(), adjusted_limit);
    }

    fn limit_text(&self, layer: usize, index: usize) -> Option<LimitText> {
        self.stack.layers.get(layer).and_then(|layer| layer.limits.get(index)).map(|limit| limit.body.clone())
    }

    fn caution(&mut self, adjusted: &Named<AdjustCaution>) {
        let Some(seen) = self.view.cautions.get(&adjusted.name).cloned() else {
            return self.unknown("caution", adjusted.name.clone(), adjusted.span);
        };
        let fixed =
            self.stack.layers.get(seen.layer).and_then(|layer| layer.cautions.get(seen.index)).is_some_and(|caution| caution.body.fixed);
        let what = format!("caution {}", adjusted.name);
        let loosening = self.loosening(&what, ("applies", "dropped"), adjusted.body.because.as_deref(), fixed, adjusted.span);
        if let (Some(loosening), Some(seen)) = (loosening, self.view.cautions.get_mut(&adjusted.name)) {
            seen.dropped.push(loosening);
        }
    }

    fn acceptance(&mut self, adjusted: &AdjustAcceptance) {
        if adjusted.to == Acceptance::Guarded {
            self.view.acceptance = Acceptance::Guarded;
            return self.view.acceptance_loosened.clear();
        }
        if self.view.acceptance == Acceptance::Simple {
            return;
        }
        let loosening = self.loosening("acceptance", ("guarded", "simple"), adjusted.because.as_deref(), false, adjusted.span);
        if let Some(loosening) = loosening {
            self.view.acceptance = Acceptance::Simple;
            self.view.acceptance_loosened.push(loosening);
        }
    }

    /// A loosening, or none with the reason why it may not be.
    fn loosening(&mut self, what: &str, (from, to): (&str, &str), because: Option<&str>, fixed: bool, span: Span) -> Option<Loosening> {
        if fixed {
            let help = "leave it as it is, or tighten it";
            self.problems.add(Fault::Fixed, span, format!("the {what} is fixed and cannot be loosened"), help);
            return None;
        }
        let Some(because) = because else {
            let message = format!("this loosens the {what} (from `{from}` to `{to}`) without a reason");
            self.problems.add(Fault::LooseningWithoutReason, span, message, "add `because: ...`; every report shows it");
            return None;
        };
        let text = str::to_owned;
        Some(Loosening { by: self.layer.name.clone(), what: text(what), from: text(from), to: text(to), because: text(because) })
    }

    fn unknown(&mut self, what: &str, name: String, span: Span) {
        let near = match what {
            "limit" => self.problems.near(&name, self.view.limits.keys().map(String::as_str)),
            _ => self.problems.near(&name, self.view.cautions.keys().map(String::as_str)),
        };
        let help = match near {
            Some(near) => format!("did you mean `{near}`?"),
            None => "only what an extended ruleset defines can be adjusted".to_owned(),
        };
        self.problems.add(Fault::UnknownName, span, format!("there is no {what} `{name}` to adjust"), help);
    }
}
