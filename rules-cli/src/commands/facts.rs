//! `facts`: what rulesets can speak of.

use std::io;

use rules_core::facts::{Catalogue, FactDef, FactKind, RelationDef, SubjectDef, WorkedDef};
use rules_core::report::text::{Page, Part, Role};
use rules_core::ruleset::{FigureInfo, Rules};
use serde::Serialize;

use super::with_input::with_rules;
use crate::args::{Facts, Format};
use crate::outcome::Outcome;
use crate::terminal::Terminal;

/// Subjects with all that is known of them.
#[derive(Serialize)]
struct Subject<'a> {
    name: &'a str,
    /// The name of all of them, where there are many.
    #[serde(skip_serializing_if = "Option::is_none")]
    plural: Option<&'a str>,
    meaning: &'a str,
    facts: Vec<Fact<'a>>,
    figures: Vec<Figure<'a>>,
    /// What holds between its facts, however bad it is.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    relations: Vec<Relation<'a>>,
}

/// Facts that surely break it are an error.
#[derive(Serialize)]
struct Relation<'a> {
    name: &'a str,
    holds: &'a str,
    /// What is wrong where it does not hold.
    says: &'a str,
}

#[derive(Serialize)]
pub(super) struct Fact<'a> {
    name: String,
    kind: &'static str,
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    options: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    domain: Option<Domain>,
    nature: &'static str,
    meaning: &'a str,
    /// Where it stands in a proposal.
    stands: String,
}

/// The values that can be at all, in `unit`; an end that is left out is open.
#[derive(Serialize)]
struct Domain {
    text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    low: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    high: Option<f64>,
    unit: String,
}

#[derive(Serialize)]
struct Figure<'a> {
    name: String,
    meaning: &'a str,
    /// The formula; none if the library works it out.
    #[serde(skip_serializing_if = "Option::is_none")]
    is: Option<&'a str>,
    /// The facts it rests on, where the library works it out.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    needs: Vec<String>,
}

pub(super) fn run(args: &Facts, terminal: &mut Terminal) -> io::Result<Outcome> {
    with_rules(&args.rules, terminal, |rules, terminal| {
        let subjects = subjects(rules);
        match args.form.format {
            Format::Json => terminal.put_json(&subjects)?,
            Format::Text => {
                let mut page = terminal.page();
                subjects.iter().for_each(|subject| put(subject, &mut page));
                terminal.put(&page.finish())?;
            }
        }
        Ok(Outcome::Fine)
    })
}

fn subjects(rules: &Rules) -> Vec<Subject<'_>> {
    let all = rules.catalogue().subjects().iter();
    all.map(|def| subject(def, rules)).collect()
}

fn subject<'r>(def: &'r SubjectDef, rules: &'r Rules) -> Subject<'r> {
    let catalogue = rules.catalogue();
    let is_own = |id| catalogue.subject_name(id) == def.name;
    let facts = catalogue.facts().filter(|(_, def)| is_own(def.subject));
    let worked = catalogue.worked().iter().filter(|def| is_own(def.subject));
    let written = rules.figures().iter().filter(|figure| {
        let subject = figure.name.split_once('.').map(|(subject, _)| subject);
        subject == Some(&*def.name)
    });
    let relations = catalogue.relations().iter();
    let relations = relations.filter(|relation| is_own(relation.about));
    Subject {
        name: &def.name,
        plural: def.plural.as_deref(),
        meaning: &def.meaning,
        facts: facts.map(|(_, def)| fact(def, rules)).collect(),
        figures: worked
            .map(|def| worked_figure(def, catalogue))
            .chain(written.map(figure))
            .collect(),
        relations: relations.map(relation).collect(),
    }
}

fn relation(def: &RelationDef) -> Relation<'_> {
    Relation {
        name: &def.id,
        holds: def.formula(),
        says: &def.says,
    }
}

/// A fact, for lists and explanations.
pub(super) fn fact<'a>(def: &'a FactDef, rules: &Rules) -> Fact<'a> {
    let name = rules.catalogue().full_name(def.subject, &def.name);
    let options = if let FactKind::Choice(options) = &def.kind {
        options.as_slice()
    } else {
        &[]
    };
    let stands = stands(def, &name, rules);
    Fact {
        name,
        kind: def.kind.name(),
        options,
        domain: domain(def),
        nature: def.nature.word(),
        meaning: &def.meaning,
        stands,
    }
}

