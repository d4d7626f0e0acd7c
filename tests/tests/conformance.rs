//! Runs every case of `tests/conformance/`: verdict, best and worst, findings with their deciding
//! and missing facts, and faults with their places.
#![cfg(test)]

mod conformance {
    pub(crate) mod outcome;
    pub(crate) mod run;
}

use std::collections::BTreeSet;
use std::path::PathBuf;

use conformance::{outcome, run};
use rules_tests::conformance::{CaseFile, Expect, read};

/// Every file of the suite, by name.
fn files() -> Vec<(String, CaseFile)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("conformance");
    let mut paths: Vec<PathBuf> = std::fs::read_dir(folder)
        .expect("the folder")
        .map(|entry| entry.expect("an entry").path())
        .collect();
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "yaml"));
    paths.sort();
    let read_one = |path: &PathBuf| {
        let name = path
            .file_name()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        let text = std::fs::read_to_string(path).expect("the file");
        let file = read(&text).unwrap_or_else(|error| panic!("{name}: {error}"));
        (name, file)
    };
    paths.iter().map(read_one).collect()
}

#[test]
fn every_case_comes_out_as_it_says() {
    let mut failed = Vec::new();
    let mut count = 0;
    for (name, file) in files() {
        for case in &file.cases {
            count += 1;
            let came = run::run(case);
            let differences = match &case.expect {
                Expect::Failure(failure) => outcome::compare_fault(&failure.error, &came),
                Expect::Failures(failures) => outcome::compare_faults(&failures.errors, &came),
                Expect::Outcome(expected) => outcome::compare_report(expected, &came),
            };
            if !differences.is_empty() {
                failed.push(format!(
                    "{name}: {}\n    {}",
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
    for (file, cases) in files() {
        for case in cases.cases {
            assert!(
                seen.insert(case.name.clone()),
                "{file}: `{}` stands twice",
                case.name
            );
        }
    }
}

/// A suite in which everything refuses would be met by a checker that refuses everything.
#[test]
fn every_kind_of_outcome_is_asked_for() {
    let mut seen = BTreeSet::new();
    for (_, file) in files() {
        for case in file.cases {
            seen.extend(match case.expect {
                Expect::Failure(failure) => vec![failure.error.about],
                Expect::Failures(failures) => failures
                    .errors
                    .into_iter()
                    .map(|error| error.about)
                    .collect(),
                Expect::Outcome(outcome) => vec![format!("{:?}", outcome.verdict)],
            });
        }
    }
    let wanted = rules_tests::conformance::CODES
        .iter()
        .copied()
        .chain(["Pass", "Warn", "Refuse"]);
    let absent: Vec<&str> = wanted.filter(|word| !seen.contains(*word)).collect();
    assert!(absent.is_empty(), "no case shows {absent:?}");
}
