//! The twenty rules as expressions that hold, for engines that take one expression at a time.

use rules_core::check::Verdict::{self, Refuse, Warn};

use crate::twenty::by_hand::Fails;

/// A rule: how grave it is, as an infix expression, and as JSONLogic.
pub(crate) struct Rule {
    pub(crate) verdict: Verdict,
    pub(crate) infix: &'static str,
    pub(crate) logic: &'static str,
}

const fn rule(verdict: Verdict, infix: &'static str, logic: &'static str) -> Rule {
    Rule {
        verdict,
        infix,
        logic,
    }
}

/// How many of them are about each cell; the rest are about the whole.
pub(crate) const OF_CELLS: usize = 12;

/// The rules, in order.
pub(crate) const RULES: [Rule; 20] = [
    rule(
        Refuse,
        "rest_voltage >= 2.5",
        r#"{">=":[{"var":"rest_voltage"},2.5]}"#,
    ),
    rule(
        Refuse,
        "rest_voltage <= 4.25",
        r#"{"<=":[{"var":"rest_voltage"},4.25]}"#,
    ),
    rule(
        Refuse,
        "capacity >= 1.5",
        r#"{">=":[{"var":"capacity"},1.5]}"#,
    ),
    rule(
        Warn,
        "capacity >= 0.8 * rated_capacity",
        r#"{">=":[{"var":"capacity"},{"*":[0.8,{"var":"rated_capacity"}]}]}"#,
    ),
    rule(
        Warn,
        "resistance <= 0.12",
        r#"{"<=":[{"var":"resistance"},0.12]}"#,
    ),
    rule(
        Refuse,
        r#"wrap == "intact" || wrap == "rewrapped""#,
        r#"{"or":[{"===":[{"var":"wrap"},"intact"]},{"===":[{"var":"wrap"},"rewrapped"]}]}"#,
    ),
    rule(
        Refuse,
        r#"body == "sound""#,
        r#"{"===":[{"var":"body"},"sound"]}"#,
    ),
    rule(
        Warn,
        "drift_fall / drift_over <= 0.001 / 24.0",
        r#"{"<=":[{"/":[{"var":"drift_fall"},{"var":"drift_over"}]},{"/":[0.001,24.0]}]}"#,
    ),
    rule(
        Refuse,
        "found_voltage >= 2.0",
        r#"{">=":[{"var":"found_voltage"},2.0]}"#,
    ),
    rule(
        Refuse,
        "length <= bay_length",
        r#"{"<=":[{"var":"length"},{"var":"bay_length"}]}"#,
    ),
    rule(
        Refuse,
        "diameter <= bay_diameter",
        r#"{"<=":[{"var":"diameter"},{"var":"bay_diameter"}]}"#,
    ),
    rule(
        Refuse,
        "termination <= rated_full",
        r#"{"<=":[{"var":"termination"},{"var":"rated_full"}]}"#,
    ),
    rule(
        Refuse,
        "charge_current / parallel <= 1.0",
        r#"{"<=":[{"/":[{"var":"charge_current"},{"var":"parallel"}]},1.0]}"#,
    ),
    rule(
        Refuse,
        "draw / parallel <= 2.5",
        r#"{"<=":[{"/":[{"var":"draw"},{"var":"parallel"}]},2.5]}"#,
    ),
    rule(
        Refuse,
        "cut_off >= 3.0 * series",
        r#"{">=":[{"var":"cut_off"},{"*":[3.0,{"var":"series"}]}]}"#,
    ),
    rule(
        Refuse,
        r#"series * parallel <= 1.0 || protection == "pack" && each_cell"#,
        r#"{"or":[{"<=":[{"*":[{"var":"series"},{"var":"parallel"}]},1.0]},{"and":[{"===":[{"var":"protection"},"pack"]},{"var":"each_cell"}]}]}"#,
    ),
    rule(
        Refuse,
        "max(v0, v1, v2, v3) - min(v0, v1, v2, v3) <= 0.05",
        r#"{"<=":[{"-":[{"max":[{"var":"v0"},{"var":"v1"},{"var":"v2"},{"var":"v3"}]},{"min":[{"var":"v0"},{"var":"v1"},{"var":"v2"},{"var":"v3"}]}]},0.05]}"#,
    ),
    rule(
        Warn,
        "(c0 + c1 + c2 + c3) / series >= draw * run_time",
        r#"{">=":[{"/":[{"+":[{"var":"c0"},{"var":"c1"},{"var":"c2"},{"var":"c3"}]},{"var":"series"}]},{"*":[{"var":"draw"},{"var":"run_time"}]}]}"#,
    ),
    rule(
        Refuse,
        "charge_ambient >= 5.0 && charge_ambient <= 40.0",
        r#"{"and":[{">=":[{"var":"charge_ambient"},5.0]},{"<=":[{"var":"charge_ambient"},40.0]}]}"#,
    ),
    rule(
        Refuse,
        r#"attended && surface == "non-combustible""#,
        r#"{"and":[{"var":"attended"},{"===":[{"var":"surface"},"non-combustible"]}]}"#,
    ),
];

/// Asks for every rule of every cell and of the whole whether it holds: `holds(rule, position)`,
/// where the position after the last cell is the whole.
pub(crate) fn ask(cells: usize, mut holds: impl FnMut(usize, usize) -> bool) -> Vec<Fails> {
    let mut fails = Vec::new();
    for (rule, Rule { verdict, .. }) in RULES.iter().enumerate() {
        let (places, first) = if rule < OF_CELLS {
            (0..cells, 0)
        } else {
            (cells..cells + 1, cells)
        };
        for place in places {
            if !holds(rule, place) {
                fails.push(Fails {
                    rule,
                    subject: place - first,
                    verdict: *verdict,
                });
            }
        }
    }
    fails
}
