//! `plain`: proposals with what they take from their benches written out.

use std::io;

use rules_core::document::{harmless, json_text};

use super::each_proposal::{with_rules_for, write_each};
use crate::args::{Format, PlainArgs};
use crate::exit_status::ExitStatus;
use crate::folder::paths_of;
use crate::terminal::Terminal;

pub(super) fn run(args: &PlainArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let (paths, format) = (paths_of(&args.files), args.form.format);
    with_rules_for(
        &args.rules,
        (&paths, format),
        terminal,
        |plans, terminal| {
            write_each((&args.files, format), document, plans, terminal, |asked| {
                Ok(match format {
                    Format::Json => {
                        json_text(&asked.plan.plain_value(asked.rules)?).map_err(io::Error::from)
                    }
                    Format::Text => Ok(asked.plan.plain_yaml(asked.rules)?),
                })
            })
        },
    )
}

/// Several are the documents of one stream of YAML, each with its file in a comment.
fn document(name: &str, _: bool, _: &Terminal) -> String {
    format!("---\n# {}\n", harmless(name))
}
