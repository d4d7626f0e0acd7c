//! What is told of the sets that were checked.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rules_core::check::{Report, Verdict, Weighed};
use rules_core::document::ProblemList;
use rules_core::facts::Sheet;
use rules_core::formula::Leeway;
use rules_core::report::questions;
use rules_core::ruleset::Rules;

use super::checked::{Checked, CheckedSet};
use super::offered::Offered;
use super::result::{
    AgainstSet, Choice, ChosenSet, InTheWay, RefusedCells, Searched, SetMargin, Stands,
};
use super::wish::Wish;
use crate::jobs::trial::Trial;

/// So many margins of each set are told.
const MARGINS: usize = 5;

/// What is told of what was checked.
pub(super) fn told(
    trial: &Trial<'_>,
    wish: &Wish,
    offered: &Offered,
    checked: &Checked,
) -> Result<Choice, ProblemList> {
    let telling = Telling {
        trial,
        rules: trial.rules(),
        offered,
        alike: alike(checked),
    };
    let sets = checked.best.iter().take(wish.sets);
    let sets: Result<Vec<ChosenSet>, ProblemList> = sets.map(|set| telling.set(set)).collect();
    let acceptance = trial.options().acceptance;
    let acceptance = acceptance.unwrap_or_else(|| trial.rules().acceptance());
    let title = trial.draft().value().get("title");
    let title = title.and_then(serde_json::Value::as_str);
    Ok(Choice {
        format: 1,
        title: title.unwrap_or(trial.draft().name()).to_owned(),
        light: offered.light.clone(),
        arrangement: offered.sets.arrangement().to_string(),
        offered: offered.names.len(),
        sets: sets?,
        searched: Searched {
            sets: checked.sets,
            checked: checked.whole,
            parts: checked.parts,
            unsearched: checked.unsearched,
        },
        in_the_way: telling.in_the_way(checked),
        in_other_lights: offered.elsewhere.clone(),
        unreadable: offered.unreadable.clone(),
        acceptance,
        rules: trial.rules().layers().to_vec(),
        digest: trial.rules().digest_under(acceptance).to_owned(),
        loosened: trial.rules().loosened().to_vec(),
        notice: trial.rules().notice().to_vec(),
    })
}

struct Telling<'t> {
    trial: &'t Trial<'t>,
    rules: &'t Rules,
    offered: &'t Offered,
    /// Cautions that pass by the same margin with any cells.
    alike: BTreeSet<usize>,
}

/// Cautions that pass by the same margin whichever cells are taken, or in all sets that are told.
fn alike(checked: &Checked) -> BTreeSet<usize> {
    let sets: Vec<&[Weighed]> = checked.best.iter().map(|set| &*set.each).collect();
    let cells: Vec<&[Weighed]> = checked.alone.iter().map(Vec::as_slice).collect();
    let mut alike: BTreeSet<usize> = checked.any.iter().map(|one| one.caution).collect();
    for all in [cells, sets] {
        let Some((first, others)) = all.split_first().filter(|(_, others)| !others.is_empty())
        else {
            continue;
        };
        let narrowest = narrowest_by_caution(first);
        let same = |caution: &usize| {
            let own = narrowest.get(caution);
            let mut others = others.iter().map(|other| narrowest_by_caution(other));
            others.all(|other| other.get(caution) == own)
        };
        alike.extend(narrowest.keys().copied().filter(same));
    }
    alike
}

/// The narrowest margin of each caution that has one.
fn narrowest_by_caution(each: &[Weighed]) -> BTreeMap<usize, f64> {
    let mut narrowest = BTreeMap::new();
    for (caution, leeway) in each
        .iter()
        .filter_map(|one| Some((one.caution, one.leeway?)))
    {
        let least: &mut f64 = narrowest.entry(caution).or_insert(f64::INFINITY);
        *least = least.min(leeway.share);
    }
    narrowest
}

