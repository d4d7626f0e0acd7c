//! Vetting finds each thing it promises to find, and nothing in a ruleset that lacks nothing.
#![cfg(test)]

use rules_core::check::vet;
use rules_core::document::{Fault, Problem};
use rules_core::ruleset::{Library, Text, Vetting};

struct Only(String);

impl Library for Only {
    fn find(&self, name: &str, _: Option<&str>) -> Result<Text, Problem> {
        Ok(Text { name: name.to_owned(), bytes: self.0.clone().into_bytes() })
    }
}

const LIMIT: &str = "limits:\n  floor: { value: 3.00 V, stricter: higher, meaning: Floor, basis: [{ common_practice: example }] }\n";

/// A ruleset of one caution about each cell, given the lines that are its own.
fn found(definitions: &str, caution: &str) -> Vec<Fault> {
    let own: String = caution.lines().map(|line| format!("    {}\n", line.trim())).collect();
    let text = format!(
        "format: 1\nruleset: one\nversion: 1.0.0\ntitle: One\n{definitions}cautions:\n  - id: tested\n    title: Tested\n    about: each cell\n    reason: r\n{own}"
    );
    let vetting = Vetting::load(&["one"], &Only(text), &rules_core::catalogue()).unwrap_or_else(|problems| panic!("{problems:?}"));
    vet(&vetting).into_iter().map(|problem| problem.fault).collect()
}

const BASIS: &str = "basis: [{ common_practice: example }]";
const CASES: &str = "cases:
- { given: { cell.rest_voltage: 3.70 V }, expect: pass }
- { given: { cell.rest_voltage: 2.90 V }, expect: refuse }
- { given: { cell.rest_voltage: 3.00 V }, expect: refuse, doubt: yes }
- { given: {}, expect: refuse, unmeasured: [cell.rest_voltage] }";

fn with_cases(rungs: &str) -> Vec<Fault> {
    found(LIMIT, &format!("{rungs}\n{BASIS}\n{CASES}"))
}

#[test]
fn a_whole_ruleset_lacks_nothing() {
    assert_eq!(with_cases("refuse_unless: cell.rest_voltage >= limit.floor"), []);
}

#[test]
fn each_promise_is_kept() {
    let sure = "refuse_unless: cell.rest_voltage >= limit.floor";
    assert_eq!(found(LIMIT, &format!("{sure}\n{CASES}")), [Fault::MissingBasis]);
    assert_eq!(found(LIMIT, &format!("{sure}\n{BASIS}")), [Fault::OutcomeNotShown]);
    assert!(with_cases(&format!("{sure} or cell.rest_voltage >= -5 V")).contains(&Fault::NeverFails));
    assert!(with_cases(&format!("{sure}\napplies_when: cell.rest_voltage > 20 V")).contains(&Fault::NeverApplies));
    assert!(with_cases(&format!("{sure}\nwarn_unless: cell.rest_voltage >= 2.9 V")).contains(&Fault::LaxWarning));
    assert!(!with_cases(&format!("{sure}\nwarn_unless: cell.rest_voltage >= 3.1 V")).contains(&Fault::LaxWarning));
    assert!(with_cases("refuse_unless: cell.rest_voltage >= 3.1 V").contains(&Fault::CaseFails));
    assert!(with_cases("refuse_unless: cell.rest_voltage >= 3 V").contains(&Fault::Unused));
}

#[test]
fn a_limit_used_against_its_strictness_is_found() {
    for (rungs, wrong) in [
        ("refuse_unless: cell.rest_voltage >= limit.floor", false),
        ("refuse_unless: limit.floor <= cell.rest_voltage", false),
        ("refuse_unless: not cell.rest_voltage < limit.floor", false),
        ("refuse_unless: cell.wrap == intact\napplies_when: cell.rest_voltage < limit.floor", false),
        ("refuse_unless: cell.rest_voltage <= limit.floor", true),
        ("refuse_unless: limit.floor >= cell.rest_voltage", true),
        ("refuse_unless: not cell.rest_voltage > limit.floor", true),
        ("refuse_unless: cell.wrap == intact\napplies_when: cell.rest_voltage >= limit.floor", true),
    ] {
        assert_eq!(with_cases(rungs).contains(&Fault::AgainstStrictness), wrong, "{rungs}");
    }
}

#[test]
fn a_plain_number_for_a_percentage_is_found() {
    let limit = |value: &str| {
        format!("limits:\n  share: {{ value: {value}, stricter: higher, meaning: Share, basis: [{{ common_practice: example }}] }}\n")
    };
    let caution = format!("refuse_unless: cell.capacity / cell.rated_capacity >= limit.share\n{BASIS}");
    assert!(found(&limit("80"), &caution).contains(&Fault::KindsDiffer));
    assert!(!found(&limit("80 %"), &caution).contains(&Fault::KindsDiffer));
    assert!(!found(&limit("0.8"), &caution).contains(&Fault::KindsDiffer));
}

#[test]
fn what_is_only_asked_to_be_known_needs_no_decided_refusal() {
    let caution = format!(
        "refuse_unless: cell.pack is known\n{BASIS}\ncases:\n- {{ given: {{ cell.pack: A }}, expect: pass }}\n- {{ given: {{}}, expect: refuse, unmeasured: [cell.pack] }}"
    );
    assert_eq!(found("", &caution), []);
}
