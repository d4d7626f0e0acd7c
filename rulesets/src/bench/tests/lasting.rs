//! Readings of what does not mend: the worst counts, whatever is read after it.

use super::{plain_of, texts};

/// What is written out of a cell on a day, and the notes.
fn on_day(day: &str, said: &str, rows: &str) -> (String, Vec<String>) {
    let readings = format!("id,date,what,value,after\n{rows}");
    let bench = format!(
        "{{ format: 1, bench: b, meters: {{ voltage: ± 10 mV }}, cells: [{{ id: K4{said} }}], \
         tables: {{ readings: readings.csv }} }}"
    );
    let plan =
        format!("{{ format: 1, bench: bench.yaml, arrangement: 1S1P, as_of: {day}, cells: [K4] }}");
    plain_of(&plan, &texts(&bench, "", &readings))
}

/// The line of a key among what is written out.
fn line(key: &str, said: &str, rows: &str) -> Option<String> {
    let (own, _) = on_day("2026-10-31", said, rows);
    let start = format!("{key}: ");
    let line = own
        .lines()
        .find_map(|line| line.trim().strip_prefix(&start));
    line.map(str::to_owned)
}

fn row(day: &str, what: &str, value: &str) -> String {
    format!("K4,2026-{day},{what},{value},\n")
}

/// What is read, its key in a cell, the worse and the milder value, and how the worse is written out.
const LASTING: [(&str, &str, &str, &str, [&str; 2]); 3] = [
    (
        "idle_rise",
        "idle_rise",
        "6 K ± 1 K",
        "0 K ± 1 K",
        ["6 K ± 1 K", "0 K ± 1 K"],
    ),
    (
        "found.voltage",
        "found",
        "1.20 V",
        "3.60 V",
        ["{ voltage: 1.20 V }", "{ voltage: 3.60 V }"],
    ),
    (
        "charge.rise",
        "charge",
        "25 K",
        "3 K",
        ["{ rise: 25 K }", "{ rise: 3 K }"],
    ),
];

#[test]
fn the_worse_reading_counts_wherever_it_stands() {
    for (what, key, worse, milder, [written, mild]) in LASTING {
        let of = |first: (&str, &str), last: (&str, &str)| {
            let rows = row(first.0, what, first.1) + &row(last.0, what, last.1);
            line(key, "", &rows)
        };
        let first = of(("09-25", worse), ("10-20", milder));
        assert_eq!(first.as_deref(), Some(written), "{what} first");
        let last = of(("09-25", milder), ("10-20", worse));
        assert_eq!(last.as_deref(), Some(written), "{what} last");
        let same_day = of(("09-25", milder), ("10-31", worse));
        assert_eq!(same_day.as_deref(), Some(written), "{what} on the day");
        let later = of(("09-25", milder), ("11-01", worse));
        assert_eq!(later.as_deref(), Some(mild), "{what} on the day after");
        let equal = of(("09-25", worse), ("10-20", worse));
        assert_eq!(equal.as_deref(), Some(written), "{what} twice");
    }
}

/// What mends, or wears on, is as the newest reading has it.
#[test]
fn of_everything_else_the_newest_counts() {
    for (what, key, values, written) in [
        (
            "rest.voltage",
            "rest",
            ["3.10 V", "3.90 V"],
            "{ voltage: 3.90 V }",
        ),
        (
            "capacity.value",
            "capacity",
            ["900 mAh", "2300 mAh"],
            "{ value: 2300 mAh }",
        ),
        (
            "resistance.value",
            "resistance",
            ["300 mΩ", "60 mΩ"],
            "{ value: 60 mΩ }",
        ),
    ] {
        let rows = row("09-25", what, values[0]) + &row("10-20", what, values[1]);
        assert_eq!(line(key, "", &rows).as_deref(), Some(written), "{what}");
    }
}

/// Compared is the end that must hold: with a nominal value that is milder a reading can be the worse.
#[test]
fn a_doubtful_reading_counts_by_its_worse_end() {
    let risen = |later: &str| {
        let rows = row("09-25", "idle_rise", "1.9 K ± 0.1 K") + &row("10-20", "idle_rise", later);
        line("idle_rise", "", &rows).expect("it was read")
    };
    assert_eq!(risen("1.0 K ± 0.9 K"), "1.9 K ± 0.1 K");
    assert_eq!(
        risen("1.0 K ± 1.0 K"),
        "1.9 K ± 0.1 K",
        "the greater nominal value"
    );
    assert_eq!(risen("1.0 K ± 1.1 K"), "1.0 K ± 1.1 K");
}

const SAID: &str = ", found: { voltage: 3.60 V }";

fn found(said: &str, rows: &str) -> Option<String> {
    let line = line("found", said, rows)?;
    let voltage = line.strip_prefix("{ voltage: ")?.strip_suffix(" }")?;
    Some(voltage.to_owned())
}

