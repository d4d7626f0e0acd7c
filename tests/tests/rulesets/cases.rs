//! The examples of a caution: what they can give, and which groups their cells form.

use rules_core::document::Fault;
use rules_core::vetting::{Vetting, vet};

use super::setting::{caution, of, one};

/// What a case gives is a fact; what was meant is said.
#[test]
fn a_case_gives_facts() {
    let help = |given: &str| {
        let text = caution("each cell", "cell.rest_voltage >= 3 V").replace(
            ", reason",
            &format!(", cases: [{{ given: {{ {given} }}, expect: pass }}], reason"),
        );
        let folder = one(&text);
        let problems = Vetting::load(&["one"], &folder, &rulesets::catalogue()).expect_err(given);
        assert_eq!(of(&problems), [Fault::UnknownName], "{given}");
        problems[0].help.clone().unwrap_or_default()
    };
    assert_eq!(
        help("cell.rest_voltag: 3 V"),
        "did you mean `cell.rest_voltage`?"
    );
    assert!(help("cell.zzzzzzzzzzzz: 3 V").contains("figures follow"));
}

/// A case is a proposal too: its readings may not contradict each other.
#[test]
fn a_case_does_not_contradict_itself() {
    let of_case = |ohms: &str| {
        let given = format!(
            "cell.resistance: {ohms}, cell.resistance_method: dc-10s, cell.loaded_open: 4.000 V ± 0 V, cell.loaded_closed: 3.000 V ± 0 V, cell.loaded_resistor: 3 ohm"
        );
        let text = caution("each cell", "cell.resistance >= 1 ohm").replace(
            ", reason",
            &format!(", cases: [{{ given: {{ {given} }}, expect: pass }}], reason"),
        );
        let folder = one(&text);
        Vetting::load(&["one"], &folder, &rulesets::catalogue())
            .map_or_else(|problems| of(&problems), |_| Vec::new())
    };
    assert_eq!(of_case("2 ohm ± 0 ohm"), []);
    assert_eq!(of_case("2.001 ohm ± 0 ohm"), [Fault::Contradiction]);
}

/// Cells that name their group alike are in one; a group that is named has that name.
#[test]
fn cells_that_name_one_group_are_in_it() {
    let of_cases = |cases: &str| {
        let text = caution("each group", "spread of cell.rest_voltage <= 10 mV")
            .replace(", reason", &format!(", cases: [{cases}], reason"));
        let folder = one(&text);
        let vetting = Vetting::load(&["one"], &folder, &rulesets::catalogue())
            .unwrap_or_else(|problems| panic!("{problems:?}"));
        of(&vet(&vetting)).contains(&Fault::CaseFails)
    };
    let cells = |one: &str, other: &str| {
        format!(
            "given: {{ cells: [{{ rest_voltage: 3.700 V{one} }}, {{ rest_voltage: 3.750 V{other} }}] }}"
        )
    };
    assert!(!of_cases(&format!(
        "{{ {}, expect: refuse }}",
        cells("", "")
    )));
    assert!(!of_cases(&format!(
        "{{ {}, expect: refuse }}",
        cells(", group: A", ", group: A")
    )));
    assert!(!of_cases(&format!(
        "{{ {}, expect: pass }}",
        cells(", group: A", ", group: B")
    )));
    assert!(of_cases(&format!(
        "{{ {}, expect: pass }}",
        cells(", group: A", ", group: A")
    )));
}

/// A group has the name that its cells give; where they give none, its name is missing.
#[test]
fn a_group_has_the_name_its_cells_give() {
    let of_cases = |cases: &str| {
        let text = caution("each group", "group.id is known")
            .replace(", reason", &format!(", cases: [{cases}], reason"));
        let folder = one(&text);
        let vetting = Vetting::load(&["one"], &folder, &rulesets::catalogue())
            .unwrap_or_else(|problems| panic!("{problems:?}"));
        of(&vet(&vetting)).contains(&Fault::CaseFails)
    };
    assert!(!of_cases(
        "{ given: { cells: [{ group: A }, { group: B }] }, expect: pass }"
    ));
    assert!(!of_cases(
        "{ given: { cells: [{ group: A }, { group: A }] }, expect: pass }"
    ));
    assert!(of_cases("{ given: { cells: [{}, {}] }, expect: pass }"));
    assert!(!of_cases(
        "{ given: { cells: [{}, {}] }, expect: refuse, unmeasured: [group.id] }"
    ));
}
