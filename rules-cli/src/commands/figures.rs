//! `figures`: what can be worked out from proposals.

use std::io;

use rules_core::check::{Options, figures};
use rules_core::document::json_text;
use rules_core::report::text;
use rulesets::jobs::Trial;
use rulesets::jobs::range::run_time_by_draw;
use rulesets::pages;

use super::each_proposal::{is_several, one_page_each, rule, with_rules_for, write_each};
use crate::args::{FiguresArgs, PageFormat};
use crate::exit_status::ExitStatus;
use crate::folder::paths_of;
use crate::terminal::Terminal;

pub(super) fn run(args: &FiguresArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let (width, style) = (terminal.width(), terminal.style());
    let (paths, format) = (paths_of(&args.files), args.form.format.or_text());
    if args.form.format == PageFormat::Html && is_several(&args.files) {
        return one_page_each(terminal);
    }
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
                Ok(match args.form.format {
                    PageFormat::Json => json_text(&sheet).map_err(io::Error::from),
                    PageFormat::Text => Ok(text::figures(&sheet, width, style)),
                    PageFormat::Html => {
                        let trial = Trial::of(asked.plan, asked.rules, options)?;
                        let run_time = run_time_by_draw(&trial);
                        Ok(pages::figures(&sheet, run_time.as_ref()).document())
                    }
                })
            })
        },
    )
}
