//! What is wrong with a bench and with what is taken from it, each at its place.

use rules_core::ruleset::Texts;

use crate::bounds::{MOST_CELLS, MOST_CURVES};

use super::{BENCH, CELLS, READINGS, problems_of, texts};

#[test]
fn each_fault_has_its_place() {
    let with_plan = |text: &str| problems_of(text, &texts(BENCH, CELLS, READINGS));
    let plan = |rest: &str| format!("format: 1\nbench: ./bench.yaml\narrangement: 1S1P\n{rest}\n");
    let all = [
        ("light: helmet-lmp", vec!["plan.yaml:4:8 unknown-name"]),
        (
            "light: { of: helmet-lmp }",
            vec!["plan.yaml:4:14 unknown-name"],
        ),
        (
            "charging: { of: six-bay, at: hat }",
            vec!["plan.yaml:4:17 unknown-name", "plan.yaml:4:30 unknown-name"],
        ),
        (
            "cells: [K4, K5, \"K4 \"]",
            vec![
                "plan.yaml:4:13 unknown-name",
                "plan.yaml:4:17 defined-twice",
            ],
        ),
        (
            "cells: [K4, { id: K4 }]",
            vec!["plan.yaml:4:19 defined-twice"],
        ),
        (
            "cells: [{ id: X, resistance: { value: 50 mΩ, tester: gray } }]",
            vec!["plan.yaml:4:54 unknown-name"],
        ),
        ("packs: [P-2]", vec!["plan.yaml:4:9 unknown-name"]),
        ("as_of: 2026-02-30", vec!["plan.yaml:4:8 bad-date"]),
        (
            "meters: { voltage: ± 1 % }",
            vec!["plan.yaml:4:11 defined-twice"],
        ),
        ("meters: { voltage: ± (0.5 % + 10 mV) }", vec![]),
    ];
    for (rest, wanted) in all {
        assert_eq!(with_plan(&plan(rest)), wanted, "{rest}");
    }
    assert_eq!(
        with_plan("{ format: 1, bench: ./plan.yaml }"),
        ["plan.yaml:1:21 unknown-name"]
    );
    assert_eq!(
        with_plan("{ format: 1, bench: ./bunch.yaml }"),
        ["plan.yaml:1:21 unknown-name"]
    );
    assert_eq!(
        with_plan("{ format: 1, bench: ../bench.yaml }"),
        ["plan.yaml:1:21 unknown-name"]
    );
}

