//! What a schema cannot say, with the reasons, and an example of each.

use rules_core::document::{Fault, Problem};
use serde_json::{Value, json};

use super::agreement::{Loaded, catalogue, every_fact, every_key, load_proposal, load_ruleset};
use super::setting::library_validator;

/// Faults that no schema can see, each with the reason.
const BEYOND: [(Fault, &str); 17] = [
    (
        Fault::OutOfDomain,
        "a reading is as wide as its meter, and a pattern does not compute: it sees stated numbers",
    ),
    (Fault::NotFinite, "a pattern does not compute"),
    (
        Fault::LowAboveHigh,
        "a pattern compares two numbers by their first digits only",
    ),
    (
        Fault::Contradiction,
        "a pattern does not compute, and the two readings stand in different places",
    ),
    (
        Fault::DefinedTwice,
        "names that must differ stand in different places; a list sees what is the same as a whole",
    ),
    (
        Fault::PartsDisagree,
        "cells and groups are counted against the arrangement",
    ),
    (
        Fault::UnknownName,
        "names are defined in other places, or in other files",
    ),
    (Fault::UnknownRuleset, "other files are not seen"),
    (Fault::ReservedName, "a pattern takes no digest"),
    (Fault::Cycle, "what rests on what is not seen"),
    (
        Fault::LooseningWithoutReason,
        "whether a change loosens is seen by computing, against another file",
    ),
    (Fault::Fixed, "what is fixed is in another file"),
    (Fault::KindsDiffer, "formulas have a grammar of their own"),
    (Fault::OutOfScope, "formulas have a grammar of their own"),
    (
        Fault::ChainedComparison,
        "formulas have a grammar of their own",
    ),
    (Fault::NestedFold, "formulas have a grammar of their own"),
    (
        Fault::BadPlaceholder,
        "texts with placeholders have a grammar of their own",
    ),
];

/// Keys whose values have a grammar of their own: any fault but one of shape is beyond a schema.
const FORMULAS: [&str; 4] = ["applies_when", "refuse_unless", "warn_unless", "is"];

/// The facts that `every-key.yaml` declares: what a declared fact may be is in another place, or in
/// another file.
const DECLARED: [&str; 5] = ["club_tag", "lamp_colour", "spare", "beam", "case_rise"];

/// Whether a fault is beyond a schema at its place.
pub(crate) fn is_beyond(problem: &Problem) -> bool {
    BEYOND.iter().any(|(fault, _)| *fault == problem.fault) || is_beyond_there(problem)
}

/// Faults that a schema sees elsewhere, but not at their places.
fn is_beyond_there(problem: &Problem) -> bool {
    let key = problem
        .line
        .trim_start()
        .strip_prefix('"')
        .and_then(|line| line.split('"').next())
        .unwrap_or_default();
    let worded_elsewhere =
        FORMULAS.contains(&key) || DECLARED.contains(&key.rsplit('.').next().unwrap_or_default());
    match problem.fault {
        Fault::WrongShape => false,
        _ if worded_elsewhere => true,
        // What rulesets declare for `extra` is in other files.
        Fault::UnknownKey => problem.message.contains("no ruleset in use declares"),
        // Scripts and forms of letters are in tables of their own.
        Fault::BadName => [
            "two scripts",
            "a letter and a mark",
            "a mark without a letter",
            // Marks and letters that show nothing.
            "U+FE0F",
            "U+3164",
        ]
        .iter()
        .any(|words| problem.message.contains(words)),
        // The product of cells in series and parallel is computed.
        Fault::Syntax => {
            problem.message.contains("is no arrangement") && problem.line.contains("100S101P")
        }
        // The kind of an adjusted limit is in another file. A limit's own kind is that of its last
        // unit: the same pattern serves for limits in K and in degC, and lets one range or
        // tolerance have both.
        Fault::WrongKind => key == "to" || key == "value" && problem.line.contains('K'),
        Fault::NoUnit | Fault::BadNumber => key == "to",
        // JSON Schema takes 1.0 and 1 as the same number; the loader reads the digits.
        Fault::UnknownOption => key == "format" && problem.line.contains(": 1.0"),
        _ => false,
    }
}

