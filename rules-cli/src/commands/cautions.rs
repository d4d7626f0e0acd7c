//! `cautions`: a list.

use std::collections::BTreeMap;
use std::io;

use rules_core::document::Place;
use rules_core::report::text::{Page, Part, Role};
use rules_core::ruleset::{Caution, Rules};
use serde::Serialize;

use super::with_input::with_rules;
use crate::args::{Cautions, Format};
use crate::outcome::Outcome;
use crate::terminal::Terminal;

const INDENT: usize = 2;

/// A caution in a list.
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
        let all: Vec<Listed<'_>> = rules
            .cautions()
            .iter()
            .map(|caution| listed(caution, rules))
            .collect();
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
    let mut files: BTreeMap<&str, Vec<&Listed<'_>>> = BTreeMap::new();
    for one in all {
        files.entry(&one.place.file).or_default().push(one);
    }
    let mut page = terminal.page();
    let widest = all.iter().map(|one| one.id.len()).max().unwrap_or(0);
    for (file, cautions) in &files {
        page.paragraph(
            0,
            &[
                Part::new(Role::Heading, *file),
                Part::text(format!(": {}", counted(cautions.len()))),
            ],
        );
        cautions
            .iter()
            .for_each(|one| one.write(INDENT + widest + 2, &mut page));
        page.gap();
    }
    let more = "`cellrules explain` tells more of one.";
    let total = if files.len() == 1 {
        String::new()
    } else {
        format!("{} in all. ", counted(all.len()))
    };
    page.paragraph(0, &[Part::text(format!("{total}{more}"))]);
    terminal.put(&page.finish())
}

fn counted(cautions: usize) -> String {
    if cautions == 1 {
        "1 caution".to_owned()
    } else {
        format!("{cautions} cautions")
    }
}

impl Listed<'_> {
    /// Two lines: name, subject and what it can come to; then the title.
    fn write(&self, hang: usize, page: &mut Page<'_>) {
        let verdicts = match (self.can_refuse, self.can_warn) {
            (true, true) => "refuse or warn",
            (true, false) => "refuse",
            (false, _) => "warn",
        };
        let about = format!("{}: can {verdicts}", self.about);
        page.entry(
            INDENT,
            &[Part::new(Role::Label, self.id)],
            hang,
            &[Part::new(Role::Quiet, about)],
        );
        page.paragraph(INDENT + 4, &[Part::text(self.title)]);
    }
}
