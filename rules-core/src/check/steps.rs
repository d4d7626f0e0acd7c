//! How much work a check takes, which is known before it starts, and how much it finds.

use super::finding::Finding;
use crate::bounds::{MOST_PARTS, MOST_STEPS};
use crate::document::{Fault, Problem, ProblemList};
use crate::facts::Sheet;
use crate::ruleset::Rules;

/// The steps of a check, at most.
fn steps(rules: &Rules, sheet: &Sheet) -> usize {
    let cautions: usize = rules
        .cautions()
        .iter()
        .map(|caution| sheet.count(caution.about))
        .sum();
    let program = rules.program();
    cautions.saturating_add(
        (program.figures.len() + program.folds).saturating_mul(sheet.count_of_most()),
    )
}

/// Whether the rules and the sheet are not too much together.
pub(super) fn within_bounds(rules: &Rules, sheet: &Sheet) -> Result<(), ProblemList> {
    let steps = steps(rules, sheet);
    if steps <= MOST_STEPS {
        return Ok(());
    }
    Err(too_much(format!(
        "these rules take up to {steps} steps on this proposal; the most is {MOST_STEPS}"
    )))
}

/// The parts of a finding.
pub(super) const fn parts(finding: &Finding) -> usize {
    1 + finding.clauses.len() + finding.figures.len() + finding.facts.len()
}

/// Whether a report is not too long.
pub(super) fn few_enough(parts: usize) -> Result<(), ProblemList> {
    if parts <= MOST_PARTS {
        return Ok(());
    }
    Err(too_much(format!(
        "the findings have more than {MOST_PARTS} comparisons, figures and facts together"
    )))
}

fn too_much(message: String) -> ProblemList {
    Problem::of_file(
        Fault::TooLarge,
        message,
        "check the proposal in parts, or leave some rulesets out",
    )
    .into()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::{Instance, Roster};
    use crate::heating::{CABLE, catalogue};
    use crate::ruleset::Texts;

    /// So many cautions about each cable, behind these figures.
    fn rules(cautions: usize, figures: &str) -> Rules {
        let one = |number: usize| {
            format!(
                "  - {{ id: c{number}, title: One, about: each cable, warn_unless: cable.drop < 3 V, reason: high }}\n"
            )
        };
        let cautions: String = (0..cautions).map(one).collect();
        let text = format!(
            "format: 1\nruleset: many\nversion: 1.0.0\ntitle: Many\n{figures}cautions:\n{cautions}"
        );
        Rules::load(&["many"], &Texts::of([("many", text)]), &catalogue()).expect("they load")
    }

    const CABLES: usize = 10_000;

    fn faults(cautions: usize, figures: &str) -> Option<Fault> {
        let rules = rules(cautions, figures);
        let mut sheet = Sheet::new(rules.catalogue());
        *sheet.roster_mut(CABLE).expect("there are cables") = Roster {
            instances: vec![Instance::default(); CABLES],
            ..Roster::default()
        };
        within_bounds(&rules, &sheet)
            .err()
            .map(|problems| problems[0].fault)
    }

    #[test]
    fn cautions_figures_and_folds_count_as_steps() {
        let most = MOST_STEPS / CABLES;
        assert_eq!(faults(most, ""), None);
        assert_eq!(faults(most + 1, ""), Some(Fault::TooLarge));
        let figure =
            "figures:\n  high: { about: each cable, is: cable.drop > 4 V, meaning: High }\n";
        assert_eq!(faults(most - 1, figure), None);
        assert_eq!(faults(most, figure), Some(Fault::TooLarge));
        let fold = "figures:\n  apart: { about: site, is: spread of cable.drop, meaning: Apart }\n";
        assert_eq!(faults(most - 2, fold), None);
        assert_eq!(faults(most - 1, fold), Some(Fault::TooLarge));
    }

    /// What stands for many is looked at once.
    #[test]
    fn one_that_stands_for_many_is_one_step() {
        let rules = rules(100, "");
        let mut sheet = Sheet::new(rules.catalogue());
        let cables = &mut sheet.roster_mut(CABLE).expect("there are cables").instances;
        cables.push(Instance::named("K1"));
        cables.push(Instance::default().standing_for(CABLES - 1));
        assert_eq!((sheet.count_of_most(), steps(&rules, &sheet)), (2, 200));
        assert_eq!(sheet.count_in_all(CABLE), CABLES);
    }

    #[test]
    fn findings_are_bounded() {
        assert!(few_enough(MOST_PARTS).is_ok() && few_enough(MOST_PARTS + 1).is_err());
    }
}
