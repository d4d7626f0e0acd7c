//! What is on a line of the output.

use std::sync::Arc;

use rules_core::bounds::MOST_BYTES;
use rules_core::check::{Options, Report, check};
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
pub(super) enum Record {
    Report {
        line: usize,
        report: Box<Report>,
    },
    Lean {
        line: usize,
        #[serde(flatten, serialize_with = "lean")]
        report: Box<Report>,
    },
    Problems(ProblemRecord),
}

impl Record {
    /// Checks the proposal on a line.
    pub(super) fn of(
        line: Line,
        (rules, bench): (&Rules, Option<&Arc<Bench>>),
        options: Options<'_>,
        is_lean: bool,
    ) -> Self {
        let line_number = line.number;
        let report =
            proposal(line, rules, bench).and_then(|proposal| check(rules, &proposal, options));
        match (report.map(Box::new), is_lean) {
            (Ok(report), true) => Self::Lean {
                line: line_number,
                report,
            },
            (Ok(report), false) => Self::Report {
                line: line_number,
                report,
            },
            (Err(problems), _) => Self::Problems(ProblemRecord::of_line(line_number, problems)),
        }
    }
}

/// A report without its words.
fn lean<S: Serializer>(report: &Report, serializer: S) -> Result<S::Ok, S::Error> {
    Lean(report).serialize(serializer)
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
