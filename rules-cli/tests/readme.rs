//! What the documentation quotes: the command's output, and examples that must load.

#![cfg(test)]

use std::path::{Path, PathBuf};
use std::process::Command;

use rules_core::check::{Options, Verdict, check};
use rules_core::document::Syntax;
use rules_core::ruleset::{Rules, Texts};
use rules_core::vetting::{Vetting, vet};
use rulesets::bench::{Benches, Plan};
use rulesets::proposal::Proposal;
use rulesets::shipped::{FILES, Shipped};

const MARK: &str = "<!-- output of: cellrules ";

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn page(name: &str) -> String {
    std::fs::read_to_string(root().join(name)).expect("the page")
}

/// Lines of what the command prints, run from the top of the repository: so many, from the one that
/// starts with a text.
fn printed(arguments: &str, from: &str, lines: usize) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_cellrules"))
        .args(arguments.split_whitespace())
        .current_dir(root())
        .output()
        .expect("it runs");
    let text = String::from_utf8(output.stdout).expect("text");
    let quoted = text
        .lines()
        .skip_while(|line| !line.starts_with(from))
        .take(lines);
    quoted
        .map(|line| format!("{}\n", line.trim_end()))
        .collect()
}

/// A quoted output: `<!-- output of: cellrules ARGUMENTS, 24 lines from "TEXT" -->` and the block
/// under it.
struct Quotation {
    arguments: String,
    from: String,
    lines: usize,
    place: std::ops::Range<usize>,
}

fn quotations(page: &str) -> Vec<Quotation> {
    let one = |(at, _): (usize, &str)| {
        let rest = page.get(at + MARK.len()..).expect("what follows the mark");
        let (said, rest) = rest.split_once(" -->").expect("the mark ends");
        let (arguments, what) = said.rsplit_once(", ").expect("which lines are quoted");
        let (lines, from) = what
            .split_once(" lines from ")
            .expect("so many lines from a text");
        let start =
            page.len() - rest.len() + rest.find("```text\n").expect("a block") + "```text\n".len();
        let end = start
            + page
                .get(start..)
                .and_then(|block| block.find("```"))
                .expect("its end");
        let lines = lines.parse().expect("a number of lines");
        Quotation {
            arguments: arguments.to_owned(),
            from: from.trim_matches('"').to_owned(),
            lines,
            place: start..end,
        }
    };
    page.match_indices(MARK).map(one).collect()
}

#[test]
fn quoted_outputs_are_what_the_command_prints() {
    let mut readme = page("README.md");
    let quoted = quotations(&readme);
    assert_eq!(quoted.len(), 7, "the README quotes outputs");
    for Quotation {
        arguments,
        from,
        lines,
        place,
    } in quoted.into_iter().rev()
    {
        let now = printed(&arguments, &from, lines);
        assert_eq!(
            now.lines().count(),
            lines,
            "`cellrules {arguments}` has so many lines from `{from}`"
        );
        if std::env::var_os("UPDATE_README").is_some() {
            readme.replace_range(place, &now);
        } else {
            let same = readme.get(place).is_some_and(|quoted| quoted == now);
            assert!(
                same,
                "the README quotes another output of `cellrules {arguments}`; run `UPDATE_README=1 cargo test -p rules-cli --test readme`"
            );
        }
    }
    if std::env::var_os("UPDATE_README").is_some() {
        std::fs::write(root().join("README.md"), readme).expect("the README can be written");
    }
}

/// YAML blocks that are whole documents.
fn documents(page: &str) -> Vec<String> {
    let blocks = page
        .split("```yaml\n")
        .skip(1)
        .filter_map(|rest| rest.split_once("```"));
    blocks
        .map(|(block, _)| block.to_owned())
        .filter(|block| block.starts_with("format: 1"))
        .collect()
}

/// A ruleset of a page, as vetting takes it, beside the shipped ones.
fn vetting(ruleset: String) -> Vetting {
    let texts = Texts::of([("example.yaml", ruleset)]).or(Shipped);
    Vetting::load(&["example.yaml"], &texts, &rulesets::catalogue()).expect("it loads")
}

/// A proposal of the page, in the folder of the club's bench.
fn proposal(rules: &Rules, document: String) -> Proposal {
    let name = root().join("rules-cli/demo/club/example.yaml");
    let name = name.to_str().expect("a path in UTF-8");
    let plan = Plan::read(
        name,
        document.into(),
        Syntax::Yaml,
        &mut Benches::of(&FILES),
    );
    plan.and_then(|plan| plan.proposal(Some(rules)))
        .expect("it loads")
}

#[test]
fn examples_in_the_readme_work() {
    let (mut proposals, mut rulesets) = (0, 0);
    for document in documents(&page("README.md")) {
        if document.contains("\nruleset:") {
            assert_eq!(vet(&vetting(document)), [], "nothing is wanting");
            rulesets += 1;
        } else {
            let rules = Rules::load(&["rescued-cells"], &Shipped, &rulesets::catalogue())
                .expect("they load");
            let proposal = proposal(&rules, document);
            let report = check(&rules, &proposal, Options::default()).expect("it can be checked");
            assert_eq!(report.verdict(), Some(Verdict::Pass), "as the README says");
            proposals += 1;
        }
    }
    assert_eq!((proposals, rulesets), (2, 1));
}

#[test]
fn the_ruleset_in_the_language_lacks_nothing() {
    let page = page("rulesets/LANGUAGE.md");
    let ruleset = documents(&page)
        .into_iter()
        .find(|document| document.contains("\ncautions:"))
        .expect("a ruleset");
    assert_eq!(vet(&vetting(ruleset)), [], "nothing is wanting");
}

#[test]
fn the_proposal_in_the_language_loads() {
    let page = page("rulesets/LANGUAGE.md");
    let proposal = documents(&page)
        .into_iter()
        .find(|document| document.contains("arrangement:"))
        .expect("a proposal");
    Proposal::read("example.yaml", proposal.into_bytes(), Syntax::Yaml).expect("it loads");
}
