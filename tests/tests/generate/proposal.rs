//! Generated proposals, covering every way in which something may not be known: missing, wide, of a
//! meter, cells that are not listed, groups that are not named.

mod written;

use std::collections::{BTreeMap, BTreeSet};

use rules_core::quantity::Kind;

use super::choices::Choices;
use super::formula::options;
use super::marks::{self, CODED};
use super::meter::{METERED, Meter, meter};
use super::quantity::{Care, Quantity, quantity};
use super::vocabulary::{FACTS, FactAt, Place, Subject, Values, fact_named};

/// A value given of a fact.
#[derive(Debug, Clone)]
pub(crate) enum Given {
    Number(Quantity),
    Choice(usize),
    YesNo(bool),
    Text(String),
}

/// Facts given.
pub(crate) type Facts = BTreeMap<FactAt, Given>;

/// A cell. One that is not listed is called for by the arrangement all the same.
#[derive(Debug, Clone)]
pub(crate) struct Cell {
    pub(crate) id: String,
    pub(crate) listed: bool,
    pub(crate) facts: Facts,
}

/// A pack as its label reads.
#[derive(Debug, Clone)]
pub(crate) struct Pack {
    pub(crate) id: String,
    pub(crate) facts: Facts,
}

/// A proposal before it is written.
#[derive(Debug, Clone)]
pub(crate) struct Draft {
    pub(crate) series: usize,
    pub(crate) parallel: usize,
    pub(crate) meters: BTreeMap<Kind, Meter>,
    /// What the rules that it is for assume beside them. It does not write that.
    pub(crate) assumed: BTreeMap<Kind, Vec<Meter>>,
    pub(crate) singles: Facts,
    /// All cells: at least as many as the arrangement calls for.
    pub(crate) cells: Vec<Cell>,
    /// The packs that are listed.
    pub(crate) packs: Vec<Pack>,
}

/// What proposals are to be like.
pub(crate) struct Wish<'w> {
    /// The facts that are likely to be given; others are now and then.
    pub(crate) likely: &'w BTreeSet<FactAt>,
    /// Whether everything likely is given, each cell is listed, and each group is named.
    pub(crate) complete: bool,
    pub(crate) care: Care,
}

/// Names of packs. Few, and also those of other things, so that they meet.
const PACKS: [&str; 4] = ["P-1", "P-2", "A", "K1"];

/// A proposal.
pub(crate) fn draft(choices: &mut Choices<'_>, wish: &Wish<'_>) -> Draft {
    let arrangement = *choices.pick(&[
        (2, 1),
        (1, 1),
        (1, 2),
        (2, 2),
        (3, 1),
        (1, 3),
        (2, 3),
        (3, 2),
    ]);
    draft_of(choices, wish, arrangement)
}

/// A proposal of an arrangement: groups in series and cells in parallel.
pub(crate) fn draft_of(
    choices: &mut Choices<'_>,
    wish: &Wish<'_>,
    (series, parallel): (usize, usize),
) -> Draft {
    let mut meters = BTreeMap::new();
    for kind in METERED {
        if choices.one_in(2) {
            meters.insert(kind, meter(choices, kind));
        }
    }
    let mut made = Draft {
        series,
        parallel,
        meters,
        assumed: BTreeMap::new(),
        singles: Facts::new(),
        cells: Vec::new(),
        packs: Vec::new(),
    };
    for subject in Subject::SINGLE {
        made.singles.extend(facts(choices, subject, wish));
    }
    draw(choices, &mut made.singles, wish);
    let extra = if wish.complete {
        0
    } else {
        usize::from(choices.one_in(12))
    };
    for at in 0..series * parallel + extra {
        let facts = facts(choices, Subject::Cell, wish);
        made.cells.push(Cell {
            id: format!("K{}", at + 1),
            listed: true,
            facts,
        });
    }
    if !wish.complete && choices.one_in(4) && extra == 0 {
        made.cells
            .iter_mut()
            .rev()
            .take(1 + choices.below(2))
            .for_each(|cell| cell.listed = false);
    }
    label(choices, &mut made, wish.complete);
    packs(choices, &mut made, wish);
    made
}

