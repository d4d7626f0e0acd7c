//! Where rulesets come from: those shipped with the library, texts in memory, and files. Files are
//! read here alone.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

use super::open_file::{open_file, open_regular, unreadable};
use crate::bounds::MOST_BYTES;
use crate::document::{Fault, Problem, Syntax, near_miss, quoted};

/// The text of a ruleset, and the name by which others can refer to it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Text {
    /// The name for messages and for what it extends in turn.
    pub name: String,
    /// The bytes.
    pub bytes: Cow<'static, [u8]>,
}

/// Finds rulesets by the names that `extends` and callers use.
pub trait Library {
    /// The text of a ruleset; `from` is the name of the ruleset that extends it, if one does.
    ///
    /// # Errors
    ///
    /// A problem without a place; the caller knows where the name is.
    fn find(&self, name: &str, from: Option<&str>) -> Result<Text, Problem>;

    /// The identity of a ruleset that was found, whatever name it was found by. Each is read once.
    fn identity(&self, text: &Text) -> String {
        text.name.clone()
    }
}

/// Rulesets in memory by name, and other rulesets from a further library. For programs that keep
/// rulesets in a database or a form.
///
/// A name may be a path, with slashes. As with [`Files`], a path in `extends` starts from the
/// folder of the ruleset it is in: in one called `main.yaml`, `./base.yaml` is `base.yaml`.
///
/// ```
/// use rules_core::facts::Catalogue;
/// use rules_core::ruleset::{Rules, Texts};
///
/// let main = "{ format: 1, ruleset: ours, version: 1.0.0, title: Ours, extends: [./base.yaml] }";
/// let base = "{ format: 1, ruleset: base, version: 1.0.0, title: What all share }";
/// let texts = Texts::of([("main.yaml", main), ("base.yaml", base)]);
/// let rules = Rules::load(&["main.yaml"], &texts, &Catalogue::of_subjects(&[]))?;
/// assert_eq!(rules.layers().len(), 2);
/// # Ok::<(), rules_core::document::ProblemList>(())
/// ```
#[derive(Debug, Clone, Default)]
pub struct Texts<L = NoOthers> {
    texts: BTreeMap<String, Vec<u8>>,
    others: L,
}

impl Texts {
    /// Rulesets by name, and no others. Of two with one name the last counts.
    pub fn of<N: Into<String>, B: Into<Vec<u8>>>(texts: impl IntoIterator<Item = (N, B)>) -> Self {
        let owned = |(name, bytes): (N, B)| (name_of(&name.into(), None), bytes.into());
        Self {
            texts: texts.into_iter().map(owned).collect(),
            others: NoOthers,
        }
    }

    /// Adds one; of two with one name the last counts.
    pub fn add(&mut self, name: impl Into<String>, bytes: impl Into<Vec<u8>>) {
        self.texts.insert(name_of(&name.into(), None), bytes.into());
    }

    /// The same, and a further library for the names that are not among them.
    #[must_use]
    pub fn or<L: Library>(self, others: L) -> Texts<L> {
        Texts {
            texts: self.texts,
            others,
        }
    }
}

impl<L> Texts<L> {
    fn own(&self, name: &str) -> Option<Text> {
        self.texts.get(name).map(|bytes| Text {
            name: name.to_owned(),
            bytes: bytes.clone().into(),
        })
    }
}

impl<L: Library> Library for Texts<L> {
    fn find(&self, name: &str, from: Option<&str>) -> Result<Text, Problem> {
        let own = name_of(name, from);
        if let Some(text) = self.own(&own) {
            return Ok(text);
        }
        let found = self.others.find(name, from);
        let found = found.map_err(|problem| nearer(problem, &own, self.texts.keys()))?;
        // One name is one ruleset, also where the others came to it by another path.
        Ok(self.own(&found.name).unwrap_or(found))
    }

    fn identity(&self, text: &Text) -> String {
        if self.texts.contains_key(&text.name) {
            text.name.clone()
        } else {
            self.others.identity(text)
        }
    }
}

/// The name in memory that a name means where it is, with slashes on every system.
fn name_of(name: &str, from: Option<&str>) -> String {
    if !is_path(name) {
        return name.to_owned();
    }
    tidy(&joined(name, from))
        .to_string_lossy()
        .replace(std::path::MAIN_SEPARATOR, "/")
}

/// The problem with a near miss among further names, if there is one.
fn nearer<'k>(problem: Problem, name: &str, known: impl Iterator<Item = &'k String>) -> Problem {
    match near_miss(name, known.map(String::as_str)) {
        Some(near) => Problem {
            help: Some(format!("did you mean `{near}`?")),
            ..problem
        },
        None => problem,
    }
}

/// A library without rulesets.
#[derive(Debug, Clone, Copy, Default)]
pub struct NoOthers;

