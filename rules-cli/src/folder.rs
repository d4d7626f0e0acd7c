//! Folders among the files that are asked for.

use std::path::{Path, PathBuf};

use rules_core::document::{Fault, Problem};

/// How the names of files end that can be proposals.
const ENDINGS: [&str; 3] = ["yaml", "yml", "json"];

/// What a path among those that are asked for means.
#[derive(Debug)]
pub(crate) enum Asked {
    /// The file that it names.
    File(PathBuf),
    /// A file of the folder that it names, in which others stand than proposals.
    OfFolder(PathBuf),
    /// Nothing: what is wrong with the folder that it names.
    Nothing(PathBuf, Problem),
}

impl Asked {
    /// The file, or the folder where there is none.
    pub(crate) fn path(&self) -> &Path {
        match self {
            Self::File(path) | Self::OfFolder(path) | Self::Nothing(path, _) => path,
        }
    }
}

/// The files that paths mean, in their order. A folder means those of its files that can be
/// proposals, by name, and none below it.
pub(crate) fn files_of(paths: &[PathBuf]) -> Vec<Asked> {
    let mut all = Vec::new();
    for path in paths {
        if !path.is_dir() {
            all.push(Asked::File(path.clone()));
            continue;
        }
        match within(path) {
            Ok(files) => all.extend(files.into_iter().map(Asked::OfFolder)),
            Err(problem) => all.push(Asked::Nothing(path.clone(), problem)),
        }
    }
    all
}

/// The paths of these files.
pub(crate) fn paths_of(paths: &[PathBuf]) -> Vec<PathBuf> {
    let files = files_of(paths).into_iter();
    files.map(|file| file.path().to_owned()).collect()
}

fn within(folder: &Path) -> Result<Vec<PathBuf>, Problem> {
    let shown = folder.display();
    let entries = std::fs::read_dir(folder).and_then(Iterator::collect::<Result<Vec<_>, _>>);
    let entries = entries.map_err(|_| {
        let message = format!("the folder `{shown}` cannot be read");
        Problem::of_file(Fault::Unreadable, message, "check that you may read it")
    })?;
    let mut files: Vec<PathBuf> = entries
        .into_iter()
        .map(|entry| shortened(entry.path()))
        .filter(|path| can_be_proposal(path))
        .collect();
    files.sort();
    if files.is_empty() {
        let message = format!("`{shown}` is a folder without proposals");
        let help = "of a folder, its files that end in `.yaml`, `.yml` or `.json` are read, and none below it";
        return Err(Problem::of_file(Fault::Unreadable, message, help));
    }
    Ok(files)
}

/// Without the `./` of the folder that the command is run in.
fn shortened(path: PathBuf) -> PathBuf {
    path.strip_prefix(".")
        .map_or_else(|_| path.clone(), Path::to_path_buf)
}

fn can_be_proposal(path: &Path) -> bool {
    let ending = path.extension().and_then(|ending| ending.to_str());
    let ending = ending.map(str::to_ascii_lowercase);
    ending.is_some_and(|ending| ENDINGS.contains(&ending.as_str())) && !path.is_dir()
}
