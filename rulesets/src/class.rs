//! The classes of cells that the model tells apart, by the letters of IEC 61960 and the trade.

/// A class of cells by its positive electrode.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Class {
    /// Cobalt oxide: most laptop cells.
    Icr,
    /// Nickel-rich oxides (NMC, NCA).
    Inr,
    /// Manganese spinel and its mixtures with nickel oxides. There is no curve of its own: see
    /// `ocv`.
    Imr,
    /// Iron phosphate.
    Ifr,
}

impl Class {
    /// Every class.
    pub const ALL: [Self; 4] = [Self::Icr, Self::Inr, Self::Imr, Self::Ifr];

    const fn bit(self) -> u8 {
        1 << self as u8
    }

    /// Whether the cell is charged to about 4.2 V, not to 3.6 V.
    #[must_use]
    pub const fn is_four_volt(self) -> bool {
        !matches!(self, Self::Ifr)
    }
}

/// The classes that a cell may be of: one where it is known, several where it is not. Never empty.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Classes(u8);

impl Classes {
    /// Every class that has a curve.
    pub const ALL: Self = Self(0b1111);

    /// The one class.
    #[must_use]
    pub const fn of(class: Class) -> Self {
        Self(class.bit())
    }

    /// The classes given, or none if none is given.
    #[must_use]
    pub fn collect(classes: impl IntoIterator<Item = Class>) -> Option<Self> {
        let bits = classes
            .into_iter()
            .fold(0, |bits, class| bits | class.bit());
        (bits != 0).then_some(Self(bits))
    }

    /// The classes of either set.
    #[must_use]
    pub const fn or(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Whether the class is among them.
    #[must_use]
    pub const fn contains(self, class: Class) -> bool {
        self.0 & class.bit() != 0
    }

    /// Whether every class of the other set is among them.
    #[must_use]
    pub const fn encloses(self, other: Self) -> bool {
        self.0 & other.0 == other.0
    }

    /// Whether there is only one.
    #[must_use]
    pub const fn is_single(self) -> bool {
        self.0.is_power_of_two()
    }

    /// The classes, in a fixed order.
    pub fn iter(self) -> impl Iterator<Item = Class> {
        Class::ALL
            .into_iter()
            .filter(move |class| self.contains(*class))
    }

    /// The hull of what `work` gives for each class.
    pub(crate) fn hull(
        self,
        work: impl FnMut(Class) -> rules_core::quantity::Interval,
    ) -> rules_core::quantity::Interval {
        self.iter()
            .map(work)
            .reduce(rules_core::quantity::Interval::hull)
            .unwrap_or(rules_core::quantity::Interval::WHOLE)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_set_holds_what_it_was_made_of() {
        let set = Classes::of(Class::Inr).or(Classes::of(Class::Ifr));
        assert_eq!(set.iter().collect::<Vec<_>>(), [Class::Inr, Class::Ifr]);
        assert!(!set.is_single() && !set.contains(Class::Icr));
        assert!(Classes::ALL.encloses(set) && !set.encloses(Classes::ALL));
        assert_eq!(Classes::collect(Class::ALL), Some(Classes::ALL));
        assert_eq!(Classes::collect([]), None);
    }
}
