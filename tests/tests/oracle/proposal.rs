//! A proposal: its single subjects, its cells, and which of them form which group.

use std::collections::BTreeSet;

use super::facts::{
    Assumed, Defs, Facts, Given, Meters, any_too_coarse, coded, draw, given, meters, normal, sized,
    sized_by_both,
};
use super::quantity::bare;
use crate::generate::document::Doc;

/// A group whose members are known.
#[derive(Debug, Clone)]
pub(crate) struct Group {
    /// What a report calls it.
    pub(crate) name: String,
    pub(crate) facts: Facts,
    pub(crate) cells: Vec<usize>,
}

/// A cell; one that is not listed has no facts.
#[derive(Debug, Clone)]
pub(crate) struct Cell {
    /// What a report calls it.
    pub(crate) name: String,
    pub(crate) facts: Facts,
    /// Whether two of designation, class and code of the size cannot both be true, or a word that says
    /// several facts and one that is written by itself.
    pub(crate) marks_disagree: bool,
}

/// A pack; of one that is not listed only its id is known, and of one that nobody names nothing.
#[derive(Debug, Clone)]
pub(crate) struct Pack {
    /// What a report calls it.
    pub(crate) name: String,
    pub(crate) facts: Facts,
}

/// A proposal.
#[derive(Debug, Clone)]
pub(crate) struct Proposal {
    pub(crate) singles: Facts,
    pub(crate) cells: Vec<Cell>,
    /// The groups, if it is known which cells form them.
    pub(crate) groups: Option<Vec<Group>>,
    pub(crate) packs: Vec<Pack>,
    /// Whether the last pack is the one that nobody names.
    pub(crate) packs_open: bool,
    /// Whether a word that says several facts of a section or a pack disagrees with one that is written
    /// by itself.
    pub(crate) words_disagree: bool,
    /// Whether a stated meter is worse than the one that the rules assume.
    pub(crate) too_coarse: bool,
}

/// What a report calls a cell that is not listed, a group whose members are not known, and a pack
/// that nobody names.
pub(crate) const UNNAMED: &str = "?";

const SECTIONS: [&str; 4] = ["light", "protection", "charging", "conditions"];

/// Reads a proposal.
pub(crate) fn read(doc: &Doc, defs: &Defs, assumed: &Assumed) -> Proposal {
    let meters = meters(doc, assumed);
    let (series, parallel) = arrangement(doc.text_of("arrangement").unwrap());
    let mut singles = Facts::new();
    for section in SECTIONS {
        if let Some(found) = doc.get(section) {
            singles.extend(given(section, &spelt_out(section, found), defs, &meters));
        }
    }
    singles.extend(
        doc.get("light")
            .and_then(|light| draw(light, defs, &meters)),
    );
    let mut cells: Vec<Cell> = doc
        .get("cells")
        .map(Doc::items)
        .unwrap_or_default()
        .iter()
        .map(|entry| cell(entry, defs, &meters))
        .collect();
    let listed = cells.len();
    let counts = [
        ("series", series),
        ("parallel", parallel),
        ("cells", series * parallel),
        ("listed", listed),
    ];
    singles.extend(
        counts.map(|(word, count)| (format!("build.{word}"), Given::exactly(count as f64))),
    );
    cells.resize(
        listed.max(series * parallel),
        Cell {
            name: UNNAMED.to_owned(),
            facts: Facts::new(),
            marks_disagree: false,
        },
    );
    let groups = groups(&cells, listed, series, parallel);
    let mut packs: Vec<Pack> = doc
        .get("packs")
        .map(Doc::items)
        .unwrap_or_default()
        .iter()
        .map(|entry| pack(entry, defs, &meters))
        .collect();
    let packs_open = named_packs(&cells, &mut packs);
    Proposal {
        singles,
        cells,
        groups,
        packs,
        packs_open,
        words_disagree: words_disagree(doc),
        too_coarse: too_coarse(doc, defs, &meters),
    }
}

