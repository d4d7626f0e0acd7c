//! `limits`: what local practice can adjust.

use std::collections::BTreeMap;
use std::io;

use rules_core::document::Place;
use rules_core::report::text::{Page, Part, Role, basis};
use rules_core::ruleset::{Basis, LimitInfo, ListedLimit, Rules, Stricter, WrittenSource};
use serde::Serialize;

use super::with_input::with_rules;
use crate::args::{Format, Limits};
use crate::outcome::Outcome;
use crate::terminal::Terminal;

/// Every limit, with the sources they rest on.
#[derive(Serialize)]
struct All<'a> {
    limits: Vec<Named<'a>>,
    sources: BTreeMap<String, WrittenSource>,
}

/// A limit in a list.
#[derive(Serialize)]
struct Named<'a> {
    name: &'a str,
    #[serde(flatten)]
    limit: ListedLimit<'a>,
    place: &'a Place,
}

pub(super) fn run(args: &Limits, terminal: &mut Terminal) -> io::Result<Outcome> {
    with_rules(&args.rules, terminal, |rules, terminal| {
        let all = all(rules);
        match args.form.format {
            Format::Json => terminal.put_json(&all)?,
            Format::Text => {
                let mut page = terminal.page();
                all.write(&mut page);
                terminal.put(&page.finish())?;
            }
        }
        Ok(Outcome::Fine)
    })
}

fn all(rules: &Rules) -> All<'_> {
    let bases = rules.limits().iter().flat_map(|info| &info.written.basis);
    All {
        limits: rules.limits().iter().map(named).collect(),
        sources: bases.filter_map(|basis| source(basis, rules)).collect(),
    }
}

fn named(info: &LimitInfo) -> Named<'_> {
    Named {
        name: &info.name,
        limit: info.written.listed(),
        place: &info.place,
    }
}

/// The source of a basis, where it has one, with its name.
pub(super) fn source(basis: &Basis, rules: &Rules) -> Option<(String, WrittenSource)> {
    let Basis::Source { source, .. } = basis else {
        return None;
    };
    Some((source.clone(), rules.sources().get(source)?.clone()))
}

impl All<'_> {
    fn write(&self, page: &mut Page<'_>) {
        for named in &self.limits {
            write(&named.limit, 0, named.name, &self.sources, page);
            page.paragraph(
                4,
                &[Part::new(
                    Role::Quiet,
                    format!("Defined at {}", named.place),
                )],
            );
            page.gap();
        }
        let how = "A ruleset that extends these adjusts one under `adjust`, `limits`, by its name without `limit.`: the new value in `to`, and where \
                   that loosens it a reason in `because`.";
        let text = match self.limits.len() {
            0 => "There are no limits.".to_owned(),
            1 => format!("1 limit. {how}"),
            count => format!("{count} limits. {how}"),
        };
        page.paragraph(0, &[Part::text(text)]);
    }
}

/// Writes the limit with what it rests on.
pub(super) fn write(
    limit: &ListedLimit<'_>,
    indent: usize,
    name: &str,
    sources: &BTreeMap<String, WrittenSource>,
    page: &mut Page<'_>,
) {
    let stricter = if limit.stricter == Stricter::Higher {
        "higher"
    } else {
        "lower"
    };
    let fixed = if limit.fixed {
        "; fixed: it cannot be loosened"
    } else {
        ""
    };
    let text = format!(
        " {} ({stricter} is stricter{fixed}): {}.",
        limit.value, limit.meaning
    );
    page.item(
        indent,
        indent + 4,
        &[
            Part::new(Role::Label, format!("limit.{name}")),
            Part::text(text),
        ],
    );
    for one in limit.basis {
        page.paragraph(indent + 4, &[Part::text(basis(one, sources))]);
    }
}
