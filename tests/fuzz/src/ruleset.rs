//! Any bytes as a ruleset, in YAML and in JSON: loaded, vetted, printed merged, and tried on two
//! proposals.

use rules_core::ruleset::Rules;
use rules_core::vetting::{Vetting, run_cases, vet};

use super::loaded::{CATALOGUE, HARDLY_KNOWN, MEASURED, checked, only, rules, say_why};

/// Rules that load say the same again when they are printed merged, and give reports that keep
/// their promises.
pub fn any(bytes: &[u8]) {
    for name in ["any.yaml", "any.json"] {
        vetted(name, bytes);
        let Some(rules) = rules(name, bytes) else {
            continue;
        };
        merged_says_the_same(&rules);
        checked(&rules, &MEASURED);
        checked(&rules, &HARDLY_KNOWN);
    }
}

fn vetted(name: &str, bytes: &[u8]) {
    match Vetting::load(&[name], &only(name, bytes), &CATALOGUE) {
        Ok(vetting) => {
            assert_eq!(run_cases(&vetting).count(), vetting.cases().count());
            assert!(
                vet(&vetting)
                    .iter()
                    .all(|problem| !problem.message.is_empty())
            );
        }
        Err(problems) => say_why(&problems),
    }
}

fn merged_says_the_same(first: &Rules) {
    let printed = first.merged_json();
    let Some(again) = rules("merged.json", printed.as_bytes()) else {
        panic!("what is printed merged does not load: {printed}")
    };
    assert_eq!(again.merged_json(), printed);
}
