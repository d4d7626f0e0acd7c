//! `completions`: what a shell completes.

use std::io;

use clap::CommandFactory;
use clap_complete::generate;

use crate::args::{Args, CompletionsArgs};
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

pub(super) fn run(args: &CompletionsArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let mut command = Args::command();
    let name = command.get_name().to_owned();
    // Written into memory, because the library cannot say that a file could not be written.
    let mut script = Vec::new();
    generate(args.shell, &mut command, name, &mut script);
    terminal.write(&String::from_utf8_lossy(&script))?;
    Ok(ExitStatus::Success)
}
