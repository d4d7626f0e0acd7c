//! What a log shows, with values that follow by hand from its rows.

use rules_core::document::{Node, Problems, Source, Syntax, read};
use rules_core::facts::StatedMeters;
use rules_core::quantity::Interval;

use super::{Beside, Fact, Shown, shown};
use crate::table::Table;

/// What a log shows, by these meters, or the codes and places of what is wrong.
fn of(text: &str, meters: &str, beside: &Beside) -> Result<Shown, Vec<String>> {
    let stated = Source::new("meters", meters.to_owned());
    let tree = read(&stated, Syntax::Yaml).expect("meters");
    let source = Source::new("log.csv", text.to_owned());
    let mut problems = Problems::new(&source);
    let meters = StatedMeters::read(&Node::detached(&tree), &mut problems);
    let mut table = Table::read(text, 0, &mut problems).expect("a table");
    let found = shown(&mut table, &meters, beside, &mut problems);
    let problems = problems.finish();
    match found {
        Some(found) if problems.is_empty() => Ok(found),
        _ => Err(problems
            .iter()
            .map(|one| format!("{} {}", one.place.as_ref().expect("a place"), one.fault))
            .collect()),
    }
}

fn said(facts: &[Fact]) -> Vec<String> {
    facts
        .iter()
        .map(|fact| format!("{} {}", fact.key, fact.value))
        .collect()
}

/// 1 A exactly, 0.1 V in 0.1 h, from 4.0 to 3.0 V: 0.1 Ah to each row.
fn straight() -> String {
    let rows = (0..=10).map(|k| {
        format!(
            "{} ± 0;{:.1} ± 0;1 ± 0\n",
            360 * k,
            4.0 - 0.1 * f64::from(k)
        )
    });
    format!(
        "time [s];voltage [V];current [A]\n0 ± 0;4.1 ± 0;0 ± 0\n{}",
        rows.collect::<String>()
    )
}

const NO_METERS: &str = "{}";
const METERS: &str = "{ voltage: ± 10 mV, current: ± 1 %, charge: ± 2 % }";

#[test]
fn what_is_between_rows_is_between_what_they_show() {
    let found = of(&straight(), NO_METERS, &Beside::default()).expect("a curve");
    // Half of 1 Ah is given at the row of 3.5 V, so that the rows beside it are the surely earlier and
    // the surely later.
    let wanted = [
        "value 1000.0..1000.0 mAh",
        "to 3.0000..3.0000 V",
        "at 1.0000..1.0000 A",
        "half 3.4000..3.6000 V",
        "late 3.0000..3.2000 V",
        "by_3300mv 600.0..800.0 mAh",
    ];
    assert_eq!(said(&found.test), wanted);
    assert_eq!(found.resistance, []);
}

/// The test ends between the row above its end voltage and the one at it or below.
#[test]
fn a_test_ends_where_it_is_said_to() {
    let to = |end: f64| {
        let beside = Beside {
            end: Some(end),
            ..Beside::default()
        };
        said(&of(&straight(), NO_METERS, &beside).expect("a curve").test)
    };
    assert_eq!(
        to(3.2)[..2],
        ["value 700.0..800.0 mAh", "at 1.0000..1.0000 A"]
    );
    assert_eq!(to(3.25)[0], "value 700.0..800.0 mAh");
    // It ended early: it is a test to the voltage that it came to.
    assert_eq!(
        to(2.9)[..2],
        ["value 1000.0..1000.0 mAh", "to 3.0000..3.0000 V"]
    );
    let below = Beside {
        end: Some(4.0),
        ..Beside::default()
    };
    assert_eq!(
        of(&straight(), NO_METERS, &below),
        Err(vec!["log.csv:3:7 out-of-domain".to_owned()])
    );
}

