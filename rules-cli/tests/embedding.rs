//! The lines of the README's part on embedding in Rust, run.

#![cfg(test)]

use std::error::Error;
use std::path::Path;

/// Between the marks stands what the README shows; the paths in it start at the top of the repository.
#[test]
fn the_lines_of_the_readme() -> Result<(), Box<dyn Error>> {
    std::env::set_current_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join(".."))?;
    // The README begins.
    let rules = rulesets::shipped_rules()?;
    let plan = std::fs::read_to_string("rules-cli/demo/helmet-lamp.yaml")?;
    let proposal = rulesets::Proposal::from_text("helmet-lamp.yaml", &plan)?;
    let report = rulesets::check(&rules, &proposal, rulesets::Options::default())?;
    if report.verdict() == Some(rulesets::Verdict::Refuse) {
        eprintln!(
            "{}",
            rulesets::text(&report, rulesets::USUAL_WIDTH, &rulesets::Plain)
        );
    }
    // The README ends.
    assert_eq!(report.verdict(), Some(rulesets::Verdict::Refuse));
    Ok(())
}

#[test]
fn they_are_those_of_the_readme() {
    let readme = include_str!("../../README.md");
    let shown = readme
        .split_once("```rust\n")
        .and_then(|(_, rest)| rest.split_once("```"));
    let (shown, _) = shown.expect("lines of Rust");
    let run = include_str!("embedding.rs").split_once("// The README begins.\n");
    let (run, _) = run
        .and_then(|(_, rest)| rest.split_once("    // The README ends."))
        .expect("marks");
    assert_eq!(words(shown), words(run));
}

/// What a text says, whatever its lines are indented by or broken at.
fn words(text: &str) -> String {
    text.split_whitespace().collect()
}
