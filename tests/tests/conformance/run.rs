//! One case through the library.

use rules_core::check::{Options, Report, brief, check};
use rules_core::document::{Content, Node, ProblemList, Syntax, digest, read, source};
use rules_core::ruleset::{Library, Rules, Texts};
use rules_tests::conformance::{Case, Expect, Outcome};
use rules_tests::read_again::{lean_is_full, lean_needs_no_report, read_again};
use rulesets::bench::{Benches, Plan};
use rulesets::proposal::Proposal;
use rulesets::shipped::Shipped;

/// What came of a case: a report, or every problem of its rules and proposal.
pub(crate) type Came = Result<Report, ProblemList>;

/// Runs a case, which must come to the same in brief.
pub(crate) fn run(case: &Case) -> Came {
    let beside = case.beside.iter().flatten();
    let beside = beside.map(|(name, text)| (name.as_str(), text.as_str()));
    let folder = Texts::of(case.files().into_iter().chain(beside)).or(Shipped);
    let rules = Rules::load(&case.given(), &folder, &rulesets::catalogue());
    let (name, bytes) = ("proposal", case.proposal.clone().into_bytes());
    if case.beside.is_some() {
        return with_bench(case, &folder);
    }
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
            assert_written_whole(&came, &rules, case);
            came
        }
        (rules, proposal) => Err([rules.err(), proposal.err()]
            .into_iter()
            .flatten()
            .flatten()
            .collect()),
    }
}

/// Runs a case of which the proposal takes from a bench. Written out, it must come to the same.
fn with_bench(case: &Case, folder: &dyn Library) -> Came {
    let bytes = case.proposal.clone().into_bytes();
    let plan = Plan::read("proposal", bytes, Syntax::Yaml, &mut Benches::of(folder))?;
    let asked: Vec<String> = case.given().into_iter().map(str::to_owned).collect();
    let names = plan.rules(&asked);
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let rules = Rules::load(&names, folder, &rulesets::catalogue());
    let rules = match rules {
        Ok(rules) => rules,
        Err(problems) => {
            let own = plan.proposal(None).err().unwrap_or_default();
            return Err(problems.into_iter().chain(own).collect());
        }
    };
    let proposal = plan.proposal(Some(&rules))?;
    let came = check(&rules, &proposal, Options::default());
    let direct = lean_needs_no_report(&rules, &proposal);
    assert_eq!(direct, Ok(()), "{}", case.name);
    let plain = plan.plain_yaml(&rules)?;
    if let Expect::Outcome(Outcome {
        plain: Some(wanted),
        ..
    }) = &case.expect
    {
        assert_eq!(said(&plain), said(wanted), "{}\n{plain}", case.name);
    }
    let written = Proposal::read_for(&rules, "proposal", plain.into_bytes(), Syntax::Yaml)?;
    let again = check(&rules, &written, Options::default());
    let verdicts = |report: &Report| report.brief();
    assert_eq!(
        came.as_ref().map(verdicts),
        again.as_ref().map(verdicts),
        "{}",
        case.name
    );
    assert_written_whole(&came, &rules, case);
    came
}

/// A report is the same when it is read again, and when its words are put to its lean record.
fn assert_written_whole(came: &Came, rules: &Rules, case: &Case) {
    if let Ok(report) = came {
        assert_eq!(read_again(report), Ok(()), "{}", case.name);
        assert_eq!(lean_is_full(report, rules), Ok(()), "{}", case.name);
    }
}

/// What a proposal says, without its notes: however it is written, and in whatever order.
fn said(text: &str) -> String {
    let source = source("plain", text.into()).expect("a text");
    let tree = read(&source, Syntax::Yaml).expect("a document");
    let entries = tree.entries().iter().filter(|entry| entry.key != "notes");
    let content = Content::Map(entries.cloned().collect());
    digest(&Node {
        content,
        span: tree.span,
    })
}
