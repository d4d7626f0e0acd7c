//! How many answers a plan takes that passes over all stages of the core rules. An answer is one leaf
//! that a person writes and without which a stage passes no more. What a workshop says once on its
//! bench, for all plans and cells, is counted apart.

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;
use std::sync::LazyLock;

use rules_core::check::{Options, Report, StageOutcome, Verdict, check};
use rules_core::document::Syntax;
use rules_core::ruleset::{Rules, Texts};
use rulesets::bench::{Benches, Plan};
use rulesets::shipped::Shipped;
use serde_json::Value;

/// The marshal's torch of the club has this cell.
const CELL: &str = "M2";

/// The most answers of the plan with its cell, and of these the most about the cell.
const MOST: usize = 25;
const MOST_OF_CELL: usize = 12;

static RULES: LazyLock<Rules> = LazyLock::new(|| {
    let rules = Rules::load(&["rescued-cells"], &Shipped, &rulesets::catalogue());
    rules.unwrap_or_else(|problems| panic!("{problems}"))
});

/// The plan, and the tables of its bench.
#[derive(Clone)]
struct Files {
    plan: Value,
    cells: Vec<String>,
    readings: Vec<String>,
}

fn file(name: &str) -> String {
    let club = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../rules-cli/demo/club");
    fs::read_to_string(club.join(name)).expect("a file of the demo")
}

fn lines(name: &str) -> Vec<String> {
    file(name).lines().map(str::to_owned).collect()
}

impl Files {
    fn of_the_club() -> Self {
        Self {
            plan: serde_yaml::from_str(&file("marshal-torch.yaml")).expect("YAML"),
            cells: lines("cells.csv"),
            readings: lines("readings.csv"),
        }
    }

    /// The report; none if the plan has a fault.
    fn report(&self) -> Option<Report> {
        let files = Texts::of([
            ("bench.yaml", file("bench.yaml")),
            ("cells.csv", self.cells.join("\n")),
            ("readings.csv", self.readings.join("\n")),
        ])
        .or(Shipped);
        let text = self.plan.to_string().into_bytes();
        let plan = Plan::read("plan.json", text, Syntax::Json, &mut Benches::of(&files)).ok()?;
        let proposal = plan.proposal(Some(&RULES)).ok()?;
        check(&RULES, &proposal, Options::default()).ok()
    }

    /// The first stage that passes no more; none, if all do.
    fn asked_by(&self) -> Option<String> {
        let Some(report) = self.report() else {
            return Some("the plan".to_owned());
        };
        // With one cell there is nothing to build.
        let passes =
            |stage: &&StageOutcome| !stage.nothing_checked && stage.verdict > Verdict::Pass;
        let first = report.stages.iter().find(passes);
        first.map(|stage| stage.stage.to_string())
    }

    /// Without one leaf of the plan each.
    fn without_leaves(&self) -> Vec<Self> {
        let about = ["format", "title", "bench"];
        let mut all = Vec::new();
        for (key, value) in self.plan.as_object().expect("a map") {
            let inner: Vec<Option<&String>> = match value {
                Value::Object(map) => map.keys().map(Some).collect(),
                _ => vec![None],
            };
            for inner in inner.into_iter().filter(|_| !about.contains(&key.as_str())) {
                let mut less = self.clone();
                let map = less.plan.as_object_mut().expect("a map");
                match (inner, map.get_mut(key)) {
                    (Some(inner), Some(Value::Object(inside))) => drop(inside.remove(inner)),
                    _ => drop(map.remove(key)),
                }
                all.push(less);
            }
        }
        all
    }

    /// Without one field of the cell's row each, but its id and the light that it is in.
    fn without_fields(&self) -> Vec<Self> {
        let at = self
            .cells
            .iter()
            .position(|line| line.starts_with(&format!("{CELL};")));
        let at = at.expect("its row");
        let fields: Vec<&str> = self.cells[at].split(';').collect();
        let said = (2..fields.len()).filter(|field| !fields[*field].is_empty());
        said.map(|field| {
            let mut fewer = fields.clone();
            fewer[field] = "";
            let mut less = self.clone();
            less.cells[at] = fewer.join(";");
            less
        })
        .collect()
    }

    /// Without one reading of the cell each.
    fn without_readings(&self) -> Vec<Self> {
        let own = |line: &String| line.starts_with(&format!("{CELL};"));
        let of_cell = (0..self.readings.len()).filter(|at| own(&self.readings[*at]));
        of_cell
            .map(|at| {
                let mut less = self.clone();
                less.readings.remove(at);
                less
            })
            .collect()
    }
}

/// How many of these are asked for, by the first stage that asks.
fn by_stage(less: &[Files]) -> BTreeMap<String, usize> {
    let mut all = BTreeMap::new();
    for stage in less.iter().filter_map(Files::asked_by) {
        *all.entry(stage).or_default() += 1;
    }
    all
}

#[test]
fn a_plan_for_one_cell_passes_with_few_answers() {
    let files = Files::of_the_club();
    assert_eq!(files.asked_by(), None, "it passes over all stages");
    let of_plan = by_stage(&files.without_leaves());
    let of_cell = by_stage(&[files.without_fields(), files.without_readings()].concat());
    println!("of the plan: {of_plan:?}\nabout the cell: {of_cell:?}");
    let (plan, cell) = (
        of_plan.values().sum::<usize>(),
        of_cell.values().sum::<usize>(),
    );
    assert!(plan >= 3 && cell >= 8, "{plan} and {cell}");
    assert!(cell <= MOST_OF_CELL, "{of_cell:?}");
    assert!(plan + cell <= MOST, "{plan} and {cell}");
}
