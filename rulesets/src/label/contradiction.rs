//! Where a label contradicts itself, or the cells that were counted.

use super::code::ClassLetters;
use super::credible::{CapacityDoubt, Family};
use super::pack_reading::{Doubt, Plausible};
use super::search::{Search, shared};
use crate::bounds::MOST_COUNTED;
use rules_core::quantity::{Holds, Interval};

/// A contradiction. No rounding resolves it: no value of the one number goes with any value of the
/// other.
#[derive(Debug, Clone, PartialEq)]
pub enum Contradiction {
    /// Voltage times capacity is not the energy.
    Energy {
        /// What is printed, in watt-hours.
        printed: Interval,
        /// Voltage times capacity, in watt-hours.
        worked: Interval,
    },
    /// The number in series that the code states gives the cells a voltage that such cells do not
    /// have.
    SeriesOfCode {
        /// What the code states.
        series: u32,
        /// The voltage of a cell by it, in volts.
        cell_voltage: Interval,
        /// The voltages that such cells have, in volts.
        nominal: Interval,
        /// The numbers in series that the voltage allows such cells.
        by_voltage: Vec<u32>,
    },
    /// The number in parallel that the code states gives the cells a capacity that no such cell
    /// has.
    ParallelOfCode {
        /// What the code states.
        parallel: u32,
        /// The cells by nominal voltage.
        family: Family,
        /// The capacity of a cell by it, in ampere-hours.
        cell_capacity: Interval,
        /// What speaks against it.
        doubt: CapacityDoubt,
    },
    /// The cells counted are not those of the code.
    CellsOfCode {
        /// What the code states in series.
        series: u32,
        /// What it states in parallel, if it does.
        parallel: Option<u32>,
        /// The cells counted.
        cells: u32,
    },
    /// The cells counted cannot be shared out evenly over any number in series that the voltage
    /// allows.
    CellsNotShared {
        /// The cells counted.
        cells: u32,
        /// The numbers in series.
        series: Vec<u32>,
    },
    /// No number of cells in series has the voltage as its nominal voltage.
    NoSeries {
        /// The voltage of the pack, in volts.
        voltage: Interval,
        /// The class of the cells, if the code says it.
        class: Option<ClassLetters>,
        /// The numbers in series of cells of another class that have it.
        of_others: Vec<u32>,
        /// The number in series that is charged to this voltage, at 4.20 V a cell.
        charged: Option<u32>,
    },
}

/// Charge limit of cobalt and nickel cells, in volts: sheets of ICR18650-26C and INR18650-30Q (read
/// in source).
const CHARGED: f64 = 4.20;

/// All contradictions of what is known.
pub(super) fn all(search: &Search) -> Vec<Contradiction> {
    let of_code = [
        series_of_code(search),
        parallel_of_code(search),
        cells_of_code(search),
    ];
    let found = [energy(search)]
        .into_iter()
        .chain(of_code)
        .chain([of_voltage(search)]);
    found.flatten().collect()
}

fn energy(search: &Search) -> Option<Contradiction> {
    let (printed, worked) = (search.pack.energy?.range, search.pack.worked_energy()?);
    (printed.equals(worked) == Holds::No).then_some(Contradiction::Energy { printed, worked })
}

fn series_of_code(search: &Search) -> Option<Contradiction> {
    let (series, family) = (search.stated_series()?, search.code?.family());
    let (cell_voltage, nominal) = (shared(search.voltage()?, series), family.nominal()?);
    let by_voltage = || search.in_series(family).unwrap_or_default();
    let apart = cell_voltage.equals(nominal) == Holds::No;
    apart.then(|| Contradiction::SeriesOfCode {
        series,
        cell_voltage,
        nominal,
        by_voltage: by_voltage(),
    })
}

fn parallel_of_code(search: &Search) -> Option<Contradiction> {
    let (parallel, family) = (search.stated_parallel()?, search.code?.family());
    let cell_capacity = shared(search.pack.capacity?.range, parallel);
    let doubt = search.credible(family)?.doubt(cell_capacity)?;
    let cannot_be = Doubt::Capacity(doubt).leaves() == Plausible::Implausible;
    cannot_be.then_some(Contradiction::ParallelOfCode {
        parallel,
        family,
        cell_capacity,
        doubt,
    })
}

fn cells_of_code(search: &Search) -> Option<Contradiction> {
    let (series, parallel, cells) = (
        search.stated_series()?,
        search.stated_parallel(),
        search.cells?,
    );
    (!search.agrees(series, parallel)).then_some(Contradiction::CellsOfCode {
        series,
        parallel,
        cells,
    })
}

/// If no code states the series: why no number in series is a reading.
fn of_voltage(search: &Search) -> Option<Contradiction> {
    let voltage = search
        .voltage()
        .filter(|_| search.stated_series().is_none())?;
    let of = |families: &[Family]| -> Vec<u32> {
        families
            .iter()
            .flat_map(|family| search.in_series(*family).unwrap_or_default())
            .collect()
    };
    let series = of(&search.families());
    if series.is_empty() {
        let class = search.code.and_then(|code| code.class);
        let of_others = of(&[Family::CobaltNickel, Family::IronPhosphate]);
        return Some(Contradiction::NoSeries {
            voltage,
            class,
            of_others,
            charged: charged(voltage),
        });
    }
    let cells = search.cells?;
    let none = series.iter().all(|series| !search.agrees(*series, None));
    none.then_some(Contradiction::CellsNotShared { cells, series })
}

fn charged(voltage: Interval) -> Option<u32> {
    let limit = Interval::point(CHARGED);
    let mut fits =
        (1..=MOST_COUNTED).filter(|series| shared(voltage, *series).equals(limit) != Holds::No);
    fits.next().filter(|_| fits.next().is_none())
}
