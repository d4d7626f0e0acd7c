//! One table of times and ratios, and one of growth, from medians of tasks that run in turns:
//! `cargo bench -p rules-core --bench ratios`, or with `-- figures` and the like only some parts.
#![allow(
    clippy::expect_used,
    clippy::unreachable,
    clippy::indexing_slicing,
    reason = "a bench stops where its setting is wrong"
)]
#![allow(clippy::print_stdout, reason = "the tables are what it is for")]
#![allow(dead_code, reason = "the setting is shared by several benches")]

#[path = "twenty/from_json.rs"]
mod from_json;
mod setting;
mod timing;
mod twenty;

use std::time::Duration;

use rules_core::check::{Options, Report, brief, check, checked};
use rules_core::document::Syntax;
use rules_core::facts::Proposed;
use rules_core::report::Lean;
use rules_core::ruleset::{Rules, Texts};
use rules_core::vetting::{Vetting, vet};
use rulesets::Draft;
use rulesets::proposal::Proposal;
use rulesets::shipped::Shipped;

use setting::Arrangement;
use setting::counting::Asked;
use timing::{Task, Timed, in_turns, shown};

/// How long the tasks of one table row take together.
const LONG: Duration = Duration::from_secs(4);

/// The parts, by the name with which one is asked for alone.
const PARTS: [(&str, fn()); 9] = [
    ("shipped", shipped_rules),
    ("by-hand", by_hand),
    ("end-to-end", end_to_end),
    ("form", form),
    ("written", written),
    ("loading", loading),
    ("figures", figures),
    ("growth", growth),
    ("asked", asked),
];

fn main() {
    // `cargo bench` adds a flag of its own.
    let wanted: Vec<String> = std::env::args()
        .skip(1)
        .filter(|word| !word.starts_with("--"))
        .collect();
    println!("| what | time | ratio |\n| --- | ---: | ---: |");
    for (name, part) in PARTS {
        if wanted.is_empty() || wanted.iter().any(|word| word == name) {
            part();
        }
    }
}

/// Prints times, each against the last of them.
fn print(times: &[Timed]) {
    let Some(base) = times.last() else { return };
    for one in times {
        let ratio = if one.name == base.name {
            "1".to_owned()
        } else {
            format!("{:.1}", one.seconds / base.seconds)
        };
        println!("| {} | {} | {ratio} |", one.name, shown(one.seconds));
    }
}

fn print_alone(times: &[Timed]) {
    times
        .iter()
        .for_each(|one| println!("| {} | {} | |", one.name, shown(one.seconds)));
}

fn report(rules: &Rules, proposal: &Proposal) -> Report {
    check(rules, proposal, Options::default()).expect("its facts are known")
}

fn shipped_rules() {
    let rules = setting::shipped();
    let demos = setting::DEMOS.map(|name| {
        (
            format!("shipped rules, {name}: report as data"),
            setting::demo(name),
        )
    });
    let tasks = demos
        .iter()
        .map(|(name, proposal)| Task::new(name, || report(&rules, proposal)));
    print_alone(&in_turns(tasks.collect(), LONG));
}

fn by_hand() {
    let rules = setting::rules_of(twenty::RULES);
    for example in twenty::BUILDS {
        let (proposal, build) = (example.proposal(), (example.build)());
        let sheet = proposal
            .facts(rules.catalogue())
            .expect("its facts are known");
        assert_eq!(
            twenty::answers(&rules, &sheet),
            twenty::by_hand::check(&build),
            "both say the same of {example}"
        );
        assert_eq!(
            from_json::answers(example, &rules),
            from_json::answers_by_hand(example),
            "both say the same of the JSON of {example}"
        );
        let names = ["report as data", "answers alone", "by hand, plain numbers"]
            .map(|way| format!("20 rules, 4 cells, {example}: {way}"));
        print(&in_turns(
            vec![
                Task::new(&names[0], || report(&rules, &proposal)),
                Task::new(&names[1], || twenty::answers(&rules, &sheet)),
                Task::new(&names[2], || {
                    twenty::by_hand::check(std::hint::black_box(&build))
                }),
            ],
            LONG,
        ));
        let names = ["the rules", "by hand, typed structs and plain numbers"]
            .map(|way| format!("20 rules, 4 cells, {example}: JSON to answers by {way}"));
        print(&in_turns(
            vec![
                Task::new(&names[0], || from_json::answers(example, &rules)),
                Task::new(&names[1], || from_json::answers_by_hand(example)),
            ],
            LONG,
        ));
    }
}

