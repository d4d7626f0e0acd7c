//! Reads the texts that come with this crate once, when it is built, and keeps what programs would
//! else read again at each start: of each text its tree and its digest, as `document/prepared.rs` of
//! the engine describes; of the table of facts the catalogue; and of each shipped ruleset its rules,
//! compiled. The tests of this crate compare all of it with what the engine reads of the texts. Of
//! tables of numbers nothing but these is kept, in the form of Rust.

mod curves;
mod sizes;

use std::collections::BTreeMap;
use std::error::Error;
use std::path::{Path, PathBuf};
use std::{env, fs};

use rules_core::document::{Prepared, prepare};
use rules_core::facts::{Catalogue, ShippedVersion};
use rules_core::quantity::Kind::{
    self, Charge, Count, Current, Energy, Power, Rate, Ratio, Time, Voltage,
};
use rules_core::ruleset::{Rules, Texts};

macro_rules! figures_of_the_library {
    ($($name:literal, $kind:expr, $needs:expr, $as_more_join:expr, $work:path, $meaning:literal;)+) => {
        /// The names and kinds of the library's figures.
        const FIGURES: &[(&str, Kind)] = &[$(($name, $kind)),+];
    };
}

include!("../src/figures/rows.rs");

const TABLE: &str = "facts";
const RULESETS: [&str; 2] = ["rescued-cells", "rescued-cells-measured"];
const OTHERS: [&str; 2] = ["data/formerly", "data/words"];
const SIZES: &str = "data/sizes";

type Failed = Box<dyn Error>;

#[allow(clippy::print_stdout, reason = "so a build script tells what it read")]
fn main() -> Result<(), Failed> {
    println!("cargo::rerun-if-changed=src/figures/rows.rs");
    let folder = PathBuf::from(env::var("OUT_DIR")?);
    fs::create_dir_all(folder.join("data"))?;
    let mut read = BTreeMap::new();
    for name in RULESETS.iter().chain(&OTHERS).chain([&TABLE]) {
        let prepared = prepared(name)?;
        fs::write(folder.join(format!("{name}.prepared")), prepared.read)?;
        read.insert(*name, prepared);
    }
    let sizes = sizes::table(prepared(SIZES)?).ok_or("the table of sizes cannot be read")?;
    fs::write(folder.join("sizes.rs"), sizes)?;
    let curves = curves::tables().ok_or("the table of curves cannot be read")?;
    fs::write(folder.join("curves.rs"), curves)?;
    let facts = facts(&read);
    keep(&folder, TABLE, facts.as_ref().map(Catalogue::to_keep))?;
    let catalogue = facts.map(|facts| with_names(facts, &read));
    for name in RULESETS {
        let rules = catalogue.as_ref().and_then(|catalogue| {
            let texts = Texts::of(read.iter().map(|(name, one)| (*name, one.text)));
            Rules::load(&[name], &texts, catalogue).ok()?.to_keep()
        });
        keep(&folder, name, rules)?;
    }
    Ok(())
}

/// A text and what is read of it, for as long as this program runs.
#[allow(clippy::print_stdout, reason = "so a build script tells what it read")]
fn prepared(name: &str) -> Result<Prepared, Failed> {
    let file = format!("{name}.yaml");
    println!("cargo::rerun-if-changed={file}");
    let text = fs::read_to_string(&file)?;
    let read = prepare(&file, &text)?;
    Ok(Prepared {
        text: text.leak(),
        read: read.leak(),
    })
}

/// The facts of the trade. Nothing, if the table cannot be used: a program says why when it reads the
/// text.
fn facts(read: &BTreeMap<&'static str, Prepared>) -> Option<Catalogue> {
    Catalogue::read_prepared("facts.yaml", *read.get(TABLE)?).ok()
}

/// The same with the figures of the library, and the rulesets of the trade, of which the names are kept
/// from others.
fn with_names(mut catalogue: Catalogue, read: &BTreeMap<&'static str, Prepared>) -> Catalogue {
    catalogue.name_figures(FIGURES);
    let shipped = RULESETS.map(|ruleset| ShippedVersion {
        ruleset,
        version: "",
        digest: "",
        text: read.get(ruleset).copied(),
        rules: None,
    });
    catalogue.reserve(Vec::from(shipped).leak());
    catalogue
}

/// Writes what is kept of a text; nothing, where it is at fault.
fn keep(folder: &Path, name: &str, kept: Option<(Vec<u8>, String)>) -> Result<(), Failed> {
    let (values, texts) = kept.unwrap_or_default();
    fs::write(folder.join(format!("{name}.kept")), values)?;
    Ok(fs::write(folder.join(format!("{name}.texts")), texts)?)
}
