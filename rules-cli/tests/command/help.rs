//! The help, read as a new user reads it: what it shows can be typed.

use crate::running::{Folder, Ran};

const COMMANDS: [&str; 12] = [
    "check", "figures", "label", "stream", "cautions", "explain", "facts", "limits", "vet",
    "cases", "merged", "schema",
];

fn help(command: &str) -> String {
    let ran = Folder::new().run(&["help", command]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{command}");
    ran.out
}

fn front_page() -> String {
    Folder::new().run(&["help"]).out
}

/// The lines of the help that begin with the name of the command, up to a double space.
fn examples(help: &str) -> Vec<&str> {
    let lines = help.lines().filter_map(|line| line.strip_prefix("  "));
    let lines = lines.filter(|line| line.starts_with("cellrules "));
    lines
        .map(|line| line.split("  ").next().unwrap_or(line))
        .collect()
}

/// Runs an example in a folder that has the files it names. `<` and `>` are for a shell.
fn run(example: &str) -> Ran {
    let mut arguments: Vec<&str> = Vec::new();
    let mut quoted = example.split('"');
    while let Some(plain) = quoted.next() {
        arguments.extend(plain.split_whitespace());
        arguments.extend(quoted.next());
    }
    let redirected = |word: &&str| !["<", ">"].contains(word);
    let arguments: Vec<&str> = arguments
        .into_iter()
        .skip(1)
        .take_while(redirected)
        .collect();
    // JSON is YAML too, and on one line it is a stream.
    let proposal = include_str!("../../demo/marshal-torch.json").replace('\n', "");
    Folder::with("helmet-lamp.yaml", &proposal)
        .and("my-torch.yaml", &proposal)
        .and("plans.jsonl", &proposal)
        .and("club-practice.yaml", CLUB)
        .run_with(&arguments, proposal)
}

const CLUB: &str = "
format: 1
ruleset: club
version: 1.0.0
title: The club
extends: [rescued-cells]
cautions:
  - id: spare-lamp-missing
    title: No spare lamp
    about: light
    warn_unless: light.vented
    reason: There is none.
    basis: [{ common_practice: every runner carries two }]
";

#[test]
fn the_front_page_lists_every_command_and_where_to_read_on() {
    let page = front_page();
    for command in COMMANDS {
        assert!(page.contains(&format!("\n  {command} ")), "{command}");
    }
    assert!(page.contains("LANGUAGE.md") && page.contains("FACTS.md"));
    assert!(page.contains("A pass overrules neither them nor local"));
}

/// 2 is wrong usage, so an example never ends with it.
#[test]
fn every_example_can_be_typed() {
    let mut tried = 0;
    for page in COMMANDS.map(help).iter().chain([&front_page()]) {
        for example in examples(page) {
            // A shell makes files of this, and it is no name.
            let ran = run(&example
                .replace("lamps/*.yaml", "my-torch.yaml")
                .replace("lamps", "my-torch.yaml"));
            assert!(ran.code != 2, "{example}\n{}", ran.whole());
            tried += 1;
        }
    }
    assert!(tried >= 2 * COMMANDS.len(), "{tried} examples");
}

#[test]
fn the_proposal_in_the_help_is_one() {
    let page = help("check");
    let start = page.find("  format: 1\n").expect("a proposal");
    let (proposal, _) = page
        .get(start..)
        .and_then(|rest| rest.split_once("\n`cellrules facts`"))
        .expect("its end");
    let ran = Folder::with("torch.yaml", proposal).run(&["check", "torch.yaml"]);
    assert!(ran.code == 1 && ran.err.is_empty(), "{}", ran.whole());
    assert!(ran.out.contains("Torch for the night relay"), "{}", ran.out);
}
