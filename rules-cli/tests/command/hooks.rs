//! The scripts for repositories, run by Git in one that is made for the test.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use crate::running::Folder;

const GOOD_RULES: &str = include_str!("../../starters/ruleset.yaml");
const GOOD_PLAN: &str = include_str!("../../demo/marshal-torch.yaml");
/// Refused: the cell was found deeply discharged.
const BAD_PLAN: &str =
    "format: 1\narrangement: 1S1P\ncells: [{ id: K4, found: { voltage: 0.9 V } }]\n";

/// A repository with the script for commits.
struct Repository(Folder);

impl Repository {
    /// None where there is no Git.
    fn new() -> Option<Self> {
        let repository = Self(Folder::new());
        if Command::new("git").arg("--version").output().is_err() {
            println!("left out: there is no git");
            return None;
        }
        repository.well(&["init", "--quiet"]);
        let hook = repository.0.run(&["hook", "commit"]);
        assert_eq!((hook.code, hook.err.as_str()), (0, ""));
        repository.write(".git/hooks/pre-commit", &hook.out);
        let made = with_command(
            Command::new("chmod").args(["+x", ".git/hooks/pre-commit"]),
            repository.0.path(),
        );
        assert!(made.status.success());
        Some(repository)
    }

    fn write(&self, name: &str, text: &str) {
        let path = self.0.path().join(name);
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("the folder");
        std::fs::write(path, text).expect("a file");
    }

    /// Git with the command of this build.
    fn git(&self, arguments: &[&str]) -> Output {
        with_command(Command::new("git").args(arguments), self.0.path())
    }

    fn well(&self, arguments: &[&str]) {
        let output = self.git(arguments);
        assert!(output.status.success(), "{arguments:?}: {output:?}");
    }

    fn commit(&self) -> Output {
        self.git(&["commit", "--quiet", "-m", "Try"])
    }

    /// Whether a commit of all files is made; what is said if not.
    fn commits(&self) -> Result<(), String> {
        self.well(&["add", "-A"]);
        let output = self.commit();
        match output.status.success() {
            true => Ok(()),
            false => Err(String::from_utf8_lossy(&output.stderr).into_owned()),
        }
    }
}

fn with_command(command: &mut Command, folder: &Path) -> Output {
    let built = PathBuf::from(env!("CARGO_BIN_EXE_cellrules"));
    let mut path = built.parent().expect("a folder").as_os_str().to_owned();
    path.push(":");
    path.push(std::env::var_os("PATH").unwrap_or_default());
    let person = [("NAME", "A"), ("EMAIL", "a@example.org")];
    for (what, is) in person {
        command.env(format!("GIT_AUTHOR_{what}"), is);
        command.env(format!("GIT_COMMITTER_{what}"), is);
    }
    // Nothing of the person who runs the tests takes part.
    command
        .env("GIT_CONFIG_GLOBAL", "/dev/null")
        .env("PATH", path);
    command.current_dir(folder).output().expect("git")
}

#[test]
fn good_rules_and_plans_pass() {
    let Some(repository) = Repository::new() else {
        return;
    };
    repository.write("rules/our club.yaml", GOOD_RULES);
    repository.write("lamps/torch.yaml", GOOD_PLAN);
    repository.write("notes.yaml", "format: 1\nnotes: []\n");
    assert_eq!(repository.commits(), Ok(()));
    // With nothing to check.
    repository.write("notes.txt", "x");
    assert_eq!(repository.commits(), Ok(()));
}

/// One that defines no caution can have no cases.
#[test]
fn a_ruleset_that_only_tightens_passes() {
    let Some(repository) = Repository::new() else {
        return;
    };
    let tightens = "format: 1\nruleset: club\nversion: 1.0.0\ntitle: Club\nextends: [rescued-cells]\n\
                    adjust: { limits: { rest_match: { to: 5 mV } } }\n";
    repository.write("club.yaml", tightens);
    assert_eq!(repository.commits(), Ok(()));
}

#[test]
fn a_bad_ruleset_stops_the_commit() {
    let Some(repository) = Repository::new() else {
        return;
    };
    repository.write(
        "our club.yaml",
        &GOOD_RULES.replace("warn_unless:", "warn_unles:"),
    );
    let said = repository.commits().expect_err("it stops");
    assert!(
        said.contains("our club.yaml") && said.contains("warn_unles"),
        "{said}"
    );
    repository.write("our club.yaml", GOOD_RULES);
    assert_eq!(repository.commits(), Ok(()));
}

