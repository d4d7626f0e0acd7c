//! Every fault of a formula is reported once, where it is.

use rules_core::document::{Fault, Problem};

use super::setting::{caution, head, limit, load};

/// A figure of a ruleset, about each cell.
fn figure(name: &str, is: &str) -> String {
    format!("  {name}: {{ about: each cell, is: \"{is}\", meaning: A figure }}\n")
}

/// The faults of one ruleset with these lines, each with the word it is at.
fn faults_at(lines: &str) -> Vec<(Fault, String)> {
    let text = format!("{}{lines}", head("one"));
    let at = |problem: &Problem| {
        let place = problem.place.as_ref().expect("a place");
        let line = text.lines().nth(place.line - 1).expect("a line");
        line.chars()
            .skip(place.column - 1)
            .take_while(|letter| letter.is_alphanumeric() || "_.".contains(*letter))
            .collect()
    };
    let problems = load(&[("one", text.clone())], &["one"])
        .map(|_| ())
        .expect_err("faults");
    problems
        .iter()
        .map(|problem| (problem.fault, at(problem)))
        .collect()
}

fn expected<const MANY: usize>(faults: [(Fault, &str); MANY]) -> Vec<(Fault, String)> {
    faults.map(|(fault, at)| (fault, at.to_owned())).into()
}

#[test]
fn a_formula_tells_all_its_faults() {
    let rung = "cell.rest_voltge >= 3 V and cell.capcity_ratio >= 80 and limit.flor <= 2 A and cell.rest_voltage >= 3";
    let found = faults_at(&format!(
        "{}{}",
        limit("floor", "{ common_practice: x }"),
        caution("each cell", rung)
    ));
    let unknown =
        ["cell.rest_voltge", "cell.capcity_ratio", "limit.flor"].map(|at| (Fault::UnknownName, at));
    assert_eq!(found[..3], expected(unknown));
    assert_eq!(
        found[3..],
        expected([(Fault::KindsDiffer, "cell.rest_voltage")])
    );
}

#[test]
fn every_formula_and_text_of_a_caution_is_looked_at() {
    let text = caution("each cell", "cell.b >= 3 V")
        .replace(
            "refuse_unless",
            "applies_when: cell.a, warn_unless: cell.c > 1 V, refuse_unless",
        )
        .replace(
            "reason: r",
            "reason: \"{cell.d} of {limit.e} } {cell} {cell.id}\", remedy: \"{cell.f}\"",
        );
    let found = faults_at(&text);
    let (names, texts): (Vec<_>, Vec<_>) = found
        .into_iter()
        .partition(|(fault, _)| *fault == Fault::UnknownName);
    assert_eq!(
        names,
        expected([
            (Fault::UnknownName, "cell.a"),
            (Fault::UnknownName, "cell.c"),
            (Fault::UnknownName, "cell.b")
        ])
    );
    let bad = |at| (Fault::BadPlaceholder, at);
    assert_eq!(
        texts,
        expected([
            bad("cell.d"),
            bad("limit.e"),
            bad(""),
            bad("cell"),
            bad("cell.f")
        ])
    );
}

/// What uses a faulty figure or fact is not reported again, but its own faults are.
#[test]
fn a_faulty_figure_is_told_once() {
    let figures = [
        figure("broken", "cell.a"),
        figure("above", "cell.broken * 2"),
        figure("top", "cell.above + cell.b"),
    ];
    let text = caution(
        "each cell",
        "cell.broken > 1 V and cell.above == cell.wrap and cell.top > 1 A and cell.c > 1 A",
    )
    .replace("reason: r", "reason: \"{cell.broken} {cell.top}\"");
    let found = faults_at(&format!("figures:\n{}{text}", figures.concat()));
    assert_eq!(
        found,
        expected(["cell.a", "cell.b", "cell.c"].map(|at| (Fault::UnknownName, at)))
    );
}

