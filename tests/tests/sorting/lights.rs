//! Which lights a cell may go into.

use rulesets::jobs::sort::{SortedCell, Suits};
use serde_json::{Value, json};

use super::{good_cell, sorted, torch, with};

/// Lights of which all is known that their fit asks for; the gate lamp is as the torch, but nothing
/// stops it.
fn lights() -> Value {
    let torch = torch();
    let two = with(with(torch.clone(), "bays", 2), "arrangement", "2S1P");
    let two = with(with(two, "input.max", "8.6 V"), "input.min", "5.4 V");
    json!({
        "gate-lamp": with(torch.clone(), "cut_off", "none"),
        "helmet-lamp": with(two.clone(), "made_for", Value::Null),
        "marshal-torch": torch.clone(),
        "old-lamp": with(two, "arrangement", Value::Null),
        "spare-torch": with(torch, "arrangement", Value::Null),
    })
}

/// What is said of a cell in each light, by name of the light.
fn suits(cell: &SortedCell) -> [Suits; 5] {
    let all: Vec<Suits> = cell.lights.iter().map(|entry| entry.suits).collect();
    all.try_into().expect("five lights")
}

fn in_lights(cell: Value) -> SortedCell {
    let report = sorted(&[cell], lights()).unwrap_or_else(|problems| panic!("{problems}"));
    report.cells.into_iter().next().expect("a cell")
}

#[test]
fn a_sound_cell_goes_where_it_fits() {
    use Suits::{NotSaid, Pass, Refuse, WithOthers};
    let cell = in_lights(good_cell("A1"));
    assert_eq!(suits(&cell), [Refuse, WithOthers, Pass, NotSaid, Pass]);
    let by = cell.lights[0].kept_out_by.as_ref().expect("a caution");
    assert_eq!(by.caution, "single-cell-unguarded");
}

/// The bays are 68 mm long, within 0.1 mm: a longer cell goes into none of them, with others or alone; one that may be
/// longer is to be measured.
#[test]
fn a_cell_that_is_too_long_goes_nowhere() {
    use Suits::{NotSaid, Refuse, ToTest, WithOthers};
    let of = |length: &str| in_lights(with(good_cell("A1"), "size.length", length));
    let cell = of("68.2 mm ± 0 mm");
    assert_eq!(suits(&cell), [Refuse, Refuse, Refuse, NotSaid, Refuse]);
    for at in [1, 2] {
        let by = cell.lights[at].kept_out_by.as_ref().expect("a caution");
        assert_eq!(by.caution, "cell-does-not-fit");
    }
    assert_eq!(
        suits(&of("68.0 mm ± 0.2 mm")),
        [Refuse, WithOthers, ToTest, NotSaid, ToTest]
    );
}

/// The grade of the cell counts in every light.
#[test]
fn a_cell_is_no_better_in_a_light_than_alone() {
    use Suits::{NotSaid, Refuse, ToTest, Warn, WithOthers};
    let watch = in_lights(with(good_cell("A1"), "card", "no"));
    assert_eq!(suits(&watch), [Refuse, WithOthers, Warn, NotSaid, Warn]);
    let to_test = in_lights(with(good_cell("A1"), "rest", Value::Null));
    assert_eq!(suits(&to_test), [Refuse, ToTest, ToTest, NotSaid, ToTest]);
    let retired = in_lights(with(good_cell("A1"), "found.voltage", "1.62 V"));
    assert_eq!(suits(&retired), [Refuse, Refuse, Refuse, NotSaid, Refuse]);
}