#[test]
fn faults_of_a_bench_are_told_with_those_of_the_proposal() {
    let bench = "
format: 1
bench: b
rules: [./bench.yaml, ../club.yaml, ./club.yaml]
lights: { lamp: { bays: two }, \"a  b\": {} }
testers: { grey: { capacity: { at: 0.5 V } } }
cells: [{ id: K1, in: lump }, { id: K1 }, { wrap: intact }, { id: K9, rest: { voltage: 3.7 V } }]
tables: { cells: ./cells.csv, readings: readings.csv, other: x }
";
    let cells = "id,wrap,rest.voltage,resistance.value [V],capcity.value [mAh]
K1,intact,3.7,1,1
K2,holey,3.7,1,1
K3,intact
";
    let readings = "id,date,what,value
K9,2026-11-01,rest.voltage,3.71 V
K9,2026-11-01,rest.voltage,3.72 V
K9,2026-11-02,rest.voltage,3.7
K9,01.11.2026,rest.voltage,3.7 V
K8,2026-11-02,rest.volts,3.7 V
K9,2026-11-03,charged,3.7 V
K9,2026-11-04,rest.voltage,
";
    let plan = "{ format: 1, bench: bench.yaml, arrangement: 1, cells: [K9] }";
    let found = problems_of(plan, &texts(bench, cells, readings));
    let mut wanted = vec![
        "bench.yaml:4:9 cycle",
        "bench.yaml:4:23 unreadable",
        "bench.yaml:4:37 unknown-ruleset",
        "bench.yaml:5:25 bad-number",
        "bench.yaml:5:32 bad-name",
        "bench.yaml:6:36 wrong-kind",
        "bench.yaml:7:23 unknown-name",
        "bench.yaml:7:37 defined-twice",
        "bench.yaml:7:43 missing-key",
        "bench.yaml:7:77 defined-twice",
        "bench.yaml:8:55 unknown-key",
        "cells.csv:1:9 no-unit",
        "cells.csv:1:22 wrong-kind",
        "cells.csv:1:43 unknown-key",
        "cells.csv:2:1 defined-twice",
        "cells.csv:3:4 unknown-option",
        "cells.csv:4:1 parts-disagree",
        "readings.csv:3:28 defined-twice",
        "readings.csv:4:28 no-unit",
        "readings.csv:5:4 bad-date",
        "readings.csv:6:1 unknown-name",
        "readings.csv:6:15 unknown-option",
        "readings.csv:7:23 wrong-shape",
        "readings.csv:8:1 missing-key",
        "plan.yaml:1:46 syntax",
    ];
    let mut found_sorted = found.clone();
    found_sorted.sort();
    wanted.sort_unstable();
    assert_eq!(found_sorted, wanted);
}

#[test]
fn other_documents_are_told_what_they_are() {
    let problems = |plan: &str, bench: &str| problems_of(plan, &texts(bench, "", ""));
    let plan = "{ format: 1, bench: bench.yaml, arrangement: 1S1P }";
    assert_eq!(
        problems(plan, "{ format: 1, arrangement: 1S1P }"),
        ["bench.yaml:1:14 wrong-shape"]
    );
    assert_eq!(
        problems(plan, "{ format: 1, ruleset: x }"),
        ["bench.yaml:1:14 wrong-shape"]
    );
    assert_eq!(
        problems(plan, "{ format: 1 }"),
        ["bench.yaml:1:1 missing-key"]
    );
    assert_eq!(
        problems(BENCH, ""),
        ["plan.yaml:9:1 wrong-shape"],
        "a bench is no proposal"
    );
}

/// What a tester says too much is told once, whatever names it, and `extra` is for rulesets.
#[test]
fn what_is_wrong_with_a_tester_is_told_once() {
    let bench = "
format: 1
bench: b
testers: { grey: { capacity: { at: 0.5 A, amps: 1 }, extra: { spare: yes } } }
cells:
  - { id: K1, capacity: { value: 2 Ah, tester: grey }, extra: { tester: grey } }
  - { id: K2, capacity: [{ value: 2 Ah, tester: grey }] }
";
    let plan = "{ format: 1, bench: bench.yaml, arrangement: 1S1P, cells: [K1] }";
    assert_eq!(
        problems_of(plan, &texts(bench, "", "")),
        ["bench.yaml:4:43 unknown-key", "bench.yaml:6:65 unknown-key"],
        "no ruleset declares `tester`"
    );
}

#[test]
fn a_bench_has_as_many_cells_as_a_proposal() {
    let bench = "{ format: 1, bench: b, tables: { cells: cells.csv } }";
    let plan = "{ format: 1, bench: bench.yaml, arrangement: 1S1P }";
    let cells = |count: usize| {
        let rows: String = (0..count).map(|at| format!("C{at},intact\n")).collect();
        problems_of(plan, &texts(bench, &format!("id,wrap\n{rows}"), ""))
    };
    assert_eq!(cells(MOST_CELLS), Vec::<String>::new());
    assert_eq!(cells(MOST_CELLS + 1), ["cells.csv:10002:1 too-large"]);
}

#[test]
fn a_bench_has_as_many_curves_as_are_read() {
    let curve = "time [s];voltage [V];current [A]
0 ± 0;4.0 ± 0;1 ± 0
60 ± 0;3.9 ± 0;1 ± 0
3600 ± 0;3.0 ± 0;1 ± 0
";
    let found = |count: usize| {
        let names: Vec<String> = (0..count).map(|at| format!("c{at:03}.csv")).collect();
        let cell = |name: &String| format!("  - {{ id: {name}, capacity: {{ curve: {name} }} }}\n");
        let cells: String = names.iter().map(cell).collect();
        let bench = format!("format: 1\nbench: b\ntables: {{}}\ncells:\n{cells}");
        let curves = names.iter().map(|name| (name.as_str(), curve));
        let library = Texts::of(curves.chain([("bench.yaml", bench.as_str())]));
        problems_of(
            "{ format: 1, bench: bench.yaml, arrangement: 1S1P }",
            &library,
        )
    };
    assert_eq!(found(MOST_CURVES), Vec::<String>::new());
    assert_eq!(found(MOST_CURVES + 1), ["bench.yaml:205:40 too-large"]);
}