/// Packs that cells name, listed or not, some shared and some that no cell names. In a complete
/// proposal each cell names one and each that is named is listed, or there is none.
fn packs(choices: &mut Choices<'_>, draft: &mut Draft, wish: &Wish<'_>) {
    let matter = wish
        .likely
        .iter()
        .any(|at| FACTS[*at].subject == Subject::Pack || FACTS[*at].name == "cell.pack");
    let often = match (wish.complete, matter) {
        (true, _) if draft.pack_names().is_empty() && !choices.one_in(2) => return,
        (true, _) => 1,
        (false, true) => [1, 2, 12][choices.below(3)],
        (false, false) => 40,
    };
    for cell in draft.cells.iter_mut().filter(|cell| cell.listed) {
        if choices.one_in(often) {
            let name = *choices.pick(&PACKS);
            let given = cell.facts.entry(fact_named("cell.pack"));
            given.or_insert_with(|| Given::Text(name.to_owned()));
        }
    }
    let mut ids: Vec<String> = draft
        .pack_names()
        .iter()
        .map(|id| (*id).to_owned())
        .collect();
    ids.retain(|_| wish.complete || choices.below(3) > 0);
    if !wish.complete && choices.one_in(if matter { 4 } else { 40 }) {
        ids.extend(
            PACKS
                .iter()
                .map(|id| (*id).to_owned())
                .find(|id| !ids.contains(id)),
        );
    }
    for id in ids {
        let facts = facts(choices, Subject::Pack, wish);
        draft.packs.push(Pack { id, facts });
    }
}

fn facts(choices: &mut Choices<'_>, subject: Subject, wish: &Wish<'_>) -> Facts {
    let likely = |at: &FactAt| {
        wish.likely.contains(at)
            || CODED
                .iter()
                .any(|name| wish.likely.contains(&fact_named(name)))
                && FACTS[*at].name == "cell.designation"
    };
    let mut given = Facts::new();
    for (at, fact) in FACTS
        .iter()
        .enumerate()
        .filter(|(_, fact)| fact.subject == subject)
    {
        let wanted = match &fact.place {
            Place::Section(_) => {
                !["cell.id", "cell.group", "pack.id"].contains(&fact.name.as_str())
            }
            Place::Extra => wish.likely.contains(&at),
            Place::Draw | Place::Derived => false,
        };
        let chosen = wanted
            && if likely(&at) {
                wish.complete || choices.below(6) > 0
            } else {
                choices.one_in(25)
            };
        if chosen {
            given.insert(at, value(choices, at, wish.care));
        }
    }
    marks::agree(choices, &mut given);
    given
}

fn value(choices: &mut Choices<'_>, at: FactAt, care: Care) -> Given {
    let fact = &FACTS[at];
    match &fact.values {
        Values::Number(_) => Given::Number(quantity(choices, fact, care)),
        Values::Choice(_) => Given::Choice(choices.below(options(at).len())),
        Values::YesNo => Given::YesNo(choices.one_in(2)),
        Values::Text if fact.name == "cell.designation" => marks::designation(choices),
        Values::Text if fact.name == "cell.size_code" => marks::size_code(choices),
        Values::Text if fact.name == "pack.designation" => {
            let codes = ["3INR19/66-2", "3ICR19/66", "ICR18650"];
            Given::Text((*choices.pick(&codes)).to_owned())
        }
        // Few texts, so that they meet those of other facts.
        Values::Text => Given::Text((*choices.pick(&PACKS)).to_owned()),
    }
}

/// `draw` is a current or a power.
fn draw(choices: &mut Choices<'_>, singles: &mut Facts, wish: &Wish<'_>) {
    if !wish.complete && choices.one_in(4) {
        return;
    }
    let name: &str = if choices.one_in(2) {
        "light.draw_power"
    } else {
        "light.draw_current"
    };
    let at = fact_named(name);
    let made = value(choices, at, wish.care);
    singles.insert(at, made);
}

/// Names the groups of cells: all of them, some, or none.
fn label(choices: &mut Choices<'_>, draft: &mut Draft, complete: bool) {
    let (series, parallel, called) = (draft.series, draft.parallel, draft.series * draft.parallel);
    let mut places: Vec<usize> = (0..called).collect();
    choices.shuffle(&mut places);
    let often = if complete {
        1
    } else {
        [1, 2, 6][choices.below(3)]
    };
    let needed = series > 1 && parallel > 1;
    let group = fact_named("cell.group");
    for (cell, place) in draft.cells.iter_mut().zip(places) {
        let name = group_name(place / parallel);
        let named = if complete && needed {
            true
        } else {
            choices.one_in(often)
        };
        if cell.listed && named {
            cell.facts.insert(group, Given::Text(name));
        }
    }
}

/// `A` to `Z`, then `A1` and so on.
fn group_name(at: usize) -> String {
    let letter = char::from(b'A' + u8::try_from(at % 26).unwrap());
    match at / 26 {
        0 => letter.to_string(),
        round => format!("{letter}{round}"),
    }
}
