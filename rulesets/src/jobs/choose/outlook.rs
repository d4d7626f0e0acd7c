//! What can still come of a part of a set: nothing here is better than what comes of the whole.
//!
//! Of a caution that looks at one cell, and at what there is one of, the check of each cell alone says
//! what it comes to in any set. Of one that only gets worse as cells join, the check of each two says
//! the best that can come of a set with both. Of what that surely warns or refuses, a check with any of
//! the cells in every place that is left says what will stay so: what is surely so of less that is
//! known is so of more. All others may yet pass by any margin.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use rules_core::check::{Scales, Verdict, Weighed};
use rules_core::document::ProblemList;
use rules_core::facts::Sheet;
use rules_core::ruleset::Rules;

use super::effort::Effort;
use super::kinds::{Joint, Kinds};
use super::part::Part;
use super::standing::{Mark, Standing};
use crate::facts::PACK;
use crate::proposal::{AnyCell, Sets};

/// What can come of sets of these cells.
pub(super) struct Outlook<'o> {
    sets: &'o Sets,
    scales: &'o Scales<'o>,
    joints: Vec<Joint>,
    /// What comes of any cells.
    pub any: Vec<Weighed>,
    /// What comes of a set with each cell, by what looks at that cell.
    pub alone: Vec<Vec<Weighed>>,
    /// What the cells come to by themselves at the best, each by the same cautions.
    pub marks_alone: Vec<Vec<Mark>>,
    cells: Vec<Standing>,
    /// Cautions whose margins are alike in all sets.
    pub alike: BTreeSet<usize>,
    packs: Vec<Standing>,
    pack_of: Vec<Option<usize>>,
    /// Cautions that look at one group alone, where groups are of several cells.
    of_full_group: Vec<usize>,
    /// Cautions that only get worse as whole groups join.
    of_full_groups: Vec<Joint>,
    /// What cells are of which it is not known which.
    any_cell: AnyCell,
    pairs: HashMap<(usize, usize, bool), Pair>,
    full: HashMap<Vec<usize>, Full>,
    /// What two full groups come to.
    full_pairs: HashMap<[Vec<usize>; 2], Vec<Mark>>,
    /// How many checks of parts were made.
    pub checks: usize,
    /// What work may still be done.
    pub effort: Effort,
}

impl<'o> Outlook<'o> {
    /// Of these cells under these rules.
    pub(super) fn of(
        rules: &'o Rules,
        scales: &'o Scales<'o>,
        sets: &'o Sets,
        effort: Effort,
    ) -> Result<Self, ProblemList> {
        let apart = sets.arrangement().parallel == 1;
        let kinds = Kinds::of(rules, scales, apart);
        let mut outlook = Self {
            sets,
            scales,
            any: scales.part(&sets.part(&[]), &kinds.of_single)?,
            joints: kinds.joints.clone(),
            alone: Vec::new(),
            marks_alone: Vec::new(),
            cells: Vec::new(),
            alike: BTreeSet::new(),
            packs: Vec::new(),
            pack_of: Vec::new(),
            of_full_group: kinds.of_full_group.clone(),
            of_full_groups: kinds.of_full_groups.clone(),
            any_cell: sets.any_cell(),
            pairs: HashMap::new(),
            full: HashMap::new(),
            full_pairs: HashMap::new(),
            checks: 0,
            effort,
        };
        outlook.count_check();
        outlook.cells_alone(&kinds)?;
        outlook.leave_out_alike(&kinds.of_cell);
        Ok(outlook)
    }

    fn cells_alone(&mut self, kinds: &Kinds) -> Result<(), ProblemList> {
        let mut known: BTreeMap<&str, usize> = BTreeMap::new();
        for cell in 0..self.sets.count() {
            let alone = [vec![cell]];
            let sheet = self.sets.part(&alone);
            let weighed = self.scales.part(&sheet, &kinds.of_cell)?;
            let mut marks: Vec<Mark> = weighed.iter().map(Mark::exact).collect();
            marks.extend(self.marks(&alone, &kinds.of_cell_at_most)?);
            self.count_check();
            self.marks_alone.push(marks);
            let pack = self.sets.pack(cell);
            if let Some(name) = pack.filter(|name| !known.contains_key(name)) {
                known.insert(name, self.packs.len());
                let of_packs = self.scales.part(&sheet, &kinds.of_pack)?;
                self.packs.push(standing(&of_this(of_packs, name, &sheet)));
            }
            self.pack_of
                .push(pack.and_then(|name| known.get(name).copied()));
            self.alone.push(weighed);
        }
        Ok(())
    }

