//! What an answer typically comes to. It agrees with what is given, so that it can be written.

use crate::class::{Class, Classes};
use crate::figures::assumed::{Answer, Assumed};
use crate::figures::discharge::{CapacityTest, Draw, Duty, bounded, discharge};
use crate::figures::needs::Need::{self, *};
use crate::figures::needs::{ALL, CHARGE_BY, FIRST_TEST, FURTHER_TESTS, TestNeeds};
use crate::figures::reader::Notes;
use crate::figures::resistance::{Method, dc};
use crate::figures::shared_work::SharedWork;
use crate::figures::{battery, cell_facts, light};
use crate::sizes;
use crate::span::not_negative;
use rules_core::quantity::Interval;

/// Options of choices, by their places in the catalogue.
const COBALT: usize = 0;
const DIRECT_CURRENT: usize = 0;

/// A warm room, in degC; cells are in a room at all from the one to the other.
const WARM_ROOM: f64 = 20.0;
const ROOM: (f64, f64) = (18.0, 28.0);

/// How far up what the tests allow a further test typically lies.
const USUAL_PART: f64 = 0.9;

/// A test this near to the use, by current as a part and by end voltage in V, is a test like it.
const LIKE: (f64, f64) = (0.03, 0.02);

/// What a missing fact typically is.
pub(super) fn typical(shared: &SharedWork<'_>, need: Need, cell: usize) -> Option<Answer> {
    let number = |value: f64| Some(Answer::Number(value));
    let mut notes = Notes::of(ALL);
    match need {
        DrawCurrent | ChargeCurrent => number(1.0),
        CutOff | InputMin => number(light_end(shared)),
        Ambient => number(WARM_ROOM),
        Standby => number(50e-6),
        Class => Some(Answer::Option(COBALT)),
        Capacity => number(usual_charge(shared, cell)),
        CapacityAt => number(current(shared).unwrap_or(1.0)),
        CapacityTo => number(light::empty(classes(shared, cell)).hi()),
        Resistance => number(rounded(0.15 / usual_charge(shared, cell).max(0.1), 2)),
        ResistanceMethod => Some(Answer::Option(DIRECT_CURRENT)),
        RestVoltage | StoredAt => number(rests_at(shared, cell)),
        RestAfter => number(24.0),
        RunSinceFull => number(0.25),
        RatedCapacity => {
            let charge = shared.reader.may(Capacity, cell, &mut notes);
            number(charge.map_or(2.5, |charge| rounded(charge.middle() * 1.1, 2)))
        }
        DriftFrom => number(rests_at(shared, cell)),
        DriftTo => {
            let from = shared.reader.may(DriftFrom, cell, &mut notes);
            number(from.map_or(rests_at(shared, cell), Interval::middle) - 0.005)
        }
        DriftOver => number(720.0),
        _ => None,
    }
}

fn classes(shared: &SharedWork<'_>, cell: usize) -> Classes {
    cell_facts::classes(shared.reader, cell, &mut Notes::of(ALL)).unwrap_or(Classes::ALL)
}

fn is_iron(classes: Classes) -> bool {
    classes.iter().all(|class| class == Class::Ifr)
}

fn rests_at(shared: &SharedWork<'_>, cell: usize) -> f64 {
    if is_iron(classes(shared, cell)) {
        3.28
    } else {
        3.85
    }
}

fn usual_charge(shared: &SharedWork<'_>, cell: usize) -> f64 {
    let mut notes = Notes::of(ALL);
    let read = |need: Need, notes: &mut Notes| shared.reader.may(need, cell, notes);
    if let Some(charge) = read(Capacity, &mut notes) {
        return charge.middle();
    }
    // A test gives no less in all than on its way.
    let on_the_way = CHARGE_BY
        .iter()
        .filter_map(|(need, _)| read(*need, &mut notes))
        .fold(0.0, |most, charge| charge.hi().max(most));
    if on_the_way > 0.0 {
        return rounded_up(on_the_way, 3);
    }
    read(RatedCapacity, &mut notes).map_or(charge_of_size(shared, cell), |rated| {
        rounded(rated.middle() * 0.85, 2)
    })
}

