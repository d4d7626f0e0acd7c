//! The starters: each can be used as it is.

use crate::running::Folder;

fn starter(what: &str) -> String {
    let ran = Folder::new().run(&["start", what]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.whole());
    assert!(ran.out.starts_with("# "), "{}", ran.out);
    ran.out
}

/// Only answers are missing.
fn assert_begun(folder: &Folder) {
    let ran = folder.run(&["check", "plan.yaml"]);
    assert_eq!((ran.code, ran.err.as_str()), (1, ""), "{}", ran.whole());
    assert!(ran.out.contains("nothing is against it yet"), "{}", ran.out);
}

#[test]
fn the_plan_can_be_checked() {
    assert_begun(&Folder::with("plan.yaml", starter("plan")));
}

#[test]
fn the_bench_goes_with_the_plan_in_its_comment() {
    let bench = starter("bench");
    let comment = bench.lines().take_while(|line| line.starts_with('#'));
    let plan = comment.filter_map(|line| line.strip_prefix("#   "));
    let plan: String = plan.map(|line| format!("{line}\n")).collect();
    assert_begun(&Folder::with("bench.yaml", &bench).and("plan.yaml", plan));
}

#[test]
fn the_ruleset_lacks_nothing() {
    let folder = Folder::with("ruleset.yaml", starter("ruleset"));
    for command in ["vet", "cases"] {
        let ran = folder.run(&[command, "ruleset.yaml"]);
        assert_eq!(ran.code, 0, "{}", ran.whole());
    }
}

#[test]
fn nothing_is_written_over() {
    let folder = Folder::with("mine.yaml", "mine");
    let ran = folder.run(&["start", "plan", "-o", "mine.yaml"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.contains("is there already"), "{}", ran.err);
    let ran = folder.run(&["start", "plan", "-o", "new.yaml"]);
    assert_eq!((ran.code, ran.out.as_str()), (0, ""));
    let read = |name| std::fs::read_to_string(folder.path().join(name)).expect("a file");
    assert_eq!(read("mine.yaml"), "mine");
    assert_eq!(read("new.yaml"), starter("plan"));
    let files = std::fs::read_dir(folder.path()).expect("a folder").count();
    assert_eq!(files, 2, "nothing is left beside them");
}
