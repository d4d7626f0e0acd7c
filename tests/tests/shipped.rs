//! The shipped rulesets: vetting finds nothing, and every case gives what it expects.
#![cfg(test)]

use std::path::PathBuf;

use rules_core::document::Problem;
use rules_core::ruleset::{Basis, HowRead, Library, Rules, Text, Texts};
use rules_core::vetting::{CaseOutcome, Vetting, run_cases, vet};
use rulesets::shipped::{FILES, Shipped};

fn load(names: &[&str]) -> Rules {
    Rules::load(names, &FILES, &rulesets::catalogue())
        .unwrap_or_else(|problems| panic!("{problems:#?}"))
}

fn vetting(name: &str) -> Vetting {
    Vetting::load(&[name], &FILES, &rulesets::catalogue())
        .unwrap_or_else(|problems| panic!("{problems:#?}"))
}

fn example() -> String {
    path("rulesets/local-practice-example.yaml")
        .to_string_lossy()
        .into_owned()
}

#[test]
fn vetting_finds_nothing_in_the_shipped_rules() {
    for name in Shipped::names().map(str::to_owned).chain([example()]) {
        let problems: Vec<String> = vet(&vetting(&name))
            .iter()
            .map(ToString::to_string)
            .collect();
        assert!(problems.is_empty(), "{name}:\n{}", problems.join("\n"));
    }
}

#[test]
fn every_case_of_the_shipped_rules_comes_out() {
    let vetting = vetting("rescued-cells");
    let outcomes: Vec<CaseOutcome> = run_cases(&vetting).collect();
    let failed = outcomes
        .iter()
        .filter(|outcome| outcome.problem.is_some())
        .count();
    println!("{} cases, {failed} failed", outcomes.len());
    assert!(outcomes.len() >= 550 && failed == 0);
}

#[test]
fn the_shipped_rules_cover_what_they_must() {
    let rules = load(&["rescued-cells-measured"]);
    assert!(rules.cautions().len() >= 100);
    for id in [
        "unprotected-multi-cell",
        "series-voltages-apart",
        "parallel-voltages-apart",
        "deeply-discharged",
        "rest-voltage-low",
        "rest-voltage-over",
        "series-capacities-apart",
        "series-resistances-apart",
        "kinds-mixed",
        "histories-mixed",
        "draw-above-capacity",
        "battery-outside-input",
        "single-cell-unguarded",
        "cell-does-not-fit",
        "insulation-damaged",
        "body-damaged",
        "charge-over-voltage",
        "charge-current-high",
        "charge-below-freezing",
        "cell-count-wrong",
        "self-discharge-high",
        "rest-too-short",
        "label-does-not-add-up",
        "capacity-over-label",
        "rest-voltage-off-curve",
        "parallel-inrush-high",
        "checked-too-late",
        "weakest-cell-overrun",
        "cut-off-above-full",
        "sags-under-load",
        "power-beyond-cells",
        "cell-heats-in-use",
        "run-time-short",
        "energy-above-transport",
    ] {
        assert!(
            rules.cautions().iter().any(|caution| &*caution.id == id),
            "no caution `{id}`"
        );
    }
}

/// The table of shipped names, in the library and in the language, against the shipped files. What
/// was shipped once stays in it. With `UPDATE_SHIPPED=1` the digest of a version that is still being
/// made is put into both.
#[test]
fn the_table_of_shipped_names_is_that_of_the_files() {
    let page = read("rulesets/LANGUAGE.md");
    for one in Shipped::versions() {
        let row = format!("| {} | {} | {} |\n", one.ruleset, one.version, one.digest);
        assert!(page.contains(&row), "the language lacks {row}");
    }
    let rows = page.lines().filter(|line| line.contains(" | sha256:"));
    assert_eq!(rows.count(), Shipped::versions().len());
    for name in Shipped::names() {
        let rules = load(&[name]);
        let mut layers = rules.layers().iter();
        let loaded = layers.find(|layer| layer.ruleset == name);
        let loaded = loaded.unwrap_or_else(|| panic!("{name} is one of its rulesets"));
        let row = Shipped::versions()
            .iter()
            .find(|one| one.ruleset == name && one.version == loaded.version)
            .unwrap_or_else(|| panic!("add a row: {name} {} {}", loaded.version, loaded.digest));
        if std::env::var_os("UPDATE_SHIPPED").is_some() {
            for page in ["rulesets/LANGUAGE.md", "rulesets/src/shipped.rs"] {
                let text = read(page).replace(row.digest, &loaded.digest);
                std::fs::write(path(page), text).unwrap();
            }
        } else {
            let how = "run with UPDATE_SHIPPED=1 if it was never given out, else raise the version";
            assert_eq!(row.digest, loaded.digest, "{name} has changed: {how}");
        }
    }
}

