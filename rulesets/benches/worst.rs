//! Time and memory of the largest inputs that are accepted, and of the worst that are refused, one
//! process each: `cargo bench -p rules-core --bench worst`.
#![allow(
    clippy::expect_used,
    clippy::unreachable,
    reason = "a bench stops where its setting is wrong"
)]
#![allow(clippy::print_stdout, reason = "the table is what it is for")]
#![allow(dead_code, reason = "the setting is shared by several benches")]

mod setting;

use std::fmt::Write as _;
use std::process::Command;
use std::time::Instant;

use rules_core::bounds::{
    MOST_BYTES, MOST_CAUTIONS, MOST_LIMITS, MOST_NODES, MOST_PARTS, MOST_STEPS, MOST_TOKENS,
};
use rules_core::check::{Options, check, figures};
use rules_core::document::{Problem, Syntax};
use rules_core::ruleset::{Rules, Texts};
use rulesets::bounds::MOST_CELLS;
use rulesets::proposal::Proposal;

use setting::Arrangement;

/// What is timed, already prepared: it returns a result in words.
type Work = Box<dyn FnOnce() -> String>;

/// Makes it ready.
type Prepare = fn() -> Work;

/// The inputs.
const INPUTS: [(&str, Prepare); 15] = [
    ("the most values in one YAML document", most_values_yaml),
    ("the most values in one JSON document", most_values_json),
    ("one text of the most bytes", one_long_text),
    ("the most cells, read", most_cells),
    ("the most cautions, loaded", most_cautions),
    ("the most bytes of the longest formulas, loaded", most_rules),
    (
        "the most bytes of the longest formulas, all at fault",
        most_faults,
    ),
    ("the most bytes of keys that nobody knows", unknown_keys),
    (
        "the most limits, as many adjusted that are not there",
        unknown_limits,
    ),
    ("the most cells, shipped rules", shipped_rules),
    ("the most cells, every figure", every_figure),
    ("the most steps, of the longest formulas", most_steps),
    ("the most findings, of few parts each", most_findings),
    ("the longest findings", longest_findings),
    ("one finding too many", too_many_findings),
];

fn main() {
    let wanted = std::env::args()
        .nth(1)
        .and_then(|place| place.parse::<usize>().ok());
    if let Some((_, prepare)) = wanted.and_then(|place| INPUTS.get(place)) {
        let work = prepare();
        let start = Instant::now();
        let outcome = work();
        println!(
            "{:.2} s | {} MiB | {outcome}",
            start.elapsed().as_secs_f64(),
            most_memory()
        );
        return;
    }
    println!("| input | time | memory at most | outcome |\n| --- | ---: | ---: | --- |");
    for (place, (name, _)) in INPUTS.iter().enumerate() {
        let itself = std::env::current_exe().expect("a program knows itself");
        let output = Command::new(itself)
            .arg(place.to_string())
            .output()
            .expect("it runs");
        println!(
            "| {name} | {} |",
            String::from_utf8_lossy(&output.stdout).trim()
        );
    }
}

/// The most memory that this process has held, in MiB, if the system says.
fn most_memory() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kib = line.and_then(|line| line.split_whitespace().next()?.parse::<u64>().ok());
    kib.map_or("?".to_owned(), |kib| (kib / 1024).to_string())
}

fn read(bytes: Vec<u8>, syntax: Syntax) -> String {
    match Proposal::read("proposal", bytes, syntax) {
        Ok(_) => "read".to_owned(),
        Err(problems) => format!("{} problems", problems.len()),
    }
}

fn most_values_yaml() -> Work {
    let text = format!("a: [{}]\n", "1, ".repeat(MOST_NODES - 4));
    Box::new(move || read(text.into_bytes(), Syntax::Yaml))
}

fn most_values_json() -> Work {
    let text = format!("{{\"a\":[{}1]}}", "1,".repeat(MOST_NODES - 5));
    Box::new(move || read(text.into_bytes(), Syntax::Json))
}

fn one_long_text() -> Work {
    let text = format!("title: {}\n", "x".repeat(MOST_BYTES - 8));
    Box::new(move || read(text.into_bytes(), Syntax::Yaml))
}

fn cells() -> Vec<u8> {
    setting::build_of(Arrangement {
        series: MOST_CELLS,
        parallel: 1,
    })
}

fn most_cells() -> Work {
    let bytes = cells();
    Box::new(move || read(bytes, Syntax::Json))
}

/// Each key is nearly one that is known.
fn unknown_keys() -> Work {
    let keys: String = (0..40)
        .map(|at| format!(",\"rest_votage{at}\":\"1 V\""))
        .collect();
    let cell = |at: usize| format!("{{\"id\":\"K{at}\"{keys}}}");
    let cells: Vec<String> = (0..MOST_BYTES / (keys.len() + 16)).map(cell).collect();
    let text = format!(
        "{{\"format\":1,\"arrangement\":\"1S1P\",\"cells\":[{}]}}",
        cells.join(",")
    );
    Box::new(move || read(text.into_bytes(), Syntax::Json))
}

