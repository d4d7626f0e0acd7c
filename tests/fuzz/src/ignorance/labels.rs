//! Labels of packs that contradict themselves. Two things that cannot both be true say nothing
//! together, and each of them something alone: of such labels the law does not speak.

use rules_core::facts::{Given, Instance, Sheet, Value};
use rules_core::quantity::Interval;
use rulesets::facts::PACK;
use rulesets::label::{Label, decode};

use super::less::instances;
use super::rules::CATALOGUE;

/// Whether the label of some pack contradicts itself, the cells that were counted, or what cells can
/// be.
pub(super) fn contradict(sheet: &Sheet) -> bool {
    instances(sheet, PACK)
        .iter()
        .any(|pack| decode(&label(pack)).map_or(true, |decoded| !decoded.is_believable()))
}

fn label(pack: &Instance) -> Label<'_> {
    Label {
        voltage: number(pack, "voltage"),
        capacity: number(pack, "capacity"),
        energy: number(pack, "energy"),
        code: match given(pack, "designation").map(|given| &given.value) {
            Some(Value::Text(code)) => Some(code),
            _ => None,
        },
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a count's domain is from 1 to far below 2^32"
        )]
        cells: number(pack, "cells")
            .filter(|cells| cells.is_point())
            .map(|cells| cells.lo() as u32),
    }
}

fn number(pack: &Instance, name: &str) -> Option<Interval> {
    match &given(pack, name)?.value {
        Value::Number(number) => Some(number.range()),
        _ => None,
    }
}

fn given<'s>(pack: &'s Instance, name: &str) -> Option<&'s Given> {
    let (id, _) = CATALOGUE.fact_named(&format!("pack.{name}"))?;
    pack.given(CATALOGUE.slot(id))
}
