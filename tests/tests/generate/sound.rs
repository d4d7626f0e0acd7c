//! Proposals for the shipped ruleset, near its limits.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use rules_core::quantity::Kind;
use rules_core::ruleset::{AssumedMeter, Rules};
use rulesets::shipped::Shipped;

use super::choices::Choices;
use super::formula::options;
use super::marks;
use super::meter::Meter;
use super::proposal::{Cell, Draft, Facts, Given, Pack, Wish, draft_of};
use super::quantity::{Care, Quantity};
use super::vocabulary::{FACTS, FactAt, Place, Subject, Values, fact_named};

/// All that the shipped ruleset can speak of.
pub(crate) static FACTS_OF_TRADE: LazyLock<BTreeSet<FactAt>> =
    LazyLock::new(|| (0..FACTS.len()).filter(|at| !FACTS[*at].declared).collect());

/// So many words decide over a proposal of four cells with every fact of the trade. Where they run
/// out, everything comes out as zero does.
pub(crate) const WORDS: usize = 2_400;

/// One protected cell with everything measured, in a torch that switches itself off. It keeps all
/// cautions; the data is invented.
const SOUND: [(&str, &str); 89] = [
    ("light.bays", "1"),
    ("light.drive", "buck-boost"),
    ("light.draw_power", "4.2 W"),
    ("light.input_min", "2.8 V"),
    ("light.input_max", "4.5 V"),
    ("light.cut_off", "3.0 V"),
    ("light.bay_length", "70.00 mm"),
    ("light.bay_diameter", "19.50 mm"),
    ("light.vented", "yes"),
    ("light.standby", "0 A"),
    ("light.lockout", "yes"),
    ("light.cell_temperature", "32 degC"),
    ("light.contacts", "springs"),
    ("light.spacer", "none"),
    ("light.polarity_guard", "mechanical"),
    ("protection.kind", "cell"),
    ("protection.each_cell", "yes"),
    ("protection.under_voltage", "2.5 V"),
    ("protection.over_voltage", "4.28 V"),
    ("protection.over_current", "6 A"),
    ("protection.fused", "yes"),
    ("charging.termination", "4.20 V"),
    ("charging.current", "0.5 A"),
    ("charging.stop_current", "50 mA"),
    ("charging.low_start", "3.0 V"),
    ("charging.low_current", "100 mA"),
    ("charging.place", "bay-charger"),
    ("charging.balanced", "no"),
    ("charging.timer", "yes"),
    ("charging.ambient", "20 degC"),
    ("charging.attended", "yes"),
    ("charging.charger", "lithium-ion"),
    ("charging.after_full", "stops"),
    ("charging.on_way_out", "no"),
    ("charging.alarm", "yes"),
    ("charging.surface", "non-combustible"),
    ("conditions.ambient", "6 degC"),
    ("conditions.run_time", "60 min"),
    ("conditions.carried", "case"),
    ("conditions.check_every", "60 min"),
    ("conditions.use", "torch"),
    ("conditions.idle", "60 d"),
    ("conditions.stored_at", "3.750 V"),
    ("conditions.stored_in", "18 degC"),
    ("conditions.flown", "never"),
    ("conditions.handed_on", "never"),
    ("cell.designation", "INR18650"),
    ("cell.origin", "salvaged"),
    ("cell.pack", "P-1"),
    ("cell.protected", "yes"),
    ("cell.circuit", "by-maker"),
    ("cell.revived", "never"),
    ("cell.mishap", "none"),
    ("cell.mate_failed", "no"),
    ("cell.idle_rise", "0.0 K"),
    ("cell.quarantined_for", "28 d"),
    ("cell.tested_ago", "20 d"),
    ("cell.card", "yes"),
    ("cell.ends_with", "in-use"),
    ("cell.found_voltage", "3.412 V"),
    ("cell.rest_voltage", "3.8420 V"),
    ("cell.rest_after", "36 h"),
    ("cell.capacity", "2355 mAh"),
    ("cell.capacity_at", "1.5 A"),
    ("cell.capacity_to", "3.0 V"),
    ("cell.capacity_by", "discharge"),
    ("cell.capacity_stop", "automatic"),
    ("cell.capacity_2", "2390 mAh"),
    ("cell.capacity_2_at", "0.5 A"),
    ("cell.capacity_2_to", "3.0 V"),
    ("cell.rated_capacity", "2500 mAh"),
    ("cell.rated_full", "4.20 V"),
    ("cell.rated_discharge", "10 A"),
    ("cell.rated_charge", "2.5 A"),
    ("cell.resistance", "38.0 mΩ"),
    ("cell.resistance_method", "dc-10s"),
    ("cell.resistance_initial", "32 mΩ"),
    ("cell.drift_from", "4.102 V"),
    ("cell.drift_fall", "5 mV"),
    ("cell.drift_over", "21 d"),
    ("cell.charge_rise", "3.0 K"),
    ("cell.charge_taken", "2390 mAh"),
    ("cell.wrap", "intact"),
    ("cell.top_ring", "present"),
    ("cell.body", "sound"),
    ("cell.tabs", "clean"),
    ("cell.weld_marks", "flat"),
    ("cell.size_length", "68.40 mm"),
    ("cell.size_diameter", "18.80 mm"),
];

