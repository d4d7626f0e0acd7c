//! What becomes of cautions when more of a subject join: derived from their formulas.

use crate::formula::{Condition, Joining, Trends};
use crate::ruleset::{Caution, CautionCondition, Rules};

/// What becomes of a caution.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CautionTrend {
    /// It stays as it is: nothing that joins takes part.
    pub stays: bool,
    /// What does not surely pass never will, and no margin becomes wider.
    pub only_worsens: bool,
    /// What surely warns or refuses always will.
    pub settled_stays: bool,
}

/// What becomes of each caution of the rules, in their order.
#[must_use]
pub fn caution_trends(rules: &Rules, joining: &Joining<'_>) -> Vec<CautionTrend> {
    rules
        .cautions()
        .iter()
        .map(|caution| trend(caution, joining))
        .collect()
}

fn trend(caution: &Caution, joining: &Joining<'_>) -> CautionTrend {
    let of = |condition: &CautionCondition| -> Trends {
        let condition: &Condition = &condition.condition;
        joining.condition(condition)
    };
    let applies = caution.applies_when.as_ref().map_or(Trends::SAME, of);
    let rungs = [&caution.refuse_unless, &caution.warn_unless];
    let rungs: Vec<Trends> = rungs.into_iter().flatten().map(of).collect();
    let stays = applies == Trends::SAME && rungs.iter().all(|rung| *rung == Trends::SAME);
    CautionTrend {
        stays,
        only_worsens: applies.no.never_rises() && rungs.iter().all(|rung| rung.yes.never_rises()),
        settled_stays: applies.yes.never_falls() && rungs.iter().all(|rung| rung.no.never_falls()),
    }
}
