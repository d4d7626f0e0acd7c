//! SARIF as its schema asks for it, of reports, of input that cannot be used, and of rulesets.

use std::path::Path;

use jsonschema::Validator;
use rules_core::check::{Options, check};
use rules_core::document::Syntax;
use rules_core::facts::Proposed;
use rules_core::outputs::{CasesOf, Document, Form, OfRuleset, Piece, Tool};
use rules_core::ruleset::{Rules, Texts};
use rules_core::vetting::{Vetting, run_cases, vet, worth_a_look};
use rulesets::bench::{Benches, Plan};
use rulesets::shipped::Shipped;
use serde_json::Value;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn schema() -> Validator {
    let path = root().join("reference/sarif-2.1.0.schema.json");
    let text = std::fs::read_to_string(path).expect("the schema");
    let mut schema: Value = serde_json::from_str(&text).expect("it is JSON");
    // Its pattern for languages has a bracket that opens nowhere. No language is written.
    for of in ["run", "toolComponent"] {
        let place = format!("/definitions/{of}/properties/language");
        let language = schema.pointer_mut(&place).and_then(Value::as_object_mut);
        let pattern = language.and_then(|language| language.remove("pattern"));
        assert!(pattern.is_some(), "{of}");
    }
    jsonschema::validator_for(&schema).expect("a schema")
}

/// A document of pieces, which has to be as the schema asks.
fn document(pieces: impl IntoIterator<Item = Piece>) -> Value {
    let tool = Tool {
        name: "checker",
        version: "1.0.0",
    };
    let mut document = Document::new(Form::Sarif, tool, &[]);
    let mut text: String = pieces.into_iter().map(|one| document.add(one)).collect();
    text += &document.finish();
    let value: Value = serde_json::from_str(&text).unwrap_or_else(|why| panic!("{why}: {text}"));
    let wrong: Vec<String> = schema()
        .iter_errors(&value)
        .map(|error| format!("{}: {error}", error.instance_path()))
        .collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
    value
}

/// The report of a plan, or what is wrong with it.
fn piece(name: &str, text: &str, rules: &Rules) -> Piece {
    let mut benches = Benches::of(&Shipped);
    let report = Plan::read(name, text.as_bytes().to_vec(), Syntax::Yaml, &mut benches)
        .and_then(|plan| plan.proposal(None))
        .and_then(|proposal| Ok((check(rules, &proposal, Options::default())?, proposal)));
    match report {
        Ok((report, of)) => Piece::of_report(Form::Sarif, &report, rules, of.source()),
        Err(problems) => Piece::of_unusable(Form::Sarif, name, &problems, rules.notice()),
    }
}

fn demos() -> Vec<(String, String)> {
    let names = ["helmet-lamp", "marshal-torch", "course-setter-bike-light"];
    let demo = |name: &str| {
        let name = format!("../rules-cli/demo/{name}.yaml");
        let text = std::fs::read_to_string(root().join(&name)).expect("a demo");
        (name, text)
    };
    names.into_iter().map(demo).collect()
}

#[test]
fn reports_and_unusable_input_are_as_the_schema_asks() {
    let rules = rulesets::shipped_rules().expect("they load");
    let demos = demos();
    let bad = [
        ("a b#[c].yaml", "format: 1\nhue: 3\narrangement: 0S\n"),
        ("empty.yaml", ""),
    ];
    let bad = bad.map(|(name, text)| (name.to_owned(), text.to_owned()));
    let all = demos.iter().chain(&bad);
    let value = document(all.map(|(name, text)| piece(name, text, &rules)));
    let run = &value["runs"][0];
    let results = run["results"].as_array().expect("results");
    assert!(results.len() > 20, "{}", results.len());
    assert_eq!(run["invocations"][0]["executionSuccessful"], false);
    // Each result is of a rule that is told, once.
    let rules = run["tool"]["driver"]["rules"].as_array().expect("rules");
    for result in results {
        let of = rules.iter().filter(|rule| rule["id"] == result["ruleId"]);
        assert_eq!(of.count(), 1, "{}", result["ruleId"]);
    }
}

