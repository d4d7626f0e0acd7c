//! The files of the folder, some of them as they would be after a change: to look at what comes of it
//! before anything is written.

use std::collections::BTreeMap;
use std::path::{Component, Path, PathBuf};

use rules_core::document::{Problem, ProblemList};
use rules_core::ruleset::{Library, Text, beside};
use rulesets::bench::Bench;

use crate::commands::page::folder::Folder;

/// A library in which some files say something else.
pub(super) struct Overlay<'f> {
    folder: &'f Folder,
    changed: BTreeMap<PathBuf, String>,
}

impl<'f> Overlay<'f> {
    pub(super) const fn of(folder: &'f Folder) -> Self {
        Self {
            folder,
            changed: BTreeMap::new(),
        }
    }

    /// The same with a file that says this.
    pub(super) fn with(mut self, name: &str, text: &str) -> Self {
        let path = self.folder.real().join(name);
        self.changed.insert(path, text.to_owned());
        self
    }

    /// What is wrong with a bench after the changes.
    pub(super) fn vet(&self, bench: &str) -> Result<(), ProblemList> {
        Bench::load(&self.folder.called(bench), self).map(drop)
    }

    /// Where a file beside another one would be, though it is not there yet.
    fn new_path(&self, name: &str) -> Option<PathBuf> {
        let mut parts = Path::new(name).components();
        let last = parts.next_back()?;
        let is_beside = parts.all(|part| part == Component::CurDir);
        let path = self.folder.real().join(last);
        (is_beside && self.changed.contains_key(&path)).then_some(path)
    }
}

impl Library for Overlay<'_> {
    fn find(&self, name: &str, from: Option<&str>) -> Result<Text, Problem> {
        match self.folder.library().find(name, from) {
            Ok(text) => {
                let real = Path::new(&text.name).canonicalize().ok();
                let changed = real.and_then(|real| self.changed.get(&real));
                let bytes = changed.map(|changed| changed.clone().into_bytes().into());
                Ok(Text {
                    bytes: bytes.unwrap_or(text.bytes),
                    name: text.name,
                })
            }
            Err(problem) => {
                let path = self.new_path(name).ok_or_else(|| problem.clone())?;
                let changed = self.changed.get(&path).ok_or(problem)?;
                Ok(Text {
                    name: beside(name, from.unwrap_or_default()),
                    bytes: changed.clone().into_bytes().into(),
                })
            }
        }
    }

    fn identity(&self, text: &Text) -> String {
        let path = Path::new(&text.name);
        let new = path.file_name().map(|name| self.folder.real().join(name));
        match new.filter(|new| !path.exists() && self.changed.contains_key(new)) {
            // As the identity of a file that is there.
            Some(new) => format!("{new:?}"),
            None => self.folder.library().identity(text),
        }
    }
}
