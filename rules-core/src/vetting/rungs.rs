//! What the rungs of a caution come to where nothing is known, and beside each other.

use crate::formula::{Comparison, Condition, Evaluator, Number, Test, Truth};
use crate::quantity::{Holds, Interval};
use crate::ruleset::{Caution, CautionCondition, Rules};

/// What a condition of a caution comes to for every proposal alike; undecided, where proposals differ.
pub(super) fn for_all(
    condition: &CautionCondition,
    caution: &Caution,
    of_nothing: &Evaluator<'_>,
) -> Truth {
    let bound = of_nothing.one(caution.about, 0);
    of_nothing.condition(&condition.condition, &bound)
}

/// The rungs of a caution, each with what it does where it is not met.
pub(super) fn rungs(caution: &Caution) -> impl Iterator<Item = (&'static str, &CautionCondition)> {
    let refuse = caution.refuse_unless.iter().map(|rung| ("refuse", rung));
    let warn = caution.warn_unless.iter().map(|rung| ("warn", rung));
    refuse.chain(warn)
}

/// Whether both rungs compare the same with limits, and the warn rung's limit is not the stricter.
pub(super) fn is_lax(caution: &Caution, rules: &Rules) -> bool {
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
) -> Option<(Comparison, &'c Number, Interval)> {
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
