//! Against brute force: every set is checked by its plan, and put in order by what the documentation
//! of a choice says.

use std::cmp::Ordering;

use rules_core::check::{Scales, Verdict, given};
use rules_core::ruleset::Rules;
use rulesets::jobs::Trial;
use rulesets::jobs::choose::{Wish, choose};
use rulesets::shipped_rules;
use serde_json::{Value, json};

use super::setting::{Chance, cell, lamp, mixed_cells, trial};

/// A set with all that its place in the order depends on.
#[derive(Debug)]
struct Tried {
    head: (Verdict, Verdict, usize, usize, usize),
    margins: Vec<f64>,
    names: Vec<Vec<String>>,
}

/// What is alike to so many parts of one is alike.
const CLOSE: f64 = 2e-9;

impl Tried {
    fn cmp(&self, other: &Self) -> Ordering {
        let wide = std::iter::repeat(&f64::INFINITY);
        let most = self.margins.len().max(other.margins.len());
        let pairs = self.margins.iter().chain(wide.clone());
        let mut pairs = pairs.zip(other.margins.iter().chain(wide)).take(most);
        let differing =
            pairs.find(|(a, b)| a.is_infinite() != b.is_infinite() || (*a - *b).abs() > CLOSE);
        let by_margins = differing.map_or(Ordering::Equal, |(a, b)| b.total_cmp(a));
        let by_head = self.head.cmp(&other.head);
        by_head
            .then(by_margins)
            .then_with(|| self.names.cmp(&other.names))
    }
}

/// All ways to put cells into groups of so many each, none of them twice.
fn groupings(cells: &[usize], series: usize, parallel: usize) -> Vec<Vec<Vec<usize>>> {
    if series == 0 {
        return vec![Vec::new()];
    }
    let mut all = Vec::new();
    // Any of the cells may be the first of the first group; those before it are left out.
    for first in 0..cells.len() {
        let others = &cells[first + 1..];
        for mut group in subsets(others, parallel - 1) {
            let left: Vec<usize> = others
                .iter()
                .copied()
                .filter(|cell| !group.contains(cell))
                .collect();
            group.insert(0, cells[first]);
            for mut rest in groupings(&left, series - 1, parallel) {
                rest.insert(0, group.clone());
                all.push(rest);
            }
        }
    }
    all
}

fn subsets(cells: &[usize], count: usize) -> Vec<Vec<usize>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let mut all = Vec::new();
    for at in 0..cells.len() {
        for mut rest in subsets(&cells[at + 1..], count - 1) {
            rest.insert(0, cells[at]);
            all.push(rest);
        }
    }
    all
}

fn plan<'r>(trial: &Trial<'r>, cells: &[Value], groups: &[Vec<usize>]) -> Trial<'r> {
    let labelled = groups.len() > 1 && groups[0].len() > 1;
    let mut chosen = Vec::new();
    for (at, group) in groups.iter().enumerate() {
        for cell in group {
            let mut cell = cells[*cell].clone();
            if labelled {
                cell["group"] = Value::String(["A", "B", "C"][at].to_owned());
            }
            chosen.push(cell);
        }
    }
    trial
        .with(|draft| draft.set("cells", chosen))
        .expect("a plan")
}

fn tried(rules: &Rules, plan: &Trial<'_>, cells: &[Value], groups: &[Vec<usize>]) -> Tried {
    let proposal = plan.proposal().expect("a proposal");
    let sheet = given(rules, &proposal).expect("facts");
    let scales = Scales::of(rules, plan.options()).expect("scales");
    let (outcome, each) = scales.whole(&sheet).expect("a check");
    // The outcome is that of a check, and not of the scales alone. To see it of some is enough.
    if groups[0][0] == 0 && groups[0].len() + groups.len() > 3 {
        assert_eq!(outcome, plan.brief().expect("a check").gravest());
    }
    let count = |verdict| each.iter().filter(|one| one.judged.best == verdict).count();
    let open = each
        .iter()
        .filter(|one| one.judged.best != one.judged.worst);
    let head = (
        outcome.best,
        outcome.verdict,
        count(Verdict::Refuse),
        count(Verdict::Warn),
        open.count(),
    );
    let mut margins: Vec<f64> = each
        .iter()
        .filter_map(|one| Some(one.leeway?.share))
        .collect();
    margins.sort_by(f64::total_cmp);
    let name = |cell: &usize| cells[*cell]["id"].as_str().expect("an id").to_owned();
    let mut names: Vec<Vec<String>> = groups
        .iter()
        .map(|group| {
            let mut names: Vec<String> = group.iter().map(name).collect();
            names.sort();
            names
        })
        .collect();
    names.sort();
    Tried {
        head,
        margins,
        names,
    }
}

