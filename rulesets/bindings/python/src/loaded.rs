//! Rules, with the texts that they were made of.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::{Arc, Mutex, PoisonError};

use rules_core::document::{Problem, ProblemList};
use rules_core::ruleset::{Files, FilesIn, Library, Rules, Text, Texts};
use rulesets::shipped::{FILES, Shipped};
use rulesets::{USUAL_RULESET, catalogue};

/// Texts by name.
pub(crate) type ByName = BTreeMap<String, Vec<u8>>;

/// Rules that apply together. They keep the texts that they were read from: what happens to files later
/// changes nothing, and another process can be given them.
pub(crate) struct Loaded {
    /// The names that were asked for; none for the usual ruleset.
    pub(crate) asked: Vec<String>,
    pub(crate) texts: ByName,
    rules: Arc<Rules>,
    in_memory: Texts<Shipped>,
    with_files: Texts<Files<Shipped>>,
    /// Rules that benches have in force, by the names of their rulesets.
    in_force: Mutex<BTreeMap<Vec<String>, Arc<Rules>>>,
}

/// Where else than among the texts of the rules something is looked for that a proposal names.
#[derive(Clone, Copy)]
pub(crate) enum Beside<'b> {
    /// Among files.
    Files,
    /// Among these texts; no file is read.
    Texts(&'b ByName),
}

impl Beside<'_> {
    /// Whether nothing is at hand.
    pub(crate) fn is_nothing(self) -> bool {
        matches!(self, Self::Texts(texts) if texts.is_empty())
    }
}

impl Loaded {
    /// The shipped rules.
    pub(crate) fn shipped() -> Result<Self, ProblemList> {
        Self::recorded(Vec::new(), &Shipped)
    }

    /// Rules from files and shipped ones by name; files of one folder alone, if one is given.
    pub(crate) fn of_files(asked: Vec<String>, within: Option<&Path>) -> Result<Self, ProblemList> {
        match within {
            None => Self::recorded(asked, &FILES),
            Some(folder) => Self::recorded(asked, &FilesIn::folder(folder, Shipped)?),
        }
    }

    /// Rules from texts in memory, and shipped ones by name. No file is read.
    pub(crate) fn of_texts(texts: ByName, asked: Vec<String>) -> Result<Self, ProblemList> {
        let library = Texts::of(texts).or(Shipped);
        Self::recorded(asked, &library)
    }

    fn recorded(asked: Vec<String>, library: &dyn Library) -> Result<Self, ProblemList> {
        let recorder = Recorder::of(library);
        let rules = load(&names(&asked), &recorder)?;
        let texts = recorder.texts();
        let in_memory = Texts::of(texts.clone());
        Ok(Self {
            asked,
            rules: Arc::new(rules),
            with_files: in_memory.clone().or(FILES),
            in_memory: in_memory.or(Shipped),
            texts,
            in_force: Mutex::default(),
        })
    }

    /// The rules where no bench has others in force.
    pub(crate) const fn rules(&self) -> &Arc<Rules> {
        &self.rules
    }

    /// Where the names that a proposal uses are looked up.
    pub(crate) fn library(&self, beside: Beside<'_>) -> Box<dyn Library + '_> {
        match beside {
            Beside::Files => Box::new(Borrowed(&self.with_files)),
            Beside::Texts(texts) if texts.is_empty() => Box::new(Borrowed(&self.in_memory)),
            Beside::Texts(texts) => Box::new(Texts::of(texts.clone()).or(self.in_memory.clone())),
        }
    }

    /// The rules of these names. What was loaded is kept, but for texts that are those of one proposal.
    pub(crate) fn of_names(
        &self,
        names_in_force: Vec<String>,
        beside: Beside<'_>,
    ) -> Result<Arc<Rules>, ProblemList> {
        if names_in_force == names(&self.asked) {
            return Ok(Arc::clone(&self.rules));
        }
        let lasts = matches!(beside, Beside::Files);
        if let Some(rules) = lasts.then(|| self.kept(&names_in_force)).flatten() {
            return Ok(rules);
        }
        let rules = Arc::new(load(&names_in_force, &*self.library(beside))?);
        if lasts {
            let mut all = self.in_force.lock().unwrap_or_else(PoisonError::into_inner);
            all.insert(names_in_force, Arc::clone(&rules));
        }
        Ok(rules)
    }

    fn kept(&self, names: &[String]) -> Option<Arc<Rules>> {
        let all = self.in_force.lock().unwrap_or_else(PoisonError::into_inner);
        all.get(names).map(Arc::clone)
    }
}

/// The names to load: the usual one, where none is asked for.
fn names(asked: &[String]) -> Vec<String> {
    match asked {
        [] => vec![USUAL_RULESET.to_owned()],
        asked => asked.to_vec(),
    }
}

fn load(names: &[String], library: &dyn Library) -> Result<Rules, ProblemList> {
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    Rules::load(&names, library, &catalogue())
}

/// A library that is lent.
struct Borrowed<'l>(&'l dyn Library);

impl Library for Borrowed<'_> {
    fn find(&self, name: &str, from: Option<&str>) -> Result<Text, Problem> {
        self.0.find(name, from)
    }

    fn identity(&self, text: &Text) -> String {
        self.0.identity(text)
    }
}

/// A library that keeps the texts it gave, but for the shipped ones.
pub(crate) struct Recorder<'l> {
    library: &'l dyn Library,
    texts: RefCell<ByName>,
}

impl<'l> Recorder<'l> {
    /// Of what this library gives.
    pub(crate) fn of(library: &'l dyn Library) -> Self {
        Self {
            library,
            texts: RefCell::default(),
        }
    }

    /// The texts that it gave.
    pub(crate) fn texts(self) -> ByName {
        self.texts.into_inner()
    }
}

impl Library for Recorder<'_> {
    fn find(&self, name: &str, from: Option<&str>) -> Result<Text, Problem> {
        let text = self.library.find(name, from)?;
        if !Shipped::names().any(|shipped| shipped == text.name) {
            let bytes = text.bytes.to_vec();
            self.texts.borrow_mut().insert(text.name.clone(), bytes);
        }
        Ok(text)
    }

    fn identity(&self, text: &Text) -> String {
        self.library.identity(text)
    }
}
