//! Limits in conditions that say something else than they seem to.

use crate::document::{Fault, Problems, Span};
use crate::formula::{Comparison, Condition, Number, Test};
use crate::quantity::Kind;
use crate::ruleset::{Rules, Stricter};

/// A limit must stand where its stricter value is the harder to keep, or tightening it would let
/// more pass. `wanted` says whether the condition coming out yes lets a proposal pass.
pub(super) fn against_strictness(
    condition: &Condition,
    wanted: bool,
    rules: &Rules,
    span: Span,
    found: &mut Problems<'_>,
) {
    match &condition.form {
        Test::And(parts) | Test::Or(parts) => parts
            .iter()
            .for_each(|part| against_strictness(part, wanted, rules, span, found)),
        Test::Not(inner) => against_strictness(inner, !wanted, rules, span, found),
        Test::Every(_, inner) | Test::Any(_, inner) => {
            against_strictness(inner, wanted, rules, span, found)
        }
        Test::Compare {
            comparison,
            left,
            right,
            ..
        } => {
            let floor = match comparison {
                Comparison::AtLeast | Comparison::Above => wanted,
                Comparison::AtMost | Comparison::Below => !wanted,
                Comparison::Equal | Comparison::NotEqual => return,
            };
            for (side, is_floor) in [(left, !floor), (right, floor)] {
                let Number::Limit(id) = side.number else {
                    continue;
                };
                let Some(limit) = rules
                    .limit(id)
                    .filter(|limit| (limit.written.stricter == Stricter::Higher) != is_floor)
                else {
                    continue;
                };
                let message = format!(
                    "`limit.{}` stands where its stricter value is the easier to keep",
                    limit.name
                );
                found.advise(
                    Fault::AgainstStrictness,
                    span,
                    message,
                    "turn the comparison, or `stricter` of the limit",
                );
            }
        }
        _ => {}
    }
}

/// A limit written `80` that is compared with a ratio is 8000 %, and passes everything or nothing.
pub(super) fn plain_for_ratio(
    condition: &Condition,
    rules: &Rules,
    span: Span,
    found: &mut Problems<'_>,
) {
    match &condition.form {
        Test::And(parts) | Test::Or(parts) => parts
            .iter()
            .for_each(|part| plain_for_ratio(part, rules, span, found)),
        Test::Not(inner) | Test::Every(_, inner) | Test::Any(_, inner) => {
            plain_for_ratio(inner, rules, span, found)
        }
        Test::Compare {
            left, right, sort, ..
        } if sort.kind == Some(Kind::Ratio) => {
            for side in [left, right] {
                let Number::Limit(id) = side.number else {
                    continue;
                };
                let Some(limit) = rules
                    .program()
                    .limits
                    .get(id.0)
                    .filter(|limit| limit.unit.is_none() && limit.value.nominal() > 1.0)
                else {
                    continue;
                };
                let message = format!(
                    "`limit.{}` is the plain number {}, and is compared with a ratio",
                    limit.name,
                    limit.value.nominal()
                );
                found.advise(
                    Fault::KindsDiffer,
                    span,
                    message,
                    format!("write `{} %` if that is meant", limit.value.nominal()),
                );
            }
        }
        _ => {}
    }
}