/// How many sets there are, how many of them a choice checked whole, and whether some pass.
struct Agreed {
    sets: usize,
    checked: u64,
    some_pass: bool,
}

fn agree(rules: &Rules, (series, parallel): (usize, usize), cells: Vec<Value>) -> Agreed {
    let trial = trial(lamp(series, parallel, cells.clone()), rules);
    let all: Vec<usize> = (0..cells.len()).collect();
    let mut every: Vec<Tried> = groupings(&all, series, parallel)
        .iter()
        .map(|groups| tried(rules, &plan(&trial, &cells, groups), &cells, groups))
        .collect();
    every.sort_by(Tried::cmp);
    let mut checked = 0;
    for not_passing in [true, false] {
        let wish = Wish {
            sets: 4,
            not_passing,
            ..Wish::default()
        };
        let choice = choose(&trial, &wish).expect("a choice");
        assert_eq!(choice.searched.sets, every.len() as u64);
        assert_eq!(choice.searched.unsearched, 0);
        let passes = |one: &&Tried| one.head.1 == Verdict::Pass;
        let some_pass = every.iter().any(|one| passes(&one));
        let wanted = every
            .iter()
            .filter(|one| not_passing || !some_pass || passes(one));
        let wanted: Vec<&Vec<Vec<String>>> = wanted.take(4).map(|one| &one.names).collect();
        let chosen: Vec<&Vec<Vec<String>>> = choice.sets.iter().map(|set| &set.groups).collect();
        assert_eq!(
            chosen,
            wanted,
            "{series}S{parallel}P of {} cells",
            cells.len()
        );
        checked += choice.searched.checked;
    }
    Agreed {
        sets: every.len(),
        checked,
        some_pass: every.iter().any(|one| one.head.1 == Verdict::Pass),
    }
}

/// Arrangements, and the most cells that a bench has of which all sets are tried.
const ARRANGEMENTS: [((usize, usize), usize); 11] = [
    ((1, 2), 9),
    ((2, 1), 9),
    ((1, 4), 9),
    ((2, 2), 8),
    ((3, 1), 9),
    ((3, 2), 7),
    ((1, 2), 9),
    ((2, 1), 9),
    ((1, 4), 9),
    ((2, 2), 8),
    ((3, 1), 9),
];

/// A bench of each kind in turn: mixed, in pairs that are alike, with cells of which nothing is known,
/// or none of which passes.
fn bench(kind: u64, count: usize, chance: &mut Chance) -> Vec<Value> {
    let mut cells = mixed_cells(count, chance);
    let half = count.div_ceil(2);
    for at in 0..count {
        let id = format!("K{at}");
        match kind {
            1 if at >= half => cells[at] = cells[at - half].clone(),
            2 if at % 3 == 0 => cells[at] = json!({}),
            3 => {
                cells[at] = cell(
                    &id,
                    4_050 + chance.below(120),
                    2_000 + chance.below(500),
                    900,
                )
            }
            _ => {}
        }
        cells[at]["id"] = json!(id);
    }
    cells
}

#[test]
fn of_generated_benches() {
    let rules = shipped_rules().expect("the shipped rules");
    let (mut sets, mut checked, mut by_count, mut none_pass) = (0, 0, [0; 10], 0);
    for seed in 0..200 {
        let mut chance = Chance::of(seed + 1);
        let ((series, parallel), most) = ARRANGEMENTS[seed as usize % ARRANGEMENTS.len()];
        let fewest = (series * parallel).max(4);
        let count = fewest + (seed as usize / ARRANGEMENTS.len()) % (most - fewest + 1);
        let cells = bench(seed / 7 % 5, count, &mut chance);
        let agreed = agree(&rules, (series, parallel), cells);
        by_count[count] += 1;
        sets += agreed.sets;
        checked += agreed.checked;
        none_pass += usize::from(!agreed.some_pass);
    }
    println!("{sets} sets in 200 benches, of which a choice checked {checked} whole: {by_count:?}");
    assert!(sets >= 4_000, "{sets}");
    assert!((40..160).contains(&none_pass), "{none_pass}");
}