    /// Margins that all cells have alike tell no set from another, and are left out.
    fn leave_out_alike(&mut self, of_cell: &[usize]) {
        let margin = |marks: &Vec<Mark>, at: usize| marks.get(at).map(|mark| mark.margin);
        for (at, caution) in of_cell.iter().enumerate() {
            let first = self.marks_alone.first().map(|marks| margin(marks, at));
            let mut all = self.marks_alone.iter();
            if all.all(|marks| Some(margin(marks, at)) == first) {
                let marks = self.marks_alone.iter_mut();
                marks
                    .filter_map(|marks| marks.get_mut(at))
                    .for_each(|mark| mark.margin = None);
                self.alike.insert(*caution);
            }
        }
        self.alike.extend(self.any.iter().map(|one| one.caution));
        let standing = |marks: &Vec<Mark>| Standing::NONE.with(marks.iter());
        self.cells = self.marks_alone.iter().map(standing).collect();
    }

    fn count_check(&mut self) {
        self.checks += 1;
        self.effort.check();
    }

    /// How the cells stand by themselves.
    pub(super) fn cell(&self, cell: usize) -> Option<&Standing> {
        self.cells.get(cell)
    }

    /// The best that can come of a set.
    pub(super) fn of_set(&mut self, groups: &[Vec<usize>]) -> Result<Standing, ProblemList> {
        let mut part = self.none();
        for (at, group) in groups.iter().enumerate() {
            for cell in group {
                part = self.with(&part, *cell, at)?;
                part = self.filled(part, at)?;
            }
        }
        Ok(part.standing(&Standing::NONE))
    }

    /// Of no cell yet.
    pub(super) fn none(&self) -> Part {
        let of_set = self.joints.iter().filter(|joint| !joint.of_group).count();
        Part {
            alone: standing(&self.any).without_margins(),
            packs: Vec::new(),
            marks: vec![vec![Mark::FREE; of_set]],
            full: vec![Mark::FREE; self.of_full_groups.len()],
            groups: Vec::new(),
        }
    }

    /// The same part with a cell more, in one of its groups or in a further one.
    pub(super) fn with(
        &mut self,
        part: &Part,
        cell: usize,
        group: usize,
    ) -> Result<Part, ProblemList> {
        let mut next = part.clone();
        if let Some(own) = self.cells.get(cell) {
            next.alone = next.alone.and(own);
        }
        if let Some(pack) = self.pack_of.get(cell).copied().flatten()
            && !next.packs.contains(&pack)
        {
            next.packs.push(pack);
            if let Some(of_pack) = self.packs.get(pack) {
                next.alone = next.alone.and(of_pack);
            }
        }
        if group == next.groups.len() {
            let of_group = self.joints.iter().filter(|joint| joint.of_group).count();
            next.groups.push(Vec::new());
            next.marks.push(vec![Mark::FREE; of_group]);
        }
        for (at, others) in part.groups.iter().enumerate() {
            for other in others {
                self.join((*other, cell), at == group, at, &mut next)?;
            }
        }
        if let Some(members) = next.groups.get_mut(group) {
            members.push(cell);
        }
        Ok(next)
    }

    /// The same part with what one of its groups comes to, if that is full.
    pub(super) fn filled(&mut self, mut part: Part, group: usize) -> Result<Part, ProblemList> {
        let parallel = self.sets.arrangement().parallel;
        let full = part
            .groups
            .get(group)
            .filter(|group| group.len() == parallel);
        let Some(mut key) = full.filter(|_| parallel > 1).cloned() else {
            return Ok(part);
        };
        key.sort_unstable();
        if !self.full.contains_key(&key) {
            let groups = [key.clone()];
            let weighed = self
                .scales
                .part(&self.sets.part(&groups), &self.of_full_group)?;
            let full = Full {
                alone: standing(&weighed),
                marks: self.marks(&groups, &self.of_full_groups)?,
            };
            self.count_check();
            self.full.insert(key.clone(), full);
        }
        if let Some(full) = self.full.get(&key) {
            part.alone = part.alone.and(&full.alone);
            worsened(Some(&mut part.full), &full.marks);
            // That says all that two of its cells said, and exactly.
            if let Some(marks) = part.marks.get_mut(group + 1) {
                marks.clear();
            }
        }
        let others = part.groups.clone().into_iter().enumerate();
        for (_, mut other) in others.filter(|(at, other)| *at != group && other.len() == parallel) {
            other.sort_unstable();
            let marks = self.full_pair(key.clone(), other)?;
            worsened(Some(&mut part.full), marks);
        }
        Ok(part)
    }

    /// What two full groups come to, by what only gets worse as whole groups join.
    fn full_pair(&mut self, one: Vec<usize>, other: Vec<usize>) -> Result<&[Mark], ProblemList> {
        let key = if one < other {
            [one, other]
        } else {
            [other, one]
        };
        if !self.full_pairs.contains_key(&key) {
            let marks = self.marks(&key, &self.of_full_groups)?;
            self.count_check();
            self.full_pairs.insert(key.clone(), marks);
        }
        Ok(self.full_pairs.get(&key).map_or(&[], Vec::as_slice))
    }

