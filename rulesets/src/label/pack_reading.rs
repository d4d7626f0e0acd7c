//! One arrangement that a label allows, with what speaks against it.

use serde::Serialize;

use super::code::ClassLetters;
use super::credible::{Bound, CapacityDoubt, Family};
use rules_core::quantity::Interval;

/// Whether a reading can be true of real cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Plausible {
    /// Nothing speaks against it.
    Yes,
    /// Its cells are uncommon.
    Suspect,
    /// No such cell exists, or something that was said or counted contradicts it.
    Implausible,
}

/// What speaks against a reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Doubt {
    /// The nominal voltage of a cell would not be one of its family, whose voltages these are.
    Voltage {
        /// The nominal voltages of the family.
        nominal: Interval,
    },
    /// The capacity of a cell would be uncommon, or beyond what a cell can have.
    Capacity(CapacityDoubt),
    /// The cells counted are others than those of the arrangement.
    Cells {
        /// The cells counted.
        cells: u32,
    },
    /// Nothing is known here of the voltage and capacity of cells of the class.
    Class,
}

impl Doubt {
    /// How plausible a reading is with this doubt.
    #[must_use]
    pub const fn leaves(self) -> Plausible {
        match self {
            Self::Voltage { .. } | Self::Cells { .. } => Plausible::Implausible,
            Self::Capacity(CapacityDoubt {
                bound: Bound::AboveAll | Bound::BelowAll,
                ..
            }) => Plausible::Implausible,
            Self::Capacity(_) | Self::Class => Plausible::Suspect,
        }
    }
}

/// One arrangement that a label allows.
#[derive(Debug, Clone, PartialEq)]
pub struct PackReading {
    /// Cells, or groups of cells, in series.
    pub series: u32,
    /// Cells in parallel; none if no capacity, code or count says how many.
    pub parallel: Option<u32>,
    /// The cells by nominal voltage.
    pub family: Family,
    /// The class of the cells, if the code says it.
    pub class: Option<ClassLetters>,
    /// Nominal voltage of a cell by the label, in volts; none where the label gives no voltage.
    pub cell_voltage: Option<Interval>,
    /// Rated capacity of a cell by the label, in ampere-hours; none where the label gives no
    /// capacity, or nothing says how many are in parallel.
    pub cell_capacity: Option<Interval>,
    /// What speaks against it.
    pub doubts: Vec<Doubt>,
}

impl PackReading {
    /// Whether it can be true of real cells: what the gravest doubt leaves.
    #[must_use]
    pub fn plausible(&self) -> Plausible {
        self.doubts
            .iter()
            .map(|doubt| doubt.leaves())
            .max()
            .unwrap_or(Plausible::Yes)
    }

    /// `3S2P`, or `3S` if nothing says how many are in parallel.
    #[must_use]
    pub fn arrangement(&self) -> String {
        self.parallel.map_or_else(
            || format!("{}S", self.series),
            |parallel| format!("{}S{parallel}P", self.series),
        )
    }

    /// How many cells there are.
    #[must_use]
    pub fn cells(&self) -> Option<u32> {
        self.parallel
            .map(|parallel| self.series.saturating_mul(parallel))
    }
}