/// Whether there is a reading for which a stated meter is too coarse.
fn too_coarse(doc: &Doc, defs: &Defs, meters: &Meters<'_>) -> bool {
    let of = |subject: &str, part: &Doc| any_too_coarse(subject, part, defs, meters);
    let entries = |key: &str| doc.get(key).map(Doc::items).unwrap_or_default();
    let mut sections = SECTIONS
        .iter()
        .filter_map(|name| Some((name, doc.get(name)?)));
    sections.any(|(name, section)| of(name, section))
        || entries("cells")
            .iter()
            .any(|cell| of("cell", &numbered(cell)))
        || entries("packs").iter().any(|pack| of("pack", pack))
}

fn pack(entry: &Doc, defs: &Defs, meters: &Meters<'_>) -> Pack {
    Pack {
        name: normal(entry.text_of("id").unwrap()),
        facts: given("pack", &spelt_out("pack", entry), defs, meters),
    }
}

/// Adds the packs that are named and not listed, and if there are any at all and a cell names none,
/// one more. Says whether that one is there.
fn named_packs(cells: &[Cell], packs: &mut Vec<Pack>) -> bool {
    let named = |cell: &Cell| match cell.facts.get("cell.pack") {
        Some(Given::Text(name)) => Some(name.clone()),
        _ => None,
    };
    let all: BTreeSet<String> = cells.iter().filter_map(named).collect();
    for name in all {
        if packs.iter().all(|pack| pack.name != name) {
            let id = ("pack.id".to_owned(), Given::Text(name.clone()));
            packs.push(Pack {
                name,
                facts: Facts::from([id]),
            });
        }
    }
    let open = !packs.is_empty() && cells.iter().any(|cell| named(cell).is_none());
    if open {
        packs.push(Pack {
            name: UNNAMED.to_owned(),
            facts: Facts::new(),
        });
    }
    open
}

/// Groups in series and cells in parallel; either may be left out where it is one.
fn arrangement(text: &str) -> (usize, usize) {
    let lower = bare(text).to_lowercase();
    let before = |letter: char| {
        lower.split_once(letter).map_or(1, |(before, _)| {
            before.rsplit('s').next().unwrap().parse().unwrap()
        })
    };
    (before('s'), before('p'))
}

fn cell(entry: &Doc, defs: &Defs, meters: &Meters<'_>) -> Cell {
    let disagrees = word_disagrees("cell", entry);
    let entry = &spelt_out("cell", entry);
    let mut facts = given("cell", &numbered(entry), defs, meters);
    let size = facts.get("cell.size_code").cloned();
    let designation = entry.text_of("designation");
    if let Some(Given::Text(size)) = &size {
        facts.extend(sized(size));
    }
    let class = facts.get("cell.class").cloned();
    if let Some(designation) = designation {
        facts.extend(coded(designation));
    }
    let mut marks_disagree =
        disagrees || class.is_some() && facts.get("cell.class") != class.as_ref();
    if let (Some(Given::Text(size)), Some(designation)) = (&size, designation) {
        match sized_by_both(size, designation) {
            Some(both) => facts.extend(both),
            None => marks_disagree = true,
        }
    }
    Cell {
        marks_disagree,
        name: normal(entry.text_of("id").unwrap()),
        facts,
    }
}

/// Whether a word of `summaries` disagrees anywhere but in a cell, which knows it itself.
fn words_disagree(doc: &Doc) -> bool {
    let mut sections = SECTIONS
        .iter()
        .filter_map(|name| Some((name, doc.get(name)?)));
    let packs = doc.get("packs").map(Doc::items).unwrap_or_default();
    sections.any(|(name, section)| word_disagrees(name, section))
        || packs.iter().any(|pack| word_disagrees("pack", pack))
}

/// Whether a word of `summaries` says of a key another value than is written there.
fn word_disagrees(section: &str, entry: &Doc) -> bool {
    let Doc::Map(said) = spelt_out(section, &only_words(entry)) else {
        return false;
    };
    said.iter()
        .any(|(key, value)| entry.get(key).is_some_and(|own| own.text() != value.text()))
}