    /// Adds what two cells of a part come to.
    fn join(
        &mut self,
        (one, other): (usize, usize),
        together: bool,
        group: usize,
        part: &mut Part,
    ) -> Result<(), ProblemList> {
        let pair = self.pair(one, other, together)?;
        worsened(part.marks.first_mut(), &pair.of_set);
        if together {
            worsened(part.marks.get_mut(group + 1), &pair.of_group);
        }
        Ok(())
    }

    /// What two cells come to, in one group or in two.
    fn pair(&mut self, one: usize, other: usize, together: bool) -> Result<&Pair, ProblemList> {
        const NOTHING: &Pair = &Pair {
            of_set: Vec::new(),
            of_group: Vec::new(),
        };
        let key = (one.min(other), one.max(other), together);
        if !self.pairs.contains_key(&key) {
            let groups = if together {
                vec![vec![key.0, key.1]]
            } else {
                vec![vec![key.0], vec![key.1]]
            };
            let marks = self.marks(&groups, &self.joints)?;
            let of = |of_group: bool| {
                let both = self.joints.iter().zip(&marks);
                both.filter(|(joint, _)| joint.of_group == of_group)
                    .map(|(_, mark)| *mark)
                    .collect()
            };
            let pair = Pair {
                of_set: of(false),
                of_group: of(true),
            };
            self.count_check();
            self.pairs.insert(key, pair);
        }
        Ok(self.pairs.get(&key).unwrap_or(NOTHING))
    }

    /// The best that can come of cautions that only get worse, of a part.
    fn marks(&self, groups: &[Vec<usize>], joints: &[Joint]) -> Result<Vec<Mark>, ProblemList> {
        let cautions: Vec<usize> = joints.iter().map(|joint| joint.caution).collect();
        let weighed = self.scales.part(&self.sets.part(groups), &cautions)?;
        let settled = self.settled(groups, joints, &weighed)?;
        let of = |joint: &Joint| {
            let own = weighed.iter().filter(|one| one.caution == joint.caution);
            let best = |one: &Weighed| match joint.settled_stays {
                true => one.judged.best,
                false => settled
                    .get(&joint.caution)
                    .copied()
                    .unwrap_or(Verdict::Pass),
            };
            own.map(|one| Mark::at_most(one, best(one)))
                .fold(Mark::FREE, Mark::worse)
        };
        Ok(joints.iter().map(of).collect())
    }

    /// What cautions of the first of a part surely say with any cells in the place of those that join:
    /// of those which surely say something as it is, and might no longer.
    fn settled(
        &self,
        groups: &[Vec<usize>],
        joints: &[Joint],
        weighed: &[Weighed],
    ) -> Result<BTreeMap<usize, Verdict>, ProblemList> {
        let speaks = |joint: &&Joint| {
            let mut own = weighed.iter().filter(|one| one.caution == joint.caution);
            own.any(|one| one.judged.best > Verdict::Pass)
        };
        let open = joints
            .iter()
            .filter(|joint| !joint.settled_stays && joint.can_be_filled);
        let open: Vec<usize> = open.filter(speaks).map(|joint| joint.caution).collect();
        if open.is_empty() {
            return Ok(BTreeMap::new());
        }
        let filled = self.sets.filled(groups, &self.any_cell);
        let settled = self.scales.part(&filled, &open)?;
        let first = settled.iter().filter(|one| one.position == 0);
        Ok(first.map(|one| (one.caution, one.judged.best)).collect())
    }
}

/// What two cells come to.
struct Pair {
    of_set: Vec<Mark>,
    of_group: Vec<Mark>,
}

/// What a full group comes to: by what looks at it alone, and by what only gets worse as whole groups
/// join it.
struct Full {
    alone: Standing,
    marks: Vec<Mark>,
}

fn worsened(marks: Option<&mut Vec<Mark>>, by: &[Mark]) {
    for (mark, by) in marks.into_iter().flatten().zip(by) {
        *mark = mark.worse(*by);
    }
}

fn standing(weighed: &[Weighed]) -> Standing {
    let marks: Vec<Mark> = weighed.iter().map(Mark::exact).collect();
    Standing::NONE.with(marks.iter())
}

/// What was found of the pack of a name.
fn of_this(found: Vec<Weighed>, name: &str, sheet: &Sheet) -> Vec<Weighed> {
    let is_this = |one: &Weighed| {
        let pack = sheet.instance(PACK, one.position);
        pack.is_some_and(|pack| pack.name == name)
    };
    found.into_iter().filter(is_this).collect()
}
