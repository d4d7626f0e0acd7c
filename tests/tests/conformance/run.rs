//! One case through the library.

use rules_core::check::{Options, Report, brief, check};
use rules_core::document::{ProblemList, Syntax};
use rules_core::ruleset::{Rules, Texts};
use rules_tests::conformance::Case;
use rules_tests::read_again::{lean_is_full, read_again};
use rulesets::proposal::Proposal;
use rulesets::shipped::Shipped;

/// What came of a case: a report, or every problem of its rules and proposal.
pub(crate) type Came = Result<Report, ProblemList>;

/// Runs a case, which must come to the same in brief.
pub(crate) fn run(case: &Case) -> Came {
    let folder = Texts::of(case.files()).or(Shipped);
    let rules = Rules::load(&case.given(), &folder, &rulesets::catalogue());
    let (name, bytes) = ("proposal", case.proposal.clone().into_bytes());
    let proposal = match &rules {
        Ok(rules) => Proposal::read_for(rules, name, bytes, Syntax::Yaml),
        Err(_) => Proposal::read(name, bytes, Syntax::Yaml),
    };
    match (rules, proposal) {
        (Ok(rules), Ok(proposal)) => {
            let stages = case.stages();
            let options = Options {
                stages: &stages,
                ..Options::default()
            };
            let came = check(&rules, &proposal, options);
            assert_eq!(
                brief(&rules, &proposal, options),
                came.as_ref().map(Report::brief).map_err(Clone::clone),
                "{}",
                case.name
            );
            if let Ok(report) = &came {
                assert_eq!(read_again(report), Ok(()), "{}", case.name);
                assert_eq!(lean_is_full(report, &rules), Ok(()), "{}", case.name);
            }
            came
        }
        (rules, proposal) => Err([rules.err(), proposal.err()]
            .into_iter()
            .flatten()
            .flatten()
            .collect()),
    }
}
