//! Ignorance never pays: of a plan that says less, or the same in another way, no verdict is
//! better.
//!
//! The bytes choose a plan out of `plans/`, ways to move its values about the limits, and changes,
//! one after the other: facts, entries and sections are left out, intervals and meters widened, keys
//! and entries said twice, the order changed. After each change the worst is no better than before
//! and nothing has become a pass, of every caution for every subject and of the whole, under guarded
//! and under simple acceptance; what is said twice is an error; no order matters; in brief a plan
//! comes to the same as in full.
//!
//! A proposal that is an error has no verdict: what becomes an error by a change is counted and not
//! compared. So is what is changed in a label that contradicts itself.

mod changes;
mod choices;
mod compare;
mod labels;
mod less;
mod outcome;
mod plans;
mod rules;
mod tree;

use std::fmt;

use rules_core::check::{Finding, Verdict};
use rules_core::ruleset::{Acceptance, Rules};

pub use changes::What;
use changes::{Change, Expected};
use choices::Choices;
use outcome::{BOTH, Checked, is_right};
use rules::{LOCAL, SHIPPED};

/// Where the law does not hold.
#[derive(Debug, Clone)]
pub struct Violation {
    /// What was done to the plan.
    pub what: What,
    /// The keys of the place: `cells[].rest.voltage`.
    pub keys: String,
    /// The caution that became better.
    pub caution: String,
    /// What it is about.
    pub subject: String,
    /// What came of it before and after.
    pub why: String,
    /// Whether nominal values decided.
    pub simple: bool,
    /// Whether a figure of the library takes part.
    pub on_figures: bool,
    /// The plan before and after.
    pub plans: [String; 2],
}

impl fmt::Display for Violation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let acceptance = if self.simple { "simple" } else { "guarded" };
        let [before, after] = &self.plans;
        writeln!(f, "{:?} {}: ignorance pays", self.what, self.keys)?;
        let seen = [
            (self.on_figures, "a figure takes part"),
            (self.is_told_twice(), "a resistance is told in two ways"),
            (self.is_without_packs(), "packs are left out"),
            (self.is_respelt(), "a name is written otherwise"),
        ];
        for (_, what) in seen.iter().filter(|(is, _)| *is) {
            writeln!(f, "({what})")?;
        }
        writeln!(
            f,
            "`{}` for {}, {acceptance}: {}",
            self.caution, self.subject, self.why
        )?;
        write!(f, "--- before\n{before}--- after\n{after}")
    }
}

impl Violation {
    /// Whether the change is in what tells a resistance, of a plan with a cell that tells it in two
    /// ways.
    fn is_told_twice(&self) -> bool {
        const TELL: [&str; 3] = ["cells[].loaded", "cells[].resistance", "meters"];
        let twice = |line: &str| line.contains("loaded: {") && line.contains("resistance: {");
        let [before, _] = &self.plans;
        TELL.iter().any(|part| self.keys.starts_with(part)) && before.lines().any(twice)
    }

    /// Whether packs are left out.
    fn is_without_packs(&self) -> bool {
        self.what == What::LeftOut && ["packs", "packs[]"].contains(&self.keys.as_str())
    }

    /// Whether a name is written otherwise.
    const fn is_respelt(&self) -> bool {
        matches!(self.what, What::Twin | What::Spaced)
    }
}

/// What came of an input.
#[derive(Debug, Default)]
pub struct Tried {
    /// How many plans were compared with one of before.
    pub compared: usize,
    /// How many plans of before could have become better: they did not pass.
    pub telling: usize,
    /// How many changes made an error of the plan.
    pub errors: usize,
    /// How many changes were in a label that contradicts itself, of which the law does not speak.
    pub contradictory: usize,
    /// How many changes said more, or something else.
    pub otherwise: usize,
    /// Where ignorance pays.
    pub violations: Vec<Violation>,
}

/// Nothing breaks the law; returns what the bytes gave.
pub fn holds(bytes: &[u8]) -> Tried {
    let tried = tried(bytes);
    if let Some(violation) = tried.violations.first() {
        panic!("{violation}");
    }
    tried
}

