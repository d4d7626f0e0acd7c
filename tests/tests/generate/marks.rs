//! What is marked on generated cells: designations, classes and codes of the size that agree.

use std::collections::BTreeMap;

use super::choices::Choices;
use super::formula::options;
use super::proposal::{Facts, Given};
use super::vocabulary::{FactAt, fact_named};

/// From and to, in millimetres.
pub(crate) type Side = (f64, f64);

/// Codes of sizes, with diameter and length. Trade code: diameter in millimetres rounded down,
/// length in tenths. IEC 61960: both rounded up (clause 5.1, second-hand).
const SIZES: [(&str, Side, Side); 4] = [
    ("18650", (18.0, 19.0), (65.0, 65.0)),
    ("19/66", (18.0, 19.0), (65.0, 66.0)),
    ("26650", (26.0, 27.0), (65.0, 65.0)),
    ("14500", (14.0, 15.0), (50.0, 50.0)),
];

/// Designations: a class and a code of the size.
const DESIGNATIONS: [&str; 5] = ["ICR18650", "INR18650", "INR19/66", "IFR26650", "IMR14500"];

/// Facts of a cell that follow from its designation.
pub(crate) const CODED: [&str; 3] = ["cell.class", "cell.code_diameter", "cell.code_length"];

/// Facts of a cell that take certain texts only.
pub(crate) const CODES: [&str; 2] = ["cell.designation", "cell.size_code"];

/// Any designation.
pub(crate) fn designation(choices: &mut Choices<'_>) -> Given {
    Given::Text((*choices.pick(&DESIGNATIONS)).to_owned())
}

/// Any code of a size.
pub(crate) fn size_code(choices: &mut Choices<'_>) -> Given {
    Given::Text(choices.pick(&SIZES).0.to_owned())
}

/// Makes a stated class that of the designation, and a code of the size one that goes with it.
pub(crate) fn agree(choices: &mut Choices<'_>, cell: &mut Facts) {
    let Some((class, size)) = designated(cell) else {
        return;
    };
    if let Some(stated) = cell.get_mut(&fact_named("cell.class")) {
        *stated = Given::Choice(class_at(class));
    }
    if let Some(stated) = cell.get_mut(&fact_named("cell.size_code")) {
        // The two codes of one size meet, each being narrower on one side or equal.
        let other = match size {
            "18650" => "19/66",
            "19/66" => "18650",
            other => other,
        };
        *stated = Given::Text((*choices.pick(&[size, other])).to_owned());
    }
}

/// The class that follows, by its position among the options.
pub(crate) fn class(cell: &Facts) -> Option<usize> {
    Some(class_at(designated(cell)?.0))
}

/// The diameter and length that follow: of two codes what both allow.
pub(crate) fn sides(cell: &Facts) -> BTreeMap<FactAt, Side> {
    let codes = [designated(cell).map(|(_, size)| size), coded(cell)];
    let mut sides: BTreeMap<FactAt, Side> = BTreeMap::new();
    for code in codes.into_iter().flatten() {
        let (_, diameter, length) = SIZES.iter().find(|(known, ..)| *known == code).unwrap();
        for (name, (low, high)) in [
            ("cell.code_diameter", diameter),
            ("cell.code_length", length),
        ] {
            let side = sides.entry(fact_named(name)).or_insert((*low, *high));
            *side = (side.0.max(*low), side.1.min(*high));
        }
    }
    sides
}

fn coded(cell: &Facts) -> Option<&str> {
    match cell.get(&fact_named("cell.size_code"))? {
        Given::Text(code) => Some(code),
        _ => None,
    }
}

/// The class and the code of the size of a designation.
fn designated(cell: &Facts) -> Option<(&'static str, &'static str)> {
    let Given::Text(text) = cell.get(&fact_named("cell.designation"))? else {
        return None;
    };
    let known = DESIGNATIONS.into_iter().find(|known| known == text);
    Some(known.unwrap().split_at(3))
}

fn class_at(class: &str) -> usize {
    let options = options(fact_named("cell.class"));
    options.iter().position(|option| option == class).unwrap()
}
