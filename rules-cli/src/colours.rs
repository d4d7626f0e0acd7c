//! Colours of a terminal.

use anstream::stream::RawStream;
use anstream::{AutoStream, ColorChoice};
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

/// The style for a stream. `Auto` gives colours to a terminal that shows them; the conventions of
/// `NO_COLOR`, `CLICOLOR` and `CLICOLOR_FORCE` are those of the help and the messages for wrong
/// usage.
pub(crate) fn style_for(stream: &impl RawStream, colours: Colours) -> &'static (dyn Style + Sync) {
    let coloured = match colours {
        Colours::Always => true,
        Colours::Never => false,
        Colours::Auto => AutoStream::choice(stream) != ColorChoice::Never,
    };
    if coloured { &Coloured } else { &Plain }
}
