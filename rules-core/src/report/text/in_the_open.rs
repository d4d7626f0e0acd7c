//! What weakens a check is told in the open: the same words in every form of a report.

use super::page::{Page, Part};
use crate::ruleset::{Acceptance, Loosening};

/// Something that weakens a check.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct InTheOpen {
    /// What it is of: `acceptance`, `limit rest_floor`, `caution torn-wrap`.
    pub of: String,
    /// In a few words: `Simple acceptance`, `Loosened by club-practice`.
    pub title: String,
    /// In a sentence, with the reason that was given.
    pub says: String,
}

/// Simple acceptance, if it was used, and everything that was loosened.
#[must_use]
pub fn in_the_open(acceptance: Acceptance, loosened: &[Loosening]) -> Vec<InTheOpen> {
    let simple = simple_acceptance(acceptance).map(|says| InTheOpen {
        of: "acceptance".to_owned(),
        title: "Simple acceptance".to_owned(),
        says: says.to_owned(),
    });
    let loosened = loosened.iter().map(InTheOpen::of_loosening);
    simple.into_iter().chain(loosened).collect()
}

/// Writes it, an item each; nothing where nothing weakens the check.
pub fn openly(acceptance: Acceptance, loosened: &[Loosening], page: &mut Page<'_>) {
    let all = in_the_open(acceptance, loosened);
    if !all.is_empty() {
        page.gap();
    }
    for one in all {
        page.item(0, 2, &[Part::text(one.says)]);
    }
}

impl InTheOpen {
    fn of_loosening(one: &Loosening) -> Self {
        Self {
            of: one.what.to_string(),
            title: format!("Loosened by {}", one.by),
            says: loosened_in_full(one),
        }
    }
}

/// What is said where nominal values decided.
#[must_use]
pub fn simple_acceptance(acceptance: Acceptance) -> Option<&'static str> {
    (acceptance == Acceptance::Simple).then_some(
        "Simple acceptance: nominal values decided, without the uncertainty of readings.",
    )
}

/// What was loosened, and by whom.
pub(super) fn loosened_in_short(one: &Loosening) -> String {
    format!("Loosened by {}: {}", one.by, now(one))
}

/// What was loosened, and what it is now.
pub(super) fn now(one: &Loosening) -> String {
    format!("{}, now {}", one.what, one.to)
}

/// What was loosened, by whom, with what it was, and the reason given.
fn loosened_in_full(one: &Loosening) -> String {
    let short = loosened_in_short(one);
    format!("{short} (was: {}). Reason given: {}", one.from, one.because)
}

/// What was loosened, in a list that says in its heading that it is.
#[must_use]
pub fn loosened_entry(one: &Loosening) -> String {
    format!(
        "{}: {} (was: {}), by {}. Reason given: {}",
        one.what, one.to, one.from, one.by, one.because
    )
}

#[cfg(test)]
mod tests {
    use super::in_the_open;
    use crate::ruleset::{Acceptance, Loosened, Loosening};

    fn loosening() -> Loosening {
        Loosening {
            by: "workshop".to_owned(),
            what: Loosened::Limit("draw_ceiling".to_owned()),
            from: "10 A".to_owned(),
            to: "12 A".to_owned(),
            because: "our fuses are slow".to_owned(),
        }
    }

    #[test]
    fn guarded_acceptance_is_no_weakening() {
        assert_eq!(in_the_open(Acceptance::Guarded, &[]), []);
    }

    #[test]
    fn each_weakening_says_what_it_is_by_whom_and_why() {
        let told = in_the_open(Acceptance::Simple, &[loosening()]);
        let told: Vec<_> = told
            .iter()
            .map(|one| (one.of.as_str(), one.title.as_str(), one.says.as_str()))
            .collect();
        let simple =
            "Simple acceptance: nominal values decided, without the uncertainty of readings.";
        let loosened = "Loosened by workshop: limit draw_ceiling, now 12 A (was: 10 A). Reason given: \
                        our fuses are slow";
        assert_eq!(
            told,
            [
                ("acceptance", "Simple acceptance", simple),
                ("limit draw_ceiling", "Loosened by workshop", loosened)
            ]
        );
    }
}