/// The words of summaries in a section, without its other keys.
fn only_words(entry: &Doc) -> Doc {
    let catalogue = rulesets::catalogue();
    let is_word = |key: &str| catalogue.summaries().iter().any(|one| one.key == key);
    let words = entry.entries().iter().filter(|(key, _)| is_word(key));
    Doc::Map(words.cloned().collect())
}

/// A section with the facts that words of `summaries` say. Those that are written too are the same.
fn spelt_out(section: &str, entry: &Doc) -> Doc {
    let catalogue = rulesets::catalogue();
    let mut entries = entry.entries().to_vec();
    for summary in catalogue.summaries() {
        let written = entry.text_of(&summary.key);
        if catalogue.subject_name(summary.subject) != section {
            continue;
        }
        let word = summary
            .words
            .iter()
            .find(|word| Some(word.word.as_str()) == written);
        for (fact, value) in word.map_or(&[][..], |word| &word.says) {
            let key = catalogue.fact(*fact).unwrap().key.as_deref().unwrap();
            if entry.get(key).is_none() {
                entries.push((key.to_owned(), Doc::Text(value.written.to_string())));
            }
        }
    }
    Doc::Map(entries)
}

/// A cell with its capacity tests in the places that their names tell; those set aside have none.
fn numbered(entry: &Doc) -> Doc {
    let mut entries = Vec::new();
    for (key, doc) in entry.entries() {
        let several = match doc {
            Doc::List(items) if key == "capacity" => items.clone(),
            Doc::Map(_) if key == "capacity" => vec![doc.clone()],
            _ => {
                entries.push((key.clone(), doc.clone()));
                continue;
            }
        };
        let (aside, kept): (Vec<Doc>, Vec<Doc>) = several
            .into_iter()
            .partition(|test| test.get("set_aside").is_some());
        for (place, test) in kept.into_iter().enumerate() {
            let key = if place == 0 {
                key.clone()
            } else {
                format!("{key}_{}", place + 1)
            };
            entries.push((key, test));
        }
        let why: Vec<&str> = aside
            .iter()
            .filter_map(|test| test.text_of("set_aside"))
            .collect();
        if !why.is_empty() {
            let why = ("set_aside".to_owned(), Doc::Text(why.join("; ")));
            let first = entries.iter_mut().find(|(known, _)| known == key);
            match first {
                Some((_, Doc::Map(test))) => test.push(why),
                _ => entries.push((key.clone(), Doc::Map(vec![why]))),
            }
        }
    }
    Doc::Map(entries)
}

fn named_group(cell: &Cell) -> Option<&str> {
    match cell.facts.get("cell.group") {
        Some(Given::Text(name)) => Some(name),
        _ => None,
    }
}

fn groups(cells: &[Cell], listed: usize, series: usize, parallel: usize) -> Option<Vec<Group>> {
    let all = 0..cells.len();
    if parallel == 1 {
        return Some(all.map(|at| group(cells, vec![at])).collect());
    }
    if listed > series * parallel {
        return None;
    }
    if series == 1 {
        return Some(vec![group(cells, all.collect())]);
    }
    let mut names = cells
        .iter()
        .map(named_group)
        .collect::<Option<Vec<&str>>>()?;
    names.sort_unstable();
    names.dedup();
    let of = |name: &str| {
        all.clone()
            .filter(|at| named_group(&cells[*at]) == Some(name))
            .collect()
    };
    Some(names.iter().map(|name| group(cells, of(name))).collect())
}

/// A group is called by the name its cells give it; without one, by its only cell, or `1`.
fn group(cells: &[Cell], members: Vec<usize>) -> Group {
    let named = members.iter().find_map(|at| named_group(&cells[*at]));
    let name = match (named, members.as_slice()) {
        (Some(name), _) => name,
        (None, [only]) => &cells[*only].name,
        (None, _) => "1",
    };
    let facts = named.map(|name| ("group.id".to_owned(), Given::Text(name.to_owned())));
    Group {
        name: name.to_owned(),
        facts: facts.into_iter().collect(),
        cells: members,
    }
}
