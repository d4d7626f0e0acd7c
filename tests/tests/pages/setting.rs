//! The plans of the demo, their reports and pages, and how a page is read.

use std::fs;
use std::path::PathBuf;
use std::sync::Arc;

use roxmltree::{Document, Node};
use rules_core::check::{FigureSheet, Options, Report, check, figures};
use rules_core::document::Syntax;
use rulesets::bench::{Benches, Plan};
use rulesets::jobs::Trial;
use rulesets::jobs::choose::{Choice, Wish, choose};
use rulesets::jobs::range::{Along, MapReport, RangeReport, Vary, map, range, run_time_by_draw};
use rulesets::jobs::sort::{CellLimit, SortReport, Sorting, limits, sort};
use rulesets::jobs::tag::{TagReport, TagSize, tags};
use rulesets::label::{Label, LabelReport, Printed, decode};
use rulesets::pages::{self, Page};
use rulesets::proposal::Draft;
use rulesets::shipped::FILES;
use rulesets::{Bench, Proposal, shipped_rules};

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
    let (report, page) = checked_page(text);
    (report, page.document())
}

/// The same, which is no document yet.
pub(super) fn checked_page(text: &str) -> (Report, Page) {
    let rules = shipped_rules().expect("the shipped rules load");
    let proposal = Proposal::from_text("plan.yaml", text).expect("a plan");
    let options = Options::default();
    let report = check(&rules, &proposal, options).expect("a report");
    let sheet = figures(&rules, &proposal, options).expect("figures");
    let plan = Plan::read(
        "plan.yaml",
        text.into(),
        Syntax::Yaml,
        &mut Benches::of(&FILES),
    );
    let trial = Trial::of(&plan.expect("a plan"), &rules, options).expect("a trial");
    let page = pages::check(&report, &sheet, run_time_by_draw(&trial).as_ref());
    (report, page)
}

/// The figures of the torch, with its run time.
pub(super) fn worked_out() -> (FigureSheet, Along) {
    tried(|trial| {
        let proposal = trial.proposal().expect("a proposal");
        let sheet = figures(trial.rules(), &proposal, trial.options()).expect("figures");
        (sheet, run_time_by_draw(trial).expect("a draw"))
    })
}

/// The cells of a lantern of the club that takes four, chosen from its bench.
pub(super) fn chosen() -> Choice {
    let rules = shipped_rules().expect("the shipped rules load");
    let bench = Arc::new(bench());
    let plan = serde_json::json!({ "format": 1, "title": "lantern", "light": "start-hut" });
    let draft = Draft::of("plan", plan);
    let trial = Trial::beside(Some(&bench), draft, &rules, Options::default());
    choose(&trial, &Wish::default()).expect("a choice")
}

/// A label that can mean several packs, one that contradicts itself, and one of the code alone.
pub(super) fn labels() -> Vec<LabelReport> {
    let volts = |text| Some(Printed::Voltage.read(text).expect("a voltage"));
    let charge = |text| Some(Printed::Capacity.read(text).expect("a capacity"));
    let energy = |text| Some(Printed::Energy.read(text).expect("an energy"));
    let none = Label {
        voltage: None,
        capacity: None,
        energy: None,
        code: None,
        cells: None,
    };
    let several = Label {
        voltage: volts("14.8 V"),
        capacity: charge("4.4 Ah"),
        ..none
    };
    let contradiction = Label {
        energy: energy("90 Wh"),
        ..several
    };
    let code = Label {
        code: Some("3INR19/66-2"),
        ..none
    };
    let all = [several, contradiction, code].into_iter();
    all.map(|label| {
        let decoded = decode(&label).expect("a label");
        LabelReport::new(&label, &decoded, rulesets::catalogue().notice())
    })
    .collect()
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

fn bench() -> Bench {
    let path = demo("club/bench.yaml");
    Bench::load(path.to_str().expect("a path in UTF-8"), &FILES).expect("a bench")
}

/// The cells of the club's bench, sorted, with the limits of some of them.
pub(super) fn sorted() -> (SortReport, Vec<CellLimit>) {
    let rules = shipped_rules().expect("the shipped rules load");
    let bench = Arc::new(bench());
    let sorting = Sorting::default();
    let sorted = sort(&bench, &rules, sorting).expect("sorted cells");
    let mut some = sorted.clone();
    some.cells.retain(|cell| ["K1", "M4"].contains(&&*cell.id));
    let limits = limits(&bench, &rules, sorting, &some).expect("limits");
    (sorted, limits)
}

/// Their tags.
pub(super) fn tagged() -> TagReport {
    tags(&sorted().0, TagSize::default()).expect("tags")
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
