//! The plans of the demo, their reports and pages, and how a page is read.

use std::fs;
use std::path::PathBuf;
use std::sync::Arc;

use roxmltree::{Document, Node};
use rules_core::check::{Options, Report, check, figures};
use rules_core::document::Syntax;
use rulesets::bench::{Benches, Plan};
use rulesets::jobs::Trial;
use rulesets::jobs::range::{MapReport, RangeReport, Vary, map, range};
use rulesets::jobs::sort::{SortReport, Sorting, sort};
use rulesets::jobs::tag::{TagReport, TagSize, tags};
use rulesets::shipped::FILES;
use rulesets::{Bench, Proposal, pages, shipped_rules};

/// What the demo has: without readings, of one cell that passes, and of four cells.
pub(super) const PLANS: [&str; 3] = [
    "helmet-lamp.yaml",
    "marshal-torch.yaml",
    "course-setter-bike-light.yaml",
];

fn demo(name: &str) -> PathBuf {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    root.join("../rules-cli/demo").join(name)
}

pub(super) fn plan_text(name: &str) -> String {
    let path = demo(name);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// The report on a plan, and its page.
pub(super) fn checked(text: &str) -> (Report, String) {
    let rules = shipped_rules().expect("the shipped rules load");
    let proposal = Proposal::from_text("plan.yaml", text).expect("a plan");
    let options = Options::default();
    let report = check(&rules, &proposal, options).expect("a report");
    let sheet = figures(&rules, &proposal, options).expect("figures");
    let page = pages::check(&report, &sheet);
    (report, page)
}

/// The map of the torch: draw across, ambient temperature up.
pub(super) fn mapped() -> MapReport {
    let (across, up) = (vary("light.draw"), vary("conditions.ambient"));
    tried(|trial| map(trial, &across, &up, 10_000)).expect("a map")
}

/// The range of its draw.
pub(super) fn ranged() -> RangeReport {
    tried(|trial| range(trial, &vary("light.draw"), 2_000)).expect("a range")
}

const fn vary(fact: &str) -> Vary<'_> {
    Vary {
        fact,
        from: None,
        to: None,
        resolution: None,
    }
}

fn tried<A>(job: impl FnOnce(&Trial<'_>) -> A) -> A {
    let rules = shipped_rules().expect("the shipped rules load");
    let text = plan_text("marshal-torch.yaml").into_bytes();
    let plan = Plan::read("plan.yaml", text, Syntax::Yaml, &mut Benches::of(&FILES));
    let plan = plan.expect("a plan");
    let trial = Trial::of(&plan, &rules, Options::default()).expect("a trial");
    job(&trial)
}

/// The cells of the club's bench, sorted.
pub(super) fn sorted() -> SortReport {
    let rules = shipped_rules().expect("the shipped rules load");
    let path = demo("club/bench.yaml");
    let bench = Bench::load(path.to_str().expect("a path in UTF-8"), &FILES).expect("a bench");
    sort(&Arc::new(bench), &rules, Sorting::default()).expect("sorted cells")
}

/// Their tags.
pub(super) fn tagged() -> TagReport {
    tags(&sorted(), TagSize::default()).expect("tags")
}

/// Reads a page as XML, which its declaration is no part of.
pub(super) fn read(page: &str) -> Document<'_> {
    let page = page.strip_prefix("<!DOCTYPE html>\n");
    let page = page.expect("a page begins with its declaration");
    Document::parse(page).unwrap_or_else(|error| panic!("{error}"))
}

/// All elements of a name.
pub(super) fn all<'d>(within: Node<'d, 'd>, name: &str) -> Vec<Node<'d, 'd>> {
    let found = within.descendants();
    found
        .filter(|node| node.tag_name().name() == name)
        .collect()
}

/// The text in a node, with single spaces.
pub(super) fn words(node: Node<'_, '_>) -> String {
    let texts = node
        .descendants()
        .filter_map(|one| one.text().filter(|_| one.is_text()));
    let text: String = texts.collect();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
