//! Reads the table of sizes, and writes it as the value that `src/sizes.rs` includes.

use rules_core::document::{Fields, Prepared, Problems};
use rules_core::quantity::{Kind, Nature, Quantity};

/// Classes as the table names them, in the order of the options of `cell.class`.
const CLASSES: [&str; 6] = ["ICR", "INR", "IMR", "IFR", "IVR", "ITR"];

/// The table; none if anything of it cannot be read.
pub(crate) fn table(table: Prepared) -> Option<String> {
    let source = table.source("sizes.yaml");
    let tree = table.document(&source).ok()?;
    let mut problems = Problems::new(&source);
    let mut fields = Fields::of(&tree, "a table of sizes", &mut problems)?;
    fields.need_format(&mut problems);
    let specific_heat = range(fields.must_text("specific_heat", &mut problems)?, "J/(g K)")?;
    let mut sizes = Vec::new();
    for entry in fields.may_entries("sizes", &mut problems) {
        let of_size = Fields::of(&entry.node, "a size", &mut problems)?;
        let of_classes = of_classes(of_size, &mut problems)?.join(", ");
        sizes.push(format!("({:?}, [{of_classes}])", entry.key));
    }
    fields.finish(&mut problems);
    let sizes = sizes.join(", ");
    let written = format!("Table {{ specific_heat: {specific_heat:?}, sizes: &[{sizes}] }}");
    problems.is_empty().then_some(written)
}

fn of_classes(mut of_size: Fields<'_>, problems: &mut Problems<'_>) -> Option<Vec<String>> {
    let mut all = Vec::new();
    for name in CLASSES {
        let node = of_size.must(name, problems)?;
        let fields = Fields::of(node, "cells of a size", problems)?;
        all.push(of_class(fields, problems)?);
    }
    of_size.finish(problems);
    Some(all)
}

/// What cells of one size and class have.
fn of_class(mut fields: Fields<'_>, problems: &mut Problems<'_>) -> Option<String> {
    let mass = range(fields.must_text("mass", problems)?, "g")?;
    let capacity = exact(fields.must_text("capacity", problems)?, Kind::Charge)?;
    let resistance = exact(fields.must_text("resistance", problems)?, Kind::Resistance)?;
    fields.finish(problems);
    Some(format!(
        "OfClass {{ mass: {mass:?}, capacity: {capacity:?}, resistance: {resistance:?} }}"
    ))
}

fn exact(text: &str, kind: Kind) -> Option<f64> {
    let read = Quantity::read(text, kind, Nature::Stated, None).ok()?;
    Some(read.nominal())
}

/// `42..50 g`, of a unit that is none of the language.
fn range(text: &str, unit: &str) -> Option<(f64, f64)> {
    let (from, to) = text.strip_suffix(unit)?.trim().split_once("..")?;
    Some((from.parse().ok()?, to.parse().ok()?))
}
