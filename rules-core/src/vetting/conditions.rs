//! Limits in conditions that do not say what they seem to say.

use crate::document::{Fault, Problems, Span};
use crate::formula::{Comparison, Condition, LimitId, Number, Operand, Test};
use crate::quantity::Kind;
use crate::ruleset::{Rules, Stricter};

/// Looks at each comparison with a limit. `wanted` says whether a condition that is met lets a
/// proposal pass.
pub(super) fn advise_on_comparisons(
    condition: &Condition,
    wanted: bool,
    rules: &Rules,
    span: Span,
    found: &mut Problems<'_>,
) {
    match &condition.form {
        Test::And(parts) | Test::Or(parts) => parts
            .iter()
            .for_each(|part| advise_on_comparisons(part, wanted, rules, span, found)),
        Test::Not(inner) => advise_on_comparisons(inner, !wanted, rules, span, found),
        Test::Every(_, inner) | Test::Any(_, inner) => {
            advise_on_comparisons(inner, wanted, rules, span, found);
        }
        Test::Compare {
            comparison,
            left,
            right,
            sort,
        } => {
            let sides = [limit(left), limit(right)];
            against_strictness(*comparison, wanted, sides, (rules, span), found);
            if sort.kind == Some(Kind::Ratio) {
                plain_for_ratio(sides, (rules, span), found);
            }
        }
        _ => {}
    }
}

/// The limit that is one side of a comparison.
const fn limit(side: &Operand) -> Option<LimitId> {
    match side.number {
        Number::Limit(id) => Some(id),
        _ => None,
    }
}

/// The stricter value of a limit must be the harder to keep, or a tighter limit would let more pass.
fn against_strictness(
    comparison: Comparison,
    wanted: bool,
    [left, right]: [Option<LimitId>; 2],
    (rules, span): (&Rules, Span),
    found: &mut Problems<'_>,
) {
    let right_is_floor = match comparison {
        Comparison::AtLeast | Comparison::Above => wanted,
        Comparison::AtMost | Comparison::Below => !wanted,
        Comparison::Equal | Comparison::NotEqual => return,
    };
    for (limit, is_floor) in [(left, !right_is_floor), (right, right_is_floor)] {
        let Some(limit) = limit.and_then(|id| rules.limit(id)) else {
            continue;
        };
        if (limit.written.stricter == Stricter::Higher) == is_floor {
            continue;
        }
        let name = &limit.name;
        let message = format!("a stricter `limit.{name}` would be easier to keep here");
        let help = "turn the comparison, or `stricter` of the limit";
        found.advise(Fault::AgainstStrictness, span, message, help);
    }
}

/// A limit written `80` that is compared with a ratio is 8000 %, and passes everything or nothing.
fn plain_for_ratio(
    sides: [Option<LimitId>; 2],
    (rules, span): (&Rules, Span),
    found: &mut Problems<'_>,
) {
    let limits = sides.into_iter().flatten();
    for limit in limits.filter_map(|id| rules.program().limits.get(id.0)) {
        let (name, value) = (&limit.name, limit.value.nominal());
        if limit.unit.is_none() && value > 1.0 {
            let message =
                format!("`limit.{name}` is the plain number {value}, and is compared with a ratio");
            let help = format!("write `{value} %` if that is meant");
            found.advise(Fault::KindsDiffer, span, message, help);
        }
    }
}
