//! How far a long run has come, for somebody who waits at a terminal.

use std::io::{self, IsTerminal};
use std::time::{Duration, Instant};

use crate::terminal::Terminal;

/// How often it is shown.
const INTERVAL: Duration = Duration::from_millis(200);

/// Results on the same terminal show it better.
fn is_wanted() -> bool {
    io::stderr().is_terminal() && !io::stdout().is_terminal()
}

/// A line that is written over and over again.
pub(super) struct Progress {
    /// When it was last shown; none if messages do not go to a terminal.
    shown: Option<Instant>,
}

impl Progress {
    pub(super) fn new() -> Self {
        Self {
            shown: is_wanted().then(Instant::now),
        }
    }

    /// Shows a text, unless one was shown just now.
    pub(super) fn show(&mut self, text: impl FnOnce() -> String, terminal: &mut Terminal) {
        if self.shown.is_some_and(|last| last.elapsed() >= INTERVAL) {
            self.shown = Some(Instant::now());
            terminal.message(&format!("\r{}", text()));
        }
    }

    /// What brings the next message to the start of the line.
    pub(super) const fn line_start(&self) -> &'static str {
        if self.shown.is_some() { "\r" } else { "" }
    }
}
