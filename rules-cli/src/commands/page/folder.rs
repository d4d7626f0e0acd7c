//! The files of one folder. No path comes from outside: a name is looked up among those that are there,
//! and a new one is made of plain letters.

use std::fs;
use std::path::{Path, PathBuf};

use rules_core::document::{Fault, Problem, ProblemList, Syntax};
use rules_core::ruleset::{FilesIn, Library, read_file};
use rulesets::bench::{Benches, Plan};
use rulesets::shipped::Shipped;

/// The most files that are looked at.
const MOST_FILES: usize = 500;
/// The most letters of a new name.
const MOST_LETTERS: usize = 60;

/// What a file is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sort {
    Plan,
    Bench,
}

/// A folder whose files are shown and written.
pub(super) struct Folder {
    path: PathBuf,
    real: PathBuf,
    library: FilesIn<Shipped>,
}

impl Folder {
    /// A folder that is there.
    pub(super) fn open(path: &Path) -> Result<Self, Problem> {
        let library = FilesIn::folder(path, Shipped).map_err(|mut problem| {
            problem.help = Some("name the folder with the plans and their bench".to_owned());
            problem
        })?;
        let real = path.canonicalize().map_err(|error| {
            let message = format!("`{}` cannot be read: {error}", path.display());
            Problem::of_file(Fault::Unreadable, message, "name another folder")
        })?;
        Ok(Self {
            path: path.to_owned(),
            real,
            library,
        })
    }

    /// The folder with every link resolved.
    pub(super) fn real(&self) -> &Path {
        &self.real
    }

    /// Reads what is in the folder and nothing else, wherever a name or a link leads.
    pub(super) const fn library(&self) -> &(dyn Library + Sync) {
        &self.library
    }

    /// The names of its documents, in order: files themselves, and no links, which lead anywhere.
    pub(super) fn names(&self) -> Vec<String> {
        let all = fs::read_dir(&self.path).into_iter().flatten().flatten();
        let files = all.filter(|entry| entry.file_type().is_ok_and(|kind| kind.is_file()));
        let names = files.filter_map(|entry| entry.file_name().into_string().ok());
        let mut names: Vec<String> = names
            .filter(|name| !name.starts_with('.') && is_document(name))
            .take(MOST_FILES)
            .collect();
        names.sort();
        names
    }

    /// The path of a document that is there.
    pub(super) fn known(&self, name: &str) -> Option<PathBuf> {
        let is_there = self.names().iter().any(|known| known == name);
        is_there.then(|| self.path.join(name))
    }

    /// The path of a file that may be made: nothing has its name yet.
    pub(super) fn new_path(&self, name: &str, endings: &[&str]) -> Result<PathBuf, Problem> {
        let plain = |letter: char| letter.is_ascii_alphanumeric() || "-_.".contains(letter);
        let stem = endings.iter().find_map(|ending| name.strip_suffix(ending));
        let is_well = name.len() <= MOST_LETTERS
            && name.chars().all(plain)
            && stem.is_some_and(|stem| {
                stem.starts_with(|letter: char| letter.is_ascii_alphanumeric())
                    && !stem.contains("..")
            });
        if !is_well {
            let message = format!("`{name}` is no name for a file here");
            let ending = endings.first().copied().unwrap_or_default();
            let help = format!("use letters, digits and hyphens, and end in `{ending}`");
            return Err(Problem::of_file(Fault::BadName, message, help));
        }
        let path = self.path.join(name);
        if path.symlink_metadata().is_ok() {
            let message = format!("`{name}` is there already");
            return Err(Problem::of_file(
                Fault::DefinedTwice,
                message,
                "choose another name",
            ));
        }
        Ok(path)
    }

    /// The path of a plan that is there, or that may be made.
    pub(super) fn plan_path(&self, name: &str) -> Result<PathBuf, Problem> {
        match self.known(name) {
            Some(path) => Ok(path),
            None => self.new_path(name, &[".yaml", ".yml", ".json"]),
        }
    }

    /// The folder as it was named.
    pub(super) fn shown(&self) -> String {
        self.path.display().to_string()
    }

    /// The names of its benches.
    pub(super) fn benches(&self) -> Vec<String> {
        let all = self.sorted().into_iter();
        all.filter(|(_, sort)| *sort == Sort::Bench)
            .map(|(name, _)| name)
            .collect()
    }

    /// What messages and benches call a file.
    pub(super) fn called(&self, name: &str) -> String {
        self.path.join(name).to_string_lossy().into_owned()
    }

    /// The bytes of a document that is there.
    pub(super) fn read(&self, name: &str) -> Result<Vec<u8>, Problem> {
        match self.known(name) {
            Some(path) => read_file(&path),
            None => {
                let message = format!("there is no file `{name}` in the folder");
                Err(Problem::of_file(
                    Fault::UnknownName,
                    message,
                    "choose one that is listed",
                ))
            }
        }
    }

    /// Its plans and benches, each with what it is. Rulesets are neither, and what cannot be read is
    /// taken for a plan, so that it is told what is wrong.
    pub(super) fn sorted(&self) -> Vec<(String, Sort)> {
        let mut benches = Benches::of(self.library());
        let names = self.names().into_iter();
        let names = names.filter(|name| !name.ends_with(".csv"));
        names
            .filter_map(|name| {
                let sort = self.sort_of(&name, &mut benches)?;
                Some((name, sort))
            })
            .collect()
    }

    fn sort_of(&self, name: &str, benches: &mut Benches<'_>) -> Option<Sort> {
        let plan = self.plan_beside(name, benches);
        match plan.map(|plan| plan.other_than_proposal()) {
            Ok(None) | Err(_) => Some(Sort::Plan),
            Ok(Some("bench")) => Some(Sort::Bench),
            Ok(Some(_)) => None,
        }
    }

    /// The plan of a file, with its bench.
    pub(super) fn plan(&self, name: &str) -> Result<Plan, ProblemList> {
        self.plan_beside(name, &mut Benches::of(self.library()))
    }

    fn plan_beside(&self, name: &str, benches: &mut Benches<'_>) -> Result<Plan, ProblemList> {
        let bytes = self.read(name)?;
        Plan::read(&self.called(name), bytes, Syntax::of_name(name), benches)
    }
}

fn is_document(name: &str) -> bool {
    [".yaml", ".yml", ".json", ".csv"]
        .iter()
        .any(|ending| name.ends_with(ending))
}
