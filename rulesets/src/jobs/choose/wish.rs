//! What is wished of a choice.

/// What is wished of a choice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wish {
    /// How many sets are told, at most.
    pub sets: usize,
    /// How much work it takes at most, in checks of a part of a set: a check of a whole set is five of
    /// them, and twenty cells that are put to a part without a check are one.
    pub most_checks: usize,
    /// Whether cells that are in another light are offered.
    pub from_other_lights: bool,
    /// Whether sets that do not pass are told where others do.
    pub not_passing: bool,
}

impl Default for Wish {
    fn default() -> Self {
        Self {
            sets: 5,
            most_checks: 30_000,
            from_other_lights: false,
            not_passing: false,
        }
    }
}
