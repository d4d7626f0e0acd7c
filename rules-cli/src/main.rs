//! `cellrules`: checks a proposed use of rescued lithium-ion cells in a light, from the command
//! line.
//!
//! `args` has the arguments and the help, `usage` says what is wrong with arguments, `commands`
//! does what is asked, `input` reads files and standard input, `folder` finds the files of folders,
//! `plans` proposals with their benches, `lines` works on a stream with all cores, `crew` on one
//! thing after the other, `terminal` writes in `colours`, `problems` shows what is wrong with input,
//! `exit_status` is how it ends.
#![forbid(unsafe_code)]

mod args;
mod colours;
mod commands;
mod crew;
mod exit_status;
mod folder;
mod input;
mod lines;
mod plans;
mod problems;
mod terminal;
mod usage;

use std::process::ExitCode;

use clap::Parser;

use crate::args::Args;
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

fn main() -> ExitCode {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(error) => return usage::explain(error).into(),
    };
    let mut terminal = Terminal::new(args.color, args.width);
    let ended = commands::run(&args.command, &mut terminal)
        .and_then(|status| terminal.finish().map(|()| status));
    match ended {
        Ok(status) => status.into(),
        Err(error) => {
            terminal.message(&format!("error: the output cannot be written: {error}\n"));
            ExitStatus::BadInput.into()
        }
    }
}
