//! What the shipped rules tell people to do. A first page shows the first sentence of a remedy alone,
//! so that sentence is the cure and is short.

use rules_core::ruleset::{Rules, Template};
use rulesets::shipped::{FILES, Shipped};

/// What fits on one line or little more.
const LONGEST: usize = 85;
/// About what a value takes, as `14 d` or `4.23 V`.
const VALUE: &str = "x.xx V";

fn first_sentence(remedy: &Template) -> String {
    let words = remedy.words.iter();
    let text: String = words.map(|text| text.as_deref().unwrap_or(VALUE)).collect();
    text.split_inclusive(". ").take(1).collect()
}

#[test]
fn a_remedy_begins_with_a_short_sentence() {
    let names: Vec<_> = Shipped::names().collect();
    let rules = Rules::load(&names, &FILES, &rulesets::catalogue()).expect("they load");
    let first = rules.cautions().iter().map(|caution| {
        let remedy = caution.remedy.as_ref().expect("each says what to do");
        (&*caution.id, first_sentence(remedy))
    });
    let long: Vec<_> = first
        .filter(|(_, sentence)| sentence.trim().chars().count() > LONGEST)
        .collect();
    assert!(long.is_empty(), "{long:#?}");
}
