//! One cell more, or one less, in every parallel group.

use rules_core::check::{Change, Turn};
use serde_json::Value;

use super::instead::offered;
use super::tries::{ARRANGEMENT, CELLS, Edit, Tried, Tries};
use crate::jobs::Trial;
use crate::jobs::entries::{GROUP, in_group, name_of, of_bench};
use crate::proposal::{Arrangement, group_label, needs_labels};

/// So many choices of cells are tried for one arrangement.
const MOST_CHOICES: usize = 16;

/// Other arrangements that were found to be enough.
#[derive(Debug)]
pub(super) struct Counts {
    pub enough: Vec<Turn>,
    /// Whether all cells were tried that could join or be left out.
    pub all_tried: bool,
}

impl Counts {
    /// Where a count lifts nothing.
    pub(super) const fn untried() -> Self {
        Self {
            enough: Vec::new(),
            all_tried: true,
        }
    }

    /// Of a plan that lists no cells the count is a number. Of one that does, cells of its bench join, or
    /// some of its own are left out.
    pub(super) fn of(trial: &Trial<'_>, tries: &mut Tries<'_, '_>) -> Self {
        let mut found = Self::untried();
        let Some(now) = tries.written(ARRANGEMENT).and_then(Arrangement::parse) else {
            return found;
        };
        let entries = trial.draft().value().get(CELLS).and_then(Value::as_array);
        let entries = entries.map_or(&[][..], Vec::as_slice);
        let groups = groups(entries, now).filter(|_| trial.bench().is_some());
        for other in [now.parallel.checked_add(1), now.parallel.checked_sub(1)] {
            let other = other.filter(|parallel| *parallel > 0);
            let Some(to) = other.map(|parallel| Arrangement { parallel, ..now }) else {
                continue;
            };
            let edits = match &groups {
                None if entries.is_empty() => vec![number(now, to)],
                None => continue,
                Some(groups) if to.parallel < now.parallel => fewer(groups, (now, to)),
                Some(groups) => more(groups, &free(trial, entries), (now, to)),
            };
            found.try_each(edits, tries);
        }
        found
    }

    /// The best of some edits, if it is enough.
    fn try_each(&mut self, edits: Vec<Edit>, tries: &mut Tries<'_, '_>) {
        let few: Vec<Edit> = edits.into_iter().take(MOST_CHOICES + 1).collect();
        let mut all: Vec<Tried> = Vec::new();
        for (at, edit) in few.into_iter().enumerate() {
            if at == MOST_CHOICES || tries.are_used_up() {
                self.all_tried = false;
                break;
            }
            all.extend(tries.tried(vec![edit]).filter(|tried| tried.came.is_met));
        }
        let rank = |tried: &Tried| (tried.came.verdict, tried.came.best);
        let Some(best) = all.iter().min_by_key(|tried| rank(tried)) else {
            return;
        };
        let mut turn = best.turn(tries.aim());
        // Where one cell joins, any of those that come to the same.
        let alike = all.iter().filter(|tried| rank(tried) == rank(best));
        let alike: Vec<Vec<Change>> = alike.map(|tried| tried.turn(tries.aim()).changes).collect();
        if let [_, joins] = turn.changes.as_mut_slice()
            && joins.is.is_empty()
        {
            joins.to = alike
                .iter()
                .flat_map(|changes| changes.get(1))
                .flat_map(|one| one.to.clone())
                .collect();
        }
        self.enough.push(turn);
    }
}

/// The entries by group; none where they are not as many as the arrangement takes.
fn groups(entries: &[Value], now: Arrangement) -> Option<Vec<Vec<&Value>>> {
    if entries.is_empty() || entries.len() != now.cells() {
        return None;
    }
    if now.series == 1 {
        return Some(vec![entries.iter().collect()]);
    }
    if now.parallel == 1 {
        return Some(entries.iter().map(|entry| vec![entry]).collect());
    }
    let mut named: Vec<(&Value, Vec<&Value>)> = Vec::new();
    for entry in entries {
        let label = entry.get(GROUP)?;
        match named.iter_mut().find(|(name, _)| *name == label) {
            Some((_, group)) => group.push(entry),
            None => named.push((label, vec![entry])),
        }
    }
    Some(named.into_iter().map(|(_, group)| group).collect())
}

