//! `hook`: scripts that check what a repository holds.

use std::io;

use crate::args::{HookArgs, HookPlace};
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

pub(super) fn run(args: &HookArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    terminal.write(match args.place {
        HookPlace::Commit => include_str!("../../hooks/commit.sh"),
        HookPlace::Server => include_str!("../../hooks/server.sh"),
    })?;
    Ok(ExitStatus::Success)
}
