//! `limits`: what a ruleset can adjust.

use std::collections::BTreeMap;
use std::io;

use rules_core::document::Place;
use rules_core::report::text::{Page, Part, Role, basis};
use rules_core::ruleset::{
    Adjustment, Basis, LimitInfo, ListedLimit, Rules, Stricter, WrittenSource,
};
use serde::Serialize;

use super::with_rules::with_rules;
use crate::args::{Format, LimitsArgs};
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

/// How to adjust a limit.
const HOW_TO_ADJUST: &str = "To adjust one, write a ruleset that extends these. Under `adjust` and \
    `limits`, give the name of the limit (without `limit.`) its new value in `to` and, if that \
    loosens it, the reason in `because`.";

/// Every limit, with the sources that they come from.
#[derive(Serialize)]
struct LimitList<'a> {
    limits: Vec<PlacedLimit<'a>>,
    sources: BTreeMap<String, WrittenSource>,
}

/// A limit in the list, with its name and place.
#[derive(Serialize)]
struct PlacedLimit<'a> {
    name: &'a str,
    #[serde(flatten)]
    limit: ListedLimit<'a>,
    place: &'a Place,
}

pub(super) fn run(args: &LimitsArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    with_rules(
        &args.rules,
        args.form.format,
        terminal,
        |rules, terminal| {
            let list = LimitList::of(rules);
            match args.form.format {
                Format::Json => terminal.write_json(&list)?,
                Format::Text => {
                    let mut page = terminal.page();
                    list.write(&mut page);
                    terminal.write_page(page)?;
                }
            }
            Ok(ExitStatus::Success)
        },
    )
}

/// The source of a basis with its name, if it has one.
pub(super) fn source(basis: &Basis, rules: &Rules) -> Option<(String, WrittenSource)> {
    let Basis::Source { source, .. } = basis else {
        return None;
    };
    Some((source.to_string(), rules.sources().get(&**source)?.clone()))
}

impl<'a> LimitList<'a> {
    fn of(rules: &'a Rules) -> Self {
        let bases = rules.limits().iter().flat_map(|limit| &limit.written.basis);
        let listed = |limit: &'a LimitInfo| PlacedLimit {
            name: &limit.name,
            limit: rules.listed(limit),
            place: &limit.place,
        };
        Self {
            limits: rules.limits().iter().map(listed).collect(),
            sources: bases.filter_map(|basis| source(basis, rules)).collect(),
        }
    }

    fn write(&self, page: &mut Page<'_>) {
        for listed in &self.limits {
            write_limit(&listed.limit, 0, listed.name, &self.sources, page);
            let place = format!("Defined at {}", listed.place);
            page.paragraph(4, &[Part::new(Role::Quiet, place)]);
            page.gap();
        }
        let text = match self.limits.len() {
            0 => "There are no limits.".to_owned(),
            1 => format!("1 limit. {HOW_TO_ADJUST}"),
            count => format!("{count} limits. {HOW_TO_ADJUST}"),
        };
        page.paragraph(0, &[Part::text(text)]);
    }
}

/// What a ruleset made of a limit: `Adjusted by our-club from 10 mV to 5 mV.`
fn adjusted(one: &Adjustment) -> String {
    let adjusted = format!("Adjusted by {} from {} to {}.", one.by, one.from, one.to);
    match &one.because {
        Some(because) => format!("{adjusted} Reason given: {because}"),
        None => adjusted,
    }
}

/// Writes a limit with what became of it and its basis.
pub(super) fn write_limit(
    limit: &ListedLimit<'_>,
    indent: usize,
    name: &str,
    sources: &BTreeMap<String, WrittenSource>,
    page: &mut Page<'_>,
) {
    let stricter = match limit.stricter {
        Stricter::Higher => "higher is stricter",
        Stricter::Lower => "lower is stricter",
    };
    let fixed = match limit.fixed {
        true => "; fixed: it cannot be loosened",
        false => "",
    };
    let text = format!(" {} ({stricter}{fixed}): {}.", limit.value, limit.meaning);
    let name = Part::new(Role::Label, format!("limit.{name}"));
    page.item(indent, indent + 4, &[name, Part::text(text)]);
    for one in limit.adjusted {
        let said = Part::text(adjusted(one));
        page.paragraph(indent + 4, &[said]);
    }
    for one in limit.basis {
        page.paragraph(indent + 4, &[Part::text(basis(one, sources))]);
    }
}
