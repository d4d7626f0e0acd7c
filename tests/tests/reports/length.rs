//! A report as JSON takes at most a fixed number of bytes, whatever is checked, and 40 for each
//! byte of the proposal: LANGUAGE.md section 9.

use std::fmt::Write as _;

use rules_core::check::{Options, check};
use rules_core::document::Syntax;
use rules_core::report::Lean;
use rules_core::ruleset::Rules;
use rulesets::bounds::MOST_CELLS;
use rulesets::proposal::Proposal;
use rulesets::shipped::Shipped;

/// Bytes for each byte of a proposal.
const EACH: usize = 40;

/// The two numbers of bytes that LANGUAGE.md states for the shipped rules: of reports, and of
/// lean records.
fn stated() -> (usize, usize) {
    let page = include_str!("../../../rulesets/LANGUAGE.md");
    let words: Vec<&str> = page
        .split_whitespace()
        .map(|word| word.trim_end_matches([',', '.']))
        .collect();
    let before = |unit: &[&str]| {
        let at = words
            .windows(unit.len())
            .position(|found| found == unit)
            .unwrap_or_else(|| panic!("{unit:?} is stated"));
        words[at - 1].replace(',', "").parse().expect("a number")
    };
    (
        before(&["bytes", "in", "full"]),
        before(&["bytes", "as", "a", "lean", "record"]),
    )
}

fn rules() -> Rules {
    Rules::load(&["rescued-cells"], &Shipped, &rulesets::catalogue()).expect("the rules load")
}

/// A proposal on one line, as in a stream.
fn line(arrangement: &str, cells: &[String]) -> String {
    format!(
        r#"{{"format":1,"arrangement":"{arrangement}","cells":[{}]}}"#,
        cells.join(",")
    )
}

/// Short ids, so that the lines are short.
fn id(mut number: usize) -> String {
    const LETTERS: &[u8] = b"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789";
    let mut id = String::new();
    loop {
        id.push(char::from(LETTERS[number % LETTERS.len()]));
        number /= LETTERS.len();
        if number == 0 {
            return id;
        }
    }
}

