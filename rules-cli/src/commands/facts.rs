//! `facts`: what a proposal can say and a ruleset can use.

use std::io;

use rules_core::facts::{Catalogue, RelationDef, SubjectDef, WorkedDef};
use rules_core::report::text::{Page, Part, Role};
use rules_core::ruleset::{FigureInfo, Rules};
use serde::Serialize;

use super::fact::Fact;
use super::with_rules::with_rules;
use crate::args::{FactsArgs, Format};
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

/// A subject with everything that can be known of it.
#[derive(Serialize)]
struct Subject<'a> {
    name: &'a str,
    /// The name of all of them, if there can be many.
    #[serde(skip_serializing_if = "Option::is_none")]
    plural: Option<&'a str>,
    meaning: &'a str,
    facts: Vec<Fact<'a>>,
    figures: Vec<Figure<'a>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    relations: Vec<Relation<'a>>,
}

#[derive(Serialize)]
struct Figure<'a> {
    name: String,
    meaning: &'a str,
    /// Its formula; none if the library works it out.
    #[serde(skip_serializing_if = "Option::is_none")]
    is: Option<&'a str>,
    /// The facts that the library works it out from.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    needs: Vec<String>,
}

/// What always holds between facts. It is an error if they surely break it.
#[derive(Serialize)]
struct Relation<'a> {
    name: &'a str,
    holds: &'a str,
    /// What is wrong if it does not hold.
    says: &'a str,
}

pub(super) fn run(args: &FactsArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    with_rules(
        &args.rules,
        args.form.format,
        terminal,
        |rules, terminal| {
            let subjects = rules.catalogue().subjects().iter();
            let subjects: Vec<_> = subjects.map(|def| Subject::of(def, rules)).collect();
            match args.form.format {
                Format::Json => terminal.write_json(&subjects)?,
                Format::Text => {
                    let mut page = terminal.page();
                    subjects.iter().for_each(|subject| subject.write(&mut page));
                    terminal.write_page(page)?;
                }
            }
            Ok(ExitStatus::Success)
        },
    )
}

impl<'a> Subject<'a> {
    fn of(def: &'a SubjectDef, rules: &'a Rules) -> Self {
        let catalogue = rules.catalogue();
        let is_own = |id| catalogue.subject_name(id) == def.name;
        let facts = catalogue.facts().filter(|(_, fact)| is_own(fact.subject));
        let relations = catalogue.relations().iter();
        let relations = relations.filter(|relation| is_own(relation.about));
        Self {
            name: &def.name,
            plural: def.plural.as_deref(),
            meaning: &def.meaning,
            facts: facts.map(|fact| Fact::of(fact, rules)).collect(),
            figures: figures_of(def, rules),
            relations: relations.map(Relation::of).collect(),
        }
    }

    fn write(&self, page: &mut Page<'_>) {
        page.gap();
        let plural = self.plural.map(|plural| format!(" (many: {plural})"));
        let text = format!("{}: {}", plural.unwrap_or_default(), self.meaning);
        page.paragraph(0, &[Part::new(Role::Heading, self.name), Part::text(text)]);
        self.facts.iter().for_each(|fact| fact.write(page));
        self.figures.iter().for_each(|figure| figure.write(page));
        self.relations
            .iter()
            .for_each(|relation| relation.write(page));
    }
}

/// The figures of a subject: those of the library, then those of the rules.
fn figures_of<'a>(subject: &SubjectDef, rules: &'a Rules) -> Vec<Figure<'a>> {
    let catalogue = rules.catalogue();
    let of_library = catalogue.worked().iter();
    let of_library = of_library.filter(|def| catalogue.subject_name(def.subject) == subject.name);
    let of_rules = rules.figures().iter().filter(|figure| {
        let (of, _) = figure.name.split_once('.').unwrap_or_default();
        of == subject.name
    });
    of_library
        .map(|def| Figure::of_library(def, catalogue))
        .chain(of_rules.map(Figure::of_rules))
        .collect()
}

impl<'a> Figure<'a> {
    fn of_library(def: &'a WorkedDef, catalogue: &Catalogue) -> Self {
        let needs = catalogue.needed(def.needs);
        Self {
            name: catalogue.full_name(def.subject, def.name),
            meaning: def.meaning,
            is: None,
            needs: needs
                .map(|fact| catalogue.fact_name(fact).to_owned())
                .collect(),
        }
    }

    fn of_rules(figure: &'a FigureInfo) -> Self {
        Self {
            name: figure.name.to_string(),
            meaning: &figure.meaning,
            is: Some(&figure.is),
            needs: Vec::new(),
        }
    }

    fn write(&self, page: &mut Page<'_>) {
        let origin = match self.is {
            Some(formula) => format!("is {formula}"),
            None => format!("worked out from {}", self.needs.join(", ")),
        };
        let text = format!(" (figure): {}.", self.meaning);
        write_entry(&self.name, text, origin, page);
    }
}

impl<'a> Relation<'a> {
    fn of(def: &'a RelationDef) -> Self {
        Self {
            name: &def.id,
            holds: def.formula(),
            says: &def.says,
        }
    }

    fn write(&self, page: &mut Page<'_>) {
        let text = format!(" (relation): if it is broken, {}.", self.says);
        write_entry(self.name, text, format!("always {}", self.holds), page);
    }
}

/// A name with its meaning, and under it what it rests on.
fn write_entry(name: &str, text: String, below: String, page: &mut Page<'_>) {
    page.item(2, 6, &[Part::new(Role::Label, name), Part::text(text)]);
    page.paragraph(6, &[Part::new(Role::Quiet, below)]);
}
