//! What stands on a line of the output.

use rules_core::bounds::MOST_BYTES;
use rules_core::check::{Brief, Report};
use rules_core::check::{Options, brief, check};
use rules_core::document::{Fault, Problem, ProblemList, Syntax};
use rules_core::report::ProblemRecord;
use rules_core::ruleset::Rules;
use rulesets::proposal::Proposal;
use serde::Serialize;

use crate::lines::Line;

/// The answer to a line of the input.
#[derive(Serialize)]
#[serde(untagged)]
pub(super) enum Record {
    Report {
        line: usize,
        report: Box<Report>,
    },
    Brief {
        line: usize,
        #[serde(flatten)]
        brief: Brief,
    },
    Problems(ProblemRecord),
}

impl Record {
    /// Checks the proposal on a line.
    pub(super) fn of(line: Line, rules: &Rules, is_brief: bool) -> Self {
        let number = line.number;
        let record = proposal(line, rules).and_then(|proposal| match is_brief {
            true => brief(rules, &proposal, Options::default()).map(|brief| Self::Brief {
                line: number,
                brief,
            }),
            false => check(rules, &proposal, Options::default()).map(|report| Self::Report {
                line: number,
                report: Box::new(report),
            }),
        });
        record.unwrap_or_else(|problems| Self::Problems(ProblemRecord::of_line(number, problems)))
    }
}

fn proposal(line: Line, rules: &Rules) -> Result<Proposal, ProblemList> {
    let name = format!("line {}", line.number);
    let Some(bytes) = line.bytes else {
        let most = MOST_BYTES >> 20;
        let message = format!("{name} is larger than {most} MiB ({MOST_BYTES} bytes)");
        let help = "write one proposal on each line";
        return Err(Problem::at_start(&name, Fault::TooLarge, message, help).into());
    };
    Proposal::read_for(rules, &name, bytes, Syntax::Json)
}
