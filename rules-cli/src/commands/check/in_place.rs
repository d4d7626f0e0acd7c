//! Writing what came of many files, one after the other, each in its place.

use std::io;

use rules_core::document::{ProblemList, harmless, json_text};
use rules_core::report::ProblemRecord;
use rules_core::report::text::{Page, Part, Style, Totals, counted, unusable_line};

use super::asked_for::is_list;
use crate::args::{CheckArgs, Format};
use crate::commands::in_turn::{Came, CameOf, Taker};
use crate::commands::json_array::JsonArray;
use crate::commands::progress::Progress;
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

/// What a worker makes of a proposal.
pub(super) struct Checked {
    pub(super) written: io::Result<String>,
    pub(super) totals: Totals,
    pub(super) status: ExitStatus,
}

/// What was written so far.
pub(super) struct InPlace<'t> {
    terminal: &'t mut Terminal,
    form: Form,
    /// How many files there are, and how many had their turn.
    files: usize,
    done: usize,
    totals: Totals,
    status: ExitStatus,
    progress: Progress,
    /// The problems that were told last.
    told: ProblemList,
}

/// How the answers are written.
enum Form {
    /// A line for each.
    List,
    /// A page for each.
    Pages,
    Json(JsonArray),
}

impl<'t> InPlace<'t> {
    pub(super) fn new(args: &CheckArgs, files: usize, terminal: &'t mut Terminal) -> Self {
        let form = match args.form.format.or_text() {
            Format::Json => Form::Json(JsonArray::default()),
            Format::Text if is_list(args) => Form::List,
            Format::Text => Form::Pages,
        };
        Self {
            terminal,
            form,
            files,
            done: 0,
            totals: Totals::default(),
            status: ExitStatus::Success,
            progress: Progress::new(),
            told: ProblemList::default(),
        }
    }

    /// The gravest status so far; of files of which none was a proposal, that nothing was checked.
    pub(super) fn status(&self) -> ExitStatus {
        match self.totals.proposals() {
            0 => self.status.graver(ExitStatus::NothingChecked),
            _ => self.status,
        }
    }

    fn so_far(&self) -> String {
        format!("{} of {}", self.done, counted(self.files, "file"))
    }

    /// Says in the place of the report that there is none, and tells people why.
    fn unusable(&mut self, name: &str, problems: ProblemList) -> io::Result<()> {
        self.totals.add(Totals::of_unusable());
        self.status = self.status.graver(ExitStatus::BadInput);
        let start = self.progress.line_start();
        let told = problems.clone();
        let line = match self.form {
            Form::Json(_) => {
                let record = ProblemRecord::of_proposal(name, problems);
                json_text(&record)?
            }
            Form::List | Form::Pages => unusable_line(name, problems.len(), self.terminal.style()),
        };
        self.write(&line)?;
        // Those of a bench, or of the stages asked for, are the same for many.
        if told != self.told {
            self.terminal.message(start);
            self.terminal.report_problems(&told);
            self.told = told;
        }
        Ok(())
    }

    fn write(&mut self, text: &str) -> io::Result<()> {
        match &mut self.form {
            Form::List => self.terminal.write_now(text.as_bytes()),
            Form::Pages => {
                let rule = "-".repeat(self.terminal.width());
                let page = format!("{text}\n{rule}\n\n");
                self.terminal.write_now(page.as_bytes())
            }
            Form::Json(array) => {
                let element = array.element(text);
                self.terminal.write_now(element.as_bytes())
            }
        }
    }

    /// Writes what comes at the end, with what is told of all together.
    pub(super) fn finish(&mut self, together: Option<&str>) -> io::Result<()> {
        let start = self.progress.line_start();
        if !start.is_empty() {
            self.terminal
                .message(&format!("{start}{}\n", self.so_far()));
        }
        let (width, style) = (self.terminal.width(), self.terminal.style());
        let end = match &self.form {
            Form::Json(array) => array.end().to_owned(),
            Form::Pages => self.totals.page(width, style),
            Form::List => {
                let together = together.map(|told| paragraph(told, width, style));
                let totals = self.totals.page(width, style);
                format!("{}\n{totals}", together.unwrap_or_default())
            }
        };
        self.terminal.write_now(end.as_bytes())
    }
}

impl Taker for InPlace<'_> {
    type Answer = Box<Checked>;

    fn terminal(&mut self) -> &mut Terminal {
        self.terminal
    }

    fn take(&mut self, Came { name, of }: Came<Self::Answer>) -> io::Result<()> {
        self.done += 1;
        match of {
            CameOf::Answer(checked) => {
                self.totals.add(checked.totals);
                self.status = self.status.graver(checked.status);
                self.write(&checked.written?)?;
            }
            CameOf::Other(what) => {
                let start = self.progress.line_start();
                let name = harmless(&name);
                self.terminal.message(&format!(
                    "{start}`{name}` is a {what} and was not checked\n"
                ));
            }
            CameOf::Unusable(problems) => self.unusable(&name, problems)?,
        }
        let so_far = self.so_far();
        self.progress.show(|| so_far, self.terminal);
        Ok(())
    }
}

/// What is told of all together, apart from what is before it.
fn paragraph(text: &str, width: usize, style: &dyn Style) -> String {
    let mut page = Page::new(width, style);
    page.paragraph(0, &[Part::text(text)]);
    format!("\n{}", page.finish())
}
