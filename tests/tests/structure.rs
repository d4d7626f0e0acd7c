//! The structure of the source: each module stands on those before it, and the engine has no word of
//! the trade.
#![cfg(test)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// The modules of the engine from the bottom up.
const ENGINE: [&str; 11] = [
    "bounds",
    "characters",
    "quantity",
    "document",
    "facts",
    "formula",
    "schema",
    "ruleset",
    "check",
    "vetting",
    "report",
];

/// The modules of the trade from the bottom up.
const TRADE: [&str; 10] = [
    "bounds",
    "span",
    "class",
    "designation",
    "facts",
    "shipped",
    "label",
    "figures",
    "proposal",
    "schema",
];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("it can be listed").path();
        if path.is_dir() {
            files(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}

fn sources(folder: &str) -> Vec<(PathBuf, String)> {
    let folder = root().join(folder);
    let mut all = Vec::new();
    files(&folder, &mut all);
    assert!(!all.is_empty(), "{} has sources", folder.display());
    all.sort();
    let read = |path: PathBuf| {
        let text = fs::read_to_string(&path).expect("text");
        let within = path.strip_prefix(&folder).expect("it lies there");
        (within.to_owned(), text)
    };
    all.into_iter().map(read).collect()
}

/// The modules of the own crate that a text names, tests left out.
fn named(text: &str) -> BTreeSet<&str> {
    let code = text.split("#[cfg(test)]").next().unwrap_or_default();
    let lines = code
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    lines
        .flat_map(|line| line.split("crate::").skip(1))
        .filter_map(|rest| {
            rest.split(|letter: char| !letter.is_ascii_lowercase())
                .next()
        })
        .collect()
}

fn arrows_up(folder: &str, order: &[&str]) -> BTreeSet<(String, String)> {
    let floor = |module: &str| order.iter().position(|one| *one == module);
    let mut up = BTreeSet::new();
    for (path, text) in sources(folder) {
        let module = path.iter().next().unwrap_or_default().to_string_lossy();
        let module = module.trim_end_matches(".rs");
        let is_test = path.to_string_lossy().contains("tests");
        let Some(own) = floor(module).filter(|_| !is_test) else {
            continue;
        };
        for other in named(&text) {
            if floor(other).is_some_and(|other| other > own) {
                up.insert((module.to_owned(), other.to_owned()));
            }
        }
    }
    up
}

#[test]
fn dependencies_point_one_way() {
    assert_eq!(arrows_up("rules-core/src", &ENGINE), BTreeSet::new());
    assert_eq!(arrows_up("rulesets/src", &TRADE), BTreeSet::new());
}

const OF_THE_TRADE: [&str; 9] = [
    "battery",
    "batteries",
    "cell",
    "cells",
    "light",
    "lights",
    "lithium",
    "pack",
    "packs",
];

/// What the standard library calls `Cell`, and its module, is no cell.
#[test]
fn the_engine_has_no_word_of_the_trade() {
    let mut found = Vec::new();
    for folder in ["rules-core/src", "rules-core/tests"] {
        for (path, text) in sources(folder) {
            let text = text.replace("std::cell", "");
            let words = text.split(|letter: char| !letter.is_ascii_alphabetic());
            let of_the_trade = words.filter(|word| *word != "Cell");
            let of_the_trade = of_the_trade
                .filter(|word| OF_THE_TRADE.contains(&word.to_lowercase().as_str()))
                .map(str::to_owned);
            found.extend(of_the_trade.map(|word| (path.clone(), word)));
        }
    }
    assert_eq!(found, []);
}

/// A checkout without symbolic links builds and passes.
#[test]
fn nothing_is_a_symbolic_link() {
    for folder in ["rules-core", "rulesets", "rules-cli", "schemas", "tests"] {
        no_links(&root().join(folder));
    }
}

fn no_links(folder: &Path) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("it can be listed").path();
        let data = fs::symlink_metadata(&path).expect("it is there");
        assert!(!data.is_symlink(), "{} is a link", path.display());
        let made = path.file_name().is_some_and(|name| name == "target");
        if data.is_dir() && !made {
            no_links(&path);
        }
    }
}
