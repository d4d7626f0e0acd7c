//! `rulesets/COVERAGE.md` names what there is: each name in backticks is a caution, a limit, a fact
//! or a file of the shipped rules, and no caution is left out.

use std::collections::BTreeSet;
use std::path::PathBuf;

use rules_core::ruleset::Rules;
use rulesets::shipped::{FILES, Shipped};

fn page() -> String {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../rulesets/COVERAGE.md");
    std::fs::read_to_string(path).expect("the page is there")
}

/// What stands in backticks.
fn named(page: &str) -> BTreeSet<&str> {
    page.split('`').skip(1).step_by(2).collect()
}

/// Both shipped rulesets, of which one builds on the other.
fn rules() -> Rules {
    let names: Vec<_> = Shipped::names().collect();
    Rules::load(&names, &FILES, &rulesets::catalogue()).expect("the shipped rules load")
}

fn is_known(rules: &Rules, name: &str) -> bool {
    let is_caution = rules.cautions().iter().any(|caution| &*caution.id == name);
    let limit = name.strip_prefix("limit.");
    let is_limit = limit.is_some_and(|id| rules.limits().iter().any(|limit| limit.name == id));
    let is_fact = rules.catalogue().fact_named(name).is_some();
    is_caution || is_limit || is_fact || name == "limit." || name.ends_with(".yaml")
}

#[test]
fn the_page_of_what_is_covered_names_what_there_is() {
    let (page, rules) = (page(), rules());
    let unknown: Vec<_> = named(&page)
        .into_iter()
        .filter(|name| !is_known(&rules, name))
        .collect();
    assert!(unknown.is_empty(), "{unknown:?}");
}

#[test]
fn the_page_of_what_is_covered_names_each_caution() {
    let (page, rules) = (page(), rules());
    let named = named(&page);
    let absent: Vec<_> = rules
        .cautions()
        .iter()
        .map(|caution| &*caution.id)
        .filter(|id| !named.contains(id))
        .collect();
    assert!(absent.is_empty(), "{absent:?}");
}