impl Library for NoOthers {
    fn find(&self, name: &str, _: Option<&str>) -> Result<Text, Problem> {
        Err(Problem::of_file(
            Fault::UnknownRuleset,
            format!("there is no ruleset `{name}`"),
            "only rulesets whose text is given can be named here",
        ))
    }
}

/// Files by path, and other rulesets by name from a further library: what has a slash, a backslash
/// or an ending `.yaml`, `.yml` or `.json` is a path. A path in `extends` starts from the folder of
/// the file it is in.
#[derive(Debug, Clone, Copy, Default)]
pub struct Files<L>(
    /// Where rulesets come from that are not named by a path.
    pub L,
);

impl<L: Library> Library for Files<L> {
    fn find(&self, name: &str, from: Option<&str>) -> Result<Text, Problem> {
        if !is_path(name) {
            return self.0.find(name, from);
        }
        let path = path_of(name, from);
        let file = match from {
            Some(_) => open_regular(&path)?,
            None => open_file(&path)?,
        };
        let bytes = read_open(file, &path)?;
        Ok(text_of(&path, bytes))
    }

    fn identity(&self, text: &Text) -> String {
        file_identity(text)
    }
}

/// Like [`Files`], but reads only files in one folder or below it, wherever a path leads by `..` or
/// by links. For rulesets that others wrote and that must not choose files elsewhere.
///
/// Nobody else may change the folder while it is read.
#[derive(Debug, Clone)]
pub struct FilesIn<L> {
    /// Where rulesets come from that are not named by a path.
    others: L,
    /// As it was given, for messages.
    given: String,
    /// With every link resolved.
    folder: PathBuf,
}

impl<L: Library> FilesIn<L> {
    /// The files of a folder, and other rulesets by name from a further library.
    ///
    /// # Errors
    ///
    /// There is no such folder.
    pub fn folder(path: &Path, others: L) -> Result<Self, Problem> {
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
        Ok(Self {
            others,
            given,
            folder,
        })
    }
}

impl<L: Library> Library for FilesIn<L> {
    fn find(&self, name: &str, from: Option<&str>) -> Result<Text, Problem> {
        if !is_path(name) {
            return self.others.find(name, from);
        }
        let path = path_of(name, from);
        let inside = |real: &PathBuf| real.starts_with(&self.folder);
        // For a file outside, it is not even said whether it exists.
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
        bytes: bytes.into(),
    }
}

/// Two paths to one file, by links or by `..`, have one identity: the path without these.
fn file_identity(text: &Text) -> String {
    let real = is_path(&text.name)
        .then(|| Path::new(&text.name).canonicalize().ok())
        .flatten();
    match real {
        // Printed in this way, two different paths that are not text never look alike.
        Some(path) => format!("{path:?}"),
        None => text.name.clone(),
    }
}

/// The path that a name means where it is.
fn path_of(name: &str, from: Option<&str>) -> PathBuf {
    shortened(joined(name, from))
}

/// A path joined to the folder of the ruleset it is in.
fn joined(name: &str, from: Option<&str>) -> PathBuf {
    let folder = from
        .filter(|from| is_path(from))
        .and_then(|from| Path::new(from).parent());
    match folder {
        Some(folder) => folder.join(name),
        None => PathBuf::from(name),
    }
}

/// The path without `./` and `a/..`, if that is the same file: where `a` is a link, the system
/// finds another one. It stays recognisable as a path.
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

/// The name by which a caller can ask for what a file means by a name: a path from the folder that
/// the file is in, or the name itself.
#[must_use]
pub fn beside(name: &str, from: &str) -> String {
    name_of(name, Some(from))
}

/// Whether a name is a path: it has a slash, a backslash or an ending `.yaml`, `.yml` or `.json`.
#[must_use]
pub fn is_path(name: &str) -> bool {
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
/// The file is missing, unreadable or none that is read by its name, as [`open_file`] says.
pub fn read_file(path: &Path) -> Result<Vec<u8>, Problem> {
    read_open(open_file(path)?, path)
}

/// One byte more than a document may have is enough to see that it is too large.
fn read_open(file: File, path: &Path) -> Result<Vec<u8>, Problem> {
    let most = u64::try_from(MOST_BYTES)
        .unwrap_or(u64::MAX)
        .saturating_add(1);
    let mut bytes = Vec::new();
    file.take(most)
        .read_to_end(&mut bytes)
        .map_err(|error| unreadable(path, &error))?;
    Ok(bytes)
}

/// The problem that no ruleset has a name, for libraries that know these.
#[must_use]
pub fn unknown_ruleset(name: &str, known: &[&str]) -> Problem {
    let help = match near_miss(name, known.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!(
            "shipped are {}; a file is named by its path, such as `./{name}.yaml`",
            quoted(known)
        ),
    };
    Problem::of_file(
        Fault::UnknownRuleset,
        format!("there is no ruleset `{name}`"),
        help,
    )
}

#[cfg(test)]
mod tests;