/// The label of the pack that the cell came out of: 3 times 3.6 V, 2 times 2.5 Ah, and their product.
const SOUND_PACK: (&str, [(&str, &str); 9]) = (
    "P-1",
    [
        ("pack.designation", "3INR19/66-2"),
        ("pack.voltage", "10.8 V"),
        ("pack.capacity", "5.0 Ah"),
        ("pack.energy", "54 Wh"),
        ("pack.cells", "6"),
        ("pack.state", "sound"),
        ("pack.opened_at", "10.9 V"),
        ("pack.opened_by", "along-the-seam"),
        ("pack.insulated_tools", "yes"),
    ],
);

fn sound(is_of: impl Fn(Subject) -> bool) -> Facts {
    let all = SOUND.iter().chain(&SOUND_PACK.1);
    let own = all.map(|(name, written)| (fact_named(name), *written));
    own.filter(|(at, _)| is_of(FACTS[*at].subject))
        .map(|(at, written)| (at, given(at, written)))
        .collect()
}

/// Whether it is neither of a cell nor of a pack.
fn single(subject: Subject) -> bool {
    subject.many().is_none()
}

fn given(at: FactAt, written: &str) -> Given {
    match &FACTS[at].values {
        Values::Number(kind) => Given::Number(Quantity::of_text(*kind, written)),
        Values::Choice(_) => Given::Choice(
            options(at)
                .iter()
                .position(|option| option == written)
                .unwrap(),
        ),
        Values::YesNo => Given::YesNo(written == "yes"),
        Values::Text => Given::Text(written.to_owned()),
    }
}

/// Whether it is part of the other way to give a resistance.
pub(crate) fn is_across_a_load(at: FactAt) -> bool {
    [
        "cell.loaded_open",
        "cell.loaded_closed",
        "cell.loaded_resistor",
    ]
    .map(fact_named)
    .contains(&at)
}

/// Ways to tell what a watch over a cell showed: its end, or the fall.
const WATCHES: [&str; 2] = ["cell.drift_to", "cell.drift_fall"];

/// Whether it tells a watch in another way than this cell does: two that a world draws apart would
/// often contradict each other.
pub(crate) fn is_another_watch(at: FactAt, cell: &Facts) -> bool {
    let mut told = WATCHES.map(fact_named).into_iter();
    let own = told.find(|way| cell.contains_key(way));
    let own = own.unwrap_or_else(|| fact_named("cell.drift_fall"));
    at != own && WATCHES.map(fact_named).contains(&at)
}

/// A reading across a load that goes with the resistance of the sound cell, or one of another cell.
fn across_a_load(choices: &mut Choices<'_>) -> Facts {
    let closed = *choices.pick(&["3.850 V", "3.878 V", "3.60 V", "3.2 V"]);
    let told = [
        ("cell.loaded_open", "3.900 V"),
        ("cell.loaded_closed", closed),
        ("cell.loaded_resistor", "5 ohm"),
    ];
    told.map(|(name, written)| (fact_named(name), given(fact_named(name), written)))
        .into()
}