impl Telling<'_> {
    fn set(&self, set: &CheckedSet) -> Result<ChosenSet, ProblemList> {
        let sheet = self.offered.sets.whole(&set.groups);
        // What is told of a set comes from a check of its plan.
        let report: Report = self.offered.plan(self.trial, &set.groups)?.report()?;
        let outcome = report.gravest();
        let mut against: Vec<AgainstSet> = set
            .each
            .iter()
            .filter_map(|one| self.against(one, &sheet))
            .collect();
        against.sort_by(|a, b| {
            (b.verdict, &a.caution, &a.subject).cmp(&(a.verdict, &b.caution, &b.subject))
        });
        Ok(ChosenSet {
            groups: set.names.clone(),
            stands: Stands::of(outcome),
            outcome,
            refused: set.standing.head.refused,
            warned: set.standing.head.warned,
            open: set.standing.head.open,
            questions: questions(&report).len(),
            against,
            narrowest: self.margins(&set.each, &sheet, |_| true).into_iter().next(),
            margins: self.margins(&set.each, &sheet, |one| !self.alike.contains(&one.caution)),
        })
    }

    fn against(&self, one: &Weighed, sheet: &Sheet) -> Option<AgainstSet> {
        let caution = self.rules.cautions().get(one.caution)?;
        (one.judged.best > Verdict::Pass).then(|| AgainstSet {
            caution: Arc::clone(&caution.id),
            title: Arc::clone(&caution.title),
            subject: self.subject(one, sheet),
            verdict: one.judged.best,
        })
    }

    fn subject(&self, one: &Weighed, sheet: &Sheet) -> String {
        let about = self
            .rules
            .cautions()
            .get(one.caution)
            .map(|caution| caution.about);
        let named = about.map(|about| {
            let kind = self.rules.catalogue().subject_name(about);
            let name = sheet.instance(about, one.position);
            let name = name.map_or("", |one| one.name.as_str());
            format!("{kind} {name}")
        });
        named.unwrap_or_default().trim_end().to_owned()
    }

    fn margins(
        &self,
        each: &[Weighed],
        sheet: &Sheet,
        told: impl Fn(&Weighed) -> bool,
    ) -> Vec<SetMargin> {
        let mut all: Vec<(&Weighed, Leeway)> = each
            .iter()
            .filter(|one| told(one))
            .filter_map(|one| Some((one, one.leeway?)))
            .collect();
        all.sort_by(|(_, a), (_, b)| a.share.total_cmp(&b.share));
        let narrowest = all.into_iter().take(MARGINS);
        narrowest
            .filter_map(|(one, leeway)| self.margin(one, leeway, sheet))
            .collect()
    }

    fn margin(&self, one: &Weighed, leeway: Leeway, sheet: &Sheet) -> Option<SetMargin> {
        let caution = self.rules.cautions().get(one.caution)?;
        let limit = leeway.limit.and_then(|id| self.rules.limit(id));
        Some(SetMargin {
            caution: Arc::clone(&caution.id),
            title: Arc::clone(&caution.title),
            subject: self.subject(one, sheet),
            percent: rules_core::report::significant(100.0 * leeway.share, 3),
            limit: limit.map(|limit| limit.written.value.to_string()),
            limit_name: limit.map(|limit| limit.name.to_string()),
        })
    }

    fn in_the_way(&self, checked: &Checked) -> InTheWay {
        let nobody = self.offered.sets.part(&[]);
        let any = checked.any.iter();
        let any_cells = any
            .filter_map(|one| self.against(one, &nobody))
            .filter(|one| one.verdict == Verdict::Refuse)
            .collect();
        let mut by: BTreeMap<usize, Vec<String>> = BTreeMap::new();
        let mut refused_cells = 0;
        for (alone, name) in checked.alone.iter().zip(&self.offered.names) {
            let refusing = alone
                .iter()
                .filter(|one| one.judged.best == Verdict::Refuse);
            let mut any = false;
            for one in refusing {
                any = true;
                by.entry(one.caution).or_default().push(name.clone());
            }
            refused_cells += usize::from(any);
        }
        InTheWay {
            any_cells,
            refused_cells,
            by: self.refused(by),
        }
    }

    fn refused(&self, by: BTreeMap<usize, Vec<String>>) -> Vec<RefusedCells> {
        let mut all: Vec<RefusedCells> = by
            .into_iter()
            .filter_map(|(at, cells)| {
                let caution = self.rules.cautions().get(at)?;
                Some(RefusedCells {
                    caution: Arc::clone(&caution.id),
                    title: Arc::clone(&caution.title),
                    cells,
                })
            })
            .collect();
        all.sort_by(|a, b| (b.cells.len(), &a.caution).cmp(&(a.cells.len(), &b.caution)));
        all
    }
}
