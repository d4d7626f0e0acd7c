//! Where rulesets come from: those shipped with the library, and files. This is the only place that
//! reads files.

use std::path::{Path, PathBuf};

use super::reserved::{ShippedVersion, VERSIONS};
use crate::bounds::MOST_BYTES;
use crate::document::{Fault, Problem, Syntax, near_miss};

/// The text of a ruleset, and the name by which others can refer to it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Text {
    /// The name for messages and for what it extends in turn.
    pub name: String,
    /// The bytes.
    pub bytes: Vec<u8>,
}

/// Finds rulesets by the names that `extends` and callers use.
pub trait Library {
    /// The text of a ruleset; `from` is the name of the ruleset that extends it, if one does.
    ///
    /// # Errors
    ///
    /// A problem without a place; the caller knows where the name stands.
    fn find(&self, name: &str, from: Option<&str>) -> Result<Text, Problem>;

    /// What tells a ruleset that was found from every other, whatever name it was found by. Each is
    /// read once.
    fn identity(&self, text: &Text) -> String {
        text.name.clone()
    }
}

/// The rulesets shipped with the library, by name. It reads no files.
#[derive(Debug, Clone, Copy, Default)]
pub struct Shipped;

/// A ruleset that is part of the library.
struct Own {
    name: &'static str,
    text: &'static str,
}

/// The shipped rulesets.
const SHIPPED: [Own; 1] = [Own {
    name: "rescued-cells",
    text: include_str!("../../data/rescued-cells.yaml"),
}];

impl Shipped {
    /// The names of the shipped rulesets.
    pub fn names() -> impl Iterator<Item = &'static str> {
        SHIPPED.iter().map(|own| own.name)
    }

    /// Every version that was ever shipped of any of them.
    #[must_use]
    pub fn versions() -> &'static [ShippedVersion] {
        &VERSIONS
    }

    /// The text of a shipped ruleset.
    pub(super) fn text(name: &str) -> Option<&'static str> {
        let own = SHIPPED.iter().find(|own| own.name == name)?;
        Some(own.text)
    }

    fn get(name: &str) -> Option<Text> {
        Some(Text {
            name: name.to_owned(),
            bytes: Self::text(name)?.as_bytes().to_vec(),
        })
    }
}

impl Library for Shipped {
    fn find(&self, name: &str, _: Option<&str>) -> Result<Text, Problem> {
        Self::get(name).ok_or_else(|| unknown(name))
    }
}

/// Shipped rulesets by name, and files by path: what has a slash, a backslash or an ending `.yaml`,
/// `.yml` or `.json` is a path. A path in `extends` starts from the folder of the file it stands
/// in.
#[derive(Debug, Clone, Copy, Default)]
pub struct Files;

impl Library for Files {
    fn find(&self, name: &str, from: Option<&str>) -> Result<Text, Problem> {
        if !is_path(name) {
            return Shipped.find(name, from);
        }
        let path = path_of(name, from);
        let bytes = read_file(&path)?;
        Ok(text_of(&path, bytes))
    }

    fn identity(&self, text: &Text) -> String {
        file_identity(text)
    }
}

/// Like [`Files`], but of files only those in one folder or below it, wherever a path leads to by
/// `..` or by links. For rulesets that others wrote: what these extend is not theirs to choose.
///
/// Nobody else may change the folder while it is read.
#[derive(Debug, Clone)]
pub struct FilesIn {
    /// As it was given, for messages.
    given: String,
    /// With every link resolved.
    folder: PathBuf,
}

impl FilesIn {
    /// The files of a folder.
    ///
    /// # Errors
    ///
    /// There is no such folder.
    pub fn folder(path: &Path) -> Result<Self, Problem> {
        let given = path.display().to_string();
        let folder = path.canonicalize().ok().filter(|folder| folder.is_dir());
        let none = || {
            Problem::of_file(
                Fault::Unreadable,
                format!("`{given}` is no folder"),
                "name the folder in which the rulesets are",
            )
        };
        let folder = folder.ok_or_else(none)?;
        Ok(Self { given, folder })
    }
}