/// The meter of current is good to 1 %, the digits to 0.5 mA and to 0.5 s at either end; a gain that
/// all currents share is not in the parts of the charge.
#[test]
fn meters_have_their_part() {
    let rows: String = (0..=10)
        .map(|k| format!("{};{:.3};1.000\n", 360 * k, 4.0 - 0.1 * f64::from(k)))
        .collect();
    let log = format!("time [s];voltage [V];current [A]\n0;4.100;0.000\n{rows}");
    let told = said(&of(&log, METERS, &Beside::default()).expect("a curve").test);
    let clock = 1.0 / 3600.0 * 1.0005;
    let least = |ampere_hours: f64| ((ampere_hours * 0.9995 - clock) * 9900.0).floor() / 10.0;
    let most = |ampere_hours: f64| ((ampere_hours * 1.0005 + clock) * 10100.0).ceil() / 10.0;
    let wanted = [
        format!("value {:.1}..{:.1} mAh", least(1.0), most(1.0)),
        "to 2.9900..3.0100 V".to_owned(),
        "at 0.9895..1.0106 A".to_owned(),
        "half 3.3900..3.6100 V".to_owned(),
        "late 2.9900..3.2100 V".to_owned(),
        format!("by_3300mv {:.1}..{:.1} mAh", least(0.6), most(0.8)),
    ];
    assert_eq!(told, wanted);
}

/// 1 A of the tester, known to 1 %. Without currents the load may have come on just before the second
/// row.
#[test]
fn the_tester_may_give_the_current() {
    let rows = "time [s];voltage [V]\n0;4.000\n36;3.900\n1800;3.600\n3600;3.000\n";
    let beside = Beside {
        current: Interval::new(0.99, 1.01),
        end: None,
    };
    let found = of(rows, METERS, &beside).expect("a curve");
    // 0.5 s of the digits at the start and at the end, 36 s at the start: 3563 to 3601 s, of 0.99 to
    // 1.01 A.
    let least = (3600.0 - 36.0 - 1.0) / 3600.0 * 990.0;
    let most = (3600.0 + 1.0) / 3600.0 * 1010.0;
    let wanted = format!(
        "value {:.1}..{:.1} mAh",
        (least * 10.0f64).floor() / 10.0,
        (most * 10.0f64).ceil() / 10.0
    );
    let told = said(&found.test);
    assert!(told.contains(&wanted), "{told:?} {wanted}");
    assert_eq!(
        of(rows, METERS, &Beside::default()),
        Err(vec!["log.csv:1:1 missing-key".to_owned()])
    );
}

/// Where the current changes the charge is between the sums of the lower and of the higher ends, and
/// what a current shows on its way is left out.
#[test]
fn a_changing_current_tells_its_range() {
    let rows = "charge [mAh];time [s];voltage [V];current [A]\n0;0;4.0 ± 0;2.0 ± 0\n400;900;3.7 ± 0;1.8 ± 0\n900;1800;3.4 ± 0;1.6 ± 0\n1300;2700;3.1 ± 0;1.4 ± 0\n";
    let told = |text: &str| said(&of(text, METERS, &Beside::default()).expect("a curve").test);
    let counted = told(rows);
    assert_eq!(
        counted,
        [
            "value 1273.0..1327.1 mAh",
            "to 3.1000..3.1000 V",
            "at 1.6000..1.8000 A"
        ]
    );
    let without: String = rows
        .lines()
        .map(|line| format!("{}\n", line.split_once(';').expect("columns").1))
        .collect();
    // 0.25 h each: at least 1.8 + 1.6 + 1.4, at most 2.0 + 1.8 + 1.6 A, and 0.5 s of the clock at 2 A at
    // either end and at 0.6 A on the way.
    let clock = 0.5 / 3600.0 * (2.0 * 2.0 + 0.6) * 1000.0;
    let ends = ((1200.0 - clock) * 10.0_f64, (1350.0 + clock) * 10.0_f64);
    let wanted = format!(
        "value {:.1}..{:.1} mAh",
        ends.0.floor() / 10.0,
        ends.1.ceil() / 10.0
    );
    assert_eq!(told(&without)[0], wanted);
}

