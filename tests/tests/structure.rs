//! The structure of the source: each module uses only those before it, no files use each other in a
//! circle, and the engine has no word of the trade.
#![cfg(test)]

#[path = "structure/circles.rs"]
mod circles;
#[path = "structure/paths.rs"]
mod paths;
#[path = "structure/source.rs"]
mod source;

use std::collections::BTreeSet;
use std::ffi::OsStr;
use std::fs;
use std::path::Path;

use crate::circles::Taking;
use crate::source::{root, sources, texts};

/// The modules of the engine from the bottom up.
const ENGINE: [&str; 13] = [
    "bounds",
    "characters",
    "snapshot",
    "quantity",
    "document",
    "facts",
    "formula",
    "schema",
    "ruleset",
    "check",
    "vetting",
    "report",
    "outputs",
];

/// The modules of the trade from the bottom up.
const TRADE: [&str; 17] = [
    "bounds",
    "table",
    "span",
    "class",
    "designation",
    "formerly",
    "facts",
    "curve",
    "shipped",
    "label",
    "figures",
    "proposal",
    "front",
    "bench",
    "jobs",
    "pages",
    "schema",
];

/// The modules of the own crate that code names.
fn named(code: &str) -> BTreeSet<&str> {
    code.split("crate::")
        .skip(1)
        .filter_map(|rest| {
            rest.split(|letter: char| !letter.is_ascii_lowercase())
                .next()
        })
        .collect()
}

fn arrows_up(folder: &str, order: &[&str]) -> BTreeSet<(String, String)> {
    let floor = |module: &str| order.iter().position(|one| *one == module);
    let mut up = BTreeSet::new();
    for source in sources(folder) {
        let own = source.module().first().and_then(|module| floor(module));
        for other in named(&source.code) {
            if own
                .zip(floor(other))
                .is_some_and(|(own, other)| other > own)
            {
                up.insert((source.path.clone(), other.to_owned()));
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

#[test]
fn no_files_stand_in_a_circle() {
    let circles = |(folder, taking)| {
        let named = move |files: Vec<String>| format!("{folder}: {}\n", files.join(" - "));
        let found = circles::circles(&sources(folder), taking);
        found.into_iter().map(named)
    };
    let folders = [
        ("rules-core/src", Taking::FromHolder),
        ("rulesets/src", Taking::FromHolder),
        ("rules-cli/src", Taking::FromHolder),
        ("rules-cli/src", Taking::AsWritten),
    ];
    let found: String = folders.into_iter().flat_map(circles).collect();
    assert!(found.is_empty(), "files that stand in a circle:\n{found}");
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
        for (path, text) in texts(folder) {
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
        let made = ["target", "node_modules"].map(OsStr::new);
        let made = path.file_name().is_some_and(|name| made.contains(&name));
        if data.is_dir() && !made {
            no_links(&path);
        }
    }
}
