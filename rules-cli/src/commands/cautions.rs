//! `cautions`: a list.

use std::io;

use rules_core::document::Place;
use rules_core::report::text::{Part, Role};
use rules_core::ruleset::{Caution, Rules};
use serde::Serialize;

use super::with_rules;
use crate::args::{Cautions, Format};
use crate::outcome::Outcome;
use crate::terminal::Terminal;

/// A caution in a line.
#[derive(Serialize)]
struct Listed<'a> {
    id: &'a str,
    title: &'a str,
    about: String,
    can_refuse: bool,
    can_warn: bool,
    fixed: bool,
    place: &'a Place,
}

pub(super) fn run(args: &Cautions, terminal: &mut Terminal) -> io::Result<Outcome> {
    with_rules(&args.rules, terminal, |rules, terminal| {
        let all: Vec<Listed<'_>> = rules.cautions().iter().map(|caution| listed(caution, rules)).collect();
        match args.form.format {
            Format::Json => terminal.put_json(&all)?,
            Format::Text => put(&all, terminal)?,
        }
        Ok(Outcome::Fine)
    })
}

fn listed<'a>(caution: &'a Caution, rules: &'a Rules) -> Listed<'a> {
    Listed {
        id: &caution.id,
        title: &caution.title,
        about: super::explain::about(caution, rules),
        can_refuse: caution.refuse_unless.is_some(),
        can_warn: caution.warn_unless.is_some(),
        fixed: caution.fixed,
        place: &caution.place,
    }
}

fn put(all: &[Listed<'_>], terminal: &mut Terminal) -> io::Result<()> {
    let mut page = terminal.page();
    let widest = all.iter().map(|one| one.id.len()).max().unwrap_or(0);
    for one in all {
        let verdicts = match (one.can_refuse, one.can_warn) {
            (true, true) => "can refuse or warn",
            (true, false) => "can refuse",
            (false, _) => "can warn",
        };
        let text = [Part::text(one.title), Part::new(Role::Quiet, format!(" ({}; {verdicts})", one.about))];
        page.entry(0, &[Part::new(Role::Label, one.id)], widest + 2, &text);
    }
    page.gap();
    page.paragraph(0, &[Part::text(format!("{} cautions. `cellrules explain` tells more of one.", all.len()))]);
    terminal.put(&page.finish())
}
