//! Cautions by what is known of a set before all of it is checked: derived from their formulas.

use rules_core::check::{CautionTrend, Scales, caution_trends};
use rules_core::facts::{FactId, SubjectId};
use rules_core::formula::Joining;
use rules_core::ruleset::Rules;

use crate::facts::{BUILD, CELL, CHARGING, CONDITIONS, GROUP, LIGHT, PACK, PROTECTION};

/// A caution that only gets worse.
#[derive(Debug, Clone, Copy)]
pub(super) struct Joint {
    pub caution: usize,
    pub settled_stays: bool,
    /// Whether what it surely says with any cells in the place of those that join, it says with each.
    pub can_be_filled: bool,
    pub of_group: bool,
}

const SINGLE: [SubjectId; 5] = [LIGHT, BUILD, PROTECTION, CHARGING, CONDITIONS];

/// Cautions by what is known of a set before all of it is checked.
pub(super) struct Kinds {
    pub of_single: Vec<usize>,
    pub of_cell: Vec<usize>,
    /// Those that look at a cell and only get worse for it.
    pub of_cell_at_most: Vec<Joint>,
    pub of_pack: Vec<usize>,
    pub of_full_group: Vec<usize>,
    pub of_full_groups: Vec<Joint>,
    pub joints: Vec<Joint>,
}

impl Kinds {
    /// By what becomes of cautions as cells join, and as whole groups do. With `apart`, each cell is a
    /// group of its own.
    pub(super) fn of(rules: &Rules, scales: &Scales<'_>, apart: bool) -> Self {
        let [trends, of_groups] = [apart, true].map(|apart| trends(rules, apart));
        let can_be_filled = |at: usize| scales.is_guarded() && looks_at_cells_alone(rules, at);
        let mut kinds = Self {
            of_single: Vec::new(),
            of_cell: Vec::new(),
            of_cell_at_most: Vec::new(),
            of_pack: Vec::new(),
            of_full_group: Vec::new(),
            of_full_groups: Vec::new(),
            joints: Vec::new(),
        };
        for at in scales.cautions() {
            let (Some(caution), Some(trend)) = (rules.cautions().get(at), trends.get(at)) else {
                continue;
            };
            let about = caution.about;
            let of_a_group = !apart
                && (about == GROUP || (about == CELL && !trend.stays))
                && of_groups.get(at).is_some_and(|trend| trend.stays);
            if of_a_group {
                kinds.of_full_group.push(at);
            }
            match trend.stays {
                true if SINGLE.contains(&about) => kinds.of_single.push(at),
                true if about == CELL || (about == GROUP && apart) => kinds.of_cell.push(at),
                true if about == PACK => kinds.of_pack.push(at),
                _ if about == PACK || (of_a_group && about == CELL) => {}
                _ if trend.only_worsens => {
                    let joint = Joint {
                        caution: at,
                        settled_stays: trend.settled_stays,
                        can_be_filled: can_be_filled(at),
                        of_group: about == GROUP,
                    };
                    match about == CELL {
                        true => kinds.of_cell_at_most.push(joint),
                        false => kinds.joints.push(joint),
                    }
                }
                _ => kinds.of_full_groups.extend(
                    of_groups
                        .get(at)
                        .filter(|trend| !apart && SINGLE.contains(&about) && trend.only_worsens)
                        .map(|trend| Joint {
                            caution: at,
                            settled_stays: trend.settled_stays,
                            can_be_filled: can_be_filled(at),
                            of_group: false,
                        }),
                ),
            }
        }
        kinds
    }
}

/// Whether a caution does not look at packs, nor asks whether something of a cell is known.
fn looks_at_cells_alone(rules: &Rules, caution: usize) -> bool {
    let Some(caution) = rules.cautions().get(caution) else {
        return false;
    };
    let uses = rules.uses_of(caution);
    let is_of = |fact: &FactId, subjects: &[SubjectId]| {
        let def = rules.catalogue().fact(*fact);
        def.is_some_and(|def| subjects.contains(&def.subject))
    };
    let mut asked = uses.asked.iter();
    let mut facts = uses.facts.iter();
    !asked.any(|fact| is_of(fact, &[CELL, PACK])) && !facts.any(|fact| is_of(fact, &[PACK]))
}

/// What becomes of cautions as cells join; with `apart`, each as a group of its own.
fn trends(rules: &Rules, apart: bool) -> Vec<CautionTrend> {
    let changing = changing(rules);
    let joining = Joining::of(rules.catalogue(), rules.program(), CELL, apart, &changing);
    caution_trends(rules, &joining)
}

/// The facts of single subjects that change as cells join.
fn changing(rules: &Rules) -> Vec<FactId> {
    let listed = rules.catalogue().fact_named("build.listed");
    listed.map(|(id, _)| id).into_iter().collect()
}