fn end_to_end() {
    let (rules, simple) = (setting::shipped(), setting::rules_of(twenty::RULES));
    for (name, bytes) in [
        ("1 cell", setting::demo_bytes("marshal-torch.json")),
        ("4 cells", twenty::BUILDS[0].json.into()),
    ] {
        let read = || setting::read("proposal.json", bytes.clone());
        let through =
            |rules: &Rules| serde_json::to_vec(&report(rules, &read())).expect("a report is JSON");
        let again = || {
            serde_json::from_slice::<serde_json::Value>(&bytes)
                .and_then(|value| serde_json::to_vec(&value))
                .expect("it is JSON")
        };
        let ways = [
            "bytes to report bytes, shipped rules",
            "bytes to report bytes, 20 rules",
            "bytes to facts",
            "bytes to JSON values to bytes",
            "bytes to typed structs",
        ];
        let names = ways.map(|way| format!("{name}: {way}"));
        print(&in_turns(
            vec![
                Task::new(&names[0], || through(&rules)),
                Task::new(&names[1], || through(&simple)),
                Task::new(&names[2], read),
                Task::new(&names[3], again),
                Task::new(&names[4], || {
                    serde_json::from_slice::<setting::typed::Proposal>(&bytes).expect("it fits")
                }),
            ],
            LONG,
        ));
    }
}

/// One fact of a form changes, and it is checked again: from the draft, and by way of its text.
fn form() {
    let rules = setting::shipped();
    let bytes = setting::build_of(Arrangement {
        series: 4,
        parallel: 1,
    });
    let value = serde_json::from_slice(&bytes).expect("it is JSON");
    let mut draft = Draft::of("form", value);
    let change = |draft: &mut Draft, round: &mut usize| {
        *round += 1;
        let voltage = format!("3.7{} V", *round % 10);
        draft
            .set("cells[B2].rest.voltage", voltage)
            .expect("it is a field");
    };
    let (mut other, mut rounds) = (draft.clone(), (0, 0));
    let proposal = draft.proposal(&rules).expect("it is a proposal");
    let through_text = |draft: &Draft| {
        let text = draft.value().to_string();
        report(&rules, &setting::read("form.json", text.into()))
    };
    let names = [
        "a form of four cells, one field changed: by way of its text",
        "a form of four cells, one field changed: from the draft",
        "the check of it alone",
    ];
    print(&in_turns(
        vec![
            Task::new(names[0], || {
                change(&mut other, &mut rounds.0);
                through_text(&other)
            }),
            Task::new(names[1], || {
                change(&mut draft, &mut rounds.1);
                report(&rules, &draft.proposal(&rules).expect("it is a proposal"))
            }),
            Task::new(names[2], || report(&rules, &proposal)),
        ],
        LONG,
    ));
}

/// A report of four cells as JSON: in full, and as a lean record.
fn written() {
    let rules = setting::shipped();
    let bytes = setting::build_of(Arrangement {
        series: 4,
        parallel: 1,
    });
    let proposal = setting::read("build.json", bytes);
    let found = report(&rules, &proposal);
    let lean = checked(&rules, &proposal, Options::default()).expect("its facts are known");
    let names = [
        "a report of four cells to JSON: in full",
        "a report of four cells to JSON: as a lean record",
    ];
    print(&in_turns(
        vec![
            Task::new(names[0], || serde_json::to_vec(&found).expect("JSON")),
            Task::new(names[1], || serde_json::to_vec(&Lean(&lean)).expect("JSON")),
        ],
        LONG,
    ));
}

fn loading() {
    let vetted = || {
        let vetting = Vetting::load(&["rescued-cells"], &Shipped, &rulesets::catalogue())
            .expect("the shipped rules load");
        vet(&vetting).len()
    };
    print_alone(&in_turns(
        vec![
            Task::new("shipped rules: load and compile", setting::shipped),
            Task::new("shipped rules: load and vet", vetted),
        ],
        LONG,
    ));
}

fn figures() {
    let catalogue = rulesets::catalogue();
    for (series, parallel) in [(1, 1), (4, 2)] {
        let proposal = setting::read(
            "build.json",
            setting::build_of(Arrangement { series, parallel }),
        );
        let sheet = proposal.facts(&catalogue).expect("its facts are known");
        let name = |which: &str, many: usize| {
            format!("{which} {many} figures of a {series}S{parallel}P build")
        };
        let all = name("all", setting::every_figure(&catalogue, &sheet));
        let without = name(
            "without packs' labels",
            setting::figures_but_of_packs(&catalogue, &sheet),
        );
        print_alone(&in_turns(
            vec![
                Task::new(&all, || setting::every_figure(&catalogue, &sheet)),
                Task::new(&without, || {
                    setting::figures_but_of_packs(&catalogue, &sheet)
                }),
            ],
            LONG,
        ));
    }
}

