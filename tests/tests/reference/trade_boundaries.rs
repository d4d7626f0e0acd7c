//! `trade_boundaries.json`: the shipped ruleset at the boundaries of trade facts, by whole checks
//! of proposals that give nothing else.
//!
//! A row asks something of one caution: at least a verdict, and often at most one. What it gives
//! must settle the matter, since a caution that speaks up for what is missing says nothing about
//! the boundary.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use rules_core::check::{self, Options, Status, Verdict};
use rules_core::facts::{Catalogue, Given, Proposed, Value as FactValue};
use rules_core::formula::Uses;
use rules_core::ruleset::{Caution, Rules};
use rulesets::proposal::Proposal;
use rulesets::shipped::Shipped;
use serde::Deserialize;
use serde_json::{Value, json};

use super::proposals::{self, outcomes, told};
use super::table::{Outcome, Part, same};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    caution: String,
    given: BTreeMap<String, Value>,
    #[serde(default)]
    also: BTreeMap<String, Value>,
    at_least: Words,
    /// Whether the limit is one of a figure, whose own error leaves the boundary in doubt.
    #[serde(default)]
    by_a_figure: bool,
    #[serde(default = "refuse")]
    at_most: Words,
    #[serde(rename = "because")]
    _because: String,
    #[serde(rename = "side")]
    _side: String,
    #[serde(rename = "source_says")]
    _source_says: String,
    #[serde(rename = "topic")]
    _topic: String,
}

#[derive(Deserialize, Clone, Copy)]
#[serde(rename_all = "lowercase")]
enum Words {
    Pass,
    Warn,
    Refuse,
}

fn refuse() -> Words {
    Words::Refuse
}

impl From<Words> for Verdict {
    fn from(word: Words) -> Self {
        match word {
            Words::Pass => Self::Pass,
            Words::Warn => Self::Warn,
            Words::Refuse => Self::Refuse,
        }
    }
}

/// A document that gives what a row says, and nothing else.
struct Draft {
    series: u64,
    parallel: u64,
    sections: Value,
    cells: Vec<Value>,
}

impl Draft {
    fn of(row: &Row, catalogue: &Catalogue) -> Result<Self, String> {
        let facts: BTreeMap<&String, &Value> = row.given.iter().chain(&row.also).collect();
        let count = |name: &str, otherwise: usize| {
            row.given
                .get(name)
                .map_or(Some(otherwise as u64), Value::as_u64)
        };
        let listed = row
            .given
            .get("cells")
            .and_then(Value::as_array)
            .cloned()
            .unwrap_or_default();
        let (series, parallel) = (
            count("build.series", 1),
            count("build.parallel", listed.len().max(1)),
        );
        let (series, parallel) = series
            .zip(parallel)
            .ok_or("the arrangement is not in numbers")?;
        let cells = (1..=series * parallel)
            .map(|number| json!({ "id": format!("K{number}") }))
            .collect();
        let mut draft = Self {
            series,
            parallel,
            sections: json!({}),
            cells,
        };
        for (name, value) in facts.into_iter().filter(|(name, _)| *name != "cells") {
            draft.place(name, value, catalogue)?;
        }
        for (at, cell) in listed.iter().enumerate() {
            for (name, value) in cell.as_object().ok_or("a cell is a map of facts")? {
                set(
                    &mut draft.cells[at],
                    &key(&format!("cell.{name}"), catalogue)?,
                    value,
                );
            }
        }
        draft.mark(&row.given);
        Ok(draft)
    }

    /// A fact to where its section has it; the arrangement and the designation are made of several.
    fn place(&mut self, name: &str, value: &Value, catalogue: &Catalogue) -> Result<(), String> {
        match name {
            "build.series" | "build.parallel" | "cell.class" | "cell.code_diameter"
            | "cell.code_length" => {}
            _ if name.starts_with("cell.") => {
                let key = key(name, catalogue)?;
                self.cells
                    .iter_mut()
                    .for_each(|cell| set(cell, &key, value));
            }
            _ => set(
                &mut self.sections,
                &format!(
                    "{}.{}",
                    name.split('.').next().unwrap_or(""),
                    key(name, catalogue)?
                ),
                value,
            ),
        }
        Ok(())
    }

    /// Class and size are those of a designation; where a row gives one of them, the others are
    /// those of the common cell.
    fn mark(&mut self, given: &BTreeMap<String, Value>) {
        let names = ["cell.class", "cell.code_diameter", "cell.code_length"];
        let [class, diameter, length] = names.map(|name| given.get(name).and_then(Value::as_str));
        if class.or(diameter).or(length).is_none() {
            return;
        }
        let figures = |text: Option<&str>, common: &str| {
            text.map_or(common.to_owned(), |text| {
                text.chars().filter(char::is_ascii_digit).collect()
            })
        };
        let designation = format!(
            "{}{}{}",
            class.unwrap_or("ICR"),
            figures(diameter, "18"),
            figures(length, "650")
        );
        self.cells
            .iter_mut()
            .for_each(|cell| cell["designation"] = json!(designation));
    }

    fn read(self) -> Result<Proposal, String> {
        proposals::read(
            &format!("{}S{}P", self.series, self.parallel),
            &self.cells,
            self.sections,
        )
        .map_err(|problems| told(&problems))
    }
}

