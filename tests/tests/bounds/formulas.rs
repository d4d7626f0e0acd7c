//! Problems of formulas and definitions: a bounded number is reported, the others are counted.

use rules_core::document::Fault;
use rules_core::ruleset::{Rules, Texts};

use super::setting::{HEAD, rules, vetted};

/// A ruleset with formulas of so many faults each: a choice where a condition belongs.
fn faulty_formulas(formulas: &[usize]) -> String {
    let one = |(at, many): (usize, &usize)| {
        let rung = vec!["cell.wrap"; *many].join(" or ");
        format!(
            "  - {{ id: c{at}, title: One, about: each cell, refuse_unless: \"{rung}\", reason: r }}\n"
        )
    };
    format!(
        "{HEAD}cautions:\n{}",
        formulas.iter().enumerate().map(one).collect::<String>()
    )
}

#[test]
fn the_fullest_formula_tells_all_its_faults() {
    let found = |many: usize| {
        let problems = rules(&faulty_formulas(&[many])).expect_err("problems");
        problems
            .iter()
            .map(|problem| problem.fault)
            .collect::<Vec<_>>()
    };
    assert_eq!(found(256), [Fault::KindsDiffer; 256]);
    assert_eq!(found(257), [Fault::TooLarge]);
}

#[test]
fn too_many_faults_of_formulas_are_counted_not_kept() {
    let of = |formulas: &[usize]| rules(&faulty_formulas(formulas)).expect_err("problems");
    assert_eq!(of(&[250, 250, 250, 250]).len(), 1_000);
    assert!(
        of(&[250, 250, 250, 250])
            .iter()
            .all(|problem| problem.fault == Fault::KindsDiffer)
    );
    for (formulas, more) in [
        ([250, 250, 250, 251], "1 more"),
        ([256, 256, 256, 256], "24 more"),
    ] {
        let problems = of(&formulas);
        assert_eq!(
            (problems.len(), problems[1_000].fault),
            (1_001, Fault::TooLarge)
        );
        assert!(
            problems[1_000].message.contains(more),
            "{}",
            problems[1_000].message
        );
    }
    // With one formula each no less is reported.
    assert_eq!(of(&[1; 1_001]).len(), 1_001);
}

/// Faults of reading, of formulas and of examples are counted together.
#[test]
fn problems_of_a_file_are_bounded_over_all_stages() {
    let adjusted: String = (0..200)
        .map(|number| format!("    l{number}: {{ to: 1 V }}\n"))
        .collect();
    let of = |unknown: usize, cases: usize| {
        let unknown: String = (0..unknown)
            .map(|number| format!("key{number}: 1\n"))
            .collect();
        let cases = vec!["{ given: { cell.volts: 3 V }, expect: pass }"; cases].join(", ");
        let caution = format!(
            "  - {{ id: d, title: D, about: each cell, warn_unless: cell.wrap == intact, reason: r, cases: [{cases}] }}\n"
        );
        let text = format!(
            "{}{caution}adjust:\n  limits:\n{adjusted}{unknown}",
            faulty_formulas(&[99])
        );
        let found = [
            rules(&text).expect_err("problems"),
            vetted(&text).expect_err("problems"),
        ];
        found.map(|problems| {
            (
                problems.len(),
                problems.last().expect("a problem").message.clone(),
            )
        })
    };
    let [loaded, vetted] = of(700, 1);
    assert_eq!((loaded.0, vetted.0), (999, 1_000));
    let [loaded, vetted] = of(700, 4);
    assert_eq!((loaded.0, vetted.0), (999, 1_001));
    assert!(vetted.1.contains("has 3 more problems"), "{}", vetted.1);
    let [loaded, vetted] = of(1_100, 4);
    assert!(loaded.1.contains("has 399 more problems"), "{}", loaded.1);
    assert!(vetted.1.contains("has 403 more problems"), "{}", vetted.1);
}

/// What cannot be read is counted among what is defined.
#[test]
fn definitions_that_cannot_be_read_are_bounded() {
    for (section, name, most) in [
        ("facts", "cell.x", 1_000),
        ("limits", "x", 20_000),
        ("figures", "x", 2_000),
    ] {
        let too_large = |many: usize| {
            let unread: String = (0..many)
                .map(|number| format!("  {name}{number}: 1\n"))
                .collect();
            let problems = rules(&format!("{HEAD}{section}:\n{unread}")).expect_err("problems");
            problems
                .iter()
                .filter(|problem| {
                    problem.fault == Fault::TooLarge && problem.message.contains("the most is")
                })
                .count()
        };
        assert_eq!((too_large(most), too_large(most + 1)), (0, 1), "{section}");
    }
}

/// The bound is of each file; the count comes after what is reported.
#[test]
fn problems_are_bounded_by_file() {
    let two = ["a", "b"].map(|name| {
        let text = faulty_formulas(&[1; 1_002])
            .replace("ruleset: bounds", &format!("ruleset: {name}"))
            .replace("id: c", &format!("id: {name}"));
        (name, text)
    });
    let problems =
        Rules::load(&["b", "a"], &Texts::of(two), &rulesets::catalogue()).expect_err("problems");
    let files: Vec<String> = problems
        .iter()
        .map(|problem| {
            problem
                .place
                .as_ref()
                .map_or(String::new(), |place| place.file.to_string())
        })
        .collect();
    assert_eq!(files.len(), 2_002);
    assert!(
        files[..1_000].iter().all(|file| file == "a")
            && files[1_000..2_000].iter().all(|file| file == "b")
    );
    assert!(
        problems[2_000..]
            .iter()
            .all(|problem| problem.message.contains("2 more problems"))
    );
}

/// Figures have the same bound as cautions.
#[test]
fn too_many_faulty_figures_are_counted_not_kept() {
    let of = |many: usize| {
        let one = |number: usize| {
            format!("  f{number}: {{ about: light, is: light.drive, meaning: A figure }}\n")
        };
        rules(&format!(
            "{HEAD}figures:\n{}",
            (0..many).map(one).collect::<String>()
        ))
        .expect_err("problems")
        .len()
    };
    assert_eq!((of(1_000), of(1_001), of(2_000)), (1_000, 1_001, 1_001));
}
