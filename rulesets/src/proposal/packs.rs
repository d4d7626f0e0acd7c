//! The packs of a proposal: those that it lists, those that only its cells name, and one for those
//! that nothing names.

use std::collections::BTreeSet;
use std::sync::Arc;

use rules_core::facts::{Catalogue, Given, Instance, Sheet, Value};

use crate::facts::{CELL, PACK};

/// What reports call the pack that a cell came out of and does not name.
const NOT_NAMED: &str = "(not named)";

/// Adds to the listed packs those that only cells name: everything but their names is missing. If
/// there are packs and a cell names none, one more pack stands for the one it came out of.
///
/// So leaving out a label, or a cell's note of its pack, leaves a pack of which less is known, and
/// never one pack less.
pub(super) fn complete(sheet: &mut Sheet, catalogue: &Catalogue) {
    let (Some(id), Some((naming, _))) = (catalogue.id_of(PACK), catalogue.belonging(PACK)) else {
        return;
    };
    let (id, naming) = (catalogue.slot(id), catalogue.slot(naming));
    let mut known: BTreeSet<Arc<str>> = (0..sheet.count(PACK))
        .filter_map(|pack| sheet.text(PACK, pack, id).cloned())
        .collect();
    let mut added = Vec::new();
    let mut all_name_one = true;
    for cell in 0..sheet.count(CELL) {
        match sheet.given(CELL, cell, naming) {
            Some(given) => added.extend(named(given, id, &mut known)),
            None => all_name_one = false,
        }
    }
    if let Some(roster) = sheet.roster_mut(PACK) {
        roster.instances.extend(added);
        roster.open = !all_name_one && !roster.instances.is_empty();
        if roster.open {
            roster.instances.push(Instance::named(NOT_NAMED));
        }
    }
    sheet.join_to_origin(catalogue, CELL);
}

/// The pack that a cell names, if it is a further one.
fn named(given: &Given, id: usize, known: &mut BTreeSet<Arc<str>>) -> Option<Instance> {
    let Value::Text(name) = &given.value else {
        return None;
    };
    known.insert(Arc::clone(name)).then(|| {
        let mut pack = Instance::named(name);
        pack.set(id, given.clone());
        pack
    })
}
