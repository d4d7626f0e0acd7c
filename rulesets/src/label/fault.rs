//! Why a label cannot be decoded.

use super::code::ClassLetters;
use super::printed::Printed;
use crate::bounds::{MOST_CELLS, MOST_COUNTED};
use crate::designation::DesignationFault;

/// Why a label cannot be decoded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum LabelFault {
    /// A number is zero, negative, or so loosely known that it could be.
    #[error("the {0} is not surely above zero")]
    NotPositive(Printed),
    /// A number is infinite, or too large or too small for a label.
    #[error("the {0} is too large or too small for a label")]
    OutOfReach(Printed),
    /// The code cannot be read.
    #[error("the code is no designation: {0}")]
    Code(DesignationFault),
    /// No pack has so many cells.
    #[error("`{0}` is no number of cells of a pack")]
    Cells(u32),
    /// Neither a voltage nor a code says how many cells are in series.
    #[error("nothing says how many cells are in series")]
    NoVoltage,
    /// The nominal voltage of cells of the code's class is not known here.
    # [error("the nominal voltage of {} cells is not known here, so the voltage does not say how
    # many are in series", .0.name())]
    ClassUnknown(ClassLetters),
    /// The voltage or the capacity is so high, or so loosely known, that it could be of more cells
    /// than are counted.
    #[error("the {0} could be of more than {MOST_COUNTED} cells {joined}", joined = joined(*.0))]
    TooMany(Printed),
}

impl LabelFault {
    /// What was expected, and how to correct it.
    #[must_use]
    pub fn help(self) -> String {
        match self {
            Self::NotPositive(printed) => format!("write the {printed} as the label has it, such as `{}`", example(printed)),
            Self::OutOfReach(printed) => {
                format!("it must be between a millionth and a million in {}; check the unit and the exponent", unit(printed))
            }
            Self::Code(_) => "write it as `3INR19/66-2`, or that of the cells as `ICR18650`; leave it out if the label has none".to_owned(),
            Self::Cells(_) => format!("write how many cells were counted, 1 to {MOST_CELLS}, or leave it out"),
            Self::NoVoltage => "give the voltage, or energy and capacity, or a code with its counts such as `3INR19/66-2`".to_owned(),
            Self::ClassUnknown(_) => "give the code of the pack with its counts, such as `3IVR19/66-2`".to_owned(),
            Self::TooMany(Printed::Voltage) => "check the unit; give it with more digits, or give the code of the pack".to_owned(),
            Self::TooMany(_) => "check the unit; give it with more digits, or count the cells".to_owned(),
        }
    }

    /// The number it is about, if it is about one.
    #[must_use]
    pub const fn printed(self) -> Option<Printed> {
        match self {
            Self::NotPositive(printed) | Self::OutOfReach(printed) | Self::TooMany(printed) => {
                Some(printed)
            }
            Self::Code(_) | Self::Cells(_) | Self::NoVoltage | Self::ClassUnknown(_) => None,
        }
    }
}

const fn joined(printed: Printed) -> &'static str {
    match printed {
        Printed::Voltage => "in series",
        Printed::Capacity | Printed::Energy => "in parallel",
    }
}

const fn example(printed: Printed) -> &'static str {
    match printed {
        Printed::Voltage => "14.8 V",
        Printed::Capacity => "4.4 Ah",
        Printed::Energy => "65 Wh",
    }
}

const fn unit(printed: Printed) -> &'static str {
    match printed {
        Printed::Voltage => "V",
        Printed::Capacity => "Ah",
        Printed::Energy => "Wh",
    }
}