/// Where the section of its subject has a fact.
fn key(name: &str, catalogue: &Catalogue) -> Result<String, String> {
    let key = catalogue
        .fact_named(name)
        .and_then(|(_, def)| def.key.clone());
    key.map(Into::into)
        .ok_or(format!("`{name}` is no fact that a proposal states"))
}

fn set(section: &mut Value, key: &str, value: &Value) {
    *key.split('.').fold(section, |inner, part| &mut inner[part]) = value.clone();
}

impl Row {
    /// The proposal, after a look at whether it says what the row gives.
    fn proposal(&self, catalogue: &Catalogue) -> Result<Proposal, String> {
        let proposal = Draft::of(self, catalogue)?.read()?;
        let sheet = proposal
            .facts(catalogue)
            .map_err(|problems| told(&problems))?;
        let given = |name: &str, position: usize| {
            let (id, def) = catalogue.fact_named(name)?;
            sheet.given(def.subject, position, catalogue.slot(id))
        };
        for (name, value) in self
            .given
            .iter()
            .chain(&self.also)
            .filter(|(name, _)| *name != "cells")
        {
            same(
                &format!("whether `{name}` is given"),
                &given(name, 0).is_some_and(|given| says(given, value)),
                &true,
            )?;
        }
        for (at, cell) in self
            .given
            .get("cells")
            .and_then(Value::as_array)
            .into_iter()
            .flatten()
            .enumerate()
        {
            for (name, value) in cell.as_object().into_iter().flatten() {
                same(
                    &format!("whether cell {at} gives `{name}`"),
                    &given(&format!("cell.{name}"), at).is_some_and(|given| says(given, value)),
                    &true,
                )?;
            }
        }
        Ok(proposal)
    }

    /// The names of the facts that the row is about.
    fn names(&self) -> BTreeSet<String> {
        let cells = self
            .given
            .get("cells")
            .and_then(Value::as_array)
            .into_iter()
            .flatten()
            .filter_map(Value::as_object);
        let of_cells = cells.flat_map(|cell| cell.keys().map(|name| format!("cell.{name}")));
        self.given.keys().cloned().chain(of_cells).collect()
    }

    fn holds(&self, rules: &Rules) -> Outcome {
        if self.caution.is_empty() {
            return Err("the ruleset has no caution on this".to_owned());
        }
        let caution = rules
            .cautions()
            .iter()
            .find(|caution| *caution.id == *self.caution);
        let caution = caution.ok_or(format!("the ruleset has no caution `{}`", self.caution))?;
        same(
            "whether the caution looks at what is given",
            &facts_of(caution, rules).is_disjoint(&self.names()),
            &false,
        )?;
        let proposal = self.proposal(rules.catalogue())?;
        let report = check::check(rules, &proposal, Options::default())
            .map_err(|problems| told(&problems))?;
        let sheet = proposal
            .facts(rules.catalogue())
            .map_err(|problems| told(&problems))?;
        let found = outcomes(&report, &self.caution)?;
        let (least, most) = (Verdict::from(self.at_least), Verdict::from(self.at_most));
        // All subjects of a row are alike, so that a caution objects to each or to none.
        let alike = found[0].verdict == Verdict::Pass || found.len() == sheet.count(caution.about);
        same(
            "whether the caution says the same of every subject",
            &alike,
            &true,
        )?;
        found.iter().try_for_each(|came| {
            if !(self.by_a_figure && came.status == Status::InDoubt) {
                same("the status", &came.status, &Status::Decided)?;
            }
            let allowed = least <= came.verdict && came.verdict <= most;
            if allowed {
                Ok(())
            } else {
                Err(format!(
                    "`{}` says {:?}, not {least:?} to {most:?}",
                    self.caution, came.verdict
                ))
            }
        })
    }
}

/// Whether a fact of the sheet is what a row wrote. A code gives a size as a range that the row's
/// figure lies in.
fn says(given: &Given, value: &Value) -> bool {
    let text = value
        .as_str()
        .map_or_else(|| value.to_string(), str::to_owned);
    let figure = || text.strip_suffix(" mm")?.parse::<f64>().ok();
    match &given.value {
        FactValue::Number(measure) if *given.written != *text => {
            figure().is_some_and(|figure| measure.range().contains(figure))
        }
        _ => *given.written == *text,
    }
}

/// The names of the facts that a caution rests on.
fn facts_of(caution: &Caution, rules: &Rules) -> BTreeSet<String> {
    let mut uses = Uses::default();
    for rung in [
        &caution.applies_when,
        &caution.refuse_unless,
        &caution.warn_unless,
    ]
    .into_iter()
    .flatten()
    {
        uses.add_condition(&rung.condition, rules.program(), rules.catalogue());
    }
    uses.facts
        .into_iter()
        .map(|id| rules.catalogue().fact_name(id).to_owned())
        .collect()
}

static SHIPPED: LazyLock<Rules> = LazyLock::new(|| {
    Rules::load(
        &["rescued-cells-measured"],
        &Shipped,
        &rulesets::catalogue(),
    )
    .unwrap_or_else(|problems| panic!("{}", told(&problems)))
});

#[test]
fn shipped_rules_ask_what_the_sources_of_the_trade_ask() {
    Part::read("trade_boundaries", "rows", 123).run(|row: &Row| row.holds(&SHIPPED));
}
