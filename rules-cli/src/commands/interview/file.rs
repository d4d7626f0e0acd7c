//! The file of an interview: what is begun in it, and what is written to it.

use std::path::{Path, PathBuf};

use rules_core::document::{Fault, Problem, ProblemList, Syntax, json_text};
use rules_core::ruleset::read_file;
use rulesets::bench::Plan;
use rulesets::proposal::Draft;
use serde_json::json;

use crate::args::InterviewArgs;
use crate::commands::written_file::{not_written, replace};
use crate::input;
use crate::plans::Plans;
use crate::terminal::Terminal;

/// Where a proposal comes from and where it goes.
pub(super) struct File {
    /// What is gone on with; none, if nothing was begun.
    begun: Option<PathBuf>,
    out: PathBuf,
    /// The bench that is named besides.
    bench: Option<PathBuf>,
}

impl File {
    /// The file of these arguments, if answers can be written there and nothing is lost.
    pub(super) fn of(args: &InterviewArgs) -> Result<Self, Problem> {
        if input::is_stdin(&args.file) {
            return Err(no_file());
        }
        let begun = begun(&args.file)?.then(|| args.file.clone());
        let to = |out: &PathBuf| Self {
            begun: begun.clone(),
            out: out.clone(),
            bench: args.bench.clone(),
        };
        match &args.out {
            Some(out) if out.symlink_metadata().is_ok() => {
                let there = std::io::ErrorKind::AlreadyExists.into();
                Err(not_written(out, &there))
            }
            Some(out) => Ok(to(out)),
            None if begun.is_some() && has_comments(&args.file)? => Err(would_lose(&args.file)),
            None => Ok(to(&args.file)),
        }
    }

    /// Whether what was begun is in another file than what is written.
    pub(super) fn is_copied(&self) -> bool {
        self.begun.as_ref().is_some_and(|begun| *begun != self.out)
    }

    /// What is read at the start.
    pub(super) fn begun(&self) -> &[PathBuf] {
        self.begun.as_slice()
    }

    /// Where answers are written.
    pub(super) fn out(&self) -> &Path {
        &self.out
    }

    /// What is begun, by the name of the file that is written: paths in it start there.
    pub(super) fn draft(
        &self,
        plans: &mut Plans<'_>,
        terminal: &mut Terminal,
    ) -> Result<Draft, ProblemList> {
        let name = input::name_of(&self.out);
        let value = match &self.begun {
            None => json!({ "format": 1 }),
            Some(path) => plans.read(path, terminal)?.plan.draft()?.value().clone(),
        };
        let mut draft = Draft::of(&name, value);
        if let Some(bench) = &self.bench {
            if draft.value().get(BENCH).is_some() {
                return Err(names_one(self.begun()).into());
            }
            draft.set(BENCH, way_from(&self.out, bench))?;
        }
        Ok(draft)
    }

    /// Writes a proposal: YAML, unless the name of the file says JSON.
    pub(super) fn save(&self, draft: &Draft, plan: &Plan) -> Result<(), ProblemList> {
        let name = input::name_of(&self.out);
        let text = match Syntax::of_name(&name) {
            Syntax::Json => {
                json_text(draft.value()).map_err(|error| not_written(&self.out, &error.into()))?
            }
            Syntax::Yaml => plan.yaml()?,
        };
        replace(&self.out, &text).map_err(|error| not_written(&self.out, &error).into())
    }
}

/// Whether something is written in a file. One that is not there is new.
fn begun(path: &Path) -> Result<bool, Problem> {
    match path.symlink_metadata() {
        Err(_) => Ok(false),
        Ok(_) => Ok(!read_file(path)?.trim_ascii().is_empty()),
    }
}

/// Whether a file of YAML may have comments: a `#` at the start of a line or after a space, though it
/// may be in quotes.
fn has_comments(path: &Path) -> Result<bool, Problem> {
    let text = read_file(path)?;
    let before = std::iter::once(&b'\n').chain(&text);
    let is_json = Syntax::of_name(&input::name_of(path)) == Syntax::Json;
    let begins = |(before, letter): (&u8, &u8)| *letter == b'#' && before.is_ascii_whitespace();
    Ok(!is_json && before.zip(&text).any(begins))
}

const BENCH: &str = "bench";

fn names_one(begun: &[PathBuf]) -> Problem {
    let name = begun.first().map(|path| path.display().to_string());
    let message = format!("`{}` names its bench already", name.unwrap_or_default());
    Problem::of_file(Fault::DefinedTwice, message, "leave `--bench` out")
}

/// The path by which a file names another, with slashes on every system.
fn way_from(file: &Path, to: &Path) -> String {
    let folder = match file.parent() {
        Some(folder) if folder != Path::new("") => folder,
        _ => Path::new("."),
    };
    let real = folder.canonicalize().ok().zip(to.canonicalize().ok());
    // What is not there is told by the name that was given.
    let Some((folder, to)) = real else {
        return format!("./{}", to.display());
    };
    let alike = folder.components().zip(to.components());
    let alike = alike.take_while(|(one, other)| one == other).count();
    if alike == 0 {
        return to.display().to_string();
    }
    let up = folder.components().skip(alike).map(|_| "..".to_owned());
    let down = to.components().skip(alike);
    let down = down.map(|part| part.as_os_str().to_string_lossy().into_owned());
    let way = up.chain(down).collect::<Vec<_>>().join("/");
    match way.starts_with("..") {
        true => way,
        false => format!("./{way}"),
    }
}

fn no_file() -> Problem {
    Problem::of_file(
        Fault::Unreadable,
        "an interview writes a file, and `-` is none",
        "name a file, as `my-torch.yaml`",
    )
}

fn would_lose(path: &Path) -> Problem {
    let name = path.display();
    Problem::of_file(
        Fault::Unreadable,
        format!("`{name}` has comments, which the interview cannot keep"),
        "name another file to write to: `--out answered.yaml`",
    )
}
