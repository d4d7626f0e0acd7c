//! `explain`: one caution with all that takes part in it.

use std::collections::BTreeMap;
use std::io;

use rules_core::document::{Fault, Problem, near_miss};
use rules_core::formula::Uses;
use rules_core::report::text::{Page, Part, Role, basis};
use rules_core::ruleset::{
    Basis, Caution, FigureInfo, IfUnmeasured, ListedLimit, Placeholder, Rules, TemplatePiece,
    WrittenCase, WrittenCaution, WrittenSource,
};
use serde::Serialize;

use super::facts::{Fact, fact};
use super::limits::{self, source};
use super::with_input::with_rules;
use crate::args::{Explain, Format};
use crate::outcome::Outcome;
use crate::terminal::Terminal;

const INDENT: usize = 2;
const HANG: usize = 18;

/// A caution with the limits, figures, facts and sources that take part in it.
#[derive(Serialize)]
struct Explained<'a> {
    caution: &'a WrittenCaution,
    limits: BTreeMap<&'a str, ListedLimit<'a>>,
    figures: BTreeMap<&'a str, ExplainedFigure<'a>>,
    facts: Vec<Fact<'a>>,
    sources: BTreeMap<String, WrittenSource>,
    place: &'a rules_core::document::Place,
}

#[derive(Serialize)]
struct ExplainedFigure<'a> {
    is: &'a str,
    meaning: &'a str,
}

pub(super) fn run(args: &Explain, terminal: &mut Terminal) -> io::Result<Outcome> {
    with_rules(&args.rules, terminal, |rules, terminal| {
        let found = rules
            .cautions()
            .iter()
            .find(|caution| *caution.id == *args.caution);
        let Some(explained) = found.and_then(|caution| explained(caution, rules)) else {
            terminal.complain_of(&[unknown(&args.caution, rules)]);
            return Ok(Outcome::BadInput);
        };
        match args.form.format {
            Format::Json => terminal.put_json(&explained)?,
            Format::Text => {
                let mut page = terminal.page();
                explained.write(&mut page);
                terminal.put(&page.finish())?;
            }
        }
        Ok(Outcome::Fine)
    })
}

fn unknown(name: &str, rules: &Rules) -> Problem {
    let help = match near_miss(name, rules.cautions().iter().map(|caution| &*caution.id)) {
        Some(near) => format!("did you mean `{near}`?"),
        None => {
            "`cellrules cautions` lists those there are; `--rules` names the rulesets to look in"
                .to_owned()
        }
    };
    Problem::of_file(
        Fault::UnknownName,
        format!("the rules in use have no caution `{name}`"),
        help,
    )
}

/// What a caution is about, as rulesets write it: `each cell`, `build`.
pub(super) fn about(caution: &Caution, rules: &Rules) -> String {
    let each = if rules.catalogue().is_many(caution.about) {
        "each "
    } else {
        ""
    };
    format!("{each}{}", rules.catalogue().subject_name(caution.about))
}

fn explained<'a>(caution: &'a Caution, rules: &'a Rules) -> Option<Explained<'a>> {
    let written = rules
        .written()
        .cautions
        .iter()
        .find(|written| *written.id == *caution.id)?;
    let uses = uses(caution, rules);
    let limits: BTreeMap<_, _> = uses
        .limits
        .iter()
        .filter_map(|id| rules.limit(*id))
        .map(|info| (info.name.as_str(), info.written.listed()))
        .collect();
    let figures = uses
        .figures
        .iter()
        .filter_map(|id| rules.figure(*id))
        .map(|info| (info.name.as_str(), figure(info)));
    let figures: BTreeMap<_, _> = figures.collect();
    let facts = uses
        .facts
        .union(&uses.asked)
        .filter_map(|id| rules.catalogue().fact(*id))
        .map(|def| fact(def, rules))
        .collect();
    let of_limits = uses
        .limits
        .iter()
        .filter_map(|id| rules.limit(*id))
        .flat_map(|info| &info.written.basis);
    let all = written.basis.iter().chain(of_limits);
    let sources = all.filter_map(|basis| source(basis, rules)).collect();
    Some(Explained {
        caution: written,
        limits,
        figures,
        facts,
        sources,
        place: &caution.place,
    })
}

fn figure(info: &FigureInfo) -> ExplainedFigure<'_> {
    ExplainedFigure {
        is: &info.is,
        meaning: &info.meaning,
    }
}

/// Everything that its formulas and texts refer to.
fn uses(caution: &Caution, rules: &Rules) -> Uses {
    let (program, catalogue) = (rules.program(), rules.catalogue());
    let mut uses = Uses::default();
    for rung in caution
        .applies_when
        .iter()
        .chain(&caution.refuse_unless)
        .chain(&caution.warn_unless)
    {
        uses.add_condition(&rung.condition, program, catalogue);
    }
    for piece in std::iter::once(&caution.reason)
        .chain(&caution.remedy)
        .flat_map(|text| &text.pieces)
    {
        match piece {
            TemplatePiece::Value(Placeholder::Fact(fact)) => drop(uses.facts.insert(fact.id)),
            TemplatePiece::Value(Placeholder::Number(number, _)) => {
                uses.add_number(number, program, catalogue)
            }
            TemplatePiece::Value(Placeholder::Condition(condition)) => {
                uses.add_condition(condition, program, catalogue)
            }
            TemplatePiece::Text(_) => {}
        }
    }
    uses
}

