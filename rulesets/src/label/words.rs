//! Doubts and contradictions of a label in words.

use super::code::ClassLetters;
use super::contradiction::Contradiction;
use super::credible::{Bound, CapacityDoubt, Family};
use super::pack_reading::{Doubt, PackReading};
use rules_core::quantity::{Interval, Kind, Measure};
use rules_core::report::{exact, measure};

fn volts(range: Interval) -> String {
    measure(Measure::of(range), Kind::Voltage)
}

fn charge(range: Interval) -> String {
    measure(Measure::of(range), Kind::Charge)
}

/// From end to end, for what has no likeliest value.
fn from_to(range: Interval) -> String {
    Measure::of(range)
        .shown(Kind::Voltage)
        .as_range()
        .to_string()
}

/// What speaks against a reading.
pub(super) fn doubt(doubt: &Doubt, reading: &PackReading) -> String {
    match doubt {
        Doubt::Voltage { nominal } => {
            let voltage = reading.cell_voltage.map(volts).unwrap_or_default();
            format!(
                "{voltage} is no nominal voltage of such cells, which have {}.",
                from_to(*nominal)
            )
        }
        Doubt::Capacity(doubt) => capacity(*doubt, reading.family),
        Doubt::Cells { cells } => format!("{} were counted.", counted(*cells)),
        Doubt::Class => "What voltage and capacity such cells have is not known here.".to_owned(),
    }
}

/// Against what bound a capacity is.
fn capacity(doubt: CapacityDoubt, family: Family) -> String {
    let bound = exact(doubt.ampere_hours, Kind::Charge, 3);
    let an_18650 = if family == Family::IronPhosphate {
        "An iron phosphate 18650"
    } else {
        "An 18650"
    };
    match (doubt.bound, doubt.size_is_told) {
        (Bound::AboveAll, true) => {
            format!("No such cell of that size is known to have more than {bound}.")
        }
        (Bound::AboveAll, false) => {
            format!("No such cell of the usual sizes is known to have more than {bound}.")
        }
        (Bound::AboveCommon, true) => {
            format!("Few such cells of that size have more than {bound}.")
        }
        (Bound::AboveCommon, false) => {
            format!("{an_18650} has at most {bound}, so it would be a larger cell.")
        }
        (Bound::BelowCommon, true) => {
            format!("Such cells of that size, in packs, mostly have {bound} or more.")
        }
        (Bound::BelowCommon, false) => format!("{an_18650} in a pack mostly has {bound} or more."),
        (Bound::BelowAll, true) => {
            format!("No such cell of that size is known to have less than {bound}.")
        }
        (Bound::BelowAll, false) => {
            format!("No such cell of the usual sizes is known to have less than {bound}.")
        }
    }
}

/// What contradicts what.
pub(super) fn contradiction(found: &Contradiction) -> String {
    match found {
        Contradiction::Energy { printed, worked } => {
            let energy = |range: &Interval| measure(Measure::of(*range), Kind::Energy);
            format!(
                "Voltage times capacity is {}; the label says {}.",
                energy(worked),
                energy(printed)
            )
        }
        Contradiction::SeriesOfCode {
            series,
            cell_voltage,
            nominal,
            by_voltage,
        } => {
            let (each, usual) = (volts(*cell_voltage), from_to(*nominal));
            format!(
                "The code says {series} in series, so that a cell would have {each}; such cells have {usual}.{}",
                instead(by_voltage)
            )
        }
        Contradiction::ParallelOfCode {
            parallel,
            family,
            cell_capacity,
            doubt,
        } => {
            let (each, against) = (charge(*cell_capacity), capacity(*doubt, *family));
            format!(
                "The code says {parallel} in parallel, so that a cell would have {each}. {against}"
            )
        }
        Contradiction::CellsOfCode {
            series,
            parallel: Some(parallel),
            cells,
        } => {
            format!(
                "The code says {series}S{parallel}P, {}; {cells} were counted.",
                counted(series.saturating_mul(*parallel))
            )
        }
        Contradiction::CellsOfCode {
            series,
            parallel: None,
            cells,
        } => not_shared(*cells, &series.to_string(), "as the code says"),
        Contradiction::CellsNotShared { cells, series } => {
            not_shared(*cells, &listed(series), "as the voltage says")
        }
        Contradiction::NoSeries {
            voltage,
            class,
            of_others,
            charged,
        } => no_series(*voltage, *class, of_others, *charged),
    }
}

fn instead(by_voltage: &[u32]) -> String {
    if by_voltage.is_empty() {
        String::new()
    } else {
        format!(
            " By the voltage it would be {} in series.",
            listed(by_voltage)
        )
    }
}

fn not_shared(cells: u32, series: &str, whose: &str) -> String {
    format!(
        "{} were counted, which cannot be shared out evenly over {series} in series, {whose}.",
        counted(cells)
    )
}

fn no_series(
    voltage: Interval,
    class: Option<ClassLetters>,
    of_others: &[u32],
    charged: Option<u32>,
) -> String {
    let cells = class.map_or("lithium-ion", ClassLetters::name);
    let mut text = format!(
        "{} is the nominal voltage of no number of {cells} cells in series.",
        volts(voltage)
    );
    if class.is_some() && !of_others.is_empty() {
        text += &format!(
            " It would be {} in series of cells of another class.",
            listed(of_others)
        );
    }
    if let Some(series) = charged {
        text += &format!(
            " A pack of {series} in series is charged to that voltage: perhaps it is that which the label gives."
        );
    }
    text
}

fn counted(cells: u32) -> String {
    if cells == 1 {
        "1 cell".to_owned()
    } else {
        format!("{cells} cells")
    }
}

/// `14`, `15 or 16`, `14, 15 or 16`.
fn listed(numbers: &[u32]) -> String {
    let words: Vec<String> = numbers.iter().map(u32::to_string).collect();
    match words.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, before)) => format!("{} or {last}", before.join(", ")),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_listed_as_people_say_them() {
        assert_eq!(
            [
                listed(&[]),
                listed(&[14]),
                listed(&[15, 16]),
                listed(&[14, 15, 16])
            ],
            ["", "14", "15 or 16", "14, 15 or 16"]
        );
        assert_eq!([counted(1), counted(2)], ["1 cell", "2 cells"]);
    }
}
