//! The identity of a ruleset does not depend on its own name or on the path by which it is found.

use rulesets::shipped::Shipped;
use serde_json::Value;

use crate::running::{Folder, RULES, good};

/// The shipped rules, as their file.
fn shipped() -> &'static str {
    let versions = Shipped::versions().iter();
    versions
        .filter(|version| version.ruleset == "rescued-cells")
        .filter_map(|version| version.text)
        .map(|prepared| prepared.text)
        .next_back()
        .expect("a ruleset is shipped")
}

/// The shipped rules with another ceiling of charging, which they fix.
fn edited() -> String {
    let (ceiling, laxer) = (
        "charge_ceiling:\n    value: 4.23 V",
        "charge_ceiling:\n    value: 4.33 V",
    );
    assert!(shipped().contains(ceiling));
    shipped().replace(ceiling, laxer)
}

fn club(extends: &str) -> String {
    format!(
        "format: 1\nruleset: club\nversion: 1.0.0\ntitle: The club\nextends: [{extends}]\n{}",
        RULES
            .split_once("title: Lamps of the marshals\n")
            .unwrap()
            .1
    )
}

fn json(folder: &Folder, args: &[&str]) -> Value {
    let ran = folder.run_with(args, good());
    serde_json::from_str(&ran.out).unwrap_or_else(|_| panic!("{}", ran.whole()))
}

#[test]
fn an_edited_copy_of_the_shipped_rules_judges_nothing() {
    let folder =
        Folder::with("rescued-cells.yaml", edited()).and("club.yaml", club("./rescued-cells.yaml"));
    for (args, rules) in [
        (&["check", "--rules"][..], "rescued-cells.yaml"),
        (&["check", "--rules"], "club.yaml"),
        (&["stream", "--rules"], "rescued-cells.yaml"),
        (&["figures", "--rules"], "rescued-cells.yaml"),
        (&["limits", "--rules"], "rescued-cells.yaml"),
        (&["merged"], "rescued-cells.yaml"),
    ] {
        let ran = folder.run_with(&[args, &[rules]].concat(), good());
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{args:?} {rules}");
        assert!(
            ran.err.contains("rescued-cells.yaml:")
                && ran
                    .err
                    .contains("error: this is not the shipped `rescued-cells`"),
            "{}",
            ran.err
        );
        assert!(ran.err.contains("give it a name of its own"), "{}", ran.err);
        assert!(
            ran.err.contains("`extends: [rescued-cells]`"),
            "{}",
            ran.err
        );
    }
}

#[test]
fn a_copy_that_says_the_same_is_the_shipped_one() {
    let noted = format!("# A copy of ours.\n{}", shipped().replace('\n', "\r\n"));
    let folder = Folder::with("rescued-cells.yaml", noted);
    let copy = json(
        &folder,
        &["check", "--format", "json", "--rules", "rescued-cells.yaml"],
    );
    let shipped = json(&folder, &["check", "--format", "json"]);
    assert_eq!(copy["rules"], shipped["rules"]);
    assert_eq!(copy["digest"], shipped["digest"]);
}

#[test]
fn vet_and_cases_take_an_edited_copy_and_say_so() {
    let folder = Folder::with("rescued-cells.yaml", edited()).and("shipped.yaml", shipped());
    for command in ["vet", "cases"] {
        let copy = folder.run(&[command, "rescued-cells.yaml"]);
        assert_ne!(copy.code, 2, "{}", copy.whole());
        assert!(
            copy.out.contains(
                "rescued-cells.yaml is not the shipped `rescued-cells` but an edited copy"
            ),
            "{}",
            copy.out
        );
        let data = json(
            &folder,
            &[command, "rescued-cells.yaml", "--format", "json"],
        );
        assert_eq!(data[0]["edited_copies"][0]["file"], "rescued-cells.yaml");
        let same = folder.run(&[command, "shipped.yaml", "rescued-cells"]);
        assert!(!same.out.contains("edited copy"), "{}", same.out);
    }
}

#[test]
fn a_report_names_the_file_of_what_is_not_shipped() {
    let folder = Folder::with("club.yaml", club("rescued-cells"));
    let rules = &["--rules", "club.yaml"];
    let text = folder
        .run_with(&[&["check", "--full"][..], rules].concat(), good())
        .out;
    assert!(
        text.contains("club 1.0.0 (club.yaml), rescued-cells 1.0.0; digest"),
        "{text}"
    );
    let data = json(
        &folder,
        &[&["check", "--format", "json"][..], rules].concat(),
    );
    let named: Vec<(&str, Option<&str>)> = data["rules"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| (one["ruleset"].as_str().unwrap(), one["file"].as_str()))
        .collect();
    assert_eq!(
        named,
        [("club", Some("club.yaml")), ("rescued-cells", None)]
    );
}

