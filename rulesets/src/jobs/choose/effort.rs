//! How much work a choice may take: counted in checks, never in time.

/// So many cells that are put to a part of a set without a check are as much work as a check of a part.
const STEPS_OF_A_CHECK: usize = 20;
/// So many checks of parts are as much work as that of a whole set.
const CHECKS_OF_A_WHOLE: usize = 5;

/// The work that may still be done.
#[derive(Debug, Clone, Copy)]
pub(super) struct Effort {
    steps: usize,
}

impl Effort {
    /// As much as so many checks of parts.
    pub(super) const fn of_checks(checks: usize) -> Self {
        Self {
            steps: checks.saturating_mul(STEPS_OF_A_CHECK),
        }
    }

    /// A part of it: one of so many.
    pub(super) const fn one_of(self, parts: usize) -> Self {
        Self {
            steps: self.steps / parts,
        }
    }

    /// Whether no more is left than some that is kept back.
    pub(super) const fn is_spent(self, kept_back: Self) -> bool {
        self.steps <= kept_back.steps
    }

    /// What is left without some.
    pub(super) const fn less(self, other: Self) -> Self {
        Self {
            steps: self.steps.saturating_sub(other.steps),
        }
    }

    /// A cell was put to a part.
    pub(super) const fn step(&mut self) {
        self.steps = self.steps.saturating_sub(1);
    }

    /// A part was checked.
    pub(super) const fn check(&mut self) {
        self.steps = self.steps.saturating_sub(STEPS_OF_A_CHECK);
    }

    /// A whole set was checked.
    pub(super) const fn check_whole(&mut self) {
        self.steps = self
            .steps
            .saturating_sub(STEPS_OF_A_CHECK * CHECKS_OF_A_WHOLE);
    }
}
