//! Colours of a terminal.

use std::io::IsTerminal;

use rules_core::check::Verdict;
use rules_core::report::text::{Plain, Role, Style};

use crate::args::Colours;

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

/// The style for a stream. `Auto` gives colours to a terminal that shows them, unless `NO_COLOR`
/// forbids it.
pub(crate) fn style_for(stream: &impl IsTerminal, colours: Colours) -> &'static dyn Style {
    let coloured = match colours {
        Colours::Always => true,
        Colours::Never => false,
        Colours::Auto => stream.is_terminal() && !forbidden() && !is_dumb(),
    };
    if coloured { &Coloured } else { &Plain }
}

/// The convention of `NO_COLOR`: set, and not empty.
fn forbidden() -> bool {
    std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty())
}

/// A terminal that shows no colours calls itself dumb.
fn is_dumb() -> bool {
    std::env::var_os("TERM").is_some_and(|value| value == "dumb")
}
