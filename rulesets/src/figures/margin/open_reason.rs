//! Why a figure is open towards its cautious side, and which test would close it.

/// Why a figure is open towards its cautious side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OpenReason {
    /// The capacity test cannot be of such a cell: its charge, current and end voltage do not fit
    /// the class and the resistance. A new capacity test closes it.
    DoubtfulTest,
    /// The cell is or may be colder than the model reaches. A capacity test at that temperature and
    /// current closes it.
    Cold,
    /// The cell is or may be hotter than the model reaches. A capacity test at that temperature
    /// closes it.
    Hot,
    /// The draw is or may be faster than any cell of the class is known to bear. A capacity test at
    /// that current closes it.
    Fast,
    /// The capacity is known only at a much slower rate than that of the draw, and cells differ
    /// there. A capacity test at the draw's current closes it.
    SlowTest,
    /// The end voltage lies, or may lie, within the sag at the start: the light may stop at once. A
    /// capacity test at that current to that voltage closes it.
    EarlyEnd,
    /// Some cell of a string is or may be driven into reversal before the string ends. An end
    /// voltage for each cell, or cells of equal capacity, close it.
    Reversal,
}

impl OpenReason {
    /// In words, with the test that would close it.
    pub(in crate::figures) const fn sentence(self) -> &'static str {
        match self {
            Self::EarlyEnd => {
                "the light's end voltage may be within the sag at the start; a capacity test at about the light's current to that voltage would close it"
            }
            Self::Reversal => {
                "a cell may be reversed before the string ends; an end voltage for each cell, or cells of equal capacity, would close it"
            }
            Self::DoubtfulTest => {
                "the capacity test does not fit such a cell with such a resistance; a new test, with its current and end voltage, would close it"
            }
            Self::Cold => {
                "the model does not cover so low a temperature; a capacity test at that temperature and current would close it"
            }
            Self::Hot => {
                "the model does not cover so high a temperature; a capacity test at that temperature and current would close it"
            }
            Self::Fast => {
                "the draw is higher than the model covers; a capacity test at that current would close it"
            }
            Self::SlowTest => {
                "the capacity is known only at a much slower rate; a capacity test at about the light's current would close it"
            }
        }
    }
}
