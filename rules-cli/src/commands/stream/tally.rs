//! Counting the answers.

use std::fmt::Write as _;

use rules_core::check::Verdict;
use rules_core::report::text::counted;

use super::record::Record;
use crate::exit_status::ExitStatus;

/// How many lines got which answer, and the gravest of their statuses.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Tally {
    pass: usize,
    warn: usize,
    refuse: usize,
    unusable: usize,
    blank: usize,
    status: ExitStatus,
}

impl Tally {
    /// Counts an answer. With `strict`, a warning is not accepted.
    pub(super) fn count(&mut self, record: &Record<'_>, strict: bool) {
        match (record.gravest(), record.outcome()) {
            (Some(verdict), Some((whole, stages))) => {
                self.count_verdict(verdict);
                self.set_at_least(ExitStatus::of_check(whole, stages, strict));
            }
            _ => {
                self.unusable += 1;
                self.set_at_least(ExitStatus::BadInput);
            }
        }
    }

    const fn count_verdict(&mut self, verdict: Verdict) {
        match verdict {
            Verdict::Pass => self.pass += 1,
            Verdict::Warn => self.warn += 1,
            Verdict::Refuse => self.refuse += 1,
        }
    }

    /// Counts a blank line, which gets no answer.
    pub(super) const fn count_blank(&mut self) {
        self.blank += 1;
    }

    pub(super) fn add(&mut self, other: Self) {
        self.pass += other.pass;
        self.warn += other.warn;
        self.refuse += other.refuse;
        self.unusable += other.unusable;
        self.blank += other.blank;
        self.set_at_least(other.status);
    }

    /// Makes the status at least as grave as this.
    pub(super) fn set_at_least(&mut self, status: ExitStatus) {
        self.status = self.status.graver(status);
    }

    pub(super) const fn lines(self) -> usize {
        self.pass + self.warn + self.refuse + self.unusable + self.blank
    }

    /// The gravest status of the lines so far.
    pub(super) const fn status(self) -> ExitStatus {
        self.status
    }

    /// The status of a whole stream: one without a proposal is no success.
    pub(super) fn final_status(self) -> ExitStatus {
        if self.nothing_checked() {
            self.status.graver(ExitStatus::NothingChecked)
        } else {
            self.status
        }
    }

    const fn nothing_checked(self) -> bool {
        self.lines() == self.blank
    }

    pub(super) fn in_words(self) -> String {
        let Self {
            pass, warn, refuse, ..
        } = self;
        let lines = counted(self.lines(), "line");
        let mut words = format!("{lines}: {pass} pass, {warn} warn, {refuse} refuse");
        for (count, what) in [(self.unusable, "could not be used"), (self.blank, "blank")] {
            if count > 0 {
                let _ = write!(words, ", {count} {what}");
            }
        }
        if self.nothing_checked() {
            words += "; nothing was checked";
        }
        words
    }
}
