//! Every exit status, as the help of each command lists them.

use crate::running::{Folder, RULES, check, good, one_cell};

const LOW: &str = "protected: yes, rest: { voltage: 2.31 V }";
const MIDDLING: &str = "protected: yes, rest: { voltage: 2.81 V }";

#[test]
fn zero_for_a_pass_or_a_warning() {
    let (pass, warn) = (check(good()), check(one_cell(MIDDLING)));
    assert!(
        pass.code == 0 && pass.out.starts_with("PASS "),
        "{}",
        pass.whole()
    );
    assert!(
        warn.code == 0 && warn.out.starts_with("WARN "),
        "{}",
        warn.whole()
    );
}

#[test]
fn one_for_a_refusal() {
    let ran = check(one_cell(LOW));
    assert!(
        ran.code == 1 && ran.out.starts_with("REFUSE "),
        "{}",
        ran.whole()
    );
}

#[test]
fn no_means_no() {
    for (word, code) in [("yes", 0), ("true", 0), ("no", 1), ("false", 1)] {
        let ran = check(one_cell(&format!(
            "rest: {{ voltage: 3.87 V }}, protected: {word}"
        )));
        assert_eq!(ran.code, code, "{word}: {}", ran.whole());
    }
    assert!(
        check(one_cell("rest: { voltage: 3.87 V }, protected: no"))
            .out
            .contains("cell.protected: no (stated, stdin:5:53)")
    );
    for word in ["No", "off", "n", "0", "never"] {
        assert_eq!(
            check(one_cell(&format!("protected: {word}"))).code,
            2,
            "{word}"
        );
    }
}

#[test]
fn strict_takes_a_warning_for_a_refusal() {
    let folder = Folder::with("rules.yaml", RULES);
    let strict = |stdin: String| {
        folder
            .run_with(&["check", "--strict", "--rules", "rules.yaml"], stdin)
            .code
    };
    assert_eq!(
        [
            strict(good()),
            strict(one_cell(MIDDLING)),
            strict(one_cell(LOW)),
            strict("x".to_owned())
        ],
        [0, 1, 1, 2]
    );
}

#[test]
fn three_if_nothing_was_checked() {
    let rules = "format: 1\nruleset: none\nversion: 1\ntitle: Nothing\n";
    let elsewhere = format!(
        "{rules}cautions:\n  - id: several\n    title: Several cells\n    about: build\n    applies_when: build.series > 1\n    refuse_unless: no\n    reason: no\n    basis: [{{ common_practice: x }}]\n"
    );
    let folder = Folder::with("none.yaml", rules).and("elsewhere.yaml", elsewhere);
    for name in ["none.yaml", "elsewhere.yaml"] {
        for more in [[].as_slice(), &["--strict"]] {
            let ran = folder.run_with(&[&["check", "--rules", name], more].concat(), good());
            assert_eq!(ran.code, 3, "{}", ran.whole());
            assert!(ran.out.starts_with("WARN "), "{}", ran.out);
            assert!(
                ran.out.contains("nothing was checked") && ran.out.contains("that is no pass"),
                "{}",
                ran.out
            );
        }
    }
}

#[test]
fn of_several_the_gravest_counts() {
    let folder = Folder::with("rules.yaml", RULES)
        .and("pass.yaml", good())
        .and("refuse.yaml", one_cell(LOW))
        .and("bad.yaml", "x")
        .and(
            "none.yaml",
            "format: 1\nruleset: none\nversion: 1\ntitle: Nothing\n",
        );
    let code = |files: &[&str]| {
        folder
            .run(&[&["check", "--rules", "rules.yaml"], files].concat())
            .code
    };
    assert_eq!(code(&["pass.yaml", "pass.yaml"]), 0);
    assert_eq!(code(&["pass.yaml", "refuse.yaml"]), 1);
    assert_eq!(code(&["refuse.yaml", "pass.yaml"]), 1);
    assert_eq!(code(&["refuse.yaml", "bad.yaml", "pass.yaml"]), 2);
    assert_eq!(code(&["bad.yaml", "refuse.yaml"]), 2);
    assert_eq!(
        folder
            .run(&["check", "--rules", "none.yaml", "pass.yaml", "refuse.yaml"])
            .code,
        3
    );
}

