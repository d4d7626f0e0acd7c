//! A ruleset of the cautions that a test names, and a proposal to check.

use rules_core::check::{Options, Report, Verdict, check};
use rules_core::document::Syntax;
use rules_core::ruleset::{Rules, Texts};
use rulesets::proposal::Proposal;

const HEAD: &str = "format: 1
ruleset: rules
version: 1.0.0
title: Limits and sources to cite
sources:
  sheet: { title: A sheet, publisher: A supplier, year: 2012, read: second-hand }
  table: { title: A table, publisher: A supplier, year: 2013, read: in source }
  unread: { title: Named by nothing that is found, publisher: A supplier, year: 2014, read: in source }
limits:
  floor: { value: 2.50 V, stricter: higher, meaning: Floor, basis: [{ source: sheet }] }
  most: { value: 4.20 V, stricter: lower, meaning: Most, basis: [{ common_practice: example }] }
  nothing: { value: 0 V, stricter: lower, meaning: Nothing, basis: [{ common_practice: example }] }
  cold: { value: 0 degC, stricter: higher, meaning: Cold, basis: [{ source: unread }] }
  slow: { value: 1.0 A, stricter: lower, meaning: Slow, basis: [{ common_practice: example }] }
";

/// A caution of that name, with these further lines.
pub(crate) fn caution(id: &str, about: &str, lines: &str) -> String {
    format!(
        "  - id: {id}\n    title: Tested\n    about: {about}\n    reason: outside\n    basis: [{{ source: table }}]\n{}",
        indented(lines)
    )
}

fn indented(lines: &str) -> String {
    lines
        .lines()
        .map(|line| format!("    {}\n", line.trim()))
        .collect()
}

/// The rules with these definitions.
pub(crate) fn rules(definitions: &str) -> Rules {
    let text = format!("{HEAD}{definitions}");
    Rules::load(
        &["rules"],
        &Texts::of([("rules", text)]),
        &rulesets::catalogue(),
    )
    .unwrap_or_else(|problems| panic!("{problems:?}"))
}

/// The report of a proposal, given its sections, by these cautions.
pub(crate) fn report(cautions: &[String], arrangement: &str, sections: &str) -> Report {
    let rules = rules(&format!("cautions:\n{}", cautions.concat()));
    let text = format!("format: 1\narrangement: {arrangement}\n{sections}");
    let proposal = Proposal::read("proposal", text.into_bytes(), Syntax::Yaml)
        .unwrap_or_else(|problems| panic!("{problems:?}"));
    check(&rules, &proposal, Options::default()).unwrap_or_else(|problems| panic!("{problems:?}"))
}

/// The report of one cell that rests at this voltage, by one caution about it.
pub(crate) fn of_cell(lines: &str, voltage: &str) -> Report {
    let report = report(
        &[caution("tested", "each cell", lines)],
        "1S1P",
        &format!("cells: [{{ id: K1, rest: {{ voltage: {voltage} }} }}]\n"),
    );
    assert_ne!(report.gravest().verdict, Verdict::Pass, "{lines}");
    report
}
