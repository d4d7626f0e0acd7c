//! How much a check asks for, which is known before it starts, and how much it finds.

use crate::bounds::{MOST_PARTS, MOST_STEPS};
use crate::document::{Fault, Problem};
use crate::facts::Sheet;
use crate::report::Finding;
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
pub(super) fn within_bounds(rules: &Rules, sheet: &Sheet) -> Result<(), Vec<Problem>> {
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
pub(super) fn few_enough(parts: usize) -> Result<(), Vec<Problem>> {
    if parts <= MOST_PARTS {
        return Ok(());
    }
    Err(too_much(format!(
        "the findings have more than {MOST_PARTS} comparisons, figures and facts together"
    )))
}

fn too_much(message: String) -> Vec<Problem> {
    vec![Problem::of_file(
        Fault::TooLarge,
        message,
        "check the proposal in parts, or leave some rulesets out",
    )]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bounds::MOST_CELLS;
    use crate::document::{Problem, Syntax};
    use crate::proposal::Proposal;
    use crate::ruleset::{Library, Text};

    struct Cautions(usize, &'static str);

    impl Library for Cautions {
        fn find(&self, name: &str, _: Option<&str>) -> Result<Text, Problem> {
            let one = |number: usize| {
                format!(
                    "  - {{ id: c{number}, title: One, about: each cell, warn_unless: cell.rest_voltage > 3 V, reason: low }}\n"
                )
            };
            let cautions: String = (0..self.0).map(one).collect();
            let head = format!(
                "format: 1\nruleset: many\nversion: 1.0.0\ntitle: Many\n{}",
                self.1
            );
            Ok(Text {
                name: name.to_owned(),
                bytes: format!("{head}cautions:\n{cautions}").into_bytes(),
            })
        }
    }

    fn rules(cautions: usize, figures: &'static str) -> Rules {
        Rules::load(&["many"], &Cautions(cautions, figures), &crate::catalogue())
            .expect("the rules load")
    }

    fn most_cells() -> Proposal {
        let cells: String = (0..MOST_CELLS)
            .map(|at| format!("{{id: K{at}}},"))
            .collect();
        proposal(&format!("[{cells}]"))
    }

    fn proposal(cells: &str) -> Proposal {
        let text = format!("format: 1\narrangement: {MOST_CELLS}S\ncells: {cells}\n");
        Proposal::read("p", text.into_bytes(), Syntax::Yaml).expect("it is well formed")
    }

    fn faults(cautions: usize, figures: &'static str) -> Option<Fault> {
        let (rules, proposal) = (rules(cautions, figures), most_cells());
        let sheet = proposal
            .facts(rules.catalogue())
            .expect("its facts are known");
        assert_eq!(sheet.count_of_most(), MOST_CELLS);
        within_bounds(&rules, &sheet)
            .err()
            .map(|problems| problems[0].fault)
    }

    #[test]
    fn cautions_figures_and_folds_count_as_steps() {
        let most = MOST_STEPS / MOST_CELLS;
        assert_eq!(faults(most, ""), None);
        assert_eq!(faults(most + 1, ""), Some(Fault::TooLarge));
        let figure =
            "figures:\n  high: { about: each cell, is: cell.rest_voltage > 4 V, meaning: High }\n";
        assert_eq!(faults(most - 1, figure), None);
        assert_eq!(faults(most, figure), Some(Fault::TooLarge));
        let fold = "figures:\n  apart: { about: build, is: spread of cell.rest_voltage, meaning: Apart }\n";
        assert_eq!(faults(most - 2, fold), None);
        assert_eq!(faults(most - 1, fold), Some(Fault::TooLarge));
    }

    /// Cells that are not listed are looked at once, however many they are.
    #[test]
    fn cells_that_are_not_listed_are_one_step() {
        let (rules, proposal) = (rules(100, ""), proposal("[{ id: K1 }]"));
        let sheet = proposal
            .facts(rules.catalogue())
            .expect("its facts are known");
        assert_eq!((sheet.count_of_most(), steps(&rules, &sheet)), (2, 200));
        let cell = rules.cautions()[0].about;
        assert_eq!(sheet.count_in_all(cell), MOST_CELLS);
    }

    #[test]
    fn findings_are_bounded() {
        assert!(few_enough(MOST_PARTS).is_ok() && few_enough(MOST_PARTS + 1).is_err());
    }

    #[test]
    fn a_check_past_the_steps_is_an_error() {
        let (rules, proposal) = (rules(MOST_STEPS / MOST_CELLS + 1, ""), most_cells());
        assert!(crate::check::check(&rules, &proposal, crate::check::Options::default()).is_err());
        assert!(
            crate::check::figures(&rules, &proposal, crate::check::Options::default()).is_err()
        );
    }
}
