//! Rulesets in memory are found as files are.

use super::*;

fn texts() -> Texts {
    Texts::of([
        ("house", "by name"),
        ("base.yaml", "above"),
        ("club/base.yaml", "beside"),
        ("club/main.yaml", "asked"),
    ])
}

/// What is found under a name in a ruleset, or in what a caller asks for.
fn found(library: &dyn Library, name: &str, from: Option<&str>) -> Option<String> {
    let text = library.find(name, from).ok()?;
    Some(String::from_utf8(text.bytes.into_owned()).expect("text"))
}

fn help(library: &dyn Library, name: &str) -> String {
    let problem = library.find(name, None).expect_err("no such ruleset");
    assert_eq!(problem.fault, Fault::UnknownRuleset);
    problem.help.unwrap_or_default()
}

#[test]
fn a_path_starts_from_the_folder_of_the_ruleset_it_stands_in() {
    let texts = texts();
    let from = |name: &str, from: &str| found(&texts, name, Some(from));
    assert_eq!(
        from("./base.yaml", "club/main.yaml").as_deref(),
        Some("beside")
    );
    assert_eq!(
        from("../base.yaml", "club/main.yaml").as_deref(),
        Some("above")
    );
    assert_eq!(from("./base.yaml", "main.yaml").as_deref(), Some("above"));
    assert_eq!(from("../base.yaml", "main.yaml"), None);
    assert_eq!(from("./base.yaml", "house").as_deref(), Some("above"));
    assert_eq!(from("house", "club/main.yaml").as_deref(), Some("by name"));
}

#[test]
fn one_name_is_found_however_it_is_written() {
    let mut texts = texts();
    for path in [
        "club/main.yaml",
        "./club/main.yaml",
        "club/./x/../main.yaml",
    ] {
        let text = texts.find(path, None).expect("it is there");
        assert_eq!(text.name, "club/main.yaml");
    }
    texts.add("./club/main.yaml", "anew");
    assert_eq!(
        found(&texts, "club/main.yaml", None).as_deref(),
        Some("anew")
    );
}

#[test]
fn what_is_not_among_them_is_asked_of_the_others() {
    let others = Texts::of([("house", "the others'"), ("trade", "the trade's")]);
    let both = texts().or(others);
    assert_eq!(found(&both, "house", None).as_deref(), Some("by name"));
    assert_eq!(found(&both, "trade", None).as_deref(), Some("the trade's"));
    assert_eq!(found(&both, "guild", None), None);
}

/// The others may come to a name by a way of their own; the ruleset of that name is one.
#[test]
fn a_name_that_the_others_give_is_one_of_these() {
    struct Renaming;
    impl Library for Renaming {
        fn find(&self, _: &str, _: Option<&str>) -> Result<Text, Problem> {
            Ok(Text {
                name: "house".to_owned(),
                bytes: b"the others'".into(),
            })
        }
    }
    let both = texts().or(Renaming);
    assert_eq!(found(&both, "by-a-link", None).as_deref(), Some("by name"));
}

#[test]
fn a_near_miss_is_said_of_these_and_of_the_others() {
    let others = Texts::of([("trade", "the trade's")]);
    let both = texts().or(others);
    assert_eq!(help(&both, "huse"), "did you mean `house`?");
    assert_eq!(help(&both, "trad"), "did you mean `trade`?");
    assert!(help(&both, "zzz").starts_with("only rulesets whose text is given"));
}
