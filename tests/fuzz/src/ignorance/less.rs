//! Whether one proposal says no more than another, by the facts that were read out of them.

use rules_core::facts::{Given, Instance, Sheet, SubjectId, Value};
use rules_core::ruleset::Acceptance;
use rulesets::facts::{BUILD, CELL, GROUP, PACK};

use super::rules::CATALOGUE;

/// Whether every fact of `after` is one of `before`, as well known or worse. Where nominal values
/// decide, they have to be the same.
pub(super) fn says_no_more(before: &Sheet, after: &Sheet, acceptance: Acceptance) -> bool {
    (0..CATALOGUE.subjects().len()).all(|at| {
        let subject = SubjectId::new(u8::try_from(at).unwrap_or(u8::MAX));
        match subject {
            GROUP => groups_agree(before, after),
            BUILD => is_built_alike(before, after),
            _ => instances(after, subject).iter().all(|one| {
                let slots = 0..CATALOGUE.slots(subject);
                let known = named(before, subject, &one.name);
                slots
                    .filter_map(|slot| Some((slot, one.given(slot)?)))
                    .all(|(slot, given)| {
                        known
                            .and_then(|known| known.given(slot))
                            .is_some_and(|known| is_no_better(known, given, acceptance))
                    })
            }),
        }
    })
}

fn is_no_better(before: &Given, after: &Given, acceptance: Acceptance) -> bool {
    match (&before.value, &after.value) {
        (Value::Number(before), Value::Number(after)) => {
            let same_nominal = before.nominal().to_bits() == after.nominal().to_bits();
            after.range().encloses(before.range())
                && (acceptance == Acceptance::Guarded || same_nominal)
        }
        (Value::Choice(before), Value::Choice(after)) => before.within(*after),
        (before, after) => before == after,
    }
}

/// All of a subject.
pub(super) fn instances(sheet: &Sheet, subject: SubjectId) -> &[Instance] {
    sheet
        .roster(subject)
        .map_or(&[], |roster| roster.instances.as_slice())
}

/// One of a subject by its name.
pub(super) fn named<'s>(sheet: &'s Sheet, subject: SubjectId, name: &str) -> Option<&'s Instance> {
    instances(sheet, subject)
        .iter()
        .find(|one| one.name == name)
}

/// How many cells are listed is a fact that leaving one out changes and does not hide; as long as
/// not more were listed than the arrangement calls for, it is the worse for it.
fn is_built_alike(before: &Sheet, after: &Sheet) -> bool {
    let counts = |sheet: &Sheet, name: &str| {
        let slot = CATALOGUE
            .fact_named(name)
            .map(|(id, _)| CATALOGUE.slot(id))?;
        let given = sheet.given(BUILD, 0, slot)?;
        match &given.value {
            Value::Number(number) => Some(number.nominal()),
            _ => None,
        }
    };
    let alike = |name: &str| counts(before, name) == counts(after, name);
    let called = ["build.series", "build.parallel", "build.cells"];
    let (listed, fewer) = ("build.listed", counts(after, "build.listed"));
    called.into_iter().all(alike)
        && (alike(listed)
            || (fewer < counts(before, listed)
                && counts(before, listed) <= counts(before, "build.cells")))
}

/// Groups are the same cells as before, or it is not known any more which cells they are.
fn groups_agree(before: &Sheet, after: &Sheet) -> bool {
    if after.is_unsettled(GROUP) {
        return true;
    }
    let partition = |sheet: &Sheet| {
        let group = |one: &Instance| {
            let cells = instances(sheet, CELL);
            let listed = one.members.iter().filter_map(|at| cells.get(*at));
            let mut names: Vec<String> = listed.map(|cell| cell.name.clone()).collect();
            names.retain(|name| !name.starts_with('('));
            names.sort();
            names
        };
        let mut groups: Vec<Vec<String>> = instances(sheet, GROUP).iter().map(group).collect();
        groups.sort();
        groups
    };
    let names = |sheet: &Sheet| -> Vec<String> {
        instances(sheet, CELL)
            .iter()
            .map(|cell| cell.name.clone())
            .collect()
    };
    // With a cell fewer the groups are those of the others and of what is not listed.
    !before.is_unsettled(GROUP)
        && (partition(before) == partition(after) || names(before) != names(after))
}

/// Whether entries of a list are left out.
pub(super) fn lists_fewer(before: &Sheet, after: &Sheet) -> bool {
    [CELL, PACK].into_iter().any(|subject| {
        let gone = |one: &Instance| named(after, subject, &one.name).is_none();
        instances(before, subject).iter().any(gone)
    })
}
