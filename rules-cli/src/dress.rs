//! Colours of a terminal.

use std::io::IsTerminal;

use rules_core::check::Verdict;
use rules_core::report::text::{Plain, Role, Style};

use crate::args::When;

const END: &str = "\u{1b}[0m";

/// Select Graphic Rendition codes of ECMA-48.
#[derive(Debug, Clone, Copy)]
struct Coloured;

impl Style for Coloured {
    fn around(&self, role: Role) -> (&'static str, &'static str) {
        match role {
            Role::Text => ("", ""),
            Role::Verdict(Verdict::Refuse) => ("\u{1b}[1;31m", END),
            Role::Verdict(Verdict::Warn) => ("\u{1b}[1;33m", END),
            Role::Verdict(Verdict::Pass) => ("\u{1b}[1;32m", END),
            Role::Heading => ("\u{1b}[1m", END),
            Role::Label => ("\u{1b}[36m", END),
            Role::Quiet => ("\u{1b}[2m", END),
        }
    }
}

/// The dress for a stream: colours if asked for, or by default if it is a terminal that knows them
/// and nothing says otherwise.
pub(crate) fn dress(when: When, stream: &impl IsTerminal) -> &'static dyn Style {
    let coloured = match when {
        When::Always => true,
        When::Never => false,
        When::Auto => stream.is_terminal() && !no_color() && !is_dumb(),
    };
    if coloured { &Coloured } else { &Plain }
}

/// The convention of `NO_COLOR`: set, and not empty.
fn no_color() -> bool {
    std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty())
}

fn is_dumb() -> bool {
    std::env::var_os("TERM").is_some_and(|value| value == "dumb")
}
