//! Reading proposals and rulesets.

use std::borrow::Cow;
use std::io::{self, IsTerminal, Read};
use std::path::Path;

use rules_core::bounds::MOST_BYTES;
use rules_core::document::{Fault, Problem, ProblemList, Syntax};
use rules_core::ruleset::{FilesIn, Library, Rules, read_file};
use rules_core::vetting::Vetting;
use rulesets::bench::{Benches, Plan};
use rulesets::shipped::{FILES, Shipped};

use crate::args::RulesWithin;
use crate::terminal::Terminal;

/// The name by which users ask for standard input.
pub(crate) const DASH: &str = "-";
/// What is asked of whoever types a proposal.
pub(crate) const PROPOSAL: &str = "a proposal";
/// The name of standard input in messages about a place in it.
const STDIN: &str = "stdin";

/// Loads rulesets that apply together.
pub(crate) fn load_rules(names: &[String], within: &RulesWithin) -> Result<Rules, ProblemList> {
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    Rules::load(&names, &*library(within)?, &rulesets::catalogue())
}

/// Loads a ruleset with its cases, to vet it or to run them.
pub(crate) fn load_for_vetting(name: &str, within: &RulesWithin) -> Result<Vetting, ProblemList> {
    Vetting::load(&[name], &*library(within)?, &rulesets::catalogue())
}

/// Where rulesets are looked for.
pub(crate) fn library(within: &RulesWithin) -> Result<Box<dyn Library>, ProblemList> {
    match &within.folder {
        None => Ok(Box::new(FILES)),
        Some(folder) => match FilesIn::folder(Path::new(folder), Shipped) {
            Ok(library) => Ok(Box::new(library)),
            Err(problem) => Err(problem.into()),
        },
    }
}

/// Whether a path asks for standard input.
pub(crate) fn is_stdin(path: &Path) -> bool {
    path == Path::new(DASH)
}

/// Reads a proposal from a file, or from standard input if the path is `-`, with the bench that it
/// names.
pub(crate) fn read_plan(
    path: &Path,
    benches: &mut Benches<'_>,
    terminal: &mut Terminal,
) -> Result<Plan, ProblemList> {
    plan_of(path, read_bytes(path, PROPOSAL, terminal)?, benches)
}

/// The proposal of a text, with the bench that it names.
pub(crate) fn plan_of(
    path: &Path,
    bytes: Vec<u8>,
    benches: &mut Benches<'_>,
) -> Result<Plan, ProblemList> {
    let name = name_of(path);
    let syntax = if is_stdin(path) {
        Syntax::Yaml
    } else {
        Syntax::of_name(&name)
    };
    Plan::read(&name, bytes, syntax, benches)
}

/// Whether a bench can be named in a text.
pub(crate) fn may_name_bench(bytes: &[u8]) -> bool {
    let mut after_each_b = bytes.split(|byte| *byte == b'b').skip(1);
    after_each_b.any(|rest| rest.starts_with(b"ench"))
}

/// Reads a file, or standard input if the path is `-`; `what` is asked of whoever types it.
pub(crate) fn read_bytes(
    path: &Path,
    what: &str,
    terminal: &mut Terminal,
) -> Result<Vec<u8>, Problem> {
    if is_stdin(path) {
        read_stdin(what, terminal)
    } else {
        read_file(path)
    }
}

/// What messages call the proposal of a path.
pub(crate) fn name_of(path: &Path) -> Cow<'_, str> {
    if is_stdin(path) {
        STDIN.into()
    } else {
        // If a name is not UTF-8, messages show what can be shown of it.
        path.to_string_lossy()
    }
}

/// Whether a person would have to write the proposal first.
pub(crate) fn is_typed(path: &Path) -> bool {
    is_stdin(path) && io::stdin().is_terminal()
}

fn read_stdin(what: &str, terminal: &mut Terminal) -> Result<Vec<u8>, Problem> {
    let stdin = io::stdin();
    if stdin.is_terminal() {
        terminal.message(&format!(
            "Type or paste {what}, then press Ctrl-D (on Windows Ctrl-Z and Enter).\n"
        ));
    }
    // One byte more than a document may have is enough to see that it is too large.
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
