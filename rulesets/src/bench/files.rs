//! The texts of a bench: its own, and those of its tables. They are found by the library that the
//! caller gives, and tables in the folder of the bench or below it alone.

use std::path::{Component, Path};
use std::sync::Arc;

use rules_core::document::{Fault, Problem, Source, source};
use rules_core::ruleset::{Library, Text};

/// A table that was found.
pub(super) struct Found {
    pub source: Arc<Source>,
    /// What it is, by whatever name it was found.
    pub identity: Arc<str>,
}

/// The bench of a name.
///
/// # Errors
///
/// A problem without a place: there is none, or it cannot be read.
pub(super) fn bench(
    name: &str,
    from: Option<&str>,
    library: &dyn Library,
) -> Result<Text, Problem> {
    library.find(name, from).map_err(|problem| {
        let help = "name a bench by its path, such as `./bench.yaml`";
        in_other_words(problem, format!("there is no bench `{name}`"), help)
    })
}

/// The text of a table that a bench names.
///
/// # Errors
///
/// A problem without a place: the path leads out of the folder of the bench, there is nothing, or it
/// cannot be read.
pub(super) fn table(
    path: &str,
    bench: &Text,
    library: &dyn Library,
) -> Result<Found, Vec<Problem>> {
    let text = beside(path, bench, library).map_err(|problem| vec![problem])?;
    let identity = Arc::from(library.identity(&text));
    if *identity == *library.identity(bench) {
        let help = "name a table of CSV";
        return Err(vec![Problem::of_file(
            Fault::Cycle,
            format!("`{path}` is the bench itself"),
            help,
        )]);
    }
    let name = text.name.strip_prefix("./").unwrap_or(&text.name);
    let source = source(name, text.bytes.into_owned());
    let source = source
        .map(Arc::new)
        .map_err(|problems| problems.into_vec())?;
    Ok(Found { source, identity })
}

/// A text beside the bench or below it.
fn beside(path: &str, bench: &Text, library: &dyn Library) -> Result<Text, Problem> {
    let outside = || {
        Problem::of_file(
            Fault::Unreadable,
            format!("`{path}` is no file in the folder of the bench"),
            "a bench reads only files in its own folder or below it",
        )
    };
    if !stays_below(path) {
        return Err(outside());
    }
    let found = library.find(&format!("./{path}"), Some(&bench.name));
    let found = found.map_err(|problem| {
        let message = format!("there is no file `{path}` beside the bench");
        in_other_words(problem, message, "check the path")
    })?;
    // Links lead where they like.
    let folder = folder_of(&library.identity(bench));
    let is_inside = library.identity(&found).starts_with(&folder);
    if is_inside { Ok(found) } else { Err(outside()) }
}

/// Whether a path has no way up: `./cells.csv`, `spring/cells.csv`.
pub(super) fn stays_below(path: &str) -> bool {
    let below = |part: Component<'_>| matches!(part, Component::CurDir | Component::Normal(_));
    !path.contains(['\\', ':']) && Path::new(path).components().all(below)
}

/// The start that the identities of all files in the same folder have.
fn folder_of(identity: &str) -> String {
    let end = identity.rfind(['/', '\\']).map_or(0, |at| at + 1);
    identity.get(..end).unwrap_or_default().to_owned()
}

/// What a library says of a name it does not know is about rulesets.
fn in_other_words(problem: Problem, message: String, help: &str) -> Problem {
    if problem.fault != Fault::UnknownRuleset {
        return problem;
    }
    let near = problem.help.filter(|help| help.starts_with("did you mean"));
    Problem::of_file(
        Fault::UnknownName,
        message,
        near.unwrap_or_else(|| help.to_owned()),
    )
}