#[test]
fn a_faulty_fact_is_told_once() {
    let fact = |name: &str| format!("facts:\n  {name}: {{ kind: text, meaning: A fact }}\n");
    for (name, fault) in [
        ("lamp.tag", Fault::UnknownName),
        ("build.tag", Fault::OutOfScope),
        ("cell.wrap", Fault::DefinedTwice),
    ] {
        let text = caution(
            "each cell",
            &format!("{name} == cell.id and {name} is known"),
        )
        .replace("reason: r", &format!("reason: \"{{{name}}}\""));
        assert_eq!(
            faults_at(&format!("{}{text}", fact(name))),
            expected([(fault, name)]),
            "{name}"
        );
    }
}

/// Those that rest on them have no fault of their own, and faults besides are reported of all.
#[test]
fn figures_that_rest_on_themselves_are_told_apart_from_those_that_rest_on_them() {
    let figures = |list: &[(&str, &str)]| {
        list.iter()
            .map(|(name, is)| figure(name, is))
            .collect::<String>()
    };
    let of = |list: &[(&str, &str)]| {
        faults_at(&format!(
            "figures:\n{}{}",
            figures(list),
            caution("each cell", "cell.x > 1 V")
        ))
    };
    let unknown = |at| (Fault::UnknownName, at);
    let cycle = |at| (Fault::Cycle, at);
    assert_eq!(of(&[("x", "cell.x + 1 V")]), expected([cycle("x")]));
    let all = [
        ("x", "cell.y + cell.a"),
        ("y", "cell.x"),
        ("on", "cell.x + cell.b"),
        ("top", "cell.on * cell.on + cell.y"),
        ("good", "1 V"),
    ];
    assert_eq!(
        of(&all),
        expected([cycle("x"), unknown("cell.a"), cycle("y"), unknown("cell.b")])
    );
    // Between two that rest on themselves.
    assert_eq!(
        of(&[("x", "cell.x"), ("on", "cell.x"), ("y", "cell.on + cell.y")]),
        expected([cycle("x"), cycle("on"), cycle("y")])
    );
}

/// What is under a faulty `about` is looked at too.
#[test]
fn a_faulty_about_hides_no_other_fault() {
    let unknown = |at| (Fault::UnknownName, at);
    let rung = "cell.rest_voltage > 3 V and group.x > 1 V";
    assert_eq!(
        faults_at(&caution("each lamp", rung)),
        expected([unknown("each"), unknown("group.x")])
    );
    assert_eq!(
        faults_at(&caution("cell", rung)),
        expected([(Fault::OutOfScope, "cell"), unknown("group.x")])
    );
    let lone = expected([
        (Fault::OutOfScope, "each"),
        (Fault::OutOfScope, "cell.rest_voltage"),
        unknown("group.x"),
    ]);
    assert_eq!(faults_at(&caution("each light", rung)), lone);
    let figures = |about: &str| {
        format!(
            "figures:\n{}",
            figure("low", "cell.rest_voltage + cell.x").replace("each cell", about)
        )
    };
    let uses = |name: &str| caution("each cell", &format!("{name} > 3 V and cell.y"));
    assert_eq!(
        faults_at(&format!("{}{}", figures("each lamp"), uses("lamp.low"))),
        expected(["each", "cell.x", "cell.y"].map(unknown))
    );
    let lone = expected([
        (Fault::OutOfScope, "cell"),
        unknown("cell.x"),
        unknown("cell.y"),
    ]);
    assert_eq!(
        faults_at(&format!("{}{}", figures("cell"), uses("cell.low"))),
        lone
    );
}

/// A figure with the name of a fact is reported as such; its formula is looked at, and what names
/// it is left alone.
#[test]
fn a_figure_named_as_a_fact_is_told_once() {
    let text = format!(
        "figures:\n{}{}",
        figure("wrap", "cell.a * 2"),
        caution("each cell", "cell.wrap >= 3 V")
    );
    assert_eq!(
        faults_at(&text),
        expected([
            (Fault::DefinedTwice, "wrap"),
            (Fault::UnknownName, "cell.a")
        ])
    );
    let text = format!(
        "figures:\n{}{}",
        figure("wrap", "cell.wrap + 1 V"),
        caution("each cell", "cell.wrap >= 3 V")
    );
    assert_eq!(faults_at(&text), expected([(Fault::DefinedTwice, "wrap")]));
}