/// What comes of bytes.
pub fn tried(bytes: &[u8]) -> Tried {
    let mut choices = Choices::of(bytes);
    let rules: &Rules = if choices.below(3) == 2 {
        &LOCAL
    } else {
        &SHIPPED
    };
    let plan = plans::chosen(&mut choices, is_right);
    let mut tried = Tried::default();
    let Some(mut before) = Checked::of(rules, plan) else {
        return tried;
    };
    for _ in 0..1 + choices.below(4) {
        let Some(change) = changes::chosen(&before.tree, &mut choices) else {
            continue;
        };
        if let Some(after) = tried.step(rules, &before, change) {
            before = after;
        }
    }
    in_brief_as_in_full(rules, &before);
    tried
}

fn in_brief_as_in_full(rules: &Rules, checked: &Checked) {
    for acceptance in BOTH {
        let full = checked.full(rules, acceptance).map(|full| full.brief());
        let brief = checked.brief(rules, acceptance);
        let verdict = brief.as_ref().map(|brief| brief.gravest().verdict);
        assert_eq!(verdict, Some(checked.under(acceptance).whole().verdict));
        assert!(
            full == brief,
            "in brief it comes to something else: {acceptance:?}\n{brief:?}\n{full:?}\n{}",
            checked.tree.written()
        );
    }
}

impl Tried {
    /// One change; gives the plan to go on with, if it is another.
    fn step(&mut self, rules: &Rules, before: &Checked, change: Change) -> Option<Checked> {
        let (what, keys) = (change.what, change.keys);
        let after = Checked::of(rules, change.after);
        let Some(after) = after else {
            self.errors += 1;
            if what.expected() == Expected::Same {
                self.violations.push(violation(
                    what,
                    &keys,
                    before,
                    None,
                    "it has become an error",
                ));
            }
            return None;
        };
        match what.expected() {
            Expected::Error => {
                self.violations.push(violation(
                    what,
                    &keys,
                    before,
                    Some(&after),
                    "it is no error",
                ));
                return None;
            }
            Expected::Same => self.same(rules, what, &keys, before, &after),
            Expected::NoBetter
                if keys.starts_with("packs[].") && labels::contradict(&before.sheet) =>
            {
                self.contradictory += 1;
            }
            Expected::NoBetter => {
                for acceptance in BOTH {
                    self.no_better(rules, (what, &keys), before, &after, acceptance);
                }
            }
        }
        Some(after)
    }

    fn same(&mut self, rules: &Rules, what: What, keys: &str, before: &Checked, after: &Checked) {
        self.compared += 1;
        for acceptance in BOTH {
            let alike = match what {
                // A report may show a name as it is written.
                What::Spaced => before.under(acceptance).whole() == after.under(acceptance).whole(),
                _ => before.brief(rules, acceptance) == after.brief(rules, acceptance),
            };
            if !alike {
                let why = "it comes to something else";
                self.violations
                    .push(violation(what, keys, before, Some(after), why));
            }
        }
    }

    fn no_better(
        &mut self,
        rules: &Rules,
        (what, keys): (What, &str),
        before: &Checked,
        after: &Checked,
        acceptance: Acceptance,
    ) {
        if !less::says_no_more(&before.sheet, &after.sheet, acceptance) {
            self.otherwise += 1;
            return;
        }
        self.compared += 1;
        self.telling += usize::from(before.under(acceptance).whole().verdict > Verdict::Pass);
        for better in compare::better(rules, before, after, acceptance) {
            let on_figures = [before, after].iter().any(|plan| {
                plan.full(rules, acceptance).is_some_and(|report| {
                    let of = |finding: &&Finding| *finding.caution == *better.caution;
                    report
                        .findings
                        .iter()
                        .filter(of)
                        .any(|one| !one.figures.is_empty())
                })
            });
            self.violations.push(Violation {
                caution: better.caution,
                subject: better.subject,
                simple: acceptance == Acceptance::Simple,
                on_figures,
                ..violation(what, keys, before, Some(after), &better.why)
            });
        }
    }
}

fn violation(
    what: What,
    keys: &str,
    before: &Checked,
    after: Option<&Checked>,
    why: &str,
) -> Violation {
    Violation {
        what,
        keys: keys.to_owned(),
        caution: String::new(),
        subject: String::new(),
        why: why.to_owned(),
        simple: false,
        on_figures: false,
        plans: [Some(before), after]
            .map(|plan| plan.map_or_else(String::new, |plan| plan.tree.written())),
    }
}
