//! Plans with the verdict of an expert, as `tests/plans/README.md` says.

use std::path::PathBuf;

use rules_core::check::Verdict;
use serde::Deserialize;

/// How much a person tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Level {
    /// What somebody writes down unasked.
    Unasked,
    /// Every key that a careful person with a hobby's instruments can answer.
    Hobby,
    /// The same cells on laboratory instruments.
    Laboratory,
}

impl Level {
    pub(crate) const ALL: [Self; 3] = [Self::Unasked, Self::Hobby, Self::Laboratory];

    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Unasked => "unasked",
            Self::Hobby => "hobby",
            Self::Laboratory => "laboratory",
        }
    }
}

/// Which plans.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Set {
    /// Those that the rules were brought in line with.
    First,
    /// Those that were written when the rules stood, and kept from who wrote the rules.
    Blind,
}

impl Set {
    pub(crate) const ALL: [Self; 2] = [Self::First, Self::Blind];

    const fn folder(self) -> &'static str {
        match self {
            Self::First => "plans",
            Self::Blind => "plans/blind",
        }
    }
}

/// A plan, with the verdict that an expert gave before any rule was run.
#[derive(Debug, Clone)]
pub(crate) struct Plan {
    pub(crate) name: String,
    pub(crate) verdict: Verdict,
    text: String,
}

/// What is read of a plan as data; its proposals stay text.
#[derive(Deserialize)]
struct Header {
    plan: String,
    verdict: String,
}

impl Plan {
    fn read(text: String) -> Self {
        let header: Header = serde_yaml::from_str(&text).expect("a plan");
        let verdict = match header.verdict.as_str() {
            "pass" => Verdict::Pass,
            "warn" => Verdict::Warn,
            "refuse" => Verdict::Refuse,
            other => panic!("{}: {other} is no verdict", header.plan),
        };
        Self {
            name: header.plan,
            verdict,
            text,
        }
    }

    /// The proposal of a level: what stands under its key.
    pub(crate) fn proposal(&self, level: Level) -> String {
        let key = format!("{}:", level.name());
        let lines = self.text.lines().skip_while(|line| *line != key).skip(1);
        let own = lines.take_while(|line| line.is_empty() || line.starts_with("  "));
        let text: String = own
            .map(|line| format!("{}\n", line.get(2..).unwrap_or_default()))
            .collect();
        assert!(!text.is_empty(), "{} has no {key}", self.name);
        text
    }
}

/// The plans of a set, by name.
pub(crate) fn plans(set: Set) -> Vec<Plan> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(set.folder());
    let entries = std::fs::read_dir(&folder).expect("the plans");
    let paths = entries.map(|entry| entry.expect("a file").path());
    let plans = paths.filter(|path| path.extension().is_some_and(|ending| ending == "yaml"));
    let read = |path: PathBuf| Plan::read(std::fs::read_to_string(path).expect("a plan"));
    let mut plans: Vec<Plan> = plans.map(read).collect();
    plans.sort_by(|a, b| a.name.cmp(&b.name));
    assert!(plans.len() >= 39);
    plans
}
