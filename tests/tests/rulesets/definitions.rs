//! What a definition must be: a basis, a name, a choice, an example.

use rules_core::document::Fault;

use super::setting::{caution, faults, head, limit, load};

#[test]
fn a_basis_is_one_thing() {
    let source = "sources:\n  sheet: { title: A sheet, publisher: A supplier, year: 2012, read: second-hand }\n";
    for (basis, fits) in [
        ("{ common_practice: x }", true),
        ("{ from_memory: x }", true),
        ("{ worked_out: x }", true),
        ("{ source: sheet }", true),
        ("{ source: sheet, at: a, note: b }", true),
        ("{ common_practice: x, at: a }", false),
        ("{ common_practice: x, note: b }", false),
        ("{ from_memory: x, at: a }", false),
        ("{ worked_out: x, note: b }", false),
        ("{ common_practice: x, from_memory: y }", false),
        ("{ source: sheet, worked_out: y }", false),
        ("{ at: a }", false),
    ] {
        let expected: &[Fault] = if fits { &[] } else { &[Fault::WrongShape] };
        assert_eq!(
            faults(&format!("{source}{}", limit("floor", basis))),
            expected,
            "{basis}"
        );
    }
}

#[test]
fn a_name_is_a_word_of_at_most_64_letters() {
    let long = |length: usize| "a".repeat(length);
    for (name, fits) in [
        ("floor", true),
        ("floor_2", true),
        ("2_floor", false),
        ("_floor", false),
        ("rest-floor", false),
        ("flöor", false),
        (long(64).as_str(), true),
        (long(65).as_str(), false),
    ] {
        let expected: &[Fault] = if fits { &[] } else { &[Fault::BadName] };
        assert_eq!(
            faults(&limit(name, "{ common_practice: x }")),
            expected,
            "limit {name}"
        );
        let figure = format!(
            "figures:\n  {name}: {{ about: each cell, is: cell.rest_voltage, meaning: A figure }}\n"
        );
        assert_eq!(faults(&figure), expected, "figure {name}");
        let fact = format!("facts:\n  cell.{name}: {{ kind: text, meaning: A fact }}\n");
        assert_eq!(faults(&fact), expected, "fact {name}");
    }
    assert_eq!(
        faults("facts:\n  tag: { kind: text, meaning: A fact }\n").first(),
        Some(&Fault::BadName)
    );
}

#[test]
fn an_option_is_a_word_and_stands_once() {
    let of_options = |options: &str| {
        faults(&format!(
            "facts:\n  cell.tag: {{ kind: choice, options: [{options}], meaning: A fact }}\n"
        ))
    };
    let many = |count: usize| {
        (0..count)
            .map(|number| format!("o{number}"))
            .collect::<Vec<_>>()
            .join(", ")
    };
    assert_eq!(of_options("red"), []);
    assert_eq!(of_options("red, dark-blue, dark_green, r2"), []);
    assert_eq!(of_options("red, 2r"), [Fault::BadName]);
    assert_eq!(of_options("red, -r"), [Fault::BadName]);
    assert_eq!(of_options("red, dark blue"), [Fault::BadName]);
    assert_eq!(of_options("red, blue, red"), [Fault::DefinedTwice]);
    assert_eq!(of_options(""), [Fault::TooLarge]);
    assert_eq!(of_options(&many(64)), []);
    assert_eq!(of_options(&many(65)), [Fault::TooLarge]);
}

#[test]
fn each_stands_where_there_are_many() {
    assert_eq!(
        faults(&caution("each cell", "cell.rest_voltage >= 3 V")),
        []
    );
    assert_eq!(
        faults(&caution("cell", "cell.rest_voltage >= 3 V")),
        [Fault::OutOfScope]
    );
    assert_eq!(faults(&caution("light", "light.draw_current <= 3 A")), []);
    assert_eq!(
        faults(&caution("each light", "light.draw_current <= 3 A")),
        [Fault::OutOfScope]
    );
}

#[test]
fn a_case_is_open_in_one_way_at_most() {
    let of_case = |rest: &str| {
        let text = caution("each cell", "cell.rest_voltage >= 3 V").replace(
            ", reason",
            &format!(", cases: [{{ given: {{}}, {rest} }}], reason"),
        );
        faults(&text)
    };
    assert_eq!(
        of_case("expect: refuse, unmeasured: [cell.rest_voltage]"),
        []
    );
    assert_eq!(of_case("expect: refuse, doubt: yes"), []);
    assert_eq!(
        of_case("expect: refuse, doubt: yes, unmeasured: [cell.rest_voltage]"),
        [Fault::WrongShape]
    );
    assert_eq!(of_case("expect: not-applicable"), []);
    assert_eq!(
        of_case("expect: not-applicable, doubt: yes"),
        [Fault::WrongShape]
    );
    assert_eq!(
        of_case("expect: not-applicable, unmeasured: [cell.rest_voltage]"),
        [Fault::WrongShape]
    );
}

/// The help for a limit without `stricter` says what either way means.
#[test]
fn a_limit_without_its_direction_is_told_what_they_mean() {
    let text = format!(
        "{}limits: {{ floor: {{ value: 3 V, meaning: Floor }} }}\n",
        head("one")
    );
    let problems = load(&[("one", text)], &["one"]).expect_err("a problem");
    let help = problems[0].help.clone().unwrap_or_default();
    assert!(
        help.contains("`stricter: higher` if a higher value lets fewer pass"),
        "{help}"
    );
}
