//! What a call does, in safe code: rules, answers and their JSON.

use rules_core::check::checked;
use rules_core::document::{json_text, write_json_line};
use rules_core::report::{Lean, ProblemRecord, Prose};
use rulesets::{
    Options, ProblemList, Proposal, Rules, Syntax, Texts, Verdict, check, rules_from_texts,
};

use crate::failure::Failure;

/// How much of an answer is written.
#[derive(Clone, Copy)]
pub(crate) enum Detail {
    /// Ids and numbers, on one line.
    Lean,
    /// The whole report, with the words of the rules.
    Full,
}

/// A verdict and the JSON that it stands in.
pub(crate) struct Answer {
    /// None if the rules have no stage that the proposal is of.
    pub(crate) verdict: Option<Verdict>,
    pub(crate) json: String,
}

/// Rules of the texts and of the shipped ones, all that are named.
pub(crate) fn load(names: &[&str], texts: Texts) -> Result<Rules, Failure> {
    rules_from_texts(names, texts).map_err(Failure::NotUsable)
}

/// Checks a proposal. Its name says whether it is JSON, by its ending, or YAML.
pub(crate) fn answer(
    rules: &Rules,
    (name, bytes): (&str, Vec<u8>),
    detail: Detail,
) -> Result<Answer, Failure> {
    let read = Proposal::read_for(rules, name, bytes, Syntax::of_name(name));
    let proposal = read.map_err(Failure::NotUsable)?;
    let options = Options::default();
    match detail {
        Detail::Lean => {
            let found = checked(rules, &proposal, options).map_err(Failure::NotUsable)?;
            let mut line = Vec::new();
            write_json_line(&mut line, &Lean(&found)).map_err(|_| Failure::Internal)?;
            Ok(Answer {
                verdict: found.outcome().map(|outcome| outcome.verdict),
                json: String::from_utf8(line).map_err(|_| Failure::Internal)?,
            })
        }
        Detail::Full => {
            let report = check(rules, &proposal, options).map_err(Failure::NotUsable)?;
            Ok(Answer {
                verdict: report.verdict(),
                json: json_text(&report).map_err(|_| Failure::Internal)?,
            })
        }
    }
}

/// The words of rules, which lean answers leave out, with the standing notice.
pub(crate) fn prose(rules: &Rules) -> Result<String, Failure> {
    json_text(&Prose::of(rules)).map_err(|_| Failure::Internal)
}

/// What stands in place of an answer.
pub(crate) fn problems(problems: ProblemList) -> Result<String, Failure> {
    json_text(&ProblemRecord::of(problems)).map_err(|_| Failure::Internal)
}
