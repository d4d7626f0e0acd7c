//! Twenty simple rules over a build of four cells, twice: as a ruleset and by hand. Two builds: one
//! in order, one with eight faults.

pub(crate) mod by_hand;

use std::fmt;

use rules_core::check::{Verdict, judge_each};
use rules_core::document::Syntax;
use rules_core::facts::Sheet;
use rules_core::formula::Evaluator;
use rules_core::ruleset::Rules;
use rulesets::proposal::Proposal;

use by_hand::Fails;

/// The rules as a ruleset.
pub(crate) const RULES: &str = include_str!("rules.yaml");

/// A build, as a proposal and as plain numbers.
#[derive(Clone, Copy)]
pub(crate) struct Example {
    pub(crate) name: &'static str,
    pub(crate) json: &'static str,
    pub(crate) build: fn() -> by_hand::Build,
}

/// The two builds.
pub(crate) const BUILDS: [Example; 2] = [
    Example {
        name: "in order",
        json: include_str!("sound.json"),
        build: by_hand::sound,
    },
    Example {
        name: "eight faults",
        json: include_str!("faulty.json"),
        build: by_hand::faulty,
    },
];

impl fmt::Display for Example {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name)
    }
}

impl Example {
    /// The build as a proposal.
    pub(crate) fn proposal(self) -> Proposal {
        Proposal::read("build.json", self.json.as_bytes().to_vec(), Syntax::Json)
            .expect("the build is well formed")
    }
}

/// What the rules say of the facts, without a report: every rule for each of its subjects.
pub(crate) fn answers(rules: &Rules, sheet: &Sheet) -> Vec<Fails> {
    let evaluator = Evaluator::new(rules.catalogue(), rules.program(), sheet, false);
    let mut fails = Vec::new();
    for (rule, caution) in rules.cautions().iter().enumerate() {
        judge_each(caution, &evaluator, |subject, judged| {
            if judged.verdict != Verdict::Pass {
                fails.push(Fails {
                    rule,
                    subject,
                    verdict: judged.verdict,
                });
            }
        });
    }
    fails
}
