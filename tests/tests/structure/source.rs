//! The files of a crate, without what is there for its tests.

use std::fs;
use std::path::{Path, PathBuf};

/// A file of a crate.
pub(crate) struct Source {
    /// From the root of the crate, with `/` between its parts: `check/judge.rs`.
    pub path: String,
    /// Without comments and unit tests.
    pub code: String,
}

impl Source {
    /// A file that holds this.
    pub(crate) fn new(path: &str, text: &str) -> Self {
        Self {
            path: path.to_owned(),
            code: code(text),
        }
    }

    /// The module it is, from the root of the crate: `check::judge` as two names.
    pub(crate) fn module(&self) -> Vec<&str> {
        let path = self.path.trim_end_matches(".rs");
        let mut names: Vec<&str> = path.split('/').collect();
        if matches!(names.last(), Some(&("mod" | "lib" | "main"))) {
            names.pop();
        }
        names
    }

    /// Whether it is there for tests alone.
    fn is_test(&self) -> bool {
        self.module().iter().any(|name| name.ends_with("tests"))
    }
}

/// The text without comments, up to the first unit test.
fn code(text: &str) -> String {
    let product = text.split("#[cfg(test)]\nmod tests {").next();
    let lines = product.unwrap_or_default().lines();
    lines
        .filter(|line| !line.trim_start().starts_with("//"))
        .map(|line| format!("{line}\n"))
        .collect()
}

/// The root of the workspace.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The files of a folder and their texts.
pub(crate) fn texts(folder: &str) -> Vec<(PathBuf, String)> {
    let folder = root().join(folder);
    let mut all = Vec::new();
    files(&folder, &mut all);
    assert!(!all.is_empty(), "{} has sources", folder.display());
    all.sort();
    let read = |path: PathBuf| {
        let text = fs::read_to_string(&path).expect("text");
        let within = path.strip_prefix(&folder).expect("it lies there");
        (within.to_owned(), text)
    };
    all.into_iter().map(read).collect()
}

/// The sources of a folder, those of tests left out.
pub(crate) fn sources(folder: &str) -> Vec<Source> {
    let source = |(path, text): (PathBuf, String)| {
        let names: Vec<_> = path.iter().map(|name| name.to_string_lossy()).collect();
        Source::new(&names.join("/"), &text)
    };
    let all = texts(folder).into_iter().map(source);
    all.filter(|source| !source.is_test()).collect()
}

fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("it can be listed").path();
        if path.is_dir() {
            files(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}