fn stands(def: &FactDef, name: &str, rules: &Rules) -> String {
    let catalogue = rules.catalogue();
    let subject = catalogue.subject(def.subject);
    if let Some(from) = &def.from {
        return format!("worked out from `{from}`");
    }
    let section = subject
        .and_then(|subject| subject.plural.as_deref())
        .map_or_else(
            || catalogue.subject_name(def.subject).to_owned(),
            |many| format!("{many}[]"),
        );
    match &def.key {
        Some(key) => format!("{section}.{key}"),
        None if rules.written().facts.contains_key(name) => format!("{section}.extra.{}", def.name),
        None => "nowhere".to_owned(),
    }
}

fn domain(def: &FactDef) -> Option<Domain> {
    let FactKind::Number(kind) = &def.kind else {
        return None;
    };
    let finite = |end: f64| end.is_finite().then_some(end);
    let unit = (*kind).base_unit().into_owned();
    let text = match (finite(def.domain.lo()), finite(def.domain.hi())) {
        (Some(low), Some(high)) => format!("{low}..{high} {unit}"),
        (Some(low), None) => format!("from {low} {unit}"),
        (None, Some(high)) => format!("up to {high} {unit}"),
        (None, None) => return None,
    };
    Some(Domain {
        text: text.trim_end().to_owned(),
        low: finite(def.domain.lo()),
        high: finite(def.domain.hi()),
        unit,
    })
}

fn worked_figure<'a>(def: &'a WorkedDef, catalogue: &Catalogue) -> Figure<'a> {
    let needs = catalogue
        .needed(def.needs)
        .map(|fact| catalogue.fact_name(fact).to_owned())
        .collect();
    Figure {
        name: catalogue.full_name(def.subject, def.name),
        meaning: def.meaning,
        is: None,
        needs,
    }
}

fn figure(figure: &FigureInfo) -> Figure<'_> {
    Figure {
        name: figure.name.clone(),
        meaning: &figure.meaning,
        is: Some(&figure.is),
        needs: Vec::new(),
    }
}

fn put(subject: &Subject<'_>, page: &mut Page<'_>) {
    page.gap();
    let many = subject
        .plural
        .map(|plural| format!(" (many: {plural})"))
        .unwrap_or_default();
    page.paragraph(
        0,
        &[
            Part::new(Role::Heading, subject.name),
            Part::text(format!("{many}: {}", subject.meaning)),
        ],
    );
    subject.facts.iter().for_each(|fact| fact.write(page));
    for figure in &subject.figures {
        page.item(
            2,
            6,
            &[
                Part::new(Role::Label, figure.name.as_str()),
                Part::text(format!(" (figure): {}.", figure.meaning)),
            ],
        );
        let how = figure.is.map_or_else(
            || format!("worked out from {}", figure.needs.join(", ")),
            |is| format!("is {is}"),
        );
        page.paragraph(6, &[Part::new(Role::Quiet, how)]);
    }
    for relation in &subject.relations {
        page.item(
            2,
            6,
            &[
                Part::new(Role::Label, relation.name),
                Part::text(format!(" (relation): an error where {}.", relation.says)),
            ],
        );
        page.paragraph(
            6,
            &[Part::new(Role::Quiet, format!("always {}", relation.holds))],
        );
    }
}

impl Fact<'_> {
    /// Writes the fact with its place in a proposal.
    pub(super) fn write(&self, page: &mut Page<'_>) {
        page.item(
            2,
            6,
            &[
                Part::new(Role::Label, self.name.as_str()),
                Part::text(format!(" ({}): {}.", self.sort(), self.meaning)),
            ],
        );
        page.paragraph(
            6,
            &[Part::new(
                Role::Quiet,
                format!("In a proposal: {}", self.stands),
            )],
        );
    }

    /// Its kind, what it can be, and how it is known.
    fn sort(&self) -> String {
        let options = if self.options.is_empty() {
            String::new()
        } else {
            format!(": {}", self.options.join(", "))
        };
        let domain = self
            .domain
            .as_ref()
            .map(|domain| format!(", {}", domain.text))
            .unwrap_or_default();
        format!("{}{options}{domain}, {}", self.kind, self.nature)
    }
}