impl Library for FilesIn {
    fn find(&self, name: &str, from: Option<&str>) -> Result<Text, Problem> {
        if !is_path(name) {
            return Shipped.find(name, from);
        }
        let path = path_of(name, from);
        let inside = |real: &PathBuf| real.starts_with(&self.folder);
        // Of what lies outside it is not even said whether it is there.
        let none = || {
            Problem::of_file(
                Fault::Unreadable,
                format!("`{name}` is no file in the folder `{}`", self.given),
                "check the path; rulesets are read from this folder alone",
            )
        };
        let real = path.canonicalize().ok().filter(inside).ok_or_else(none)?;
        let bytes = read_file(&real)?;
        Ok(text_of(&path, bytes))
    }

    fn identity(&self, text: &Text) -> String {
        file_identity(text)
    }
}

fn text_of(path: &Path, bytes: Vec<u8>) -> Text {
    Text {
        name: path.to_string_lossy().into_owned(),
        bytes,
    }
}

/// Two paths to one file, by links or by `..`, have one identity: the path without these.
fn file_identity(text: &Text) -> String {
    let real = is_path(&text.name)
        .then(|| Path::new(&text.name).canonicalize().ok())
        .flatten();
    match real {
        // Printed so, no two paths are alike that are not text.
        Some(path) => format!("{path:?}"),
        None => text.name.clone(),
    }
}

/// The path that a name means where it stands.
fn path_of(name: &str, from: Option<&str>) -> PathBuf {
    let folder = from
        .filter(|from| is_path(from))
        .and_then(|from| Path::new(from).parent());
    shortened(match folder {
        Some(folder) => folder.join(name),
        None => PathBuf::from(name),
    })
}

/// The path without `./` and `a/..`, if that is the same file: where `a` is a link, the system
/// finds another one. It stays a path also for whoever sees its name alone.
fn shortened(path: PathBuf) -> PathBuf {
    let short = tidy(&path);
    let same = match (path.canonicalize(), short.canonicalize()) {
        (Ok(one), Ok(other)) => one == other,
        _ => false,
    };
    if same && is_path(&short.to_string_lossy()) {
        short
    } else {
        path
    }
}

/// The same path without `./` and with `a/..` taken out.
fn tidy(path: &Path) -> PathBuf {
    let mut parts = PathBuf::new();
    for part in path.components() {
        match part {
            std::path::Component::CurDir => {}
            std::path::Component::ParentDir if parts.file_name().is_some() => drop(parts.pop()),
            other => parts.push(other),
        }
    }
    parts
}

fn is_path(name: &str) -> bool {
    let ending = Path::new(name)
        .extension()
        .and_then(|ending| ending.to_str());
    name.contains(['/', '\\'])
        || matches!(ending, Some("yaml" | "yml"))
        || Syntax::of_name(name) == Syntax::Json
}

/// Reads a file, and no more of it than a document may have.
///
/// # Errors
///
/// The file is missing, a folder, unreadable or too large.
pub fn read_file(path: &Path) -> Result<Vec<u8>, Problem> {
    use std::io::Read;
    let shown = path.display();
    let unreadable = |error: &std::io::Error| {
        Problem::of_file(
            Fault::Unreadable,
            format!("`{shown}` cannot be read: {}", plain(error)),
            "check the path",
        )
    };
    if path.is_dir() {
        return Err(Problem::of_file(
            Fault::Unreadable,
            format!("`{shown}` is a folder"),
            "name a file in it",
        ));
    }
    let file = std::fs::File::open(path).map_err(|error| unreadable(&error))?;
    let most = u64::try_from(MOST_BYTES)
        .unwrap_or(u64::MAX)
        .saturating_add(1);
    let mut bytes = Vec::new();
    file.take(most)
        .read_to_end(&mut bytes)
        .map_err(|error| unreadable(&error))?;
    Ok(bytes)
}

/// An error of the system in words that do not depend on it.
fn plain(error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::NotFound => "there is no such file".to_owned(),
        std::io::ErrorKind::PermissionDenied => "it may not be read".to_owned(),
        _ => "the system does not let it be opened".to_owned(),
    }
}

fn unknown(name: &str) -> Problem {
    let names: Vec<String> = Shipped::names().map(|known| format!("`{known}`")).collect();
    let help = match near_miss(name, Shipped::names()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!(
            "shipped are {}; a file is named by its path, such as `./{name}.yaml`",
            names.join(", ")
        ),
    };
    Problem::of_file(
        Fault::UnknownRuleset,
        format!("there is no ruleset `{name}`"),
        help,
    )
}
