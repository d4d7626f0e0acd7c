//! Figures that rest on figures: what is accepted is checked in bounded stack, and nothing missing
//! goes unnamed.

use rules_core::check::Verdict;
use rules_core::document::Fault;

use super::setting::{HEAD, caution, checked, rules};

/// Figures one on another, each with the given formula, where `{below}` is the one beneath.
fn figures(levels: usize, formula: &str) -> String {
    let one = |level: usize| {
        let below = if level == 0 {
            "light.draw_current".to_owned()
        } else {
            format!("light.f{}", level - 1)
        };
        format!(
            "  f{level}: {{ about: light, is: \"{}\", meaning: A figure }}\n",
            formula.replace("{below}", &below)
        )
    };
    format!("figures:\n{}", (0..levels).map(one).collect::<String>())
}

#[test]
fn the_deepest_figures_fit_a_small_stack() {
    // 1 MiB is the smallest main thread in common use. Unoptimised code takes several times the
    // stack of optimised code, and runs in threads of 2 MiB.
    let stack = if cfg!(debug_assertions) {
        2 << 20
    } else {
        1 << 20
    };
    let deep = "1 A + 1 * max(0 A, ".repeat(30) + "{below}" + &")".repeat(30);
    let text = format!(
        "{HEAD}{}{}",
        figures(8, &deep),
        caution("light", "light.f7 <= 1 A")
    );
    let proposal = "format: 1\narrangement: 1S1P\nlight: { draw: 1 A }\n".to_owned();
    let small = std::thread::Builder::new()
        .stack_size(stack)
        .spawn(move || checked(&text, proposal).gravest().verdict);
    assert_eq!(
        small.expect("a thread").join().expect("it ends well"),
        Verdict::Refuse
    );
}

#[test]
fn one_figure_more_is_refused() {
    let text = format!(
        "{HEAD}{}{}",
        figures(9, "{below} + 1 A"),
        caution("light", "light.f8 <= 1 A")
    );
    let problems = rules(&text).expect_err("too deep");
    assert_eq!(problems[0].fault, Fault::TooDeep);
    let text = format!(
        "{HEAD}{}{}",
        figures(8, "{below} + 1 A"),
        caution("light", "light.f7 <= 1 A")
    );
    assert!(rules(&text).is_ok());
}

/// Without sums kept, explaining would walk 10^8 paths; the facts are the same.
#[test]
fn figures_named_many_times_are_explained_once() {
    let ten = ["{below}"; 10].join(" + ");
    let text = format!(
        "{HEAD}{}{}",
        figures(8, &ten),
        caution("light", "light.f7 <= 1 A")
    );
    let report = checked(
        &text,
        "format: 1\narrangement: 1S1P\nlight: { draw: 1 A }\n".to_owned(),
    );
    let facts: Vec<&str> = report.findings[0]
        .facts
        .iter()
        .map(|fact| &*fact.name)
        .collect();
    assert_eq!(facts, ["light.draw_current"]);
}

#[test]
fn a_missing_fact_is_named_however_many_are_given() {
    let text = format!(
        "{HEAD}{}",
        caution("build", "spread of cell.rest_voltage <= 10 mV")
    );
    for unread in [1, 15, 30] {
        let cell = |number| {
            if number == unread {
                format!("  - {{ id: K{number} }}\n")
            } else {
                format!("  - {{ id: K{number}, rest: {{ voltage: 3.700 V }} }}\n")
            }
        };
        let cells: String = (1..=30).map(cell).collect();
        let report = checked(
            &text,
            format!("format: 1\narrangement: 30S1P\ncells:\n{cells}"),
        );
        let finding = &report.findings[0];
        assert_eq!(finding.missing, ["cell.rest_voltage"]);
        assert_eq!(report.measure_next.len(), 1);
        let next = &report.measure_next[0].subject;
        assert_eq!(next.in_words(), format!("cell K{unread}"));
        assert_eq!(finding.facts.len() + finding.more_facts, 30);
    }
}
