//! What a packed crate carries: the licence, a README of its own, and pages whose links hold inside
//! the crate. `.ci/run` packs the crates as well and builds them from what was packed.
#![cfg(test)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The crates that can be published.
const CRATES: [&str; 3] = ["rules-core", "rulesets", "rules-cli"];

/// What the crate of the trade carries as well: its pages, its facts and its rules.
const OF_THE_TRADE: [&str; 10] = [
    "LANGUAGE.md",
    "FACTS.md",
    "COVERAGE.md",
    "CHANGELOG.md",
    "facts.yaml",
    "data/formerly.yaml",
    "data/sizes.yaml",
    "rescued-cells.yaml",
    "rescued-cells-measured.yaml",
    "local-practice-example.yaml",
];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The files of a packed crate, by their paths in it.
fn packed(package: &str) -> BTreeSet<String> {
    let output = Command::new(env!("CARGO"))
        .args(["package", "--list", "--allow-dirty", "--offline", "--quiet"])
        .args(["--package", package])
        .current_dir(root())
        .output()
        .expect("cargo runs");
    let text = String::from_utf8(output.stdout).expect("text");
    assert!(output.status.success(), "{package} can be packed");
    text.lines().map(|line| line.replace('\\', "/")).collect()
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

#[test]
fn every_packed_crate_carries_the_licence_and_a_readme() {
    for package in CRATES {
        let files = packed(package);
        for page in ["LICENSE", "README.md"] {
            assert!(files.contains(page), "{package} carries no {page}");
        }
    }
}

/// Copies, as a checkout may know no symbolic links.
#[test]
fn each_licence_is_a_copy_of_the_one_at_the_top() {
    let bytes = |path: PathBuf| fs::read(&path).unwrap_or_default();
    let licence = bytes(root().join("LICENSE"));
    assert!(!licence.is_empty());
    for package in CRATES {
        let copy = bytes(root().join(package).join("LICENSE"));
        assert!(copy == licence, "copy LICENSE to {package}/LICENSE");
    }
}

#[test]
fn the_crate_of_the_trade_carries_its_pages_and_rules() {
    let files = packed("rulesets");
    let absent: Vec<_> = OF_THE_TRADE
        .iter()
        .filter(|file| !files.contains(**file))
        .collect();
    assert!(absent.is_empty(), "{absent:?}");
}

/// Where the links of a Markdown page lead, and its pictures: `[text](place)`.
fn links(page: &str) -> Vec<&str> {
    let ends = page.split("](").skip(1);
    let places = ends.filter_map(|rest| rest.split_once(')'));
    places.map(|(place, _)| place.trim()).collect()
}

/// Why a link does not hold where the page is shown.
fn fault(link: &str, page: &str, files: &BTreeSet<String>) -> Option<&'static str> {
    let (file, heading) = link.split_once('#').unwrap_or((link, ""));
    let anchors = |page: &str| -> Vec<String> { page.lines().filter_map(anchor).collect() };
    match file {
        "" if anchors(page).iter().any(|one| one == heading) => None,
        "" => Some("no such heading"),
        _ if file.contains("://") => Some("no address is promised"),
        _ if files.contains(file) => None,
        _ => Some("the crate has no such file"),
    }
}

/// The anchor of a heading: lower case, spaces as hyphens, no punctuation.
fn anchor(line: &str) -> Option<String> {
    let title = line
        .strip_prefix('#')?
        .trim_start_matches('#')
        .strip_prefix(' ')?;
    let kept = title.to_lowercase();
    let kept = kept
        .chars()
        .filter(|one| one.is_alphanumeric() || " -_".contains(*one));
    Some(kept.collect::<String>().replace(' ', "-"))
}

#[test]
fn links_hold_inside_the_crate() {
    for package in CRATES {
        let files = packed(package);
        let pages = files.iter().filter(|file| file.ends_with(".md"));
        for name in pages {
            let page = read(&root().join(package).join(name));
            let wrong: Vec<_> = links(&page)
                .into_iter()
                .filter_map(|link| Some((link, fault(link, &page, &files)?)))
                .collect();
            assert!(wrong.is_empty(), "{package}/{name}: {wrong:?}");
        }
    }
}

/// So that the check of links can fail.
#[test]
fn links_that_leave_the_crate_are_found() {
    let files = BTreeSet::from(["LANGUAGE.md".to_owned()]);
    let page = "## The command's help\n[a](LANGUAGE.md#2-facts) [b](../README.md) \
                [c](#the-commands-help) [d](#none) ![e](https://example.org/e.svg)\n";
    let faults = links(page)
        .into_iter()
        .map(|link| fault(link, page, &files).is_some());
    assert_eq!(faults.collect::<Vec<_>>(), [false, true, false, true, true]);
}

/// No owner has named an address, so none is claimed.
#[test]
fn no_crate_claims_an_address() {
    for package in CRATES {
        let manifest = read(&root().join(package).join("Cargo.toml"));
        for key in ["repository", "documentation", "homepage"] {
            let claimed = manifest
                .lines()
                .any(|line| line.trim_start().starts_with(key));
            assert!(!claimed, "{package} has `{key}`");
        }
    }
}
