//! Which curve of a class is meant.

/// Which of a class's curves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Curve {
    /// The lowest voltage among the class's sets.
    Lowest,
    /// Their mean.
    Mean,
    /// The highest.
    Highest,
    /// The lowest that a cell of the class may have, by `margin`.
    Floor,
    /// The highest that a cell of the class may have.
    Ceiling,
}
