//! The arguments of what a package installs beside the command.

use std::path::PathBuf;

use clap_complete::Shell;

/// Print completions of commands and options for a shell
///
/// Give it to the shell when it starts, or put it where it looks for completions.
#[derive(Debug, clap::Args)]
#[command(after_help = OF_COMPLETIONS)]
pub(crate) struct CompletionsArgs {
    /// The shell: `bash`, `elvish`, `fish`, `powershell` or `zsh`
    #[arg(value_enum, value_name = "SHELL", hide_possible_values = true)]
    pub(crate) shell: Shell,
}

/// Print the page of the manual, or write one for each command
///
/// A page says what `--help` says, for `man`.
#[derive(Debug, clap::Args)]
#[command(after_help = OF_MANUAL)]
pub(crate) struct ManualArgs {
    /// Folder to write all pages to, which is made if it is not there: `cellrules.1`,
    /// `cellrules-check.1` and so on. Without it, the first page goes to standard output
    #[arg(long, short, value_name = "FOLDER")]
    pub(crate) out: Option<PathBuf>,
}

const OF_COMPLETIONS: &str = "\
Examples:
  cellrules completions bash > cellrules.bash
  cellrules completions zsh > _cellrules

Exit status: 0, or 2 for wrong usage.";

const OF_MANUAL: &str = "\
Examples:
  cellrules manual | man -l -
  cellrules manual -o man1

Exit status: 0, or 2 if a page cannot be written, or for wrong usage.";