/// The name of a file is no place to say more than that.
#[test]
fn the_name_of_a_file_is_not_taken_for_a_ruleset() {
    let file = "x), rescued-cells 1.0.0, (y.yaml";
    let folder = Folder::with(file, RULES);
    let text = folder
        .run_with(&["check", "--full", "--rules", file], good())
        .out;
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains(&format!("marshal 1.2.0 (\"{file}\"); digest")),
        "{text}"
    );
}

/// A merged file says what it was made of. That it was is nothing the checker knows.
#[test]
fn what_a_merged_file_says_of_itself_is_told_as_that() {
    let claims = "title: Lamps of the marshals\nmerged: { from: [{ ruleset: rescued-cells, version: 1.0.0 }] }\n";
    let folder = Folder::with(
        "rules.yaml",
        RULES.replace("title: Lamps of the marshals\n", claims),
    );
    let ran = folder.run_with(&["check", "--full", "--rules", "rules.yaml"], good());
    let text = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains(
            "marshal 1.2.0 (rules.yaml; merged, as it says, from rescued-cells 1.0.0); digest"
        ),
        "{text}"
    );
}

#[test]
fn what_is_merged_of_shipped_rules_alone_has_a_name_of_its_own_and_is_read_again() {
    let merged = Folder::new().run(&["merged", "rescued-cells"]).out;
    let folder = Folder::with("all.json", &merged);
    let again = folder.run(&["merged", "all.json"]);
    assert_eq!(
        (again.code, again.out == merged),
        (0, true),
        "{}",
        again.err
    );
    let data: Value = serde_json::from_str(&merged).unwrap();
    assert_eq!(data["ruleset"], "rescued-cells-merged");
}

#[test]
fn a_file_counts_the_same_by_each_of_its_paths() {
    let folder = Folder::with("x.yaml", club("rescued-cells")).and("base.yaml", RULES);
    let counted = |path: &str| {
        let data = json(&folder, &["vet", "--format", "json", path]);
        data[0]["own_cautions"].as_u64()
    };
    assert_eq!(counted("x.yaml"), Some(2));
    for path in ["./x.yaml", "././x.yaml"] {
        assert_eq!(counted(path), Some(2), "{path}");
    }
    let both = ["check", "--format", "json", "--rules", "base.yaml"];
    let twice = json(&folder, &[&both[..], &["--rules", "./base.yaml"]].concat());
    assert_eq!(twice, json(&folder, &both));
}

#[test]
fn extending_a_file_by_two_of_its_paths_is_extending_it_twice() {
    let folder = Folder::with("club.yaml", club("./base.yaml, base.yaml"))
        .and("base.yaml", RULES.replace("- id: ", "- id: base-"));
    let ran = folder.run_with(&["check", "--full", "--rules", "club.yaml"], good());
    assert!(
        ran.err
            .contains("club.yaml:5:24: error: `base.yaml` is extended twice"),
        "{}",
        ran.err
    );
}

const SECRET: &str = "hunter2";

/// Nothing of a file that is no ruleset is shown to the author of `extends`.
#[test]
fn nothing_is_shown_of_an_extended_file_that_is_no_ruleset() {
    for (text, fault) in [
        (format!("root:{SECRET}:19000:0:99999:7:::\n"), "missing-key"),
        (format!("root {SECRET}\n"), "wrong-shape"),
        (format!("password: {SECRET}\n"), "missing-key"),
        (format!("{SECRET}: {SECRET}\nformat: 1\n"), "missing-key"),
        (format!("[{SECRET}]\n"), "wrong-shape"),
        (format!("a: [{SECRET}\n"), "syntax"),
        (format!("a: &{SECRET} {SECRET}\n"), "missing-key"),
        (format!("a: *{SECRET}\n"), "anchor"),
        (format!("{SECRET}: 1\n{SECRET}: 2\n"), "missing-key"),
        (format!("a: {SECRET}\n---\nb: 1\n"), "several-documents"),
        (format!("TOKEN={SECRET}\0HOME=/\0"), "syntax"),
    ] {
        let folder = Folder::with("club.yaml", club("./environ")).and("environ", &text);
        for command in [
            &["check", "--rules", "club.yaml"][..],
            &["vet", "club.yaml"],
            &["vet", "--format", "json", "club.yaml"],
        ] {
            let ran = folder.run_with(command, good());
            assert_eq!(ran.code, 2, "{text:?}: {}", ran.whole());
            let said = format!("{}{}", ran.out, ran.err);
            assert!(!said.contains(SECRET), "{text:?}: {said}");
            assert!(
                said.contains(&format!("this is no ruleset ({fault})")),
                "{text:?}: {said}"
            );
        }
    }
    let own = Folder::with("own.yaml", format!("password: {SECRET}\n"));
    assert!(own.run(&["vet", "own.yaml"]).err.contains(SECRET));
}