/// 0.1 V at 1 A after between 8 and 12 s: 20 mΩ less by the row of 8 s, which shows 80 mV.
#[test]
fn a_step_shows_the_resistance() {
    let rows = "time [s];voltage [V];current [A];temperature [°C]\n0 ± 0;4.18 ± 0;0;22 ± 0\n1 ± 0;4.11 ± 0;1 ± 0;22 ± 0\n8 ± 0;4.10 ± 0;1 ± 0;22 ± 0\n12 ± 0;4.08 ± 0;1 ± 0;22 ± 0\n3600 ± 0;3.00 ± 0;1 ± 0;30 ± 0\n";
    let told = |text: &str| {
        said(
            &of(text, METERS, &Beside::default())
                .expect("a curve")
                .resistance,
        )
    };
    assert_eq!(
        told(rows),
        [
            "value 80.0..100.0 mohm",
            "method dc-10s",
            "temperature 22.0..22.0 degC"
        ]
    );
    // After more than 10 s nothing is known of the first ten; a late row says too much; a current is
    // no rest.
    assert!(
        told(
            &rows
                .replace("\n1 ±", "\n10.1 ±")
                .replace("\n8 ±", "\n10.2 ±")
        )
        .is_empty()
    );
    assert!(!told(&rows.replace("12 ± 0;4.08", "30 ± 0;4.08")).is_empty());
    assert!(told(&rows.replace("12 ± 0;4.08", "30.1 ± 0;4.08")).is_empty());
    assert!(told(&rows.replace("4.18 ± 0;0;", "4.18 ± 0;0.03;")).is_empty());
}

#[test]
fn what_is_no_discharge_is_told() {
    let heads = "time [s];voltage [V];current [A]\n";
    let log = |rows: &str| {
        of(&format!("{heads}{rows}"), METERS, &Beside::default())
            .err()
            .unwrap_or_default()
    };
    let wrong = |rows: &str, wanted: &str| assert_eq!(log(rows), [wanted], "{rows}");
    assert_eq!(
        log("0;4.00;1.0\n60;3.90;1.0\n3600;3.00;1.0\n"),
        Vec::<String>::new()
    );
    wrong(
        "0;4.00;1.0\n60;3.90;1.0\n30;3.80;1.0\n",
        "log.csv:4:1 contradiction",
    );
    // Two readings of 10 mV and 5 mV more may be one voltage.
    assert_eq!(
        log("0;4.00;1.0\n60;3.900;1.0\n90;3.925;1.0\n3600;3.00;1.0\n"),
        Vec::<String>::new()
    );
    wrong(
        "0;4.00;1.0\n60;3.900;1.0\n90;3.926;1.0\n3600;3.00;1.0\n",
        "log.csv:4:4 contradiction",
    );
    // After the end of the test the load may be gone.
    let to_the_end = Beside {
        end: Some(3.0),
        ..Beside::default()
    };
    let recovers = |end: &str| {
        let rows = format!("0;4.00;1.0\n60;3.90;1.0\n3600;{end};1.0\n3610;3.40;1.0\n");
        of(&format!("{heads}{rows}"), METERS, &to_the_end).err()
    };
    assert_eq!(recovers("3.00"), None);
    assert_eq!(
        recovers("3.01"),
        Some(vec!["log.csv:5:6 contradiction".to_owned()])
    );
    wrong(
        "0;4.00;1.0\n60;3.90;0.0\n90;3.80;1.0\n",
        "log.csv:4:4 contradiction",
    );
    wrong(
        "0;4.00;1.0\n60;3.90;1.0\n90;3.80;-1.0\n",
        "log.csv:4:9 contradiction",
    );
    wrong("0;4.00;1.0\n60;3.90;1.0\n", "log.csv:1:1 empty");
    wrong(
        "0;4.00;1.0\n60;3.90;1.0\n90;;1.0\n",
        "log.csv:4:1 missing-key",
    );
    // A twentieth of what was given may be missing.
    assert_eq!(
        log("180 ± 0;4.00;1 ± 0\n900 ± 0;3.90;1 ± 0\n3600 ± 0;3.00;1 ± 0\n"),
        Vec::<String>::new()
    );
    wrong(
        "180.1 ± 0;4.00;1 ± 0\n900 ± 0;3.90;1 ± 0\n3600 ± 0;3.00;1 ± 0\n",
        "log.csv:2:11 out-of-domain",
    );
}

