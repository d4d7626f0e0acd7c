//! The club's 24 cells, graded by hand.

use rulesets::jobs::sort::{Grade, Sorting, sort};

use super::club;

/// Read off the club's tables and the texts of the rules, with arithmetic by hand:
///
/// * M1 to M8 but two have all readings. Their fall of 4 to 5 mV in 15 days, read to 2 mV, is under
///   0.7 mV a day at the most: (5 + 4) / 15 = 0.6. They keep 93 % and more of 2200 mAh, and took in 2 %
///   more than they gave.
/// * M4 fell 19 mV: up to (19 + 4) / 15 = 1.53 mV a day, over the 1.5 that show a cell sound, so that its
///   charge decides; 3 to 5 mV of a cobalt cell at half charge are 1 %: up to 23 / 3 = 8 % in 15 days, 15 %
///   and more in 30.
/// * K1, K2, K4, K6 and K8 fell 6 mV in 14 days: up to (6 + 4) / 14 = 0.71 mV a day, and nobody read how
///   they warm in a charge. K3 fell 19 mV in 14 days, as M4 in 15.
/// * K5 has been discharged since its voltage was read. N1 has no capacity, N2 no reading at all.
/// * K7 and M7 have a nicked sleeve, which a new sleeve would mend.
/// * T1 to T6 got wet. T4 was found at 1.62 V, T5 is dented.
const BY_HAND: [(Grade, &str, &[&str]); 9] = [
    (Grade::Sound, "", &["M1", "M2", "M3", "M5", "M6", "M8"]),
    (
        Grade::Watch,
        "self-discharge-high",
        &["K1", "K2", "K4", "K6", "K8"],
    ),
    (Grade::ToTest, "self-discharge-high", &["K3", "M4"]),
    (Grade::ToTest, "deeply-discharged", &["K5", "N2"]),
    (Grade::ToTest, "capacity-implausible", &["N1"]),
    (Grade::SetAside, "insulation-damaged", &["K7", "M7"]),
    (Grade::Retire, "mishap-since", &["T1", "T2", "T3", "T6"]),
    (Grade::Retire, "found-deeply-discharged", &["T4"]),
    (Grade::Retire, "body-damaged", &["T5"]),
];

#[test]
fn the_clubs_cells_have_the_grades_that_a_reader_of_the_rules_gives_them() {
    let (bench, rules) = club();
    let report = sort(&bench, &rules, Sorting::default()).expect("sorted");
    let mut found = 0;
    for (grade, caution, ids) in BY_HAND {
        for id in ids {
            let cell = report.cells.iter().find(|cell| cell.id == *id).expect(id);
            let decided = cell.decided_by.as_ref();
            let decided = decided.map_or("", |decided| decided.caution.as_str());
            assert_eq!((cell.grade, decided), (grade, caution), "{id}");
            found += 1;
        }
    }
    assert_eq!((found, report.cells.len()), (24, 24));
    let counts = report.counts;
    let counts = [
        counts.sound,
        counts.watch,
        counts.to_test,
        counts.set_aside,
        counts.retire,
    ];
    assert_eq!(counts, [6, 5, 5, 2, 6]);
}

/// The questions are those that a person at the bench would ask.
#[test]
fn what_is_to_be_tested_says_what_to_read() {
    let (bench, rules) = club();
    let report = sort(&bench, &rules, Sorting::default()).expect("sorted");
    for (id, key) in [
        ("K5", "rest.voltage"),
        ("N1", "capacity.value"),
        ("N2", "rest.voltage"),
    ] {
        let cell = report.cells.iter().find(|cell| cell.id == id).expect(id);
        let keys: Vec<&str> = cell.next.iter().map(|next| next.key.as_str()).collect();
        assert_eq!(keys, [key], "{id}");
        assert_eq!(cell.next[0].place, format!("cells[{id}].{key}"));
    }
}

/// The day before its voltage counted no more, K5 was as its neighbours.
#[test]
fn an_earlier_day_has_the_readings_of_that_day() {
    let (bench, rules) = club();
    let on = |day: &str| {
        let sorting = Sorting {
            as_of: rulesets::bench::Date::parse(day),
            cells: &["K5".to_owned()],
        };
        let report = sort(&bench, &rules, sorting).expect("sorted");
        (
            report.cells[0].grade,
            report.cells[0].known.capacity.clone(),
        )
    };
    assert_eq!(
        on("2026-10-02"),
        (Grade::Watch, Some("2180 mAh".to_owned()))
    );
    assert_eq!(
        on("2026-10-03"),
        (Grade::ToTest, Some("2590 mAh".to_owned()))
    );
    assert_eq!(on("2026-01-01"), (Grade::ToTest, None));
}

#[test]
fn lights_that_cells_are_in_already_are_told() {
    let (bench, rules) = club();
    let report = sort(&bench, &rules, Sorting::default()).expect("sorted");
    let told = |id: &str| {
        let cell = report.cells.iter().find(|cell| cell.id == id);
        cell.expect(id).in_light.clone()
    };
    assert_eq!(told("M2").as_deref(), Some("marshal-torch"));
    assert_eq!(told("K7").as_deref(), Some("helmet-lamp"));
    assert_eq!(told("K1"), None);
}
