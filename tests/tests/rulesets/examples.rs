//! What vetting wants of the examples of a caution, and what it says of faulty ones.

use rules_core::document::Fault;
use rules_core::ruleset::Texts;
use rules_core::vetting::Vetting;

use super::vetted::{BASIS, found};

/// The faults of a caution with these cases, which lacks nothing else.
fn of_cases(rung: &str, cases: &[&str]) -> Vec<Fault> {
    let cases: String = cases
        .iter()
        .map(|case| format!("\n- {{ {case} }}"))
        .collect();
    found(
        "",
        &format!("refuse_unless: {rung}\n{BASIS}\ncases:{cases}"),
    )
}

#[test]
fn each_outcome_is_wanted_once() {
    let measured = "cell.rest_voltage >= 3 V";
    let all = [
        "given: { cell.rest_voltage: 3.70 V }, expect: pass",
        "given: { cell.rest_voltage: 2.90 V }, expect: refuse",
        "given: { cell.rest_voltage: 3.00 V }, expect: refuse, doubt: yes",
        "given: {}, expect: refuse, unmeasured: [cell.rest_voltage]",
    ];
    assert_eq!(of_cases(measured, &all), []);
    for left_out in 0..all.len() {
        let others: Vec<&str> = (0..all.len())
            .filter(|at| *at != left_out)
            .map(|at| all[at])
            .collect();
        assert_eq!(
            of_cases(measured, &others),
            [Fault::OutcomeNotShown],
            "without {}",
            all[left_out]
        );
    }
    // A stated number and a choice are never in doubt for their digits.
    let stated = [
        "given: { charging.termination: 4.20 V }, expect: pass",
        "given: { charging.termination: 4.30 V }, expect: refuse",
    ];
    let unmeasured = "given: {}, expect: refuse, unmeasured: [charging.termination]";
    assert_eq!(
        of_cases(
            "charging.termination <= 4.20 V",
            &[stated[0], stated[1], unmeasured]
        ),
        []
    );
    assert_eq!(
        of_cases("charging.termination <= 4.20 V", &stated),
        [Fault::OutcomeNotShown]
    );
}

/// A rung that can be no needs a case of a refusal, however it is joined; `is known` alone never
/// can.
#[test]
fn a_refusal_is_wanted_of_what_can_be_no() {
    let cases = [
        "given: { cell.pack: A, cell.id: K1 }, expect: pass",
        "given: {}, expect: refuse, unmeasured: [cell.pack]",
    ];
    assert_eq!(
        of_cases("cell.pack is known and cell.pack is known", &cases),
        []
    );
    assert_eq!(
        of_cases("cell.pack is known or cell.pack is known", &cases),
        []
    );
    assert_eq!(of_cases("every cell has cell.pack is known", &cases), []);
    // What is only asked to be known wants a case in which it is not.
    assert_eq!(
        of_cases("cell.pack is known", &cases[..1]),
        [Fault::OutcomeNotShown]
    );
    let wrap = "given: { cell.pack: A, cell.wrap: intact }, expect: pass";
    let both = [
        "given: { cell.pack: A }, expect: refuse, unmeasured: [cell.wrap]",
        wrap,
    ];
    assert_eq!(
        of_cases("cell.pack is known and cell.wrap == intact", &both),
        [Fault::OutcomeNotShown]
    );
    assert_eq!(
        of_cases(
            "cell.pack is known or cell.wrap == intact",
            &[
                wrap,
                "given: {}, expect: refuse, unmeasured: [cell.pack, cell.wrap]"
            ]
        ),
        []
    );
}

/// A caution that applies where something is known applies to what is not known too: nothing shows
/// that it does not.
#[test]
fn what_applies_where_something_is_known_needs_no_case_of_not_applying() {
    let known = "refuse_unless: cell.wrap == intact
cases:
- { given: { cell.pack: A, cell.wrap: intact }, expect: pass }
- { given: { cell.pack: A, cell.wrap: torn }, expect: refuse }
- { given: { cell.pack: A }, expect: refuse, unmeasured: [cell.wrap] }";
    for (when, wanted) in [
        ("cell.pack is known", false),
        ("cell.pack is known or cell.wrap == torn", false),
        ("cell.pack is known and cell.top_ring == present", true),
        ("not (cell.pack is known)", true),
    ] {
        let caution = format!("{BASIS}\napplies_when: {when}\n{known}");
        let found = found("", &caution);
        assert_eq!(found.contains(&Fault::OutcomeNotShown), wanted, "{when}");
    }
}

#[test]
fn what_is_only_asked_to_be_known_needs_no_decided_refusal() {
    let caution = format!(
        "refuse_unless: cell.pack is known\n{BASIS}\ncases:\n- {{ given: {{ cell.pack: A }}, expect: pass }}\n- {{ given: {{}}, expect: refuse, unmeasured: [cell.pack] }}"
    );
    assert_eq!(found("", &caution), []);
}

/// The lines and faults of a ruleset that cannot be vetted.
fn problems(text: &str) -> Vec<(usize, Fault)> {
    let text = format!("format: 1\nruleset: one\nversion: 1.0.0\ntitle: One\n{text}");
    let found = Vetting::load(
        &["one"],
        &Texts::of([("one", text)]),
        &rulesets::catalogue(),
    )
    .expect_err("problems");
    found
        .into_iter()
        .map(|problem| (problem.place.map_or(0, |place| place.line), problem.fault))
        .collect()
}

