//! What is timed: the shipped rules, the demos, and rules and builds of any size.

pub(crate) mod counting;
pub(crate) mod typed;

use std::fmt::Write as _;
use std::hint::black_box;
use std::path::Path;

use rules_core::document::Syntax;
use rules_core::facts::{Catalogue, Sheet, WorkedDef, WorkedId};
use rules_core::ruleset::{Rules, Texts};
use rulesets::proposal::Proposal;
use rulesets::shipped::Shipped;

/// The demos, by file name.
pub(crate) const DEMOS: [&str; 3] = [
    "marshal-torch.yaml",
    "helmet-lamp.yaml",
    "course-setter-bike-light.yaml",
];

/// The rules that a text states.
pub(crate) fn rules_of(text: &str) -> Rules {
    Rules::load(
        &["timed"],
        &Texts::of([("timed", text)]),
        &rulesets::catalogue(),
    )
    .expect("the rules load")
}

/// The shipped rules.
pub(crate) fn shipped() -> Rules {
    Rules::load(&["rescued-cells"], &Shipped, &rulesets::catalogue())
        .expect("the shipped rules load")
}

/// The bytes of a demo.
pub(crate) fn demo_bytes(name: &str) -> Vec<u8> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../rules-cli/demo")
        .join(name);
    std::fs::read(path).expect("the demo is there")
}

/// A demo, read.
pub(crate) fn demo(name: &str) -> Proposal {
    read(name, demo_bytes(name))
}

/// A proposal in bytes, read as its name says.
pub(crate) fn read(name: &str, bytes: Vec<u8>) -> Proposal {
    Proposal::read(name, bytes, Syntax::of_name(name)).expect("the proposal is well formed")
}

/// How many cells are in series and in parallel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Arrangement {
    pub(crate) series: usize,
    pub(crate) parallel: usize,
}

/// A build of that many cells, fully measured, as JSON.
pub(crate) fn build_of(arrangement: Arrangement) -> Vec<u8> {
    let Arrangement { series, parallel } = arrangement;
    // A build may be larger than any that there is a light or a charger for.
    let volts = |each: usize| (each * series).min(1000);
    let mut text = format!(
        r#"{{"format":1,"title":"A build of any size","light":{{"drive":"buck","draw":"{power} W","input":{{"min":"{min} V","max":"{max} V"}},"cut_off":"{cut_off} V","standby":"20 µA"}},
"arrangement":"{series}S{parallel}P","protection":{{"kind":"pack","each_cell":true,"under_voltage":"2.5 V"}},"meters":{{"voltage":"± (0.1 % + 1 mV)","charge":"± 1 %"}},
"packs":[{{"id":"P-1","voltage":"11.1 V","capacity":"5.2 Ah","designation":"3ICR19/66-2"}}],
"charging":{{"termination":"4.20 V","current":"{charge} A","ambient":"18 degC","attended":true}},"conditions":{{"ambient":"8 degC","run_time":"90 min"}},
"cells":["#,
        power = (3 * series * parallel).min(10_000),
        min = volts(3),
        max = volts(5),
        cut_off = volts(3),
        charge = parallel.min(1000),
    );
    for at in 0..series * parallel {
        let comma = if at == 0 { "" } else { "," };
        let (group, step) = (at / parallel, at % 7);
        write!(
            text,
            r#"{comma}
{{"id":"B{at}","group":"G{group}","designation":"ICR18650","origin":"salvaged","pack":"P-1","protected":false,"found":{{"voltage":"3.52 V"}},"rest":{{"voltage":"3.84{step} V","after":"26 h"}},"capacity":{{"value":"22{step}0 mAh","at":"1.1 A","to":"3.0 V"}},"rated":{{"capacity":"2600 mAh","full":"4.20 V","discharge":"5.2 A"}},"resistance":{{"value":"6{step} mohm","method":"dc-10s"}},"drift":{{"fall":"5 mV","over":"28 d"}},"wrap":"intact","top_ring":"present","body":"sound","tabs":"ground-off"}}"#,
        )
        .expect("a text takes all that is written");
    }
    text.push_str("]}\n");
    text.into_bytes()
}

/// That many cautions about each cell, of three kinds by turns, as YAML.
pub(crate) fn cautions(many: usize) -> String {
    let mut text =
        "format: 1\nruleset: many\nversion: 1.0.0\ntitle: Many cautions, for timing\ncautions:\n"
            .to_owned();
    let rungs = [
        "cell.rest_voltage >= 2.50 V",
        "cell.capacity >= 0.5 * cell.rated_capacity",
        "cell.body == sound and cell.wrap in [intact, rewrapped]",
    ];
    for (at, rung) in rungs.into_iter().cycle().take(many).enumerate() {
        writeln!(text, "  - {{ id: c{at}, title: Timed, about: each cell, refuse_unless: \"{rung}\", reason: timed }}")
            .expect("a text takes all that is written");
    }
    text
}

/// Works out every library figure of a sheet.
pub(crate) fn every_figure(catalogue: &Catalogue, sheet: &Sheet) -> usize {
    figures_of(catalogue, sheet, |_| true)
}

/// Works out the library figures of a sheet that do not read the label of a pack.
pub(crate) fn figures_but_of_packs(catalogue: &Catalogue, sheet: &Sheet) -> usize {
    figures_of(catalogue, sheet, |def| {
        catalogue
            .needed(def.needs)
            .all(|fact| !catalogue.fact_name(fact).starts_with("pack."))
    })
}

fn figures_of(catalogue: &Catalogue, sheet: &Sheet, wanted: impl Fn(&WorkedDef) -> bool) -> usize {
    let workings = catalogue.figures().open(catalogue.facts_of(sheet));
    let mut worked = 0;
    for (at, def) in catalogue
        .worked()
        .iter()
        .enumerate()
        .filter(|(_, def)| wanted(def))
    {
        for position in 0..sheet.count(def.subject) {
            black_box(workings.work(WorkedId::new(at), position));
            worked += 1;
        }
    }
    worked
}