/// A cell that fell in our own drawer is in the state of one found so; a charge does not mend it.
#[test]
fn a_low_rest_voltage_counts_as_found() {
    let fell = row("09-25", "rest.voltage", "1.20 V");
    let charged = row("09-26", "charged", "");
    let rested = row("10-20", "rest.voltage", "4.15 V");
    let good = row("09-01", "found.voltage", "3.60 V");
    let all = fell.clone() + &charged + &rested;
    assert_eq!(found(SAID, &all).as_deref(), Some("1.20 V"), "over a word");
    let dated = good.clone() + &all;
    assert_eq!(found("", &dated).as_deref(), Some("1.20 V"), "over a row");
    let newer = row("10-25", "found.voltage", "3.60 V") + &all;
    assert_eq!(
        found("", &newer).as_deref(),
        Some("1.20 V"),
        "under a newer row"
    );
    let later = row("11-01", "rest.voltage", "1.20 V") + &rested;
    assert_eq!(
        found(SAID, &later).as_deref(),
        Some("3.60 V"),
        "after the day"
    );
    let lower = row("09-01", "found.voltage", "1.10 V") + &fell;
    assert_eq!(
        found("", &lower).as_deref(),
        Some("1.10 V"),
        "the lower of both"
    );
    assert_eq!(found("", &all), None, "what nobody noted stays unknown");
    let rest = line("rest", SAID, &all);
    assert_eq!(rest.as_deref(), Some("{ voltage: 4.15 V }"), "as before");
}

/// By a meter of ± 10 mV 3.00 V may be lower, 3.01 V is not.
#[test]
fn only_what_no_light_does_counts_as_found() {
    let rested = |voltage: &str| found(SAID, &row("09-25", "rest.voltage", voltage));
    assert_eq!(rested("2.99 V").as_deref(), Some("2.99 V"));
    assert_eq!(rested("3.00 V").as_deref(), Some("3.00 V"));
    assert_eq!(rested("3.01 V").as_deref(), Some("3.60 V"));
    let below = found(
        ", found: { voltage: 2.50 V }",
        &row("09-25", "rest.voltage", "2.60 V"),
    );
    assert_eq!(below.as_deref(), Some("2.50 V"));
}

/// Over full is another fault than empty, and the lower reading would hide it: by the meter 4.19 V is
/// surely not over 4.20 V, and 1.98 V surely under 2.00 V.
#[test]
fn a_cell_found_over_full_stays_so() {
    let both = |high: &str, low: &str| {
        let said = format!(", found: {{ voltage: {high} }}");
        let stated = found(&said, &row("09-25", "rest.voltage", low));
        for [first, last] in [[high, low], [low, high]] {
            let rows = row("09-01", "found.voltage", first) + &row("09-25", "found.voltage", last);
            assert_eq!(found("", &rows), stated, "{first}, then {last}");
        }
        stated.expect("a voltage")
    };
    assert_eq!(both("4.60 V", "2.70 V"), "4.60 V");
    assert_eq!(both("4.20 V", "2.70 V"), "4.20 V");
    assert_eq!(both("4.19 V", "2.70 V"), "2.70 V");
    assert_eq!(both("4.60 V", "2.00 V"), "4.60 V");
    assert_eq!(both("4.60 V", "1.99 V"), "4.60 V", "by the meter 2.00 V");
    assert_eq!(both("4.60 V", "1.98 V"), "1.98 V");
}

/// A cell that fell is watched anew: what it showed before says nothing of it now.
#[test]
fn a_watch_that_ended_before_the_fall_is_none() {
    let watched = |second: &str, fell: &str| {
        let rows = "K4,2026-09-01,rest.voltage,3.85 V,24 h\n".to_owned()
            + &row(second, "rest.voltage", "3.84 V")
            + &row("09-20", "charged", "")
            + &row(fell, "rest.voltage", "2.40 V");
        line("drift", SAID, &rows)
    };
    let before = Some("{ from: 3.85 V, to: 3.84 V, over: 13..15 d }");
    assert_eq!(watched("09-15", "09-25"), None);
    assert_eq!(
        watched("09-15", "11-01").as_deref(),
        before,
        "after the day"
    );
    let fallen = watched("09-10", "09-15");
    assert_eq!(
        fallen.as_deref(),
        Some("{ from: 3.85 V, to: 2.40 V, over: 13..15 d }"),
        "it fell while it was watched"
    );
}

#[test]
fn people_are_told_which_reading_counts() {
    let rows = row("09-25", "rest.voltage", "1.20 V")
        + &row("09-26", "charged", "")
        + &row("10-20", "rest.voltage", "4.15 V")
        + &row("09-25", "idle_rise", "6 K")
        + &row("10-20", "idle_rise", "0 K");
    let (_, notes) = on_day("2026-10-31", SAID, &rows);
    for told in [
        "K4: 2026-09-25 (36 days before) rest.voltage 1.20 V as found.voltage, idle_rise 6 K; \
         2026-10-20 (11 days before) rest.voltage 4.15 V.",
        "K4: idle_rise 0 K of 2026-10-20 does not count, because the worst counts: 6 K of 2026-09-25.",
    ] {
        assert!(notes.iter().any(|note| note == told), "{notes:#?}");
    }
    let (_, notes) = on_day("2026-10-31", SAID, &row("09-25", "idle_rise", "0 K"));
    assert!(
        !notes.iter().any(|note| note.contains("worst")),
        "{notes:#?}"
    );
}