impl Explained<'_> {
    fn write(&self, page: &mut Page<'_>) {
        let caution = self.caution;
        page.paragraph(
            0,
            &[
                Part::new(Role::Heading, caution.id.as_str()),
                Part::text(format!(": {}", caution.title)),
            ],
        );
        page.gap();
        self.conditions(page);
        entry("Says:", &caution.reason, page);
        optional("Do:", caution.remedy.as_deref(), page);
        self.basis("Rests on:", HANG, &caution.basis, page);
        entry("Stands at:", &self.place.to_string(), page);
        self.definitions(page);
        page.gap();
        page.paragraph(0, &[Part::new(Role::Heading, "Cases")]);
        if caution.cases.is_empty() {
            page.paragraph(INDENT, &[Part::text("None.")]);
        }
        for case in &caution.cases {
            page.item(
                INDENT,
                INDENT + 4,
                &[
                    Part::new(Role::Label, format!("{}:", expected(case))),
                    Part::text(format!(" {}", given(case))),
                ],
            );
        }
    }

    fn conditions(&self, page: &mut Page<'_>) {
        let caution = self.caution;
        entry("About:", &caution.about, page);
        entry(
            "Applies when:",
            caution.applies_when.as_deref().unwrap_or("always"),
            page,
        );
        optional("Refuses unless:", caution.refuse_unless.as_deref(), page);
        optional("Warns unless:", caution.warn_unless.as_deref(), page);
        entry("If unmeasured:", if_unmeasured(caution), page);
        optional(
            "Fixed:",
            caution.fixed.then_some("no other ruleset may drop it"),
            page,
        );
    }

    fn definitions(&self, page: &mut Page<'_>) {
        heading("Limits", self.limits.is_empty(), page);
        for (name, limit) in &self.limits {
            limits::write(limit, INDENT, name, &self.sources, page);
        }
        heading("Figures", self.figures.is_empty(), page);
        for (name, figure) in &self.figures {
            named(
                name,
                &format!(" is {}: {}.", figure.is, figure.meaning),
                page,
            );
        }
        heading("Facts", self.facts.is_empty(), page);
        for fact in &self.facts {
            fact.write(page);
        }
    }

    fn basis(&self, label: &str, hang: usize, all: &[Basis], page: &mut Page<'_>) {
        for (at, one) in all.iter().enumerate() {
            let label = if at == 0 { label } else { "" };
            page.entry(
                INDENT,
                &[Part::new(Role::Label, label)],
                hang,
                &[Part::text(basis(one, &self.sources))],
            );
        }
    }
}

/// What comes of it where a measurement is missing, by section 6 of the language.
const fn if_unmeasured(caution: &WrittenCaution) -> &'static str {
    match (
        caution.if_unmeasured,
        caution.refuse_unless.is_some(),
        caution.warn_unless.is_some(),
    ) {
        (Some(IfUnmeasured::Warn), true, _) => "then it warns and says that it could refuse",
        (Some(IfUnmeasured::Refuse), ..) | (None, true, false) => "then it refuses",
        (None, true, true) => "then it refuses; where only what it warns of is left open, it warns",
        (_, false, _) => "then it warns",
    }
}

fn entry(label: &str, text: &str, page: &mut Page<'_>) {
    page.entry(
        INDENT,
        &[Part::new(Role::Label, label)],
        HANG,
        &[Part::text(text)],
    );
}

fn optional(label: &str, text: Option<&str>, page: &mut Page<'_>) {
    if let Some(text) = text {
        entry(label, text, page);
    }
}

fn heading(text: &str, empty: bool, page: &mut Page<'_>) {
    if !empty {
        page.gap();
        page.paragraph(0, &[Part::new(Role::Heading, text)]);
    }
}

fn named(name: &str, text: &str, page: &mut Page<'_>) {
    page.item(
        INDENT,
        INDENT + 4,
        &[Part::new(Role::Label, name), Part::text(text)],
    );
}

fn expected(case: &WrittenCase) -> String {
    let mut words = vec![case.expect.word().to_owned()];
    words.extend(case.doubt.then(|| "in doubt".to_owned()));
    words.extend(
        (!case.unmeasured.is_empty())
            .then(|| format!("unmeasured ({})", case.unmeasured.join(", "))),
    );
    words.join(", ")
}

/// The facts of a case in a line.
fn given(case: &WrittenCase) -> String {
    let value = |value: &serde_json::Value| {
        value
            .as_str()
            .map_or_else(|| value.to_string(), str::to_owned)
    };
    let given = match &case.given {
        serde_json::Value::Object(facts) => facts
            .iter()
            .map(|(name, one)| format!("{name} {}", value(one)))
            .collect::<Vec<_>>()
            .join(", "),
        other => value(other),
    };
    let given = if given.is_empty() {
        "nothing given".to_owned()
    } else {
        given
    };
    case.note
        .as_ref()
        .map_or_else(|| given.clone(), |note| format!("{given} ({note})"))
}
