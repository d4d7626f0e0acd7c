//! What was varied and how it was searched, told for the result.

use std::ops::Range;

use rules_core::check::Verdict;

use super::axis::Axis;
use super::named::Varied;
use super::probe::Probe;
use super::report::{RangeApart, RangeEnd, RangeEnds, RangeFact, RangeSearch};

/// The first and the last value of some steps.
pub(super) fn ends(axis: &Axis<'_>, steps: &Range<usize>) -> RangeEnds {
    let [from, to] = axis
        .told(steps)
        .map(|(text, value)| RangeEnd { text, value });
    RangeEnds { from, to }
}

/// A number that is varied.
pub(super) fn fact(axis: &Axis<'_>, probe: &Probe<'_>) -> RangeFact {
    RangeFact {
        unit: axis.unit(),
        own: axis.own.as_ref().map(|(written, _)| written.clone()),
        own_range: axis.own_range(),
        range: Some(ends(axis, &(0..axis.steps()))),
        chosen: axis.chosen.clone(),
        resolution: Some(axis.resolution()),
        step: Some(axis.step()),
        ..RangeFact::of(&axis.varied, probe)
    }
}

/// The plan, and what was done with it.
pub(super) fn of_search(apart: RangeApart, probe: &Probe<'_>) -> RangeSearch {
    RangeSearch {
        format: 1,
        title: probe.title().to_owned(),
        proposal: probe.name().to_owned(),
        stages: probe.stages().iter().map(ToString::to_string).collect(),
        bearing: probe.bearing().iter().cloned().collect(),
        apart,
        checks: probe.made,
        most_checks: probe.most,
        rules: probe.rules().layers().to_vec(),
        acceptance: probe.rules().acceptance(),
        loosened: probe.rules().loosened().to_vec(),
        notice: probe.rules().notice().to_vec(),
    }
}

impl RangeApart {
    /// Where nothing else speaks.
    pub(super) const fn nothing() -> Self {
        Self {
            verdict: Verdict::Pass,
            best: Verdict::Pass,
            cautions: Vec::new(),
            open: Vec::new(),
        }
    }
}

impl RangeFact {
    /// A fact of which nothing is varied yet.
    pub(super) fn of(varied: &Varied<'_>, probe: &Probe<'_>) -> Self {
        Self {
            path: varied.path.clone(),
            name: probe.rules().catalogue().fact_name(varied.id).to_owned(),
            meaning: varied.def.meaning.to_string(),
            kind: varied.def.kind.name().to_owned(),
            unit: String::new(),
            own: None,
            range: None,
            chosen: String::new(),
            resolution: None,
            own_range: None,
            step: None,
        }
    }

    /// Where it is written, with the unit of its numbers: `light.draw, A`.
    #[must_use]
    pub fn with_unit(&self) -> String {
        match self.unit.as_str() {
            "" => self.path.clone(),
            unit => format!("{}, {unit}", self.path),
        }
    }
}