fn free(trial: &Trial<'_>, entries: &[Value]) -> Vec<String> {
    let own: Vec<String> = entries
        .iter()
        .filter_map(of_bench)
        .map(str::to_owned)
        .collect();
    trial
        .bench()
        .map_or_else(Vec::new, |bench| offered(bench, &own))
}

/// Another count of cells that nobody lists.
fn number(now: Arrangement, to: Arrangement) -> Edit {
    Edit::Set {
        place: ARRANGEMENT.to_owned(),
        is: now.to_string(),
        to: to.to_string(),
    }
}

/// Each way to leave one entry of each group out.
fn fewer(groups: &[Vec<&Value>], (now, to): (Arrangement, Arrangement)) -> Vec<Edit> {
    let outs = each_way(groups.len(), |at| {
        groups.get(at).into_iter().flatten().copied().collect()
    });
    let edit = |out: &Vec<&Value>| {
        let kept = groups.iter().zip(out).map(|(group, out)| {
            let kept = group.iter().filter(|entry| !std::ptr::eq(**entry, *out));
            kept.map(|entry| (*entry).clone()).collect()
        });
        Edit::Rearranged {
            is: now.to_string(),
            to: to.to_string(),
            cells: listed(kept.collect(), to),
            out: out
                .iter()
                .filter_map(|entry| Some(name_of(entry)?.to_owned()))
                .collect(),
            by: Vec::new(),
        }
    };
    outs.iter().map(edit).collect()
}

/// Each way to put one of some cells of the bench into each group.
fn more(
    groups: &[Vec<&Value>],
    free: &[String],
    (now, to): (Arrangement, Arrangement),
) -> Vec<Edit> {
    let ways = each_way(groups.len(), |_| free.iter().collect());
    let differ = |by: &&Vec<&String>| {
        let mut names: Vec<&&String> = by.iter().collect();
        names.sort();
        names.dedup();
        names.len() == by.len()
    };
    let edit = |by: &Vec<&String>| {
        let joined = groups.iter().zip(by).map(|(group, by)| {
            let own = group.iter().map(|entry| (*entry).clone());
            own.chain([Value::from(by.as_str())]).collect()
        });
        Edit::Rearranged {
            is: now.to_string(),
            to: to.to_string(),
            cells: listed(joined.collect(), to),
            out: Vec::new(),
            by: by.iter().map(|name| (*name).clone()).collect(),
        }
    };
    ways.iter().filter(differ).map(edit).collect()
}

/// So many ways are looked at: of those that take a cell twice none is tried.
const MOST_WAYS: usize = 256;

/// Each way to take one of the choices of each place; no more than are looked at.
fn each_way<'c, T>(places: usize, choices: impl Fn(usize) -> Vec<&'c T>) -> Vec<Vec<&'c T>> {
    let mut ways = vec![Vec::new()];
    for place in 0..places {
        let choices = choices(place);
        let longer = ways.iter().flat_map(|way: &Vec<&T>| {
            choices
                .iter()
                .map(move |choice| way.iter().copied().chain([*choice]).collect())
        });
        ways = longer.take(MOST_WAYS).collect();
    }
    ways
}

/// The entries of groups, each with the name of its group where that is needed.
fn listed(groups: Vec<Vec<Value>>, arrangement: Arrangement) -> Vec<Value> {
    let labelled = needs_labels(arrangement);
    let groups = groups.into_iter().enumerate();
    let labelled_group = |(at, group): (usize, Vec<Value>)| {
        let label = labelled.then(|| group_label(at));
        let each = group.iter().map(|entry| in_group(entry, label.as_deref()));
        each.collect::<Vec<Value>>()
    };
    groups.flat_map(labelled_group).collect()
}
