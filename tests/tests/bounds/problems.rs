//! Problems of documents: a bounded number is reported, the others are counted.

use rules_core::document::{Fault, Problem, ProblemList, Syntax, read, source};
use rules_core::vetting::vet;
use rulesets::proposal::Proposal;

use super::setting::{HEAD, vetted};

/// Problems of a proposal with so many unknown keys.
fn unknown_keys(many: usize) -> ProblemList {
    let unknown: String = (0..many)
        .map(|number| format!("key{number}: 1\n"))
        .collect();
    Proposal::read(
        "proposal",
        format!("format: 1\narrangement: 1S1P\n{unknown}").into_bytes(),
        Syntax::Yaml,
    )
    .expect_err("problems")
}

#[test]
fn too_many_problems_are_counted_not_kept() {
    assert_eq!(unknown_keys(1_000).len(), 1_000);
    for (many, more) in [(1_001, "1 more"), (5_000, "4000 more")] {
        let problems = unknown_keys(many);
        assert_eq!(problems.len(), 1_001);
        assert!(
            problems[1_000].message.contains(more),
            "{}",
            problems[1_000].message
        );
    }
}

/// What is wrong with the tree of a document is counted from its first byte on, in either syntax.
#[test]
fn problems_of_a_tree_are_counted_not_kept() {
    type Text = fn(usize) -> String;
    let all: [(Syntax, Fault, Text); 6] = [
        (Syntax::Json, Fault::RepeatedKey, |many| {
            format!("{{\"a\":1{}}}", ",\"a\":1".repeat(many))
        }),
        (Syntax::Json, Fault::RepeatedKey, |many| {
            format!("[{}0]", "{\"a\":1,\"a\":1},".repeat(many))
        }),
        (Syntax::Yaml, Fault::RepeatedKey, |many| {
            "a: 1\n".repeat(many + 1)
        }),
        (Syntax::Yaml, Fault::Anchor, |many| {
            format!("[{}0]", "&a b,".repeat(many))
        }),
        (Syntax::Yaml, Fault::Anchor, |many| {
            format!("[{}0]", "!a b,".repeat(many))
        }),
        (Syntax::Yaml, Fault::Anchor, |many| {
            format!("[{}0]", "{<<: 1},".repeat(many))
        }),
    ];
    for (syntax, fault, text) in all {
        for (many, last) in [
            (1_000, None),
            (1_001, Some("1 more")),
            (9_000, Some("8000 more")),
        ] {
            let bytes = text(many).into_bytes();
            let source = source("document", bytes).expect("a text");
            let problems = read(&source, syntax).expect_err("problems");
            let (told, counted) = problems.split_at(1_000);
            assert!(told.iter().all(|problem| problem.fault == fault));
            let said: Vec<bool> = counted
                .iter()
                .map(|problem| last.is_some_and(|last| problem.message.contains(last)))
                .collect();
            assert_eq!(
                said,
                vec![true; usize::from(last.is_some())],
                "{fault:?} {many}"
            );
        }
    }
}

/// What ends the reading of a file is counted with what was found before.
#[test]
fn problems_before_the_end_of_a_tree_are_bounded_too() {
    for (many, told) in [(999, 1_000), (1_000, 1_001), (5_000, 1_001)] {
        let text = format!("{}b: c: d\n", "a: &x 1\n".repeat(many));
        let problems = Proposal::read("proposal", text.into_bytes(), Syntax::Yaml);
        assert_eq!(problems.expect_err("problems").len(), told, "{many}");
    }
}

/// If what the user wrote is long, only a part is quoted; the rest of the message is complete.
#[test]
fn a_problem_quotes_a_long_text_in_part() {
    let long = "x".repeat(100_000);
    let digits = "1".repeat(100_000);
    let documents = [
        format!("{long}: 1\n{long}: 2\n"),
        format!("format: 1\narrangement: 1S1P\n{long}: 1\n"),
        format!("format: 1\narrangement: {long}\n"),
        format!("format: 1\narrangement: 1S1P\nlight: {{ drive: {long} }}\n"),
        format!("format: 1\narrangement: 1S1P\nlight: {{ draw: 1 {long} }}\n"),
        format!("format: 1\narrangement: 1S1P\nlight: {{ draw: 9{digits}..{digits} A }}\n"),
        format!("format: 1\narrangement: 1S1P\nlight: {{ draw: 1 A ± 1 {long} }}\n"),
        format!("format: 1\narrangement: 1S1P\ncells: [{{ id: K4, protected: {long} }}]\n"),
        format!("format: 1\narrangement: 1S1P\ncells: [{{ id: K4, designation: {long} }}]\n"),
        format!("format: 1\narrangement: 1S1P\nmeters: {{ voltage: {long} }}\n"),
        format!("a: *{long}\n"),
        format!("a: \"\\{long}\"\n"),
        format!("%{long}\n---\na: 1\n"),
    ];
    for text in documents {
        let start = text.chars().take(60).collect::<String>();
        let problems = Proposal::read("proposal", text.into_bytes(), Syntax::Yaml);
        for problem in problems.expect_err(&start) {
            let help = problem.help.unwrap_or_default();
            assert!(problem.message.chars().count() <= 405, "{start}");
            assert!(help.chars().count() <= 1004, "{start}");
            assert!(problem.line.len() <= 800, "{start}");
        }
    }
    let twice = format!("{{\"{long}\":1,\"{long}\":2}}").into_bytes();
    let problems = Proposal::read("proposal", twice, Syntax::Json).expect_err("problems");
    let quoted = |problem: &Problem| {
        let message = &problem.message;
        message.starts_with("the key `xxx") && message.ends_with("already on line 1")
    };
    assert!(problems.iter().any(quoted), "{problems:?}");
}

/// Cases that do not give what they expect, and what else a file lacks, are counted together.
#[test]
fn cases_that_fail_are_counted_not_kept() {
    let of = |many: usize| {
        let cases = "{ given: { cell.wrap: intact }, expect: refuse },".repeat(many);
        let text = format!(
            "{HEAD}cautions:\n  - {{ id: d, title: D, about: each cell, refuse_unless: cell.wrap == intact, reason: r, cases: [{cases}] }}\n"
        );
        vet(&vetted(&text).unwrap_or_else(|problems| panic!("{problems:?}")))
    };
    let lacking = of(1).len() - 1;
    let last = |many: usize| {
        let problems = of(many);
        (
            problems.len(),
            problems.last().map(|problem| problem.message.clone()),
        )
    };
    assert!(lacking > 0);
    assert_eq!(last(1_000 - lacking).0, 1_000);
    let more = |many: usize| Some(format!("`one` has {many} more problems"));
    assert_eq!(last(1_001 - lacking), (1_001, more(1)));
    assert_eq!(last(3_000 - lacking), (1_001, more(2_000)));
}