/// What is sound, with one fact in `kept` taken from what chance gave and one in twice that left
/// out; all of chance if that is none.
fn mixed(choices: &mut Choices<'_>, kept: usize, good: Facts, chance: &Facts) -> Facts {
    let mut facts = good;
    if kept == 0 {
        return chance.clone();
    }
    for (at, given) in chance {
        // `draw` is one fact of two, and stays as it is.
        if choices.one_in(kept) && FACTS[*at].place != Place::Draw {
            facts.insert(*at, given.clone());
        }
    }
    facts.retain(|_, _| !choices.one_in(kept * 2));
    facts
}

/// The same of a cell, which stays in its group.
fn cell_near(choices: &mut Choices<'_>, kept: usize, cell: &Cell) -> Cell {
    let group = fact_named("cell.group");
    let mut facts = if cell.listed {
        mixed(
            choices,
            kept,
            sound(|subject| subject == Subject::Cell),
            &cell.facts,
        )
    } else {
        Facts::new()
    };
    facts.remove(&group);
    facts.extend(
        cell.facts
            .get(&group)
            .filter(|_| cell.listed)
            .map(|given| (group, given.clone())),
    );
    if choices.one_in(2) && cell.listed && facts.contains_key(&fact_named("cell.resistance")) {
        facts.retain(|at, _| !is_across_a_load(*at));
        facts.extend(across_a_load(choices));
    }
    marks::agree(choices, &mut facts);
    Cell {
        facts,
        ..cell.clone()
    }
}

/// The sound pack, mostly, and now and then others of the same label, with a few facts left out. Their
/// labels never contradict themselves: what contradicts says nothing, and of that no law speaks.
fn packs(choices: &mut Choices<'_>, kept: usize, chance: &[Pack]) -> Vec<Pack> {
    let (own, rare) = (SOUND_PACK.0, kept.max(2));
    let mut ids: Vec<&str> = Vec::new();
    if !choices.one_in(rare) {
        ids.push(own);
    }
    for pack in chance.iter().filter(|pack| pack.id != own) {
        if choices.one_in(rare) {
            ids.push(&pack.id);
        }
    }
    let label = |choices: &mut Choices<'_>| {
        let mut facts = sound(|subject| subject == Subject::Pack);
        facts.retain(|_, _| !choices.one_in(rare * 2));
        facts
    };
    ids.into_iter()
        .map(|id| Pack {
            id: id.to_owned(),
            facts: label(choices),
        })
        .collect()
}

/// A sound use with a few facts changed, left out or widened, or any proposal at all.
pub(crate) fn near(words: &[u16]) -> Draft {
    let mut choices = Choices::of(words);
    let wish = Wish {
        likely: &FACTS_OF_TRADE,
        complete: false,
        care: Care::Any,
    };
    let arrangement = *choices.pick(&[(1, 1), (1, 1), (1, 1), (2, 1), (1, 2), (2, 2)]);
    let kept = [100, 25, 8, 0][choices.weighted(&[3, 4, 2, 1])];
    let chance = draft_of(&mut choices, &wish, arrangement);
    let singles = mixed(&mut choices, kept, sound(single), &chance.singles);
    let cells = chance
        .cells
        .iter()
        .map(|cell| cell_near(&mut choices, kept, cell))
        .collect();
    // Now and then one that the shipped rules do not allow.
    let meters = if choices.below(12) == 11 {
        chance.meters
    } else {
        let stated = ASSUMED.iter().filter(|_| !choices.one_in(3));
        let stated: Vec<_> = stated.collect();
        let better = |(kind, meters): &(&Kind, &Vec<Meter>)| {
            Some((**kind, meters.first()?.better(&mut choices)))
        };
        stated.iter().filter_map(better).collect()
    };
    let packs = packs(&mut choices, kept, &chance.packs);
    Draft {
        singles,
        cells,
        packs,
        meters,
        assumed: ASSUMED.clone(),
        ..chance
    }
}

/// The meters that the shipped rules assume.
static ASSUMED: LazyLock<BTreeMap<Kind, Vec<Meter>>> = LazyLock::new(|| {
    let rules = Rules::load(&["rescued-cells"], &Shipped, &rulesets::catalogue()).unwrap();
    let of_kind = |assumed: &AssumedMeter| {
        let is = assumed.written.is.iter();
        (
            assumed.kind,
            is.map(|said| Meter::read(said, assumed.kind)).collect(),
        )
    };
    rules.meters().iter().map(of_kind).collect()
});