#[test]
fn two_for_wrong_usage() {
    let folder = Folder::new();
    for args in [
        [].as_slice(),
        &["chek"],
        &["check", "--format", "xml"],
        &["vet"],
        &["cases"],
        &["merged"],
        &["explain"],
    ] {
        let ran = folder.run(args);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{args:?}");
        assert!(!ran.err.is_empty());
    }
    assert!(folder.run(&["chek"]).err.contains("'check'"));
    assert_eq!(folder.run(&["--help"]).code, 0);
    assert_eq!(folder.run(&["check", "--help"]).code, 0);
}

#[test]
fn acceptance_can_be_chosen_and_is_shown() {
    let folder = Folder::with("rules.yaml", RULES);
    let args = ["check", "--full", "--rules", "rules.yaml", "--acceptance"];
    // 2.49 V to 2.53 V reaches under the limit of 2.50 V; its nominal value does not.
    let doubtful = one_cell("protected: yes, rest: { voltage: 2.51 V ± 0.02 V }");
    let guarded = folder.run_with(&[&args[..], &["guarded"]].concat(), &doubtful);
    let simple = folder.run_with(&[&args[..], &["simple"]].concat(), &doubtful);
    assert!(
        guarded.code == 1 && guarded.out.contains("in doubt: could be warn"),
        "{}",
        guarded.whole()
    );
    assert!(
        simple.code == 0 && simple.out.contains("Simple acceptance was chosen"),
        "{}",
        simple.whole()
    );
}

#[test]
fn vetting_and_cases() {
    let sound = RULES.replace(
        "    basis: [{ from_memory: as everybody does }]\n",
        "    basis: [{ from_memory: as everybody does }]\n    cases:\n      - { given: { cell.protected: yes }, expect: pass }\n      - { given: { cell.protected: no }, expect: refuse }\n      - { given: {}, expect: refuse, unmeasured: [cell.protected] }\n",
    );
    let failing = sound.replace("no }, expect: refuse", "no }, expect: pass");
    let folder = Folder::with("none.yaml", RULES)
        .and("sound.yaml", sound)
        .and("failing.yaml", failing)
        .and("bad.yaml", "x");
    let code = |command: &str, file: &str| folder.run(&[command, file]).code;
    assert_eq!(
        [
            code("cases", "sound.yaml"),
            code("cases", "failing.yaml"),
            code("cases", "bad.yaml"),
            code("cases", "none.yaml")
        ],
        [0, 1, 2, 3]
    );
    // What only adjusts others can have no cases.
    let adjusts = "format: 1\nruleset: club\nversion: 1.0.0\ntitle: Club\nextends: [rescued-cells]\n\
                   adjust: { limits: { rest_match: { to: 5 mV } } }\n";
    let adjusting = Folder::with("adjusts.yaml", adjusts).run(&["cases", "adjusts.yaml"]);
    assert_eq!(adjusting.code, 0, "{}", adjusting.whole());
    assert_eq!(
        adjusting.out,
        "adjusts.yaml: it has no cautions of its own, and no cases\n"
    );
    assert_eq!(
        [
            code("vet", "rescued-cells"),
            code("vet", "none.yaml"),
            code("vet", "bad.yaml")
        ],
        [0, 1, 2]
    );
}

#[test]
fn two_for_a_width_nobody_reads() {
    let code = |width: &str| Folder::new().run(&["cautions", "--width", width]).code;
    assert_eq!(
        ["39", "1001", "18446744073709551615", "wide"].map(code),
        [2; 4]
    );
    assert_eq!(["40", "1000"].map(code), [0; 2]);
}
