//! One case through the library.

use std::collections::BTreeMap;

use rules_core::check::{Options, Report, brief, check};
use rules_core::document::{Fault, Problem, Syntax};
use rules_core::ruleset::{Library, Rules, Text};
use rules_tests::conformance::Case;
use rulesets::proposal::Proposal;
use rulesets::shipped::Shipped;

/// What came of a case: a report, or every problem of its rules and proposal.
pub(crate) type Came = Result<Report, Vec<Problem>>;

/// Runs a case, which must come to the same in brief.
pub(crate) fn run(case: &Case) -> Came {
    let folder = Folder(case.files());
    let rules = Rules::load(&case.asked(), &folder, &rulesets::catalogue());
    let proposal = Proposal::read("proposal", case.proposal.clone().into_bytes(), Syntax::Yaml);
    match (rules, proposal) {
        (Ok(rules), Ok(proposal)) => {
            let came = check(&rules, &proposal, Options::default());
            assert_eq!(
                brief(&rules, &proposal, Options::default()),
                came.as_ref().map(Report::brief).map_err(Clone::clone),
                "{}",
                case.name
            );
            came
        }
        (rules, proposal) => Err([rules.err(), proposal.err()]
            .into_iter()
            .flatten()
            .flatten()
            .collect()),
    }
}

/// The rulesets of a case, all in one folder.
struct Folder<'c>(BTreeMap<&'c str, &'c str>);

impl Library for Folder<'_> {
    fn find(&self, name: &str, from: Option<&str>) -> Result<Text, Problem> {
        let file = name.strip_prefix("./").unwrap_or(name);
        match self.0.get(file) {
            Some(text) => Ok(Text {
                name: file.to_owned(),
                bytes: text.as_bytes().to_vec(),
            }),
            None if name.contains('/') => Err(Problem::of_file(
                Fault::UnknownRuleset,
                format!("there is no `{name}`"),
                "",
            )),
            None => Shipped.find(name, from),
        }
    }
}
