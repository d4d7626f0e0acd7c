//! The arguments of what is installed beside the command, in a package or a repository.

use std::path::PathBuf;

use clap::ValueEnum;
use clap_complete::Shell;

#[derive(Debug, clap::Args)]
#[command(after_help = OF_COMPLETIONS)]
pub(crate) struct CompletionsArgs {
    /// The shell: `bash`, `elvish`, `fish`, `powershell` or `zsh`
    #[arg(value_enum, value_name = "SHELL", hide_possible_values = true)]
    pub(crate) shell: Shell,
}

#[derive(Debug, clap::Args)]
#[command(after_help = OF_MANUAL)]
pub(crate) struct ManualArgs {
    /// Folder to write all pages to, which is made if it is not there: `cellrules.1`,
    /// `cellrules-check.1` and so on. Without it, the first page goes to standard output
    #[arg(long, short, value_name = "FOLDER")]
    pub(crate) out: Option<PathBuf>,
}

#[derive(Debug, clap::Args)]
#[command(after_help = OF_HOOK)]
pub(crate) struct HookArgs {
    /// Where it runs: `commit`, before each commit, or `server`, on one that builds the repository
    #[arg(value_enum, value_name = "PLACE", hide_possible_values = true)]
    pub(crate) place: HookPlace,
}

/// Where a script runs.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub(crate) enum HookPlace {
    /// Before each commit
    Commit,
    /// On a server that builds the repository
    Server,
}

const OF_HOOK: &str = "\
Examples:
  cellrules hook commit > .git/hooks/pre-commit
  chmod +x .git/hooks/pre-commit
  cellrules hook server > check.sh

Exit status: 0, or 2 for wrong usage.";

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
