//! Outcomes of a caution that no case shows.

use crate::document::{Fault, Problems};
use crate::facts::FactKind;
use crate::formula::Uses;
use crate::quantity::Nature;
use crate::ruleset::{CaseText, Caution, CautionCondition, CautionText, Expectation, Named, Rules};

/// Advises to show every outcome that a caution can have. One that is `optional` may not apply.
pub(super) fn outcomes(
    caution: &Caution,
    named: &Named<CautionText>,
    optional: bool,
    rules: &Rules,
    found: &mut Problems<'_>,
) {
    let cases = &named.body.cases;
    let mut wanted = decided(caution, optional);
    wanted.retain(|(outcome, _)| !cases.iter().any(|case| is_decided(case, *outcome)));
    let mut missing: Vec<&str> = wanted.into_iter().map(|(_, what)| what).collect();
    let uses = rules.uses_of(caution);
    if measures(&uses, rules) && !cases.iter().any(|case| case.doubt) {
        missing.push("a `doubt: yes`");
    }
    let asks = !uses.facts.is_empty() || !uses.asked.is_empty();
    if asks && cases.iter().all(|case| case.unmeasured.is_empty()) {
        missing.push("an `unmeasured: [...]`");
    }
    if !missing.is_empty() {
        let message = format!(
            "no case of `{}` shows {}",
            caution.id,
            missing.join(" and no case ")
        );
        let help = "add one for each under `cases`";
        found.advise(Fault::OutcomeNotShown, named.span, message, help);
    }
}

/// The decided outcomes that a caution can have, and how they are called.
fn decided(caution: &Caution, optional: bool) -> Vec<(Expectation, &'static str)> {
    let can_be_no = |condition: &Option<CautionCondition>| {
        let condition = condition.as_ref();
        condition.is_some_and(|one| one.condition.can_be_no())
    };
    let refuses = can_be_no(&caution.refuse_unless);
    let warns = can_be_no(&caution.warn_unless);
    let optional = optional && can_be_no(&caution.applies_when);
    let all = [
        (true, Expectation::Pass, "a decided `pass`"),
        (refuses, Expectation::Refuse, "a decided `refuse`"),
        (warns, Expectation::Warn, "a decided `warn`"),
        (optional, Expectation::NotApplicable, "`not-applicable`"),
    ];
    let can_be = all.into_iter().filter(|(can_be, ..)| *can_be);
    can_be.map(|(_, outcome, what)| (outcome, what)).collect()
}

fn is_decided(case: &CaseText, outcome: Expectation) -> bool {
    case.expect == outcome && !case.doubt && case.unmeasured.is_empty()
}

/// Whether numbers take part that are measured, so that they can leave it in doubt.
fn measures(uses: &Uses, rules: &Rules) -> bool {
    let facts = uses.facts.iter();
    facts
        .filter_map(|id| rules.catalogue().fact(*id))
        .any(|fact| fact.nature == Nature::Measured && matches!(fact.kind, FactKind::Number(_)))
}
