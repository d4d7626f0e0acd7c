//! The arguments of `page`.

use std::path::PathBuf;

use super::options::RulesOptions;

#[derive(Debug, clap::Args)]
#[command(after_help = OF_PAGE)]
pub(crate) struct PageArgs {
    /// The folder with the plans and their bench; without it, the one you are in
    #[arg(
        id = "of-plans",
        value_name = "FOLDER",
        default_value = ".",
        hide_default_value = true
    )]
    pub(crate) folder: PathBuf,
    /// Port of this machine to listen on; without it, one that is free
    #[arg(
        long,
        short,
        value_name = "PORT",
        default_value_t = 0,
        hide_default_value = true
    )]
    pub(crate) port: u16,
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
}

const OF_PAGE: &str = "\
The address holds a word that nobody can guess, and is of no use on another machine. Whoever has it can \
change the files of the folder while the page is served: pass it on to nobody.

Examples:
  cellrules page
  cellrules page ~/club --port 8090

Exit status: that of Ctrl-C, which is 130 in most shells; 2 if the folder cannot be read, the port is \
taken, or for wrong usage.";