/// A document with one value put in another's place, and the fault that only the loader sees.
type Example = (&'static str, Value, Fault);

fn assert_only_the_loader_sees(
    name: &str,
    document: &Value,
    examples: &[Example],
    load: impl Fn(&Value) -> Loaded,
) {
    let validator = library_validator(name);
    assert!(load(document).is_ok() && validator.is_valid(document));
    for (place, value, fault) in examples {
        let mut changed = document.clone();
        *changed
            .pointer_mut(place)
            .unwrap_or_else(|| panic!("{place} is there")) = value.clone();
        assert!(validator.is_valid(&changed), "{place}: {value}");
        let problems = load(&changed).expect_err("the loader refuses");
        assert!(
            problems.iter().any(|problem| problem.fault == *fault),
            "{place}: {value}: {problems:#?}"
        );
        assert!(
            problems.iter().all(is_beyond),
            "{place}: {value}: {problems:#?}"
        );
    }
}

fn of_proposals() -> Vec<Example> {
    vec![
        ("/cells/0/rest/voltage", json!("50 V"), Fault::OutOfDomain),
        ("/cells/0/rest/voltage", json!("1e400 V"), Fault::NotFinite),
        (
            "/cells/0/rest/voltage",
            json!("3.8 V..3600 mV"),
            Fault::LowAboveHigh,
        ),
        (
            "/cells/0/capacity_2/value",
            json!("1 mAh"),
            Fault::Contradiction,
        ),
        ("/cells/0/id", json!("id 1"), Fault::DefinedTwice),
        ("/cells/0/id", json!("id  1 "), Fault::DefinedTwice),
        ("/cells/0/id", json!("P\u{430}"), Fault::BadName),
        ("/cells/0/id", json!("K\u{fe0f}"), Fault::BadName),
        ("/cells/0/id", json!("K4\u{301}"), Fault::BadName),
        ("/cells/0/id", json!("\u{3164}"), Fault::BadName),
        ("/cells/0/pack", json!("e\u{301}"), Fault::BadName),
        ("/cells/0/group", json!("group 1"), Fault::PartsDisagree),
        ("/arrangement", json!("100S101P"), Fault::Syntax),
        ("/light/extra", json!({ "spar": true }), Fault::UnknownKey),
        ("/light/extra", json!({ "beam": "300 V" }), Fault::WrongKind),
        ("/format", json!(1.0), Fault::UnknownOption),
    ]
}

fn of_rulesets() -> Vec<Example> {
    [of_definitions(), of_formulas()].concat()
}

fn of_definitions() -> Vec<Example> {
    vec![
        (
            "/cautions/0/basis/0/source",
            json!("nobody"),
            Fault::UnknownName,
        ),
        ("/extends/0", json!("nowhere"), Fault::UnknownRuleset),
        ("/ruleset", json!("Rescued-Cells"), Fault::ReservedName),
        (
            "/adjust/cautions/loose-cell",
            json!({ "drop": "yes" }),
            Fault::LooseningWithoutReason,
        ),
        (
            "/adjust/limits",
            json!({ "rest_fixed": { "to": "1.90 V", "because": "it is cold" } }),
            Fault::Fixed,
        ),
        ("/adjust/limits/rest_low/to", json!("3 A"), Fault::WrongKind),
        ("/adjust/limits/rest_low/to", json!(3), Fault::NoUnit),
        (
            "/limits/spread/value",
            json!("20 degC..295 K"),
            Fault::WrongKind,
        ),
        (
            "/limits/rest_floor/value",
            json!("2.56..2.55 V"),
            Fault::LowAboveHigh,
        ),
        (
            "/cautions/0/cases/0/given/cell.rest_voltage",
            json!("50 V"),
            Fault::OutOfDomain,
        ),
        (
            "/cautions/1/id",
            json!("deeply-discharged"),
            Fault::DefinedTwice,
        ),
    ]
}

fn of_formulas() -> Vec<Example> {
    vec![
        (
            "/figures/lowest/is",
            json!("build.lowest + 1 V"),
            Fault::Cycle,
        ),
        ("/figures/lowest/is", json!("1 +"), Fault::Syntax),
        (
            "/cautions/0/refuse_unless",
            json!("cell.rest_voltage > 1 A"),
            Fault::KindsDiffer,
        ),
        (
            "/cautions/1/warn_unless",
            json!("cell.rest_voltage > 1 V"),
            Fault::OutOfScope,
        ),
        (
            "/cautions/1/warn_unless",
            json!("1 V < build.lowest < 2 V"),
            Fault::ChainedComparison,
        ),
        (
            "/cautions/1/warn_unless",
            json!("max of (min of cell.rest_voltage) > 1 V"),
            Fault::NestedFold,
        ),
        (
            "/cautions/0/reason",
            json!("{cell.id"),
            Fault::BadPlaceholder,
        ),
    ]
}

#[test]
fn every_exception_has_an_example() {
    let (proposals, rulesets) = (of_proposals(), of_rulesets());
    let shown: Vec<Fault> = proposals
        .iter()
        .chain(&rulesets)
        .map(|(_, _, fault)| *fault)
        .collect();
    for (fault, reason) in BEYOND {
        assert!(shown.contains(&fault), "{fault:?}: {reason}");
    }
}

#[test]
fn what_only_the_loader_of_proposals_sees() {
    let catalogue = catalogue();
    assert_only_the_loader_sees(
        "proposal",
        &every_fact(&catalogue, 2),
        &of_proposals(),
        |document| load_proposal(document, &catalogue),
    );
}

#[test]
fn what_only_the_loader_of_rulesets_sees() {
    assert_only_the_loader_sees("ruleset", &every_key(), &of_rulesets(), |document| {
        load_ruleset(document).map(drop)
    });
}
