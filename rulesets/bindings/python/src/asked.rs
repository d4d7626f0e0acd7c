//! A proposal that something is asked of: as it was given, and as it was read.

use std::path::PathBuf;
use std::sync::Arc;

use rules_core::check::{Options, Report, check};
use rules_core::document::{Fault, ProblemList, Syntax};
use rules_core::ruleset::{Rules, read_file};
use rulesets::bench::{Bench, Benches, Plan, rules_in_force};
use rulesets::jobs::{Trial, tried};
use rulesets::proposal::{Draft, Proposal};
use serde_json::Value;

use crate::loaded::{Beside, ByName, Loaded};

/// A proposal as it was given.
pub(crate) enum Written {
    /// In memory.
    Value(Value),
    /// In memory, written field by field.
    Draft(Draft),
    /// A text of JSON or YAML; which it is, where that was said.
    Text(Vec<u8>, Option<Syntax>),
    /// In a file.
    File(PathBuf),
}

/// A proposal as it was given, what messages call it, and what it may take from.
pub(crate) struct Asked {
    pub(crate) written: Written,
    pub(crate) name: Option<String>,
    /// The bench that it takes from without naming one.
    pub(crate) bench: Option<Arc<Bench>>,
    /// Texts that it can name.
    pub(crate) files: ByName,
}

/// What messages call a proposal without a name.
const USUAL_NAME: &str = "proposal";

/// A proposal that was read, with the rules that it is checked by.
pub(crate) struct Read {
    pub(crate) rules: Arc<Rules>,
    pub(crate) proposal: Proposal,
    made_of: MadeOf,
}

enum MadeOf {
    Plan(Box<Plan>),
    Draft(Draft),
}

impl Asked {
    /// A proposal without a name, a bench or files.
    pub(crate) fn of(written: Written, name: Option<String>) -> Self {
        Self {
            written,
            name,
            bench: None,
            files: ByName::new(),
        }
    }

    fn name(&self) -> &str {
        self.name.as_deref().unwrap_or(USUAL_NAME)
    }

    fn beside(&self) -> Beside<'_> {
        Beside::Texts(&self.files)
    }

    /// Reads it.
    pub(crate) fn read(mut self, by: &Loaded) -> Result<Read, ProblemList> {
        let nothing = Written::Text(Vec::new(), None);
        match std::mem::replace(&mut self.written, nothing) {
            Written::Value(value) => self.of_draft(Draft::of(self.name(), value), by),
            Written::Draft(draft) => self.of_draft(draft, by),
            Written::Text(bytes, Some(syntax)) => self.of_text(bytes, syntax, by),
            Written::Text(bytes, None) => self.of_any_text(bytes, by),
            Written::File(path) => {
                let bytes = read_file(&path)?;
                let name = path.to_string_lossy();
                let syntax = Syntax::of_name(&name);
                self.of_named_text((&name, bytes, syntax), Beside::Files, by)
            }
        }
    }

    fn of_draft(&self, draft: Draft, by: &Loaded) -> Result<Read, ProblemList> {
        let plan = match &self.bench {
            Some(bench) => Plan::of_draft_beside(&draft, bench)?,
            None if draft.value().get("bench").is_some() && !self.files.is_empty() => {
                let library = by.library(self.beside());
                Plan::of_draft(&draft, &mut Benches::of(&*library))?
            }
            None => {
                return Ok(Read {
                    proposal: draft.proposal(by.rules())?,
                    rules: Arc::clone(by.rules()),
                    made_of: MadeOf::Draft(draft),
                });
            }
        };
        with_rules(plan, self.beside(), by)
    }

    /// What begins as an object of JSON is read as JSON, which is faster, and otherwise as YAML, of which
    /// JSON is a part.
    fn of_any_text(&self, bytes: Vec<u8>, by: &Loaded) -> Result<Read, ProblemList> {
        let named = Syntax::of_name(self.name());
        if named == Syntax::Json || !is_like_json(&bytes) {
            return self.of_text(bytes, named, by);
        }
        let as_json = self.of_text(bytes.clone(), Syntax::Json, by);
        as_json.or_else(|problems| {
            let is_no_json = problems.iter().any(|one| one.fault == Fault::Syntax);
            let as_yaml = is_no_json.then(|| self.of_text(bytes, Syntax::Yaml, by));
            as_yaml.and_then(Result::ok).ok_or(problems)
        })
    }

    fn of_text(&self, bytes: Vec<u8>, syntax: Syntax, by: &Loaded) -> Result<Read, ProblemList> {
        self.of_named_text((self.name(), bytes, syntax), self.beside(), by)
    }

    fn of_named_text(
        &self,
        (name, bytes, syntax): (&str, Vec<u8>, Syntax),
        beside: Beside<'_>,
        by: &Loaded,
    ) -> Result<Read, ProblemList> {
        let plan = match &self.bench {
            Some(bench) => Plan::read_beside(name, bytes, syntax, bench)?,
            None => {
                if beside.is_nothing() && may_name_bench(&bytes) {
                    // It is told that no bench is at hand, and not that there is none of that name.
                    Proposal::read_for(by.rules(), name, bytes.clone(), syntax)?;
                }
                let library = by.library(beside);
                Plan::read(name, bytes, syntax, &mut Benches::of(&*library))?
            }
        };
        with_rules(plan, beside, by)
    }
}

/// Whether a bench can be named in a text.
fn may_name_bench(bytes: &[u8]) -> bool {
    bytes.windows(5).any(|word| word == b"bench")
}

/// Whether a text begins with a brace and a quotation mark.
fn is_like_json(bytes: &[u8]) -> bool {
    let inside = bytes.trim_ascii_start().strip_prefix(b"{");
    inside.is_some_and(|inside| inside.trim_ascii_start().starts_with(b"\""))
}

/// A plan with the rules that it is checked by: those that its bench has in force, and those asked for.
fn with_rules(plan: Plan, beside: Beside<'_>, by: &Loaded) -> Result<Read, ProblemList> {
    let rules = match plan.bench() {
        None => Ok(Arc::clone(by.rules())),
        Some(bench) => by.of_names(rules_in_force(Some(bench), &by.asked), beside),
    };
    let rules = rules.map_err(|problems| -> ProblemList {
        let own = plan.proposal(None).err().unwrap_or_default();
        problems.into_iter().chain(own).collect()
    })?;
    Ok(Read {
        proposal: plan.proposal(Some(&rules))?,
        rules,
        made_of: MadeOf::Plan(Box::new(plan)),
    })
}

impl Read {
    /// The plan, to be tried with something changed.
    pub(crate) fn trial<'r>(&'r self, options: Options<'r>) -> Result<Trial<'r>, ProblemList> {
        match &self.made_of {
            MadeOf::Plan(plan) => Trial::of(plan, &self.rules, options),
            MadeOf::Draft(draft) => Ok(Trial::beside(None, draft.clone(), &self.rules, options)),
        }
    }

    /// The report; with what would change and what would lift its verdict, where that is asked for.
    pub(crate) fn report(
        &self,
        options: Options<'_>,
        with_changes: bool,
    ) -> Result<Report, ProblemList> {
        let report = check(&self.rules, &self.proposal, options)?;
        match with_changes {
            true => tried(report, || self.trial(options)),
            false => Ok(report),
        }
    }
}
