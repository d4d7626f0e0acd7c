//! Colours: only where they are wanted, and nothing is reported by them alone.

use crate::running::{Folder, RULES, one_cell, run};

fn out(args: &[&str], environment: Option<(&str, &str)>) -> String {
    let folder = Folder::with("rules.yaml", RULES);
    let mut command = folder.command();
    command
        .args(["check", "--rules", "rules.yaml"])
        .args(args)
        .envs(environment);
    run(&mut command, one_cell("protected: no").as_bytes()).out
}

#[test]
fn none_where_nobody_looks_unless_asked_for() {
    let plain = out(&[], None);
    assert!(!plain.contains('\u{1b}'));
    assert_eq!(out(&["--color", "never"], None), plain);
    assert!(out(&["--color", "always"], None).starts_with("\u{1b}[1;31mREFUSE\u{1b}[0m"));
    assert!(
        out(&["--color", "always"], Some(("NO_COLOR", "1"))).contains('\u{1b}'),
        "what is asked for counts more"
    );
}

#[test]
fn the_text_is_the_same_without() {
    let mut stripped = String::new();
    let coloured = out(&["--color", "always"], None);
    let mut rest = coloured.as_str();
    while let Some((before, after)) = rest.split_once('\u{1b}') {
        stripped += before;
        rest = after.split_once('m').expect("the end of a code").1;
    }
    assert_eq!(stripped + rest, out(&[], None));
}

/// The conventions that programs of a terminal share: `CLICOLOR_FORCE` asks for colours where nobody
/// looks, and `NO_COLOR` counts more than it (no-color.org, bixense.com/clicolors).
#[test]
fn the_environment_may_ask_for_them() {
    let folder = Folder::with("rules.yaml", RULES);
    let coloured = |environment: &[(&str, &str)], args: &[&str]| {
        let mut command = folder.command();
        command
            .args(["check", "-r", "rules.yaml"])
            .args(args)
            .envs(environment.iter().copied());
        run(&mut command, one_cell("protected: no").as_bytes())
            .out
            .contains('\u{1b}')
    };
    let force = ("CLICOLOR_FORCE", "1");
    assert!(coloured(&[force], &[]));
    assert!(!coloured(&[force, ("NO_COLOR", "1")], &[]));
    assert!(
        coloured(&[force, ("NO_COLOR", "")], &[]),
        "empty is not set"
    );
    assert!(!coloured(&[force], &["--color", "never"]));
}