/// Two rulesets of which the second names limits that are nearly those of the first.
fn unknown_limits() -> Work {
    let head = |name: &str| {
        format!("format: 1\nruleset: {name}\nversion: 1.0.0\ntitle: Many limits, for timing\n")
    };
    let limit = |at: usize| {
        format!(
            "  limit{at}x: {{ value: 1 A, stricter: lower, meaning: One, basis: [{{ common_practice: one }}] }}\n"
        )
    };
    let limits: String = (0..MOST_LIMITS).map(limit).collect();
    let adjusted: String = (0..MOST_LIMITS)
        .map(|at| format!("    limit{at}y: {{ to: 1 A }}\n"))
        .collect();
    let adjusting = format!(
        "{}extends: [base]\nadjust:\n  limits:\n{adjusted}",
        head("adjusting")
    );
    let base = format!("{}limits:\n{limits}", head("base"));
    let library = Texts::of([("base", base), ("adjusting", adjusting)]);
    Box::new(
        move || match Rules::load(&["adjusting"], &library, &rulesets::catalogue()) {
            Ok(_) => "loaded".to_owned(),
            Err(problems) => format!("{} problems", problems.len()),
        },
    )
}

fn loaded(text: &str) -> String {
    format!("{} cautions", setting::rules_of(text).cautions().len())
}

fn most_cautions() -> Work {
    let text = setting::cautions(MOST_CAUTIONS);
    Box::new(move || loaded(&text))
}

/// Cautions of formulas with as many tokens as there may be, which compare with this voltage at the
/// end.
fn long_cautions(ruleset: &str, last: &str, many: usize) -> String {
    let mut text = format!(
        "format: 1\nruleset: {ruleset}\nversion: 1.0.0\ntitle: Long formulas, for timing\ncautions:\n"
    );
    // Seven tokens each, with the `or` between.
    let parts = "cell.rest_voltage > 100 V or ".repeat(MOST_TOKENS / 7 - 1);
    for at in 0..many {
        let rung = format!("{parts}cell.rest_voltage > {last}");
        writeln!(text, "  - {{ id: {ruleset}-{at}, title: Long, about: each cell, refuse_unless: \"{rung}\", reason: long }}")
            .expect("a text takes all that is written");
    }
    text
}

/// Two rulesets of nearly the most bytes; in faulty ones, each comparison is of a name that nothing
/// defines.
fn two(faulty: bool) -> Work {
    let long = |name: &'static str| {
        let one = long_cautions(name, "1 V", 2).len() - long_cautions(name, "1 V", 1).len();
        // Numbers of more digits take a few bytes more.
        let text = long_cautions(name, "1 V", (MOST_BYTES - 1000) / (one + 4));
        if faulty {
            (name, text.replace("rest_voltage", "rest_vxltagx"))
        } else {
            (name, text)
        }
    };
    let library = Texts::of(["one", "two"].map(long));
    Box::new(
        move || match Rules::load(&["one", "two"], &library, &rulesets::catalogue()) {
            Ok(rules) => format!("{} cautions", rules.cautions().len()),
            Err(problems) => format!("{} problems", problems.len()),
        },
    )
}

fn most_rules() -> Work {
    two(false)
}

fn most_faults() -> Work {
    two(true)
}

fn told(problems: &[Problem]) -> String {
    problems
        .first()
        .map_or_else(String::new, |problem| problem.message.clone())
}

fn shipped_rules() -> Work {
    checked(setting::shipped(), cells())
}

fn checked(rules: Rules, bytes: Vec<u8>) -> Work {
    let proposal = setting::read("build.json", bytes);
    Box::new(move || match check(&rules, &proposal, Options::default()) {
        Ok(report) => format!("{} findings", report.findings.len()),
        Err(problems) => told(&problems),
    })
}

fn every_figure() -> Work {
    let (rules, proposal) = (setting::shipped(), setting::read("build.json", cells()));
    Box::new(
        move || match figures(&rules, &proposal, Options::default()) {
            Ok(sheet) => format!("{} figures", sheet.figures.len()),
            Err(problems) => told(&problems),
        },
    )
}

fn most_steps() -> Work {
    checked(
        setting::rules_of(&long_cautions("steps", "1 V", MOST_STEPS / MOST_CELLS)),
        cells(),
    )
}

/// Cautions that every cell fails, on the most cells.
fn failing(many: usize) -> Work {
    let mut text = "format: 1\nruleset: failing\nversion: 1.0.0\ntitle: Failing cautions, for timing\ncautions:\n".to_owned();
    for at in 0..many {
        writeln!(text, "  - {{ id: c{at}, title: Fails, about: each cell, refuse_unless: cell.rest_voltage > 99 V, reason: low }}")
            .expect("a text takes all that is written");
    }
    checked(setting::rules_of(&text), cells())
}

/// Each finding has three parts: itself, a comparison and a fact.
fn most_findings() -> Work {
    failing(MOST_PARTS / MOST_CELLS / 3)
}

fn too_many_findings() -> Work {
    failing(MOST_PARTS / MOST_CELLS / 3 + 1)
}

/// Each finding has as many comparisons as a formula can have, and one fact.
fn longest_findings() -> Work {
    let each = MOST_TOKENS / 7 + 2;
    let bytes = setting::build_of(Arrangement {
        series: MOST_PARTS / each / 2,
        parallel: 1,
    });
    checked(setting::rules_of(&long_cautions("long", "99 V", 2)), bytes)
}
