//! How far one fact can go, with a slider under the strip of its range.

use rules_core::document::ProblemList;
use rulesets::jobs::range::{self, RangeFact, RangeReport, Vary, Written};
use rulesets::pages::html::Html;
use rulesets::pages::parts;

use super::plan::AtHand;

/// So many checks are made: a strip of the usual resolution needs fewer as a rule, and somebody waits.
const MOST_CHECKS: usize = 600;

/// About so many steps a slider has.
const STEPS: f64 = 400.0;

/// The range of a fact: its path, and then, where a slider is moved along a range, the ends of that, a
/// line each.
pub(super) fn range(about: &str, at_hand: &AtHand) -> Result<Html, ProblemList> {
    let mut lines = about.lines();
    let end = |called, text| Written { called, text };
    let vary = Vary {
        fact: lines.next().unwrap_or_default(),
        from: lines.next().map(|text| end("from", text)),
        to: lines.next().map(|text| end("to", text)),
        resolution: None,
    };
    let report = range::range(&at_hand.trial(), &vary, MOST_CHECKS)?;
    let mut html = Html::default();
    html.told("h3", &[], &report.fact.meaning);
    slider(&report, &mut html);
    html.add(parts::range_part(&report));
    Ok(html)
}

fn slider(report: &RangeReport, html: &mut Html) {
    let fact = &report.fact;
    let (Some(ends), Some([low, high])) = (&fact.range, fact.own_range) else {
        return;
    };
    let label = format!("Move {}", called(fact));
    html.element("div", &[("class", "field")], |html| {
        html.said("label", &[("for", "slider")], &label);
        html.element("div", &[("class", "control")], |html| {
            let all = [
                ("type", "range"),
                ("id", "slider"),
                ("min", &*number(ends.from.value)),
                ("max", &*number(ends.to.value)),
                (
                    "step",
                    &*number(parts::round_step((ends.to.value - ends.from.value) / STEPS)),
                ),
                ("value", &*number(low.midpoint(high))),
                ("data-slides", &*fact.path),
                ("data-of-unit", &*fact.unit),
                ("data-from", &*ends.from.text),
                ("data-to", &*ends.to.text),
            ];
            html.empty("input", &all);
            let own = fact.own.as_deref().unwrap_or_default();
            html.said("output", &[("for", "slider"), ("id", "slid")], own);
        });
    });
}

fn called(fact: &RangeFact) -> String {
    match fact.unit.as_str() {
        "" => fact.path.clone(),
        unit => format!("{} in {unit}", fact.path),
    }
}

/// As few digits as say the number to a part in a million.
fn number(value: f64) -> String {
    let text = format!("{value:.6}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    text.to_owned()
}
