//! Rules and benches at hand: each read once, and again when one of its files has changed.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::SystemTime;

use rules_core::document::{Problem, ProblemList};
use rules_core::ruleset::{Library, Rules, Text, beside, is_path};
use rulesets::bench::{Bench, rules_in_force};
use rulesets::catalogue;

use super::folder::Folder;
use crate::args::RulesOptions;
use crate::input;

/// What requests share.
pub(super) struct Desk {
    pub(super) folder: Folder,
    /// The rulesets that the command names, which may be anywhere.
    asked: RulesOptions,
    rules: Shelf<Vec<String>, Rules>,
    benches: Shelf<String, Bench>,
}

impl Desk {
    pub(super) fn new(folder: Folder, asked: RulesOptions) -> Self {
        Self {
            folder,
            asked,
            rules: Shelf::default(),
            benches: Shelf::default(),
        }
    }

    /// The bench that a plan of the folder names.
    pub(super) fn bench_of(&self, plan: &str, named: &str) -> Result<Arc<Bench>, ProblemList> {
        self.bench(&beside(named, &self.folder.called(plan)))
    }

    /// A bench by the path that messages call it.
    pub(super) fn bench(&self, name: &str) -> Result<Arc<Bench>, ProblemList> {
        let library = self.folder.library();
        self.benches.get(name.to_owned(), library, |library| {
            Bench::load(name, library)
        })
    }

    /// The rules of a plan with this bench, or without one.
    pub(super) fn rules_with(&self, bench: Option<&Bench>) -> Result<Arc<Rules>, ProblemList> {
        let names = rules_in_force(bench, &self.asked.asked);
        let load = |library: &dyn Library| {
            let names: Vec<&str> = names.iter().map(String::as_str).collect();
            Rules::load(&names, library, &catalogue())
        };
        match self.asked.asked.is_empty() {
            true => self.rules.get(names.clone(), self.folder.library(), load),
            false => {
                let library = input::library(&self.asked.within)?;
                self.rules.get(names.clone(), &*library, load)
            }
        }
    }
}

/// What was read, by name, with the files that it was read from.
struct Shelf<K, T> {
    kept: Mutex<BTreeMap<K, Kept<T>>>,
}

struct Kept<T> {
    value: Arc<T>,
    files: Vec<(PathBuf, Option<Stamp>)>,
}

/// When a file was last written, and how long it is.
type Stamp = (SystemTime, u64);

impl<K, T> Default for Shelf<K, T> {
    fn default() -> Self {
        Self {
            kept: Mutex::default(),
        }
    }
}

impl<K: Ord, T> Shelf<K, T> {
    /// What is kept, if nothing has changed since; otherwise what is read now.
    fn get(
        &self,
        key: K,
        library: &dyn Library,
        read: impl FnOnce(&dyn Library) -> Result<T, ProblemList>,
    ) -> Result<Arc<T>, ProblemList> {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = kept.get(&key).filter(|known| known.is_fresh()) {
            return Ok(Arc::clone(&known.value));
        }
        let noting = Noting {
            library,
            files: RefCell::default(),
        };
        let value = Arc::new(read(&noting)?);
        let files = noting.files.into_inner();
        let new = Kept {
            value: Arc::clone(&value),
            files,
        };
        kept.insert(key, new);
        Ok(value)
    }
}

impl<T> Kept<T> {
    fn is_fresh(&self) -> bool {
        let mut files = self.files.iter();
        files.all(|(path, stamp)| stamp_of(path) == *stamp)
    }
}

fn stamp_of(path: &PathBuf) -> Option<Stamp> {
    let known = fs::metadata(path).ok()?;
    Some((known.modified().ok()?, known.len()))
}

/// A library that notes which files were read.
struct Noting<'l> {
    library: &'l dyn Library,
    files: RefCell<Vec<(PathBuf, Option<Stamp>)>>,
}

impl Library for Noting<'_> {
    fn find(&self, name: &str, from: Option<&str>) -> Result<Text, Problem> {
        let text = self.library.find(name, from)?;
        if is_path(&text.name) {
            let path = PathBuf::from(&text.name);
            let stamp = stamp_of(&path);
            self.files.borrow_mut().push((path, stamp));
        }
        Ok(text)
    }

    fn identity(&self, text: &Text) -> String {
        self.library.identity(text)
    }
}