fn path(page: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("..")
        .join(page)
}

fn read(page: &str) -> String {
    std::fs::read_to_string(path(page)).unwrap()
}

/// A refusal that nobody may drop does not rest on memory alone.
#[test]
fn fixed_cautions_rest_on_something_read() {
    let rules = load(&["rescued-cells"]);
    for caution in rules.cautions().iter().filter(|caution| caution.fixed) {
        let read = caution.basis.iter().any(|basis| match basis {
            Basis::Source { source, .. } => rules
                .sources()
                .get(&**source)
                .is_some_and(|source| source.read != HowRead::FromMemory),
            _ => false,
        });
        assert!(read, "`{}` rests on nothing that was read", caution.id);
    }
}

#[test]
fn local_practice_is_shown() {
    let rules = load(&[&example()]);
    assert_eq!(rules.loosened().len(), 1);
    assert_eq!(rules.loosened()[0].by, "night-relay-club");
    assert!(!rules.loosened()[0].because.is_empty());
    assert!(rules.catalogue().fact_named("cell.club_tag").is_some());
    assert_ne!(rules.digest(), load(&["rescued-cells"]).digest());
}

#[test]
fn rules_are_a_value_that_threads_can_share() {
    fn shareable<T: Send + Sync + Clone>(_: &T) {}
    shareable(&load(&["rescued-cells"]));
}

/// The shipped rulesets with a comment at their end: these are read, and not what was read of the
/// texts when the library was built.
struct ReadAnew;

impl Library for ReadAnew {
    fn find(&self, name: &str, from: Option<&str>) -> Result<Text, Problem> {
        let text = Shipped.find(name, from)?;
        let bytes = [&*text.bytes, b"# read anew\n"].concat().into();
        Ok(Text { bytes, ..text })
    }
}

/// Everything that rules can be asked for.
fn all_of(rules: &Rules) -> Vec<String> {
    vec![
        format!("{:#?}", rules.cautions()),
        format!("{:#?}", (rules.limits(), rules.figures())),
        format!("{:#?}", rules.program()),
        format!("{:#?}", (rules.stages(), rules.meters(), rules.notice())),
        format!("{:#?}", (rules.layers(), rules.loosened(), rules.sources())),
        format!("{:#?}", (rules.acceptance(), rules.digest())),
        rules.merged_json(),
    ]
}

#[test]
fn what_was_read_when_the_library_was_built_makes_the_same_rules() {
    for name in Shipped::names() {
        let anew = Rules::load(&[name], &ReadAnew, &rulesets::catalogue());
        let anew = anew.unwrap_or_else(|problems| panic!("{problems:#?}"));
        for (ready, anew) in all_of(&load(&[name])).iter().zip(all_of(&anew)) {
            assert!(*ready == anew, "{name}: {ready}\nis not\n{anew}");
        }
    }
    // Cases are left out at first, and are part of the merged form all the same.
    let merged = load(&["rescued-cells"]).merged_json();
    assert!(merged.matches("\"expect\"").count() >= 550);
}

/// The name of a file says how it is read, whatever is in it.
#[test]
fn a_shipped_text_in_a_file_of_json_is_no_json() {
    let text = Shipped.find("rescued-cells", None).unwrap().bytes;
    for (file, is_read) in [("copy.yaml", true), ("copy.json", false)] {
        let files = Texts::of([(file, text.to_vec())]);
        let loaded = Rules::load(&[file], &files, &rulesets::catalogue());
        assert_eq!(loaded.is_ok(), is_read, "{file}");
    }
}
