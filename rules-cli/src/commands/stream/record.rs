//! What is on a line of the output.

use std::sync::Arc;

use rules_core::bounds::MOST_BYTES;
use rules_core::check::{Checked, Options, Outcome, Report, StageOutcome, Verdict, checked};
use rules_core::document::{Fault, Problem, ProblemList, Syntax};
use rules_core::report::{Lean, ProblemRecord};
use rules_core::ruleset::Rules;
use rulesets::bench::{Bench, Plan};
use rulesets::proposal::Proposal;
use serde::{Serialize, Serializer};

use crate::lines::Line;

/// The answer to a line of the input.
#[derive(Serialize)]
#[serde(untagged)]
pub(super) enum Record<'r> {
    Lean {
        line: usize,
        #[serde(flatten, serialize_with = "lean")]
        found: Box<Checked<'r>>,
    },
    Report {
        line: usize,
        report: Box<Report>,
    },
    Problems(ProblemRecord),
}

impl<'r> Record<'r> {
    /// Checks the proposal on a line.
    pub(super) fn of(
        line: Line,
        (rules, bench): (&'r Rules, Option<&Arc<Bench>>),
        options: Options<'_>,
        in_full: bool,
    ) -> Self {
        let line_number = line.number;
        let found =
            proposal(line, rules, bench).and_then(|proposal| checked(rules, &proposal, options));
        match (found, in_full) {
            (Ok(found), false) => Self::Lean {
                line: line_number,
                found: Box::new(found),
            },
            (Ok(found), true) => Self::Report {
                line: line_number,
                report: Box::new(found.report()),
            },
            (Err(problems), _) => Self::Problems(ProblemRecord::of_line(line_number, problems)),
        }
    }

    /// What the whole came to and what each stage; none, if the line could not be used.
    pub(super) fn outcome(&self) -> Option<(Option<Outcome>, &[StageOutcome])> {
        match self {
            Self::Lean { found, .. } => Some((found.outcome(), found.stages())),
            Self::Report { report, .. } => Some((report.outcome, &report.stages)),
            Self::Problems(_) => None,
        }
    }

    /// The gravest of what was asked for; none, if the line could not be used.
    pub(super) fn gravest(&self) -> Option<Verdict> {
        match self {
            Self::Lean { found, .. } => Some(found.gravest().verdict),
            Self::Report { report, .. } => Some(report.gravest().verdict),
            Self::Problems(_) => None,
        }
    }
}

/// What was found, without its words.
fn lean<S: Serializer>(found: &Checked<'_>, serializer: S) -> Result<S::Ok, S::Error> {
    Lean(found).serialize(serializer)
}

fn proposal(
    line: Line,
    rules: &Rules,
    bench: Option<&Arc<Bench>>,
) -> Result<Proposal, ProblemList> {
    let name = format!("line {}", line.number);
    let Some(bytes) = line.bytes else {
        let most = MOST_BYTES >> 20;
        let message = format!("{name} is larger than {most} MiB ({MOST_BYTES} bytes)");
        let help = "write one proposal on each line";
        return Err(Problem::at_start(&name, Fault::TooLarge, message, help).into());
    };
    match bench {
        None => Proposal::read_for(rules, &name, bytes, Syntax::Json),
        Some(bench) => Plan::read_beside(&name, bytes, Syntax::Json, bench)?.proposal(Some(rules)),
    }
}
