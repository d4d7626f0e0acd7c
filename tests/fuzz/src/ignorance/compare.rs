//! What came of a plan against what came of one that says less.

use rules_core::check::Verdict;
use rules_core::facts::{Instance, Sheet, SubjectId};
use rules_core::ruleset::{Acceptance, Caution, IfUnmeasured, Rules};
use rulesets::facts::{CELL, GROUP, PACK};

use super::less::{instances, lists_fewer};
use super::outcome::{Checked, Outcome};
use super::rules::CATALOGUE;

/// A better outcome of a plan that says less: of a caution for a subject, or of the whole.
pub(super) struct Better {
    pub(super) caution: String,
    pub(super) subject: String,
    pub(super) why: String,
}

/// Where saying less has paid.
pub(super) fn better(
    rules: &Rules,
    before: &Checked,
    after: &Checked,
    acceptance: Acceptance,
) -> Vec<Better> {
    let (was, is) = (before.under(acceptance), after.under(acceptance));
    // What is listed is a fact of its own: with less of it, more may be surely wrong.
    let fewer = lists_fewer(&before.sheet, &after.sheet);
    let mut all = Vec::new();
    for (at, caution) in rules.cautions().iter().enumerate() {
        for (position, one) in instances(&before.sheet, caution.about).iter().enumerate() {
            let places = of_the_same(caution.about, one, &before.sheet, &after.sheet);
            let same = places.iter().filter_map(|place| is.get(at, *place));
            let (Some(old), Some(new)) = (was.get(at, position), same.reduce(Outcome::or_graver))
            else {
                continue;
            };
            all.extend(paid(old, new, softens(caution), fewer).map(|why| Better {
                caution: caution.id.to_string(),
                subject: called(caution.about, one),
                why,
            }));
        }
    }
    let soft = rules.cautions().iter().any(softens);
    let whole = paid(was.whole(), is.whole(), soft, fewer);
    // A pack that is left out is no subject any more, and nothing is said of it.
    let packs = |of: &Checked| instances(&of.sheet, PACK).len();
    if all.is_empty() && packs(before) == packs(after) {
        all.extend(whole.map(|why| Better {
            caution: "the report".to_owned(),
            subject: "the whole".to_owned(),
            why,
        }));
    }
    all
}

/// Only where a measurement is missing altogether may a caution soften a refusal, to a warning that
/// says what it could be.
fn softens(caution: &Caution) -> bool {
    caution.if_unmeasured == Some(IfUnmeasured::Warn)
}

/// Why the new outcome is better, if it is.
fn paid(old: Outcome, new: Outcome, soft: bool, fewer: bool) -> Option<String> {
    let softened = soft
        && old.verdict == Verdict::Refuse
        && new.verdict == Verdict::Warn
        && new.worst == Verdict::Refuse;
    let why = if new.worst < old.worst {
        "the worst is better"
    } else if new.verdict == Verdict::Pass && old.verdict != Verdict::Pass {
        "it has become a pass"
    } else if new.verdict < old.verdict && !softened {
        "the verdict is better"
    } else if new.best > old.best && !fewer {
        "the best is worse"
    } else {
        return None;
    };
    let said = |of: Outcome| format!("{:?} ({:?} to {:?})", of.verdict, of.best, of.worst);
    Some(format!("{why}: {} has become {}", said(old), said(new)))
}

/// Where the same is in the plan that says less. A cell that is not listed any more is one of those
/// of which nothing is known; a group may be called otherwise, or it is not known any more which
/// cells are in it. A pack that is left out is nowhere.
fn of_the_same(subject: SubjectId, one: &Instance, before: &Sheet, after: &Sheet) -> Vec<usize> {
    let all = instances(after, subject);
    let by_name = |name: &str| all.iter().position(|other| other.name == name);
    let same = if subject == GROUP && !after.is_unsettled(GROUP) {
        group_of_the_same_cells(one, before, after)
    } else {
        by_name(&one.name)
    };
    if let Some(same) = same {
        return vec![same];
    }
    if ![CELL, GROUP].contains(&subject) {
        return Vec::new();
    }
    let old = instances(before, subject);
    let is_new = |other: &Instance| old.iter().all(|one| one.name != other.name);
    let new: Vec<usize> = (0..all.len())
        .filter(|at| all.get(*at).is_some_and(is_new))
        .collect();
    if new.is_empty() {
        (0..all.len()).collect()
    } else {
        new
    }
}

fn group_of_the_same_cells(one: &Instance, before: &Sheet, after: &Sheet) -> Option<usize> {
    let cells = |sheet: &Sheet, group: &Instance| -> Vec<String> {
        let all = instances(sheet, CELL);
        let members = group.members.iter().filter_map(|at| all.get(*at));
        members.map(|cell| cell.name.clone()).collect()
    };
    let mine = cells(before, one);
    instances(after, GROUP)
        .iter()
        .position(|group| cells(after, group).iter().any(|cell| mine.contains(cell)))
}

/// What a report calls one of a subject.
fn called(subject: SubjectId, one: &Instance) -> String {
    let kind = CATALOGUE.subject_name(subject);
    if CATALOGUE.is_many(subject) {
        format!("{kind} {}", one.name)
    } else {
        kind.to_owned()
    }
}
