//! `figures`: what can be worked out from proposals.

use std::io;

use rules_core::check::{Options, figures};
use rules_core::document::json_text;
use rules_core::report::text;

use super::each_proposal::{rule, with_rules_for, write_each};
use crate::args::{FiguresArgs, Format};
use crate::exit_status::ExitStatus;
use crate::folder::paths_of;
use crate::terminal::Terminal;

pub(super) fn run(args: &FiguresArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let (width, style) = (terminal.width(), terminal.style());
    let (paths, format) = (paths_of(&args.files), args.form.format);
    let options = Options {
        narrowing: true,
        ..Options::default()
    };
    with_rules_for(
        &args.rules,
        (&paths, format),
        terminal,
        |plans, terminal| {
            write_each((&args.files, format), rule, plans, terminal, |asked| {
                let sheet = figures(asked.rules, asked.proposal, options)?;
                Ok(match format {
                    Format::Json => json_text(&sheet).map_err(io::Error::from),
                    Format::Text => Ok(text::figures(&sheet, width, style)),
                })
            })
        },
    )
}
