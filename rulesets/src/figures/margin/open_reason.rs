//! Why a figure is open towards its cautious side.

/// Why a figure is open towards its cautious side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OpenReason {
    /// The capacity test cannot be of such a cell: its charge, current and end voltage do not fit
    /// the class and the resistance.
    DoubtfulTest,
    /// The cell is or may be colder than the model reaches.
    Cold,
    /// The cell is or may be hotter than the model reaches.
    Hot,
    /// The draw is or may be faster than any cell of the class is known to bear.
    Fast,
    /// The capacity is known only at a much slower rate than that of the draw, and cells differ
    /// there.
    SlowTest,
    /// The end voltage lies, or may lie, within the sag at the start: the light may stop at once.
    EarlyEnd,
    /// Some cell of a string is or may be driven into reversal before the string ends. An end
    /// voltage for each cell, or cells of equal capacity, close it.
    Reversal,
}

impl OpenReason {
    /// In words. What would close it is found by trying, in `questions`.
    pub(in crate::figures) const fn sentence(self) -> &'static str {
        match self {
            Self::EarlyEnd => "the light's end voltage may lie within the sag at the start",
            Self::Reversal => {
                "a cell may be reversed before the string ends; an end voltage for each cell, or cells of equal capacity, would close it"
            }
            Self::DoubtfulTest => {
                "the capacity test does not fit such a cell with such a resistance"
            }
            Self::Cold => "the model does not reach so cold",
            Self::Hot => "the model does not reach so hot",
            Self::Fast => "the draw is faster than the model reaches",
            Self::SlowTest => "the capacity is known only at a much slower rate",
        }
    }
}