/// A ruleset with a fault is one all the same, and its lines help to correct it.
#[test]
fn the_text_of_an_extended_ruleset_is_shown() {
    for (text, shown) in [
        (RULES.replace("3.0 V", "3.0 A"), "3.0 A"),
        (RULES.replace("limits:", "limits: ["), "not YAML"),
    ] {
        let folder = Folder::with("club.yaml", club("./base.yaml")).and("base.yaml", text);
        let ran = folder.run_with(&["check", "--full", "--rules", "club.yaml"], good());
        assert!(ran.err.contains(shown), "{}", ran.err);
    }
}

#[test]
fn rules_can_be_confined_to_a_folder() {
    let folder = Folder::with("outside.yaml", RULES);
    std::fs::create_dir_all(folder.path().join("in/deep")).unwrap();
    let folder = folder
        .and("in/inside.yaml", RULES)
        .and("in/deep/up.yaml", up("../inside.yaml"))
        .and("in/out.yaml", up("../outside.yaml"))
        .and("in/none.yaml", up("../missing.yaml"));
    let check = |rules: &str| {
        let args = ["check", "--rules-within", "in", "--rules", rules];
        folder.run_with(&args, good())
    };
    for rules in ["in/inside.yaml", "in/deep/up.yaml", "rescued-cells"] {
        let ran = check(rules);
        assert_ne!(ran.code, 2, "{rules}: {}", ran.err);
    }
    // Of a file outside it is not said whether it exists.
    for (rules, name) in [
        ("outside.yaml", "outside.yaml"),
        ("in/../outside.yaml", "in/../outside.yaml"),
        ("in/out.yaml", "../outside.yaml"),
        ("in/none.yaml", "../missing.yaml"),
    ] {
        let ran = check(rules);
        assert_eq!(ran.code, 2, "{rules}: {}", ran.whole());
        let said = format!("`{name}` is no file in the folder `in`");
        assert!(ran.err.contains(&said), "{rules}: {}", ran.err);
    }
    let stream = folder.run(&[
        "stream",
        "--rules-within",
        "none",
        "--rules",
        "outside.yaml",
    ]);
    assert!(stream.err.contains("`none` is no folder"), "{}", stream.err);
}

/// A ruleset that extends another one and adds nothing.
fn up(extends: &str) -> String {
    format!("format: 1\nruleset: upper\nversion: 1.0.0\ntitle: Upper\nextends: [{extends}]\n")
}

#[cfg(unix)]
mod links {
    use std::os::unix::fs::symlink;

    use super::{Folder, RULES, good, json, up};

    /// `link/..` is the folder above the one that the link leads to.
    fn linked() -> Folder {
        let folder = Folder::new();
        std::fs::create_dir_all(folder.path().join("far/away")).unwrap();
        let far = RULES.replace("ruleset: marshal", "ruleset: far-marshal");
        let folder = folder
            .and("base.yaml", RULES)
            .and("far/base.yaml", far)
            .and("club.yaml", up("./link/../base.yaml"));
        symlink("far/away", folder.path().join("link")).unwrap();
        symlink("base.yaml", folder.path().join("alias.yaml")).unwrap();
        folder
    }

    #[test]
    fn a_path_through_a_link_leads_where_the_system_says() {
        let folder = linked();
        for rules in ["club.yaml", "./link/../base.yaml"] {
            let data = json(&folder, &["check", "--format", "json", "--rules", rules]);
            assert!(
                data["rules"].to_string().contains("far-marshal"),
                "{rules}: {}",
                data["rules"]
            );
        }
    }

    #[test]
    fn a_file_and_a_link_to_it_are_one_ruleset() {
        let folder = linked().and("both.yaml", up("./base.yaml, ./alias.yaml"));
        let names = ["--rules", "base.yaml", "--rules", "alias.yaml"];
        let data = json(
            &folder,
            &[&["check", "--format", "json"][..], &names].concat(),
        );
        assert_eq!(data["rules"].as_array().map(Vec::len), Some(1));
        let ran = folder.run_with(&["check", "--rules", "both.yaml"], good());
        assert!(
            ran.err.contains("`./alias.yaml` is extended twice"),
            "{}",
            ran.err
        );
    }

    #[test]
    fn a_ruleset_that_extends_a_link_to_itself_extends_itself() {
        let folder = Folder::with("round.yaml", up("./same.yaml"));
        symlink("round.yaml", folder.path().join("same.yaml")).unwrap();
        let ran = folder.run_with(&["check", "--rules", "round.yaml"], good());
        assert!(
            ran.err
                .contains("`./same.yaml` extends itself through `upper`"),
            "{}",
            ran.err
        );
    }

    #[test]
    fn a_link_does_not_lead_out_of_the_folder() {
        let folder = linked();
        for (within, rules, code) in [
            (".", "alias.yaml", 0),
            ("far", "link/../base.yaml", 0),
            ("far", "far/../base.yaml", 2),
            ("far", "base.yaml", 2),
            ("far", "alias.yaml", 2),
        ] {
            let args = ["check", "--rules-within", within, "--rules", rules];
            let ran = folder.run_with(&args, good());
            assert_eq!(ran.code, code, "{within} {rules}: {}", ran.whole());
        }
    }
}
