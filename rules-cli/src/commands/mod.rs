//! The commands, a file each, and what several of them need.

mod cases;
mod cautions;
mod changed;
mod check;
mod choose;
mod completions;
mod each_proposal;
mod edited_copies;
mod explain;
mod fact;
mod facts;
mod figures;
mod hook;
mod in_turn;
mod interview;
mod json_array;
mod label;
mod limits;
mod manual;
mod merged;
mod of_a_bench;
#[cfg(feature = "page")]
mod page;
mod plain;
mod progress;
mod prose;
mod range;
mod ruleset;
mod schema;
mod sort;
mod start;
mod stream;
mod tag;
mod told;
mod vet;
mod with_rules;
mod written_file;

use std::io;

use crate::args::Command;
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

/// Does what is asked.
pub(crate) fn run(command: &Command, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    if let Some(Err(problem)) = command.out().map(|path| terminal.write_to(path)) {
        terminal.report_problems(&[problem]);
        return Ok(ExitStatus::BadInput);
    }
    match command {
        Command::Start(args) => start::run(args, terminal),
        Command::Interview(args) => interview::run(args, terminal),
        #[cfg(feature = "page")]
        Command::Page(args) => page::run(args, terminal),
        Command::Check(args) => check::run(args, terminal),
        Command::Changed(args) => changed::run(args, terminal),
        Command::Range(args) => range::run(args, terminal),
        Command::Sort(args) => sort::run(args, terminal),
        Command::Tag(args) => tag::run(args, terminal),
        Command::Choose(args) => choose::run(args, terminal),
        Command::Plain(args) => plain::run(args, terminal),
        Command::Figures(args) => figures::run(args, terminal),
        Command::Label(args) => label::run(args, terminal),
        Command::Stream(args) => stream::run(args, terminal),
        Command::Prose(args) => prose::run(args, terminal),
        Command::Cautions(args) => cautions::run(args, terminal),
        Command::Explain(args) => explain::run(args, terminal),
        Command::Facts(args) => facts::run(args, terminal),
        Command::Limits(args) => limits::run(args, terminal),
        Command::Vet(args) => vet::run(args, terminal),
        Command::Cases(args) => cases::run(args, terminal),
        Command::Ruleset(args) => ruleset::run(args, terminal),
        Command::Merged(args) => merged::run(args, terminal),
        Command::Schema(args) => schema::run(args, terminal),
        Command::Hook(args) => hook::run(args, terminal),
        Command::Completions(args) => completions::run(args, terminal),
        Command::Manual(args) => manual::run(args, terminal),
    }
}
