//! Outcomes of a caution that no case shows.

use super::unused::caution_uses;
use crate::document::{Fault, Problems};
use crate::facts::FactKind;
use crate::quantity::Nature;
use crate::ruleset::{Caution, CautionText, Expectation, Named, Rules, Rung};

pub(super) fn outcomes(
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
