//! `cellrules`: checks a proposed use of rescued lithium-ion cells in a light, from the command
//! line.
//!
//! `args` is what can be asked, `usage` says what was asked wrongly, `commands` answers, `input`
//! reads files and standard input, `lines` a stream on all cores, `terminal` writes, `problems`
//! shows what is wrong with input, `outcome` is the exit code.
#![forbid(unsafe_code)]

mod args;
mod commands;
mod dress;
mod input;
mod lines;
mod outcome;
mod problems;
mod terminal;
mod usage;

use std::process::ExitCode;

use clap::Parser;

use crate::args::Args;
use crate::outcome::Outcome;
use crate::terminal::Terminal;

fn main() -> ExitCode {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(asked) => return usage::explain(asked).into(),
    };
    let mut terminal = Terminal::new(args.color, args.width);
    let answered = commands::run(&args.command, &mut terminal)
        .and_then(|outcome| terminal.finish().map(|()| outcome));
    match answered {
        Ok(outcome) => outcome.into(),
        Err(error) => {
            terminal.complain(&format!("error: the output cannot be written: {error}\n"));
            Outcome::BadInput.into()
        }
    }
}
