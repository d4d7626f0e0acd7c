//! Proposals made for a row: documents in JSON, read as any other.

use rules_core::check::{Finding, Report, Status, Verdict};
use rules_core::document::{Problem, ProblemList, Syntax};
use rulesets::proposal::Proposal;
use serde_json::{Value, json};

/// Reads a proposal of these cells; `sections` are its further keys.
pub(crate) fn read(
    arrangement: &str,
    cells: &[Value],
    sections: Value,
) -> Result<Proposal, ProblemList> {
    let mut document = sections;
    document["format"] = json!(1);
    document["title"] = json!("Lamp of the night relay, for a reference row");
    document["arrangement"] = json!(arrangement);
    document["cells"] = json!(cells);
    Proposal::read("row.json", document.to_string().into_bytes(), Syntax::Json)
}

/// Problems as one text.
pub(crate) fn told(problems: &[Problem]) -> String {
    problems
        .iter()
        .map(ToString::to_string)
        .collect::<Vec<_>>()
        .join("; ")
}

/// What a caution came to for a subject.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Came {
    pub(crate) verdict: Verdict,
    pub(crate) best: Verdict,
    pub(crate) worst: Verdict,
    pub(crate) status: Status,
}

impl Came {
    /// Met, or not applicable: a report lists no finding then.
    pub(crate) const PASS: Self = Self {
        verdict: Verdict::Pass,
        best: Verdict::Pass,
        worst: Verdict::Pass,
        status: Status::Decided,
    };

    fn of(finding: &Finding) -> Self {
        Self {
            verdict: finding.verdict,
            best: finding.best,
            worst: finding.worst,
            status: finding.status,
        }
    }
}

/// What a caution came to for each subject it objects to; one pass where it objects to none.
pub(crate) fn outcomes(report: &Report, caution: &str) -> Result<Vec<Came>, String> {
    let found: Vec<Came> = report
        .findings
        .iter()
        .filter(|finding| &*finding.caution == caution)
        .map(Came::of)
        .collect();
    let silent = report
        .passed
        .iter()
        .chain(&report.not_applicable)
        .any(|id| &**id == caution);
    match (found.is_empty(), silent) {
        (false, false) => Ok(found),
        (true, true) => Ok(vec![Came::PASS]),
        _ => Err(format!(
            "the report does not tell what became of `{caution}`"
        )),
    }
}