/// The stretch of a region of one line.
fn stretch<'t>(region: &Value, text: &'t str) -> Option<&'t str> {
    let at = |key: &str| region[key].as_u64().map(|at| at as usize - 1);
    let line = text.lines().nth(at("startLine")?)?;
    let byte = |column: usize| {
        line.char_indices()
            .map(|(byte, _)| byte)
            .chain([line.len()])
            .nth(column)
    };
    line.get(byte(at("startColumn")?)?..byte(at("endColumn")?)?)
}

/// Values in quotes, of several bytes a character, and over several lines.
#[test]
fn a_region_ends_where_the_value_does() {
    let rules = "format: 1\nruleset: small\nversion: 1.0.0\ntitle: Small\ncautions:\n  - id: a\n    title: A\n    \
        about: each cell\n    reason: No\n    basis: [{ common_practice: x }]\n    \
        refuse_unless: cell.wrap == torn and cell.rest_voltage > 5 V and cell.found_voltage > 5 V\n";
    let texts = Texts::of([("small.yaml", rules)]);
    let rules = Rules::load(&["small.yaml"], &texts, &rulesets::catalogue());
    let plan = "format: 1\narrangement: 1S1P\ncells:\n  - id: µ\n    wrap: \"nicked\" # ,\n    \
        rest: { voltage: 3.6 V ± 0.1 V, }\n    found: { voltage: 3.6 V\n      ± 0.1 V }\n";
    let value = document([piece("plan.yaml", plan, &rules.expect("they load"))]);
    let places = value["runs"][0]["results"][0].clone();
    let related = places["relatedLocations"].as_array().expect("places");
    let all = places["locations"]
        .as_array()
        .expect("a place")
        .iter()
        .chain(related);
    let regions: Vec<&Value> = all.map(|one| &one["physicalLocation"]["region"]).collect();
    let ended = regions
        .iter()
        .filter(|region| region.get("endLine").is_none());
    let ended: Vec<&str> = ended.filter_map(|region| stretch(region, plan)).collect();
    assert_eq!(ended, ["3.6 V ± 0.1 V", "\"nicked\""], "{regions:?}");
    let folded = regions
        .iter()
        .find(|region| region.get("endLine").is_some());
    assert_eq!(
        folded.map(|region| (
            &region["startLine"],
            &region["endLine"],
            &region["endColumn"]
        )),
        Some((&7.into(), &8.into(), &14.into()))
    );
}

#[test]
fn what_is_found_in_rulesets_is_as_the_schema_asks() {
    let club = "format: 1\nruleset: club\nversion: 1.0.0\ntitle: Club\nextends: [rescued-cells]\n\
        cautions:\n  - id: bays\n    title: 'Bays {0} [a](b)'\n    about: light\n    \
        refuse_unless: light.bays < 9\n    reason: No.\n    cases:\n      \
        - { given: { light.bays: 9 }, expect: pass }\n";
    let texts = Texts::of([("club.yaml", club)]).or(Shipped);
    let vetting = Vetting::load(&["club.yaml"], &texts, &rulesets::catalogue()).expect("it loads");
    let (problems, looks) = (vet(&vetting), worth_a_look(&vetting));
    let failed = run_cases(&vetting)
        .filter_map(|case| case.problem)
        .collect();
    let cases = [CasesOf {
        caution: "bays".into(),
        cases: 1,
        failed,
    }];
    let value = document([Piece::of_ruleset(
        Form::Sarif,
        OfRuleset {
            ruleset: "club.yaml",
            loads: true,
            problems: &problems,
            worth_a_look: &looks,
            cases: &cases,
            layers: vetting.rules().layers(),
            notice: vetting.rules().notice(),
        },
    )]);
    let results = value["runs"][0]["results"].as_array().expect("results");
    assert_eq!(results.len(), problems.len() + looks.len() + 1);
    document([]);
}

/// A schema that accepts everything would show nothing.
#[test]
fn the_schema_refuses_what_is_no_sarif() {
    let value = document([]);
    let schema = schema();
    assert!(schema.is_valid(&value));
    for (place, wrong) in [
        ("/version", Value::from("2.0.0")),
        ("/runs/0/tool", Value::from(1)),
        ("/runs/0/columnKind", Value::from("bytes")),
    ] {
        let mut changed = value.clone();
        *changed.pointer_mut(place).expect("it is there") = wrong;
        assert!(!schema.is_valid(&changed), "{place}");
    }
}
