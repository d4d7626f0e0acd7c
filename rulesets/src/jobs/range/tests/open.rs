//! What no piece shows: in doubt, read by nothing, out of reach, or not possible.

use super::*;

/// A cell of 1.8 to 2.0 Ah for a draw that one hour is to last: up to 1.8 A it surely does, above
/// 2.0 A it surely does not.
#[test]
fn what_is_in_doubt_is_told_apart_from_limits() {
    let plan = PLAN.replace(
        "origin: new",
        "origin: salvaged, capacity: { value: 1.8..2.0 Ah }",
    );
    let report = found(&plan, &vary("light.draw", "1.0 A", "3 A", "0.01 A"));
    let open: Vec<&RangePiece> = report
        .pieces
        .iter()
        .filter(|one| one.found.class == Class::Open)
        .collect();
    let ends: Vec<(&str, &str)> = open
        .iter()
        .map(|one| (one.from.text.as_str(), one.to.text.as_str()))
        .collect();
    assert_eq!(ends, [("1.80 A", "2.01 A")]);
    let facts: Vec<&str> = open[0].found.open.iter().map(|one| &*one.place).collect();
    assert_eq!(facts, ["cells[K4].capacity.value"]);
    assert_eq!(
        open[0].found.cautions[0].title.as_ref(),
        "Draw high for the capacity"
    );
    assert_eq!(
        (open[0].found.verdict, open[0].found.best),
        (Some(Verdict::Refuse), Some(Verdict::Warn))
    );
}

#[test]
fn what_nothing_reads_is_told() {
    let report = found(PLAN, &vary("conditions.carried", "", "", ""));
    assert!(report.search.bearing.is_empty());
    let said = text(&report, 80, &Plain);
    assert!(
        said.contains("No caution of these rules reads it"),
        "{said}"
    );
}

/// No caution of these rules reads where a circuit ends the charge. One that ends it over 4.6 V, or not
/// above where it ends the discharge, is none all the same.
#[test]
fn what_nothing_reads_and_what_cannot_be_is_told() {
    let circuit = "protection: { kind: cell, under_voltage: 2.5 V, over_voltage: 4.25 V }";
    let plan = format!("{PLAN}{circuit}\n");
    let report = found(
        &plan,
        &vary("protection.over_voltage", "2 V", "5 V", "0.1 V"),
    );
    assert!(report.search.bearing.is_empty());
    let pieces: Vec<(Class, &str, &str)> = report
        .pieces
        .iter()
        .filter(|one| one.found.class != Class::Boundary)
        .map(|one| (one.found.class, &*one.from.text, &*one.to.text))
        .collect();
    let expected = [
        (Class::CannotBe, "2.0 V", "2.5 V"),
        (Class::Pass, "2.6 V", "4.6 V"),
        (Class::CannotBe, "4.7 V", "5.0 V"),
    ];
    assert_eq!(pieces, expected);
    let said = text(&report, 80, &Plain);
    assert!(said.contains("cannot be  from 4.7 V"), "{said}");
    assert!(!said.contains("No caution"), "{said}");
}

/// What other cautions say does not hide what the varied fact alone would do.
#[test]
fn what_does_not_hang_on_it_is_told_apart() {
    let plan = PLAN.replace("drive: buck", "drive: direct");
    let report = found(&plan, &vary("light.draw", "0.5 A", "2 A", "0.01 A"));
    let classes: Vec<(Class, Class)> = report
        .pieces
        .iter()
        .map(|one| (one.found.class, one.found.alone))
        .collect();
    let refused = |alone| (Class::Refuse, alone);
    assert_eq!(
        classes,
        [Class::Pass, Class::Boundary, Class::Warn].map(refused)
    );
    assert_eq!(report.search.apart.verdict, Verdict::Refuse);
    assert_eq!(&*report.search.apart.cautions[0].caution, "drive-direct");
}

/// A drive that nobody named leaves every draw open, and says so.
#[test]
fn what_is_missing_elsewhere_leaves_all_open() {
    let plan = PLAN.replace(", drive: buck", "");
    let report = found(&plan, &vary("light.draw", "0.5 A", "1.5 A", "0.01 A"));
    assert_eq!(pieces(&report), [("0.50 A", "1.50 A", Class::Open)]);
    assert_eq!(report.pieces[0].found.alone, Class::Pass);
    let open = &report.search.apart.open;
    assert_eq!(
        (open[0].place.as_str(), open[0].missing),
        ("light.drive", true)
    );
}

/// Resting for a day and read at once with a load on: the library's own relation between the two.
#[test]
fn what_contradicts_the_plan_cannot_be() {
    let resistor = "loaded: { open: 4.0..4.0 V, closed: 3.8 V, resistor: 5 ohm }";
    let plan = PLAN.replace("origin: new", &format!("origin: new, {resistor}"));
    let asked = vary("cells[K4].loaded.closed", "3.5 V", "4.2 V", "0.01 V");
    let report = found(&plan, &asked);
    // The catalogue leaves 20 mV: up to 4.02 V it can be, above it cannot.
    let last = report.pieces.last().unwrap();
    assert_eq!(
        (last.from.text.as_str(), last.found.class),
        ("4.03 V", Class::CannotBe)
    );
}

#[test]
fn what_the_checks_do_not_reach_is_told() {
    let rules = rules();
    let asked = vary("light.draw", "0.5 A", "3 A", "0.01 A");
    let report = range(&trial(PLAN, &rules), &asked, 8).unwrap();
    assert!(report.search.checks <= 8);
    let classes: Vec<Class> = report.pieces.iter().map(|one| one.found.class).collect();
    assert!(classes.contains(&Class::NotSearched), "{classes:?}");
    let said = text(&report, 80, &Plain);
    assert!(said.contains("not searched"), "{said}");
}
