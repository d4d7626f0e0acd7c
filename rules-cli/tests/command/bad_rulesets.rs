//! Rulesets that cannot be used: the proposal is not judged by what is left of them.

use crate::running::{Folder, RULES, good};

fn complaint(rules: &str, folder: &Folder) -> String {
    let ran = folder.run_with(&["check", "--rules", rules], good());
    assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{}", ran.whole());
    ran.err
}

#[test]
fn an_unknown_ruleset() {
    insta::assert_snapshot!(complaint("rescued-cels", &Folder::new()), @r"
    error: there is no ruleset `rescued-cels`
        help: did you mean `rescued-cells`?
    ");
    assert!(
        complaint("night-relay", &Folder::new())
            .contains("a file is named by its path, such as `./night-relay.yaml`")
    );
    assert!(complaint("./night-relay.yaml", &Folder::new()).contains("there is no such file"));
}

#[test]
fn a_ruleset_that_extends_itself() {
    let own = RULES.replace("title: Lamps", "extends: [./rules.yaml]\ntitle: Lamps");
    insta::assert_snapshot!(complaint("rules.yaml", &Folder::with("rules.yaml", own)));
    let round = |name: &str, other: &str| {
        format!(
            "format: 1\nruleset: {name}\nversion: 1\ntitle: {name}\nextends: [./{other}.yaml]\n"
        )
    };
    let folder = Folder::with("a.yaml", round("a", "b")).and("b.yaml", round("b", "a"));
    assert!(complaint("a.yaml", &folder).contains("`./a.yaml` extends itself through `b`"));
}

#[test]
fn a_formula_that_makes_no_sense() {
    let folder = Folder::with(
        "rules.yaml",
        RULES.replace("cell.rest_voltage >= 3.0 V", "cell.rest_votlage >= 3.0 A"),
    );
    insta::assert_snapshot!(complaint("rules.yaml", &folder));
}

#[test]
fn a_fact_that_no_ruleset_in_use_declares() {
    let folder = Folder::with("rules.yaml", RULES);
    let ran = folder.run_with(
        &["check", "--rules", "rules.yaml"],
        good().replace("id: K4,", "id: K4, extra: { club_tag: NR-07 },"),
    );
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(
        ran.err
            .contains("stdin:5:24: error: no ruleset in use declares a fact `cell.club_tag`"),
        "{}",
        ran.err
    );
}

/// What the loader works out from `designation`, `draw` or `arrangement` is not for `extra` to say
/// otherwise.
#[test]
fn extra_does_not_replace_what_is_worked_out() {
    let folder = Folder::with("rules.yaml", RULES);
    for extra in ["class: IFR", "code_length: 99 mm", "rest_voltage: 3.9 V"] {
        let proposal = good().replace(
            "id: K4,",
            &format!("id: K4, designation: ICR18650, extra: {{ {extra} }},"),
        );
        let ran = folder.run_with(&["check", "--rules", "rules.yaml"], proposal);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{extra}");
        assert!(
            ran.err.contains("no ruleset in use declares a fact"),
            "{}",
            ran.err
        );
    }
}

/// What is wrong with either is reported at once.
#[test]
fn faults_of_rulesets_and_proposals_are_told_together() {
    let rules = RULES.replace("cell.rest_voltage >= 3.0 V", "cell.rest_volts >= 3.0 V");
    let folder = Folder::with("rules.yaml", rules).and(
        "plan.yaml",
        good().replace("id: K4,", "id: K4, bodi: sound,"),
    );
    for command in ["check", "figures"] {
        let ran = folder.run(&[command, "--rules", "rules.yaml", "plan.yaml"]);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{}", ran.whole());
        for told in ["no fact or figure `cell.rest_volts`", "plan.yaml:5:"] {
            assert!(ran.err.contains(told), "{}", ran.err);
        }
    }
}