#[test]
fn headings_and_meters_are_looked_at() {
    let rows = "0;4.00;1.0\n60;3.90;1.0\n3600;3.00;1.0\n";
    let log = |heads: &str, meters: &str| {
        of(&format!("{heads}\n{rows}"), meters, &Beside::default())
            .err()
            .unwrap_or_default()
    };
    let wrong = |heads: &str, wanted: &[&str]| assert_eq!(log(heads, METERS), wanted, "{heads}");
    wrong("time [s];voltage [V];current [A]", &[]);
    wrong(
        "time [s];volts [V];current [A]",
        &["log.csv:1:10 unknown-key"],
    );
    wrong("time;voltage [V];current [A]", &["log.csv:1:1 no-unit"]);
    wrong(
        "time [s];voltage [A];current [A]",
        &["log.csv:1:10 wrong-kind"],
    );
    wrong(
        "charge [mAh];time [s];current [A]",
        &["log.csv:1:1 missing-key"],
    );
}

/// Of a log without meters nothing is as good as its digits: it is as good as by the worst meters stated.
#[test]
fn without_meters_the_worst_count() {
    let log =
        "time [s];voltage [V];current [A]\n0;4.000;1.000\n1800;3.600;1.000\n3600;3.000;1.000\n";
    let told = |meters: &str| said(&of(log, meters, &Beside::default()).expect("a curve").test);
    let worst = "{ voltage: ± (1 % + 3 digits), current: ± (3 % + 2 digits) }";
    assert_eq!(told(NO_METERS), told(worst));
    // 3.000 V ± 3 digits, times 0.99 to 1.01; 1.000 A ± 2 digits, times 0.97 to 1.03.
    let told = told(NO_METERS);
    assert!(told.contains(&"to 2.9670..3.0331 V".to_owned()), "{told:?}");
    assert!(told.contains(&"at 0.9680..1.0321 A".to_owned()), "{told:?}");
    // Of one kind it may be stated.
    let half = said(
        &of(log, "{ voltage: ± 0 V }", &Beside::default())
            .expect("a curve")
            .test,
    );
    assert!(half.contains(&"to 2.9995..3.0005 V".to_owned()), "{half:?}");
}

/// What is said of a voltage that rises names both lines and what to do.
#[test]
fn a_rise_is_told_with_its_lines() {
    let text = "time [s];voltage [V]\n0;4.00\n60;3.900\n90;3.950\n3600;3.00\n";
    let source = Source::new("log.csv", text.to_owned());
    let mut problems = Problems::new(&source);
    let mut table = Table::read(text, 0, &mut problems).expect("a table");
    let beside = Beside {
        current: Some(Interval::point(1.0)),
        end: None,
    };
    assert_eq!(
        shown(&mut table, &StatedMeters::default(), &beside, &mut problems),
        None
    );
    let problems = problems.finish();
    let only = problems.iter().next().expect("a problem");
    assert!(
        only.message
            .contains("from 3.900 V in line 3 to 3.950 V in line 4"),
        "{}",
        only.message
    );
    assert!(
        only.help
            .as_ref()
            .is_some_and(|help| help.contains("without line 4")),
        "{:?}",
        only.help
    );
}
