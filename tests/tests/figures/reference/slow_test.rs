//! A second, slow capacity test beside the ordinary one: what it proves of each set, and how much
//! narrower it makes the run time.

use std::collections::BTreeMap;

use rules_core::quantity::Interval;
use rulesets::class::Classes;
use rulesets::figures::discharge::{
    CapacityTest, CellModel, Compared, Draw, Duty, compared_tests, discharge,
};

use super::discharge::{band, test_of};
use super::table::{Coverage, Row, Set, number, rows, sets};

/// Sets and tests of which it is not sure that their rate did not limit them: they may have given so
/// much only for warming themselves. Iron phosphate has no such limit.
const MAY_HAVE_WARMED: [&str; 4] = ["BPX_LFP", "Prada2013", "Chen2020 1C", "OKane2022 1C"];

/// The rates of the ordinary tests, each with the rate of the slow one.
const TESTED: [(&str, &str); 2] = [("0.5", "0.2"), ("1.0", "0.2")];

fn point(value: f64) -> Interval {
    Interval::point(value)
}

/// A cell known from an ordinary test and a slow one, each to any end voltage.
struct Known {
    label: String,
    cell: CellModel,
    /// The rate of the ordinary test, in C.
    rate: f64,
}

fn known(set: &Set, table: &[Row], name: &str) -> Vec<Known> {
    let tests = |rate: &str| -> Vec<(String, CapacityTest)> {
        let of_rate = table.iter().filter(|row| {
            row["set"] == name && row["temperature_c"] == "25" && row["c_rate"] == rate
        });
        of_rate
            .filter_map(|row| Some((format!("{rate}C to {} V", row["cutoff_v"]), test_of(row)?)))
            .collect()
    };
    let mut known = Vec::new();
    for (fast, slow) in TESTED {
        for (fast_label, capacity) in tests(fast) {
            for (slow_label, slow) in tests(slow) {
                let cell = CellModel {
                    classes: Classes::of(set.class),
                    capacity,
                    further: [Some(slow), None, None],
                    shown: Default::default(),
                    joined: false,
                    r10: point(set.r10),
                };
                known.push(Known {
                    label: format!("tested at {fast_label} and {slow_label}"),
                    cell,
                    rate: fast.parse().unwrap(),
                });
            }
        }
    }
    known
}

/// Every row is also inside the interval from two tests, which is nowhere wider than what the
/// ordinary one says.
#[test]
fn with_a_slow_test_run_times_lie_within_and_are_no_wider() {
    let table = rows("constant_current");
    let mut times = Coverage::default();
    let (mut gentle, mut narrower) = (0, 0);
    for (name, set) in sets() {
        let known = known(&set, &table, &name);
        for row in table.iter().filter(|row| row["set"] == name) {
            let Some(actual) = number(row, "time_s")
                .filter(|time| *time > 0.0)
                .map(|time| time / 3600.0)
            else {
                continue;
            };
            let of = |column: &str| number(row, column).unwrap();
            let (temperature, rate) = (of("temperature_c"), of("c_rate"));
            let duty = Duty {
                draw: Draw::Current(point(of("current_a"))),
                start: point(1.0),
                temperature: point(temperature),
                cut_off: point(of("cutoff_v")),
            };
            for Known {
                label,
                cell,
                rate: tested,
            } in &known
            {
                let twice = discharge(cell, &duty).run_time;
                let once = discharge(
                    &CellModel {
                        further: [None; 3],
                        ..*cell
                    },
                    &duty,
                )
                .run_time;
                let group = format!(
                    "{}, test at {tested:.1}C",
                    band(set.class, temperature, rate)
                );
                let what = format!(
                    "{name} {temperature} degC {rate}C to {} V, {label}",
                    row["cutoff_v"]
                );
                assert!(once.encloses(twice), "{what}: {once:?} {twice:?}");
                times.add(&format!("{group} alone"), &what, once, actual, actual);
                times.add(&format!("{group} + slow"), &what, twice, actual, actual);
                // Nothing is gained of iron phosphate, and of the others in uses gentler than the
                // ordinary test.
                let gentler = set.class.is_four_volt() && rate < *tested && temperature >= 15.0;
                gentle += usize::from(gentler);
                narrower += usize::from(gentler && twice.width() < once.width());
            }
        }
    }
    times.finish(
        "constant_current.csv: run time (parts of it), with a slow test",
        20_000,
    );
    println!(
        "{narrower} of {gentle} uses gentler than the test, at 15 to 40 degC, are narrower with a slow test"
    );
    assert!(gentle > 2000 && narrower * 10 > gentle * 8);
}

/// One nickel set of the twelve is limited by its electrolyte at 1 C: as read, its test at 1 C
/// gives 83 to 90 % of what the one at 0.2 C gives. Two others give 94 % to 3.0 V, for the sag
/// alone. One iron phosphate set has a soft tail.
#[test]
fn limited_sets_are_found_and_only_those() {
    let table = rows("constant_current");
    let mut ratios: BTreeMap<String, Interval> = BTreeMap::new();
    for (name, set) in sets() {
        for Known { cell, rate, .. } in known(&set, &table, &name) {
            let ratio = match compared_tests(&cell).unwrap() {
                Compared::Ratio(ratio) => ratio,
                other => {
                    assert!(
                        other == Compared::UnlikeEnds && !set.class.is_four_volt(),
                        "{name}: {other:?}"
                    );
                    continue;
                }
            };
            ratios
                .entry(format!("{name} {rate}C"))
                .and_modify(|all| *all = all.hull(ratio))
                .or_insert(ratio);
        }
    }
    ratios
        .iter()
        .for_each(|(name, ratio)| println!("{name:<20} {:.3} to {:.3}", ratio.lo(), ratio.hi()));
    let limited: Vec<&str> = ratios
        .iter()
        .filter(|(_, ratio)| ratio.hi() < 0.95)
        .map(|(name, _)| name.as_str())
        .collect();
    assert_eq!(limited, ["ORegan2022 1C", "Prada2013 1C"]);
    assert!(
        ratios
            .iter()
            .filter(|(name, _)| !limited.contains(&name.as_str()))
            .filter(|(name, _)| !MAY_HAVE_WARMED.iter().any(|set| name.starts_with(set)))
            .all(|(_, ratio)| ratio.lo() >= 0.95),
        "{ratios:?}"
    );
}
