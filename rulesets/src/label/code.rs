//! What a designation code says: always of the cells, and of the pack if it has counts.

use serde::Serialize;

use super::credible::{Family, Size};
use super::printed::Label;
use rules_core::characters::trimmed;

use crate::designation::{Designation, DesignationFault};

/// The class of a cell by the letters of its designation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Class"))]
#[serde(rename_all = "UPPERCASE")]
pub enum ClassLetters {
    /// Cobalt.
    Icr,
    /// Nickel.
    Inr,
    /// Manganese.
    Imr,
    /// Iron phosphate.
    Ifr,
    /// Vanadium.
    Ivr,
    /// Titanium.
    Itr,
}

/// In the order of [`Designation::class_position`].
const CLASSES: [ClassLetters; 6] = [
    ClassLetters::Icr,
    ClassLetters::Inr,
    ClassLetters::Imr,
    ClassLetters::Ifr,
    ClassLetters::Ivr,
    ClassLetters::Itr,
];

impl ClassLetters {
    /// Its letters.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Icr => "ICR",
            Self::Inr => "INR",
            Self::Imr => "IMR",
            Self::Ifr => "IFR",
            Self::Ivr => "IVR",
            Self::Itr => "ITR",
        }
    }

    /// The cells it belongs to by nominal voltage.
    #[must_use]
    pub const fn family(self) -> Family {
        match self {
            Self::Icr | Self::Inr | Self::Imr => Family::CobaltNickel,
            Self::Ifr => Family::IronPhosphate,
            Self::Ivr | Self::Itr => Family::Other,
        }
    }
}

/// A code, read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Code {
    pub(super) class: Option<ClassLetters>,
    pub(super) size: Size,
    /// Cells in series, where the code states them.
    pub(super) series: Option<u32>,
    /// Cells in parallel, where the code states them.
    pub(super) parallel: Option<u32>,
}

impl Code {
    /// Reads a code. The standard's form states series and parallel as soon as it has one of the
    /// two counts, since it leaves out a single one: `3INR19/66` has one in parallel. With neither
    /// it is the code of the cells and says nothing of the pack. The trade's form has no count in
    /// parallel, so it states at most the series.
    pub(super) fn read(text: &str) -> Result<Self, DesignationFault> {
        let found = Designation::parse(text)?;
        let is_standard = text.contains('/');
        let leads = trimmed(text).starts_with(|letter: char| letter.is_ascii_digit());
        let has_counts = leads || found.parallel > 1;
        Ok(Self {
            class: CLASSES.get(found.class_position()).copied(),
            size: Size {
                diameter: found.size.diameter.0,
                length: found.size.length.0,
            },
            series: has_counts.then_some(found.series),
            parallel: (has_counts && is_standard).then_some(found.parallel),
        })
    }

    pub(super) const fn family(self) -> Family {
        match self.class {
            Some(class) => class.family(),
            None => Family::Other,
        }
    }
}

/// Whether the code of a label states how many cells are in parallel.
#[must_use]
pub fn states_parallel(label: &Label<'_>) -> bool {
    let code = label.code.and_then(|code| Code::read(code).ok());
    code.is_some_and(|code| code.parallel.is_some())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn counts(text: &str) -> (Option<u32>, Option<u32>) {
        let code = Code::read(text).unwrap();
        (code.series, code.parallel)
    }

    /// IEC 61960, clause 5.1, second-hand: the count in parallel is written from 2.
    #[test]
    fn the_standard_form_states_both_counts_or_none() {
        assert_eq!(counts("3INR19/66-2"), (Some(3), Some(2)));
        assert_eq!(counts("3INR19/66"), (Some(3), Some(1)));
        assert_eq!(counts("INR19/66-2"), (Some(1), Some(2)));
        assert_eq!(counts(" 1INR19/66 "), (Some(1), Some(1)));
        assert_eq!(counts("INR19/66"), (None, None));
    }

    #[test]
    fn the_trade_form_states_the_series_at_most() {
        assert_eq!(counts("3ICR18650"), (Some(3), None));
        assert_eq!(counts("ICR18650"), (None, None));
    }

    #[test]
    fn letters_give_the_class() {
        let class = |text: &str| Code::read(text).unwrap().class.map(ClassLetters::name);
        let all = ["ICR", "INR", "IMR", "IFR", "IVR", "ITR"];
        assert_eq!(
            all.map(|letters| class(&format!("{letters}18650"))),
            all.map(Some)
        );
        assert_eq!(class("IFpR19/66"), Some("IFR"));
    }
}
