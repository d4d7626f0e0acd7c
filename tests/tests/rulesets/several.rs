//! Several rulesets together: how many, under which names, found by which paths, and what is said
//! where one names what another lacks.

use rules_core::document::{Fault, ProblemList};
use rules_core::ruleset::{Library, Rules};
use rulesets::shipped::FILES;

use super::setting::{caution, head, limit, load, of};

/// A ruleset that extends so many others.
fn star(others: usize) -> Result<Rules, ProblemList> {
    let names: Vec<String> = (0..others).map(|number| format!("r{number}")).collect();
    let extends = names
        .iter()
        .map(|name| format!("./{name}"))
        .collect::<Vec<_>>()
        .join(", ");
    let mut files: Vec<(&str, String)> = names
        .iter()
        .map(|name| (name.as_str(), head(name)))
        .collect();
    files.push(("top", format!("{}extends: [{extends}]\n", head("top"))));
    load(&files, &["top"])
}

/// A ruleset that extends one that extends one and so on, so many in all.
fn chain(length: usize) -> Result<Rules, ProblemList> {
    let names: Vec<String> = (0..length).map(|number| format!("r{number}")).collect();
    let text = |at: usize| {
        names.get(at + 1).map_or_else(
            || head(&names[at]),
            |next| format!("{}extends: [./{next}]\n", head(&names[at])),
        )
    };
    let files: Vec<(&str, String)> = (0..length)
        .map(|at| (names[at].as_str(), text(at)))
        .collect();
    load(&files, &["r0"])
}

#[test]
fn sixty_four_rulesets_in_all() {
    assert!(star(63).is_ok() && chain(64).is_ok());
    for rules in [star(64), star(65), star(66), chain(65), chain(80)] {
        assert_eq!(
            rules
                .err()
                .and_then(|problems| problems.first().map(|problem| problem.fault)),
            Some(Fault::TooLarge)
        );
    }
}

#[test]
fn two_rulesets_have_two_names() {
    let files = [("a", head("same")), ("b", head("same"))];
    assert_eq!(
        of(&load(&files, &["a", "b"]).expect_err("one name")),
        [Fault::DefinedTwice]
    );
    assert!(load(&[("a", head("one")), ("b", head("other"))], &["a", "b"]).is_ok());
}

#[test]
fn what_is_defined_twice_can_be_adjusted_or_renamed() {
    let help = |what: &str| {
        let files = [
            ("a", format!("{}{what}", head("a"))),
            ("b", format!("{}{what}", head("b"))),
        ];
        let problems = load(&files, &["a", "b"]).expect_err("twice");
        assert_eq!(problems[0].fault, Fault::DefinedTwice);
        problems[0].help.clone().unwrap_or_default()
    };
    assert!(help(&limit("floor", "{ common_practice: x }")).contains("`adjust`"));
    assert!(help(&caution("each cell", "cell.rest_voltage >= 3 V")).contains("`adjust`"));
    assert_eq!(
        help("facts:\n  cell.tag: { kind: text, meaning: A fact }\n"),
        "give it another name"
    );
    assert_eq!(
        help("figures:\n  tag: { about: each cell, is: cell.rest_voltage, meaning: A figure }\n"),
        "give it another name"
    );
}

/// What is defined twice hides no other fault.
#[test]
fn faults_of_all_rulesets_are_reported_together() {
    let limit = limit("floor", "{ common_practice: x }");
    let files = [
        (
            "a",
            format!(
                "{}{limit}{}",
                head("a"),
                caution("each cell", "cell.zzz >= 3 V")
            ),
        ),
        ("b", format!("{}{limit}", head("b"))),
    ];
    let mut found = of(&load(&files, &["a", "b"])
        .map(|_| ())
        .expect_err("two faults"));
    found.sort_by_key(|fault| fault.code());
    assert_eq!(found, [Fault::DefinedTwice, Fault::UnknownName]);
}

/// One file has one name, however its path is written.
#[test]
fn paths_are_tidied() {
    let folder = env!("CARGO_MANIFEST_DIR");
    let found = FILES
        .find(
            &format!("{folder}/tests/.././../rulesets/rescued-cells.yaml"),
            None,
        )
        .expect("the shipped rules");
    assert!(
        !found.name.contains("..") && found.name.ends_with("rulesets/rescued-cells.yaml"),
        "{}",
        found.name
    );
    let beside = FILES
        .find(
            "../../rulesets/rescued-cells.yaml",
            Some(&format!("{folder}/tests/x.yaml")),
        )
        .expect("from a folder beside");
    assert_eq!(beside, found);
    // A way through a folder that is not there leads nowhere.
    let nowhere = format!("{folder}/no-such-folder/../conformance/files.yaml");
    assert!(FILES.find(&nowhere, None).is_err());
    // There is nothing before the start of a relative path to take out.
    let problem = FILES
        .find("../no-such-folder/x.yaml", None)
        .expect_err("no such file");
    assert!(
        problem.message.contains("../no-such-folder/x.yaml"),
        "{}",
        problem.message
    );
}

#[test]
fn a_near_miss_is_of_its_own_sort() {
    let base = format!(
        "{}{}{}",
        head("base"),
        limit("floor", "{ common_practice: x }"),
        caution("each cell", "cell.rest_voltage >= limit.floor")
    );
    let help = |adjust: &str| {
        let local = format!(
            "{}extends: [./base]\nadjust: {{ {adjust} }}\n",
            head("local")
        );
        load(&[("base", base.clone()), ("local", local)], &["local"]).expect_err(adjust)[0]
            .help
            .clone()
            .unwrap_or_default()
    };
    assert_eq!(
        help("limits: { flor: { to: 4 V } }"),
        "did you mean `floor`?"
    );
    assert_eq!(
        help("cautions: { testd: { drop: yes, because: b } }"),
        "did you mean `tested`?"
    );
    assert!(!help("limits: { testd: { to: 4 V } }").contains("tested"));
    assert!(!help("cautions: { flor: { drop: yes, because: b } }").contains("floor"));
}

/// The error for adjusting a former name gives the new name.
#[test]
fn former_names_lead_to_those_of_now() {
    let base = format!(
        "{}limits: {{ rest_floor: {{ value: 3 V, stricter: higher, meaning: Floor, formerly: [minimum] }} }}\n{}",
        head("base"),
        caution("each cell", "cell.rest_voltage >= limit.rest_floor")
            .replace(", reason", ", formerly: [deep-discharge], reason")
    );
    let adjust = "adjust: { limits: { minimum: { to: 3.1 V } }, cautions: { deep-discharge: { drop: yes, because: so } } }\n";
    let club = format!("{}extends: [./base]\n{adjust}", head("club"));
    let problems = load(&[("base", base), ("club", club)], &["club"]).expect_err("problems");
    let helps: Vec<&str> = problems
        .iter()
        .filter_map(|problem| problem.help.as_deref())
        .collect();
    assert_eq!(of(&problems), [Fault::UnknownName, Fault::UnknownName]);
    assert_eq!(helps[0], "it is now called `rest_floor`");
    assert_eq!(helps[1], "it is now called `tested`");
}