const SIZES: [usize; 4] = [10, 100, 1_000, 10_000];

/// A size is left out if the one before took longer than this: ten times as many may take all the
/// memory there is.
const TOO_LONG: f64 = 1.0;

/// A row of growth: the time per item at each size, each by itself, since the largest take so much
/// longer than the small.
fn row(name: &str, task: impl Fn(usize) -> Task<'static>) {
    let mut per_item: Vec<f64> = Vec::new();
    let mut last = 0.0;
    for many in SIZES {
        if last > TOO_LONG {
            break;
        }
        last = in_turns(vec![task(many)], LONG / 4)
            .first()
            .map_or(0.0, |timed| timed.seconds);
        per_item.push(last / many as f64);
    }
    let cells = SIZES.iter().enumerate().map(|(at, _)| {
        per_item
            .get(at)
            .map_or("too long".to_owned(), |seconds| shown(*seconds))
    });
    let factor = per_item
        .last()
        .zip(per_item.first())
        .map_or(1.0, |(last, first)| last / first);
    println!(
        "| {name} | {} | {factor:.1} |",
        cells.collect::<Vec<_>>().join(" | ")
    );
}

fn growth() {
    println!(
        "\n| grows | 10 | 100 | 1,000 | 10,000 | largest against 10 |\n| --- | ---: | ---: | ---: | ---: | ---: |"
    );
    growth_in_cells();
    growth_in_cautions();
    growth_before_a_check();
}

fn growth_in_cells() {
    // Ten thousand cells have more findings than one report may hold.
    let verdicts = |arrangement: fn(usize) -> Arrangement| {
        move |many| {
            let rules = setting::shipped();
            let proposal = setting::read("build.json", setting::build_of(arrangement(many)));
            Task::new("", move || {
                brief(&rules, &proposal, Options::default()).expect("its facts are known")
            })
        }
    };
    row(
        "cells in series, shipped rules in brief",
        verdicts(|many| Arrangement {
            series: many,
            parallel: 1,
        }),
    );
    row(
        "cells in parallel, shipped rules in brief",
        verdicts(|many| Arrangement {
            series: 1,
            parallel: many,
        }),
    );
    row(
        "groups of five in series, shipped rules in brief",
        verdicts(|many| Arrangement {
            series: many / 5,
            parallel: 5,
        }),
    );
    row("cells in series, 20 rules", |many| {
        let rules = setting::rules_of(twenty::RULES);
        let bytes = setting::build_of(Arrangement {
            series: many,
            parallel: 1,
        });
        let proposal = setting::read("build.json", bytes);
        Task::new("", move || report(&rules, &proposal))
    });
}

fn growth_in_cautions() {
    row("cautions on four cells", |many| {
        let (rules, proposal) = (
            setting::rules_of(&setting::cautions(many)),
            twenty::BUILDS[0].proposal(),
        );
        Task::new("", move || report(&rules, &proposal))
    });
    row("cautions loaded and compiled", |many| {
        let text = setting::cautions(many);
        Task::new("", move || setting::rules_of(&text))
    });
}

/// Of reading cells, and of every figure of them.
fn growth_before_a_check() {
    row("cells read from JSON", |many| {
        let bytes = setting::build_of(Arrangement {
            series: many,
            parallel: 1,
        });
        Task::new("", move || {
            Proposal::read("build.json", bytes.clone(), Syntax::Json)
        })
    });
    row("every figure, cells in series", |many| {
        let catalogue = rulesets::catalogue();
        let proposal = setting::read(
            "build.json",
            setting::build_of(Arrangement {
                series: many,
                parallel: 1,
            }),
        );
        let sheet = proposal
            .facts(&catalogue)
            .expect("its facts are known")
            .into_owned();
        Task::new("", move || setting::every_figure(&catalogue, &sheet))
    });
}

/// Figures are worked out only where a rule asks for one.
fn asked() {
    let asked = Asked::default();
    let catalogue = asked.catalogue();
    let simple = Rules::load(
        &["timed"],
        &Texts::of([("timed", twenty::RULES)]),
        &catalogue,
    )
    .expect("the rules load");
    let shipped =
        Rules::load(&["rescued-cells"], &Shipped, &catalogue).expect("the shipped rules load");
    // Loading may ask; only checks count.
    asked.take();
    report(&simple, &twenty::BUILDS[1].proposal());
    let by_simple = asked.take();
    assert_eq!(
        by_simple, 0,
        "rules that name no library figure must not have one worked out"
    );
    report(&shipped, &setting::demo("helmet-lamp.yaml"));
    println!(
        "\nFigures asked for: {by_simple} by the twenty rules, {} by the shipped rules on helmet-lamp.yaml.",
        asked.take()
    );
}
