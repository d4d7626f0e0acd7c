//! The engine on every case of `tests/conformance/`: verdict, best and worst, findings with their
//! deciding and missing facts, and faults with their places; and whether the cases show all that can
//! come out.
#![cfg(test)]

mod coverage;
mod digests;
mod outcome;
mod run;

use std::collections::BTreeSet;

use rules_tests::conformance::{CODES, Expect, cases, files};

#[test]
fn every_case_comes_out_as_it_says() {
    let mut failed = Vec::new();
    let mut count = 0;
    for file in files().expect("the suite") {
        for case in &file.content.cases {
            count += 1;
            let came = run::run(case);
            let differences = match &case.expect {
                Expect::Failure(failure) => outcome::compare_fault(&failure.error, &came),
                Expect::Failures(failures) => outcome::compare_faults(&failures.errors, &came),
                Expect::Outcome(expected) => outcome::compare_report(expected, &came),
            };
            if !differences.is_empty() {
                failed.push(format!(
                    "{}: {}\n    {}",
                    file.name,
                    case.name,
                    differences.join("\n    ")
                ));
            }
        }
    }
    println!("{count} conformance cases, {} failed", failed.len());
    assert!(count >= 800, "the suite has shrunk to {count} cases");
    assert!(failed.is_empty(), "{}", failed.join("\n"));
}

#[test]
fn names_are_unique_over_the_suite() {
    let mut seen = BTreeSet::new();
    for case in cases().expect("the suite") {
        let name = case.name;
        assert!(seen.insert(name.clone()), "`{name}` stands twice");
    }
}

/// A suite in which everything refuses would be met by a checker that refuses everything.
#[test]
fn every_kind_of_outcome_is_asked_for() {
    let mut seen = BTreeSet::new();
    for case in cases().expect("the suite") {
        seen.extend(match case.expect {
            Expect::Failure(failure) => vec![failure.error.about],
            Expect::Failures(failures) => failures
                .errors
                .into_iter()
                .map(|error| error.about)
                .collect(),
            Expect::Outcome(outcome) => {
                let stages = outcome.stages.iter().map(|stage| stage.verdict);
                let all = stages.chain(outcome.verdict);
                all.map(|verdict| format!("{verdict:?}")).collect()
            }
        });
    }
    let wanted = CODES.iter().copied().chain(["Pass", "Warn", "Refuse"]);
    let absent: Vec<&str> = wanted.filter(|word| !seen.contains(*word)).collect();
    assert!(absent.is_empty(), "no case shows {absent:?}");
}
