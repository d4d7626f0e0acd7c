//! Reading proposals and rulesets.

use std::io::{self, IsTerminal, Read};
use std::path::Path;

use rules_core::bounds::MOST_BYTES;
use rules_core::document::{Fault, Problem, Syntax};
use rules_core::ruleset::{FilesIn, Library, Rules, read_file};
use rules_core::vetting::Vetting;
use rulesets::proposal::Proposal;
use rulesets::shipped::{FILES, Shipped};

use crate::args::Within;
use crate::terminal::Terminal;

/// The name by which standard input is asked for, and the one that messages use.
pub(crate) const DASH: &str = "-";
const STDIN: &str = "stdin";

/// Loads rulesets together, as one check uses them.
pub(crate) fn rules<S: AsRef<str>>(names: &[S], within: &Within) -> Result<Rules, Vec<Problem>> {
    let names: Vec<&str> = names.iter().map(AsRef::as_ref).collect();
    Rules::load(&names, &*library(within)?, &rulesets::catalogue())
}

/// Loads a ruleset with its examples, to be vetted.
pub(crate) fn vetting(name: &str, within: &Within) -> Result<Vetting, Vec<Problem>> {
    Vetting::load(&[name], &*library(within)?, &rulesets::catalogue())
}

/// Where rulesets are found.
fn library(within: &Within) -> Result<Box<dyn Library>, Vec<Problem>> {
    match &within.folder {
        None => Ok(Box::new(FILES)),
        Some(folder) => match FilesIn::folder(Path::new(folder), Shipped) {
            Ok(library) => Ok(Box::new(library)),
            Err(problem) => Err(vec![problem]),
        },
    }
}

/// Whether a name is that of standard input.
pub(crate) fn is_stdin(name: &Path) -> bool {
    name == Path::new(DASH)
}

/// Reads a proposal from a file, or from standard input by the name `-`. Without rules it is read
/// for its own faults alone.
pub(crate) fn proposal(
    path: &Path,
    rules: Option<&Rules>,
    terminal: &mut Terminal,
) -> Result<Proposal, Vec<Problem>> {
    let (name, bytes, syntax) = if is_stdin(path) {
        (STDIN.into(), stdin(terminal), Syntax::Yaml)
    } else {
        // Of a name that is not UTF-8, messages show what can be shown.
        let name = path.to_string_lossy();
        let syntax = Syntax::of_name(&name);
        (name, read_file(path), syntax)
    };
    let bytes = bytes.map_err(|problem| vec![problem])?;
    match rules {
        Some(rules) => Proposal::read_for(rules, &name, bytes, syntax),
        None => Proposal::read(&name, bytes, syntax),
    }
}

/// Whether a person would have to write the proposal first.
pub(crate) fn is_typed(path: &Path) -> bool {
    is_stdin(path) && io::stdin().is_terminal()
}

/// One byte more than a document may have is enough to see that it is too large.
fn stdin(terminal: &mut Terminal) -> Result<Vec<u8>, Problem> {
    let stdin = io::stdin();
    if stdin.is_terminal() {
        terminal.complain("Reading a proposal from the terminal; end it with Ctrl-D (Ctrl-Z and Enter on Windows).\n");
    }
    let most = u64::try_from(MOST_BYTES)
        .unwrap_or(u64::MAX)
        .saturating_add(1);
    let mut bytes = Vec::new();
    match stdin.lock().take(most).read_to_end(&mut bytes) {
        Ok(_) => Ok(bytes),
        Err(error) => Err(Problem::of_file(
            Fault::Unreadable,
            format!("standard input cannot be read: {error}"),
            "",
        )),
    }
}