fn cells(many: usize, of: impl Fn(usize) -> String) -> Vec<String> {
    (0..many)
        .map(|at| format!(r#"{{"id":"{}"{}}}"#, id(at), of(at)))
        .collect()
}

/// Facts that make many cautions speak, each cell with values of its own.
fn measured(at: usize) -> String {
    let mut text = format!(r#","rest":{{"voltage":"{}.{:02} V"}}"#, at % 5, at % 100);
    let _ = write!(text, r#","capacity":{{"value":"{} mAh"}}"#, 400 + at % 2500);
    let _ = write!(
        text,
        r#","resistance":{{"value":"{} mohm"}}"#,
        20 + at % 300
    );
    text
}

/// One of a few facts each, so that sets of cells differ from caution to caution.
fn one_of_some(at: usize) -> String {
    let facts = [
        r#","body":"sound""#,
        r#","protected":true"#,
        r#","rest":{"voltage":"3 V"}"#,
        r#","capacity":{"value":"1 Ah"}"#,
        r#","origin":"new""#,
        r#","pack":"a""#,
        "",
    ];
    facts[(at * 31 + at / 7) % facts.len()].to_owned()
}

/// In groups of so many.
fn grouped(many: usize, of: impl Fn(usize) -> String) -> impl Fn(usize) -> String {
    move |at| format!(r#","group":"{}"{}"#, id(at / many), of(at))
}

/// Whether the reports of a proposal are within what is stated.
fn within(rules: &Rules, name: &str, line: &str) {
    let proposal = Proposal::read("line 1", line.as_bytes().to_vec(), Syntax::Json)
        .unwrap_or_else(|problems| panic!("{name}: {problems:?}"));
    let (full, lean) = stated();
    let length = |json: Vec<u8>| json.len();
    let report = check(rules, &proposal, Options::default()).expect("a report");
    for (what, length, fixed) in [
        (
            "in full",
            length(serde_json::to_vec(&report).expect("JSON")),
            full,
        ),
        (
            "as lean record",
            length(serde_json::to_vec(&Lean(&report)).expect("JSON")),
            lean,
        ),
    ] {
        let most = fixed + EACH * line.len();
        println!("{name}, {what}: {length} bytes of {most}");
        assert!(length <= most, "{name}, {what}: {length} bytes of {most}");
    }
}

#[test]
fn cells_that_are_not_listed_make_no_report_longer() {
    let rules = rules();
    for arrangement in [
        "1S1P", "500S1P", "2000S1P", "10000S1P", "1S10000P", "100S100P",
    ] {
        within(&rules, arrangement, &line(arrangement, &[]));
    }
}

#[test]
fn reports_on_cells_with_ids_alone_are_within_bounds() {
    let rules = rules();
    within(
        &rules,
        "ids",
        &line("1000S1P", &cells(1000, |_| String::new())),
    );
    within(
        &rules,
        "ids in parallel",
        &line("1S1000P", &cells(1000, |_| String::new())),
    );
    let in_pairs = cells(600, grouped(2, |_| String::new()));
    within(&rules, "ids in pairs", &line("300S2P", &in_pairs));
    let long: Vec<String> = (0..1000)
        .map(|at| format!(r#"{{"id":"{}{at:04}"}}"#, "x".repeat(190)))
        .collect();
    within(&rules, "long ids", &line("1000S1P", &long));
}

#[test]
fn reports_on_cells_that_differ_are_within_bounds() {
    let rules = rules();
    within(&rules, "measured", &line("600S1P", &cells(600, measured)));
    within(
        &rules,
        "measured in parallel",
        &line("1S600P", &cells(600, measured)),
    );
    let in_pairs = cells(600, grouped(2, measured));
    within(&rules, "measured in pairs", &line("300S2P", &in_pairs));
    let in_many = cells(600, grouped(30, measured));
    within(
        &rules,
        "measured in groups of 30",
        &line("20S30P", &in_many),
    );
    within(
        &rules,
        "one fact each",
        &line("1000S1P", &cells(1000, one_of_some)),
    );
    let in_pairs = cells(600, grouped(2, one_of_some));
    within(&rules, "one fact each in pairs", &line("300S2P", &in_pairs));
}

/// As many cells as there may be, all measured, in a use that says what it is: the most that is
/// judged in full. Of so many that say less the findings are too many, which is said instead.
#[test]
fn the_report_on_the_most_cells_is_within_bounds() {
    let measured = |at: usize| {
        let step = at % 7;
        format!(
            r#","designation":"ICR18650","origin":"salvaged","protected":false,"found":{{"voltage":"3.52 V"}},"rest":{{"voltage":"3.84{step} V","after":"26 h"}},"capacity":{{"value":"22{step}0 mAh","at":"1.1 A","to":"3.0 V","by":"discharge","stop":"automatic"}},"rated":{{"capacity":"2600 mAh","full":"4.20 V","discharge":"5.2 A"}},"resistance":{{"value":"6{step} mohm","method":"dc-10s"}},"drift":{{"from":"3.85 V","fall":"5 mV","over":"28 d"}},"wrap":"intact","top_ring":"present","body":"sound","tabs":"ground-off","weld_marks":"flat","revived":"never","mishap":"none","mate_failed":false,"idle_rise":"0 K ± 1 K","quarantined_for":"28 d","tested_ago":"20 d","card":true,"ends_with":"in-use""#
        )
    };
    let line = line(&format!("{MOST_CELLS}S1P"), &cells(MOST_CELLS, measured));
    let use_of_them = r#""light":{"drive":"buck","draw":"9000 W","input":{"min":"900 V","max":"1000 V"},"cut_off":"900 V","standby":"20 µA"},"protection":{"kind":"pack","each_cell":true,"under_voltage":"2.5 V"},"meters":{"voltage":"± (0.1 % + 1 mV)","charge":"± 1 %"},"charging":{"termination":"4.20 V","current":"1 A","ambient":"18 degC","attended":true},"conditions":{"ambient":"8 degC","run_time":"90 min"},"#;
    let line = line.replacen("\"cells\"", &format!("{use_of_them}\"cells\""), 1);
    within(&rules(), "the most cells, measured", &line);
}