/// A worn cell of its size gives a good half of the most that one gives: 2 Ah of an 18650, which also
/// stands for a size that is not known.
fn charge_of_size(shared: &SharedWork<'_>, cell: usize) -> f64 {
    let (can, class) = cell_facts::can(shared.reader, cell, &mut Notes::of(ALL));
    let most = sizes::most_capacity(&can, class);
    if most.is_bounded() {
        rounded(most.middle() * 0.53, 2)
    } else {
        2.0
    }
}

/// Where a light typically stops: where its cells are empty.
fn light_end(shared: &SharedWork<'_>) -> f64 {
    let series = light::series(shared, &mut Notes::of(ALL)).unwrap_or(Interval::point(1.0));
    rounded(series.lo() * light::empty(classes(shared, 0)).hi(), 3)
}

/// The highest current of a cell, where it is bounded.
fn current(shared: &SharedWork<'_>) -> Option<f64> {
    let mut notes = Notes::of(ALL);
    let parallel = shared.reader.may(Parallel, 0, &mut notes)?;
    let whole = light::highest_current(shared, &mut notes);
    let each = whole.hi() / parallel.lo();
    (each.is_finite() && each > 0.0).then(|| rounded_up(each, 4))
}

/// A test at the current of the use, to its end and at its temperature, in the first free place;
/// nothing where there is such a test.
pub(super) fn further_test(shared: &SharedWork<'_>, cell: usize) -> Vec<Assumed> {
    further_test_of(shared, cell).unwrap_or_default()
}

fn further_test_of(shared: &SharedWork<'_>, cell: usize) -> Option<Vec<Assumed>> {
    let mut notes = Notes::of(ALL);
    let model = battery::cell(shared, cell, &mut notes)?;
    let ambient = shared.reader.may(Ambient, 0, &mut notes);
    let warmth = rounded(ambient.map_or(WARM_ROOM, Interval::middle), 3);
    let series = light::series(shared, &mut notes)?;
    let end = (light::light_stops(shared, &mut notes) / series)
        .max(light::empty(model.classes))
        .hi();
    let end = if end.is_finite() {
        rounded(end, 4)
    } else {
        return None;
    };
    let amperes = current(shared)?;
    if model
        .tests()
        .any(|test| is_like(&test, amperes, end, warmth))
    {
        return None;
    }
    let duty = Duty {
        draw: Draw::Current(Interval::point(amperes)),
        start: Interval::point(1.0),
        temperature: Interval::point(warmth),
        cut_off: Interval::point(end),
    };
    let allowed = bounded(&model, &duty);
    let most = allowed.hi().min(model.capacity.charge.hi() * 2.0);
    let charge = allowed.lo() + (most - allowed.lo()) * USUAL_PART;
    let place = free_place(shared, cell)?;
    let answers = [
        (place.charge, rounded(charge, 4)),
        (place.current, amperes),
        (place.cut_off, end),
        (place.temperature, warmth),
    ];
    let assumed = |(need, value): (Need, f64)| Assumed {
        need,
        position: cell,
        answer: Answer::Number(value),
    };
    Some(answers.map(assumed).to_vec())
}

fn is_like(test: &CapacityTest, amperes: f64, end: f64, warmth: f64) -> bool {
    let (current, volts) = LIKE;
    (test.current.middle() - amperes).abs() <= current * amperes
        && (test.cut_off.middle() - end).abs() <= volts
        && test.temperature.contains(warmth)
}

fn free_place(shared: &SharedWork<'_>, cell: usize) -> Option<TestNeeds> {
    FURTHER_TESTS.into_iter().find(|place| {
        let mut needs = place.whole().into_iter().chain([place.temperature]);
        needs.all(|need| !shared.reader.is_given(need, cell))
    })
}