fn caution(id: &str, about: &str, rung: &str, case: &str) -> String {
    format!(
        "  - {{ id: {id}, title: T, about: {about}, warn_unless: {rung}, reason: r, cases: [{case}] }}\n"
    )
}

#[test]
fn faults_of_examples_are_told_beside_all_others() {
    let bad = "{ given: { cell.volts: 3 V, lamps.x: 1 }, expect: pass, unmeasured: [cell.amps] }";
    let faults = [Fault::UnknownName; 3];
    for (id, about, rung, own) in [
        ("a", "each cell", "cell.rest_voltage >= 3 V", None),
        (
            "a",
            "each cell",
            "cell.rest_volts >= 3 V",
            Some(Fault::UnknownName),
        ),
        (
            "a",
            "each cel",
            "cell.rest_voltage >= 3 V",
            Some(Fault::UnknownName),
        ),
        (
            "[a]",
            "each cell",
            "cell.rest_voltage >= 3 V",
            Some(Fault::WrongShape),
        ),
        (
            "a",
            "each cell",
            "cell.rest_voltage >=",
            Some(Fault::Syntax),
        ),
    ] {
        let found = problems(&format!("cautions:\n{}", caution(id, about, rung, bad)));
        let expected: Vec<(usize, Fault)> = own
            .into_iter()
            .chain(faults)
            .map(|fault| (6, fault))
            .collect();
        assert_eq!(found, expected, "{id}, {about}, {rung}");
    }
}

#[test]
fn an_example_may_give_a_fact_that_cannot_be_read() {
    let case = "{ given: { cell.tag: 3, lamp.tag: 4, cells: [{ tag: 3, tags: 4 }] }, expect: pass, unmeasured: [cell.tag] }";
    let cautions = format!(
        "cautions:\n{}",
        caution("a", "each cell", "cell.wrap == intact", case)
    );
    let facts = "facts:\n  cell.tag: { kind: count }\n  lamp.tag: { kind: count, meaning: M }\n";
    let unread = facts.replace("{ kind: count }", "{ meaning: M }");
    // The first is without a meaning, but has a kind; then it has none.
    assert_eq!(
        problems(&format!("{facts}{cautions}")),
        [
            (6, Fault::MissingKey),
            (7, Fault::UnknownName),
            (9, Fault::UnknownName)
        ]
    );
    assert_eq!(
        problems(&format!("{unread}{cautions}")),
        [
            (6, Fault::MissingKey),
            (7, Fault::UnknownName),
            (9, Fault::UnknownName)
        ]
    );
    let unknown_kind = "{ given: { cell.tag: 3 V }, expect: pass }";
    let cautions = format!(
        "cautions:\n{}",
        caution("a", "each cell", "cell.wrap == intact", unknown_kind)
    );
    assert_eq!(
        problems(&format!(
            "facts:\n  cell.tag: {{ kind: count }}\n{cautions}"
        )),
        [(6, Fault::MissingKey), (8, Fault::WrongKind)]
    );
    assert_eq!(
        problems(&format!("facts:\n  cell.tag: {{ meaning: M }}\n{cautions}")),
        [(6, Fault::MissingKey)]
    );
    // A fact of the trade that is declared again has no kind that could be reported.
    let again = cautions.replace("cell.tag", "cell.wrap");
    assert_eq!(
        problems(&format!(
            "facts:\n  cell.wrap: {{ kind: count, meaning: M }}\n{again}"
        )),
        [(6, Fault::DefinedTwice)]
    );
}

#[test]
fn examples_of_what_is_dropped_are_not_looked_at() {
    let bad = "{ given: { cell.volts: 3 V }, expect: pass }";
    let cautions = caution("a", "each cell", "cell.wrap == intact", bad)
        + &caution("b", "each cell", "cell.rest_volts > 3 V", "");
    let dropped = format!(
        "adjust: {{ cautions: {{ a: {{ drop: yes, because: so }} }} }}\ncautions:\n{cautions}"
    );
    assert_eq!(problems(&dropped), [(8, Fault::UnknownName)]);
    let kept = dropped.replace(" a: ", " b: ");
    assert_eq!(
        problems(&kept),
        [(7, Fault::UnknownName), (8, Fault::UnknownName)]
    );
}

/// Who proposes a change of the shipped rules edits them under their name. A name that only looks
/// like theirs is nobody's.
#[test]
fn an_edited_copy_keeps_its_name_while_it_is_vetted() {
    let text = |name: &str| {
        format!(
            "format: 1\nruleset: {name}\nversion: 1.0.0\ntitle: One\ncautions:\n  - {{ id: tested, title: T, about: light, refuse_unless: light.vented, reason: r }}\n"
        )
    };
    let load = |name: &str| {
        Vetting::load(
            &["one"],
            &Texts::of([("one", text(name))]),
            &rulesets::catalogue(),
        )
    };
    let copies = |name: &str| {
        let vetting = load(name).unwrap_or_else(|problems| panic!("{problems:?}"));
        vetting
            .edited_copies()
            .map(|copy| (copy.ruleset.clone(), copy.file.clone()))
            .collect::<Vec<_>>()
    };
    let one = ("rescued-cells".to_owned(), Some("one".to_owned()));
    assert_eq!(copies("rescued-cells"), [one]);
    assert_eq!(copies("rescued-cells-club"), []);
    let problems = load("rescued-ce11s").expect_err("a reserved name");
    assert_eq!(problems[0].fault, Fault::ReservedName);
}
