//! `cautions`: a list of them.

use std::collections::BTreeMap;
use std::io;

use rules_core::document::Place;
use rules_core::report::text::{Page, Part, Role, counted, openly};
use rules_core::ruleset::{Acceptance, Caution, Loosened, Loosening, Rules};
use serde::Serialize;

use super::with_rules::with_rules;
use crate::args::{CautionsArgs, Format};
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

const INDENT: usize = 2;

/// A caution in the list.
#[derive(Serialize)]
struct ListedCaution<'a> {
    id: &'a str,
    title: &'a str,
    about: String,
    /// The stage that it is of; none, if it is of every stage.
    #[serde(skip_serializing_if = "Option::is_none")]
    stage: Option<&'a str>,
    can_refuse: bool,
    can_warn: bool,
    fixed: bool,
    place: &'a Place,
}

pub(super) fn run(args: &CautionsArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    with_rules(
        &args.rules,
        args.form.format,
        terminal,
        |rules, terminal| {
            let cautions = rules.cautions().iter();
            let list: Vec<_> = cautions
                .map(|caution| ListedCaution::of(caution, rules))
                .collect();
            match args.form.format {
                Format::Json => terminal.write_json(&list)?,
                Format::Text => write_text(&list, rules, terminal)?,
            }
            Ok(ExitStatus::Success)
        },
    )
}

/// What a caution is about, as rulesets write it: `each cell`, `build`.
fn about(caution: &Caution, rules: &Rules) -> String {
    let catalogue = rules.catalogue();
    let name = catalogue.subject_name(caution.about);
    if catalogue.is_many(caution.about) {
        format!("each {name}")
    } else {
        name.to_owned()
    }
}

fn write_text(
    list: &[ListedCaution<'_>],
    rules: &Rules,
    terminal: &mut Terminal,
) -> io::Result<()> {
    let mut files: BTreeMap<&str, Vec<&ListedCaution<'_>>> = BTreeMap::new();
    for caution in list {
        files.entry(&caution.place.file).or_default().push(caution);
    }
    let longest = list.iter().map(|caution| caution.id.len()).max();
    let hang = INDENT + longest.unwrap_or(0) + 2;
    let mut page = terminal.page();
    for (file, cautions) in &files {
        let count = Part::text(format!(": {}", counted(cautions.len(), "caution")));
        page.paragraph(0, &[Part::new(Role::Heading, *file), count]);
        for caution in cautions {
            caution.write(hang, &mut page);
        }
        page.gap();
    }
    let total = match files.len() {
        1 => String::new(),
        _ => format!("{} in all. ", counted(list.len(), "caution")),
    };
    let closing = format!("{total}`cellrules explain CAUTION` shows one in full.");
    page.paragraph(0, &[Part::text(closing)]);
    openly(Acceptance::Guarded, &dropped_or_moved(rules), &mut page);
    terminal.write_page(page)
}

/// What local practice loosened of cautions.
fn dropped_or_moved(rules: &Rules) -> Vec<Loosening> {
    let of_caution = |one: &&Loosening| matches!(one.what, Loosened::Caution(_));
    rules
        .loosened()
        .iter()
        .filter(of_caution)
        .cloned()
        .collect()
}

impl<'a> ListedCaution<'a> {
    fn of(caution: &'a Caution, rules: &'a Rules) -> Self {
        Self {
            id: &caution.id,
            title: &caution.title,
            about: about(caution, rules),
            stage: rules.stage_of(caution).map(|stage| &*stage.id),
            can_refuse: caution.refuse_unless.is_some(),
            can_warn: caution.warn_unless.is_some(),
            fixed: caution.fixed,
            place: &caution.place,
        }
    }

    /// Two lines: name, subject, stage and possible verdicts; then the title.
    fn write(&self, hang: usize, page: &mut Page<'_>) {
        let verdicts = match (self.can_refuse, self.can_warn) {
            (true, true) => "refuse or warn",
            (true, false) => "refuse",
            (false, _) => "warn",
        };
        let stage = self.stage.map(|stage| format!(", {stage}"));
        let stage = stage.unwrap_or_default();
        let about = format!("{}{stage}: can {verdicts}", self.about);
        page.entry(
            INDENT,
            &[Part::new(Role::Label, self.id)],
            hang,
            &[Part::new(Role::Quiet, about)],
        );
        page.paragraph(INDENT + 4, &[Part::text(self.title)]);
    }
}