/// The temperature of each test that tells none.
pub(super) fn in_a_room(shared: &SharedWork<'_>, cell: usize) -> Vec<Assumed> {
    let reader = shared.reader;
    let ambient = reader.may(Ambient, 0, &mut Notes::of(ALL));
    let middle = ambient.map_or(WARM_ROOM, Interval::middle);
    let value = rounded(middle.clamp(ROOM.0, ROOM.1), 3);
    let tests = [FIRST_TEST].into_iter().chain(FURTHER_TESTS);
    tests
        .filter(|test| {
            reader.is_given(test.charge, cell) && !reader.is_given(test.temperature, cell)
        })
        .map(|test| Assumed {
            need: test.temperature,
            position: cell,
            answer: Answer::Number(value),
        })
        .collect()
}

/// What the first test showed half way and near its end, where that was not noted: the middle of what
/// the model has there.
pub(super) fn voltages_on_the_way(shared: &SharedWork<'_>, cell: usize) -> Vec<Assumed> {
    let is_noted = |need: Need| shared.reader.is_given(need, cell);
    let model = battery::cell(shared, cell, &mut Notes::of(ALL));
    let Some(model) = model.filter(|_| !is_noted(CapacityHalf) && !is_noted(CapacityLate)) else {
        return Vec::new();
    };
    let test = model.capacity;
    let as_tested = discharge(
        &model,
        &Duty {
            draw: Draw::Current(test.current),
            start: Interval::point(1.0),
            temperature: test.temperature,
            cut_off: test.cut_off,
        },
    );
    let late = as_tested.late.middle().max(test.cut_off.hi());
    [
        (CapacityHalf, as_tested.mid.middle().max(late)),
        (CapacityLate, late),
    ]
    .map(|(need, volts)| Assumed {
        need,
        position: cell,
        answer: Answer::Number(rounded(volts, 3)),
    })
    .to_vec()
}

/// A reading by direct current in place of one by another method, in the middle of what that allows.
pub(super) fn resistance_by_direct_current(shared: &SharedWork<'_>, cell: usize) -> Vec<Assumed> {
    let mut notes = Notes::of(ALL);
    let reader = shared.reader;
    let method = || reader.choice(ResistanceMethod, cell, &mut Notes::of(ALL));
    // A reading that lacks its method is completed, and not taken anew.
    let is_read = reader.is_given(Resistance, cell)
        && method().is_none_or(|method| method.only() == Some(DIRECT_CURRENT));
    let Some(r10) = cell_facts::r10(reader, cell, &mut notes) else {
        return Vec::new();
    };
    if is_read || !r10.is_bounded() || r10.hi() <= 0.0 {
        return Vec::new();
    }
    let spread = dc(Method::Dc10s, Interval::point(1.0)).middle();
    let value = rounded(not_negative(r10).middle() / spread, 2);
    let answers = [
        (Resistance, Answer::Number(value)),
        (ResistanceMethod, Answer::Option(DIRECT_CURRENT)),
    ];
    let is_by_it = reader.is_given(ResistanceMethod, cell)
        && method().is_some_and(|method| method.only() == Some(DIRECT_CURRENT));
    answers
        .into_iter()
        .take(if is_by_it { 1 } else { 2 })
        .map(|(need, answer)| Assumed {
            need,
            position: cell,
            answer,
        })
        .collect()
}

/// To so many significant digits.
fn rounded(value: f64, digits: usize) -> f64 {
    rules_core::report::significant(value, digits)
}

/// The same, to no less.
fn rounded_up(value: f64, digits: usize) -> f64 {
    let near = rounded(value, digits);
    if near < value {
        rounded(
            value * (1.0 + 0.6 * 10_f64.powi(1 - i32::try_from(digits).unwrap_or(9))),
            digits,
        )
    } else {
        near
    }
}
