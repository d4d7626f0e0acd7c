//! The help, read as a new user reads it: what it shows can be typed.

use crate::running::{Folder, Ran};

const COMMANDS: [&str; 26] = [
    "start",
    "interview",
    "page",
    "check",
    "changed",
    "range",
    "plain",
    "prose",
    "ruleset",
    "figures",
    "choose",
    "label",
    "sort",
    "tag",
    "stream",
    "cautions",
    "explain",
    "facts",
    "limits",
    "vet",
    "cases",
    "merged",
    "schema",
    "hook",
    "completions",
    "manual",
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
    let redirected = |word: &&str| !["<", ">", "|"].contains(word);
    let arguments: Vec<&str> = arguments
        .into_iter()
        .skip(1)
        .take_while(redirected)
        .collect();
    // JSON is YAML too, and on one line it is a stream.
    let proposal = include_str!("../../demo/marshal-torch.json").replace('\n', "");
    let report = {
        let checked = Folder::with("plan.json", &proposal);
        checked.run(&["check", "--format", "json", "plan.json"]).out
    };
    // What is compared with standard input is a report on both sides.
    let stdin = if example.contains('|') {
        &report
    } else {
        &proposal
    };
    // A starter is written where nothing is yet.
    let folder = match example.contains("start bench") {
        true => Folder::new(),
        false => Folder::with("bench.yaml", BENCH),
    };
    folder
        .and("helmet-lamp.yaml", &proposal)
        .and("night-relay.yaml", &proposal)
        .and("old.json", &report)
        .and("new.json", &report)
        .and("my-torch.yaml", &proposal)
        .and("plans.jsonl", &proposal)
        .and("club-practice.yaml", CLUB)
        .and("clubhouse.yaml", BENCH)
        .run_with(&arguments, stdin)
}

const BENCH: &str = "
format: 1
bench: Clubhouse
lights: { start-hut: { bays: 2, arrangement: 1S2P } }
cells: [{ id: K4 }, { id: K5 }, { id: K7 }]
";

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
        // What serves until it is ended is tried where it is served.
        let ends = |example: &&str| !example.starts_with("cellrules page");
        for example in examples(page).into_iter().filter(ends) {
            // A shell makes files of this, and it is no name.
            let ran = run(&example
                .replace("lamps/*.yaml", "my-torch.yaml")
                .replace("lamps", "my-torch.yaml"));
            let needs_terminal = ran.err.contains("needs a terminal");
            assert!(
                ran.code != 2 || needs_terminal,
                "{example}\n{}",
                ran.whole()
            );
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

/// Each page says how its command ends.
#[test]
fn every_command_says_its_exit_status() {
    for command in COMMANDS {
        let page = help(command);
        let (_, status) = page.split_once("Exit status:").expect(command);
        assert!(
            status.contains('0') && status.contains('2'),
            "{command}: {status}"
        );
    }
}

/// A command that is not in the list above is in no test of this file.
#[test]
fn no_command_is_forgotten() {
    let page = front_page();
    let (_, list) = page.split_once("Commands:\n").expect("the commands");
    let (list, _) = list.split_once("\n\n").expect("their end");
    let names = list.lines().filter_map(|line| line.strip_prefix("  "));
    let names = names.filter(|line| !line.starts_with(' '));
    let names: Vec<&str> = names.filter_map(|line| line.split(' ').next()).collect();
    let unknown: Vec<_> = names
        .iter()
        .filter(|name| !COMMANDS.contains(name))
        .collect();
    assert_eq!(unknown, [&"help"]);
}

/// What reports call a place in a shipped ruleset can be looked up.
#[test]
fn a_place_in_a_shipped_ruleset_can_be_printed() {
    let folder = Folder::with("torch.yaml", "format: 1\narrangement: 1S1P\n");
    let checked = folder.run(&["check", "--format", "json", "torch.yaml"]);
    let report: serde_json::Value = serde_json::from_str(&checked.out).expect("a report");
    let cautions = report["cautions"].as_object().expect("cautions");
    let printed = folder.run(&["ruleset", "rescued-cells"]);
    assert_eq!(printed.code, 0, "{}", printed.err);
    let lines: Vec<&str> = printed.out.lines().collect();
    let mut seen = 0;
    for (id, caution) in cautions {
        for place in caution["rungs"].as_object().expect("rungs").values() {
            assert_eq!(place["file"], "rescued-cells");
            let line = place["line"]
                .as_u64()
                .and_then(|line| usize::try_from(line).ok());
            let above = lines.get(..line.expect("a line")).expect("it is there");
            let of = above
                .iter()
                .rev()
                .find_map(|line| line.strip_prefix("  - id: "));
            assert_eq!(of, Some(id.as_str()));
            seen += 1;
        }
    }
    assert!(seen > 20, "{seen}");
    assert_eq!(
        folder.run(&["ruleset"]).out,
        "rescued-cells\nrescued-cells-measured\n"
    );
    let near = folder.run(&["ruleset", "rescued-cell"]);
    assert!(
        near.code == 2 && near.err.contains("rescued-cells"),
        "{}",
        near.whole()
    );
}