#[test]
fn a_case_that_gives_another_verdict_stops_the_commit() {
    let Some(repository) = Repository::new() else {
        return;
    };
    let wrong = GOOD_RULES.replacen("expect: pass", "expect: refuse", 1);
    assert_ne!(wrong, GOOD_RULES);
    repository.write("club.yaml", &wrong);
    let said = repository.commits().expect_err("it stops");
    assert!(said.contains("club.yaml"), "{said}");
}

#[test]
fn a_refused_plan_stops_the_commit() {
    let Some(repository) = Repository::new() else {
        return;
    };
    repository.write("torch.yaml", BAD_PLAN);
    let said = repository.commits().expect_err("it stops");
    assert!(said.contains("torch.yaml"), "{said}");
    repository.well(&[
        "commit",
        "--quiet",
        "--no-verify",
        "-m",
        "Keep it as a record",
    ]);
}

/// What is committed is checked, whatever stands in the folder.
#[test]
fn what_is_staged_is_checked() {
    let Some(repository) = Repository::new() else {
        return;
    };
    repository.write("torch.yaml", GOOD_PLAN);
    repository.well(&["add", "-A"]);
    repository.write("torch.yaml", BAD_PLAN);
    assert!(repository.commit().status.success());
    repository.well(&["add", "-A"]);
    repository.write("torch.yaml", GOOD_PLAN);
    assert!(!repository.commit().status.success());
}

/// Plans take from a bench: if it gets worse, so do they.
#[test]
fn a_bench_that_changes_has_its_plans_checked() {
    let Some(repository) = Repository::new() else {
        return;
    };
    let bench = |found: &str| {
        format!("format: 1\nbench: Club\ncells: [{{ id: K4, found: {{ voltage: {found} }} }}]\n")
    };
    repository.write("bench.yaml", &bench("0.9 V"));
    assert_eq!(repository.commits(), Ok(()));
    repository.write(
        "lamps/torch.yaml",
        "format: 1\nbench: ../bench.yaml\narrangement: 1S1P\ncells: [K4]\n",
    );
    repository.well(&["add", "-A"]);
    repository.well(&["commit", "--quiet", "--no-verify", "-m", "Start"]);
    repository.write("bench.yaml", &bench("0.8 V"));
    let said = repository.commits().expect_err("it stops");
    assert!(said.contains("torch.yaml"), "{said}");
}

/// What a server gets: marked lines, and files in open formats.
#[test]
fn a_server_gets_lines_and_files() {
    let Some(repository) = Repository::new() else {
        return;
    };
    repository.write("rules/our club.yaml", GOOD_RULES);
    repository.write("torch.yaml", BAD_PLAN);
    let script = repository.0.run(&["hook", "server"]).out;
    repository.write("check.sh", &script);
    repository.well(&["add", "-A"]);
    let output = with_command(
        Command::new("sh").args(["check.sh", "found"]),
        repository.0.path(),
    );
    let said = String::from_utf8_lossy(&output.stdout);
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    assert!(said.contains("::error file=torch.yaml,line=3"), "{said}");
    let read = |name: &str| {
        std::fs::read_to_string(repository.0.path().join("found").join(name)).expect(name)
    };
    for name in ["rulesets.sarif", "plans.sarif"] {
        let document: serde_json::Value = serde_json::from_str(&read(name)).expect(name);
        assert_eq!(document["version"], "2.1.0", "{name}");
    }
    assert!(roxmltree::Document::parse(&read("cases.xml")).is_ok());
}

#[test]
fn the_scripts_are_plain_shell() {
    for place in ["commit", "server"] {
        let folder = Folder::new();
        let script = folder.run(&["hook", place]).out;
        let folder = folder.and("hook.sh", &script);
        for shell in ["sh", "dash", "bash"] {
            let read = Command::new(shell)
                .args(["-n", "hook.sh"])
                .current_dir(folder.path())
                .output();
            assert!(
                read.map_or(true, |output| output.status.success()),
                "{place} in {shell}"
            );
        }
    }
}
