//! Knowing less never gives a narrower figure, and what is missing is named.

use rules_core::check::{FigureReport, Options, figures};

use rules_core::document::Syntax;
use rules_core::ruleset::Acceptance;
use rulesets::proposal::Proposal;
use serde_json::Value;

use super::setting::{BUILDS, encloses, places, rules, whole, widened, without, worked};

#[test]
fn knowing_less_never_gives_a_narrower_figure() {
    let rules = rules();
    let mut compared = 0;
    for (arrangement, draw) in BUILDS {
        let proposal = whole(arrangement, draw);
        let known = worked(&rules, &proposal);
        let mut all = Vec::new();
        places(&proposal, "", &mut all);
        for place in all {
            let changed =
                std::iter::once(without(&proposal, &place)).chain(widened(&proposal, &place));
            for less in changed {
                let wide = worked(&rules, &less);
                // A pack or a light that is left out whole has no figures of its own.
                for (key, narrow) in known.iter().filter(|(key, _)| wide.contains_key(*key)) {
                    compared += 1;
                    assert!(
                        encloses(&wide[key], narrow),
                        "{arrangement} {draw}: {key:?} at {place}\n{:?}\n{:?}",
                        wide[key].value,
                        narrow.value
                    );
                }
            }
        }
    }
    println!("{compared} figures of proposals that say less were compared");
    assert!(compared > 10_000);
}

#[test]
fn with_everything_given_every_figure_is_known() {
    let rules = rules();
    for (arrangement, draw) in BUILDS {
        for (key, figure) in worked(&rules, &whole(arrangement, draw)) {
            let value = figure.value.unwrap();
            assert!(!value.number.missing, "{arrangement} {draw}: {key:?}");
            assert!(
                value.low().is_some(),
                "{arrangement} {draw}: {key:?} {value:?}"
            );
        }
    }
}

/// What is missing is named, of the cell that lacks it.
#[test]
fn what_is_missing_is_named() {
    let rules = rules();
    let worked = worked(
        &rules,
        &without(&whole("2S2P", "9 W"), "/cells/2/capacity/at"),
    );
    let missing = |subject: &str, name: &str| {
        let facts = &worked[&(subject.to_owned(), name.to_owned())].facts;
        let missing = facts.iter().filter(|fact| fact.value.is_none());
        missing
            .map(|fact| (fact.subject.to_string(), fact.name.to_string()))
            .collect::<Vec<_>>()
    };
    let expected = [("cell K2".to_owned(), "cell.capacity_at".to_owned())];
    assert_eq!(missing("group B", "group.start_voltage"), expected);
    assert_eq!(missing("build", "build.run_time"), expected);
    assert_eq!(missing("group A", "group.start_voltage"), []);
}

/// A slow capacity test narrows the upper end of what a gentle use gives. Half of one is as good as
/// none, and takes no part.
#[test]
fn a_slow_test_takes_part_whole_or_not_at_all() {
    let rules = rules();
    for arrangement in ["1S1P", "2S2P"] {
        let proposal = whole(arrangement, "0.5 A");
        let time = |proposal: &Value| {
            worked(&rules, proposal)[&("build".to_owned(), "build.run_time".to_owned())].clone()
        };
        let facts = |figure: &FigureReport| figure.facts.len() + figure.more_facts;
        let (twice, once) = (
            time(&proposal),
            time(&without(&proposal, "/cells/0/capacity_2")),
        );
        let (narrow, wide) = (twice.value.as_ref().unwrap(), once.value.as_ref().unwrap());
        assert!(
            narrow.high().unwrap() < 0.99 * wide.high().unwrap() && narrow.low() >= wide.low(),
            "{narrow:?} {wide:?}"
        );
        // Value, current, end, temperature, both voltages on the way and the energy.
        assert_eq!(facts(&twice), facts(&once) + 7);
        for part in ["value", "at", "to"] {
            let half = time(&without(&proposal, &format!("/cells/0/capacity_2/{part}")));
            assert_eq!(half.value, once.value, "{part}");
            // Beside one cell with half a test, those of the others count.
            assert!(
                arrangement != "1S1P" || facts(&half) == facts(&once),
                "{part}"
            );
            assert!(half.facts.iter().all(|fact| fact.value.is_some()), "{part}");
        }
    }
}

/// The ratio of the two tests names what it lacks.
#[test]
fn the_ratio_of_tests_names_what_is_missing() {
    let rules = rules();
    let proposal = whole("1S1P", "2 A");
    let ratio = |proposal: &Value| {
        worked(&rules, proposal)[&("cell K0".to_owned(), "cell.capacity_ratio".to_owned())].clone()
    };
    let known = ratio(&proposal).value.unwrap();
    assert!(
        known.low().unwrap() > 0.95 && known.high().unwrap() < 1.05,
        "{known:?}"
    );
    let half = ratio(&without(&proposal, "/cells/0/capacity_2/to"));
    let missing: Vec<&str> = half
        .facts
        .iter()
        .filter(|fact| fact.value.is_none())
        .map(|fact| &*fact.name)
        .collect();
    assert_eq!(missing, ["cell.capacity_2_to"]);
    assert!(half.value.unwrap().number.missing);
}

/// What the library works out does not hang on acceptance.
#[test]
fn a_figure_is_the_same_under_both_acceptances() {
    let rules = rules();
    for (arrangement, draw) in BUILDS {
        let text = widened(&whole(arrangement, draw), "/cells/0/capacity/value").unwrap();
        let proposal = Proposal::read("p.json", text.to_string().into(), Syntax::Json).unwrap();
        let of = |acceptance| {
            let options = Options {
                acceptance: Some(acceptance),
                ..Options::default()
            };
            let all = figures(&rules, &proposal, options).unwrap().figures;
            all.into_iter()
                .filter(|figure| figure.is.is_none())
                .map(|figure| (figure.subject, figure.name, figure.value, figure.open))
                .collect::<Vec<_>>()
        };
        assert_eq!(of(Acceptance::Guarded), of(Acceptance::Simple));
    }
}
