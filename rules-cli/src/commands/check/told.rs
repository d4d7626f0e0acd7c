//! One document for other tools of all proposals, a piece as soon as its turn comes.

use std::io::{self, ErrorKind};
use std::path::PathBuf;

use rules_core::check::check;
use rules_core::document::{Fault, Problem, ProblemList, harmless};
use rules_core::facts::{Notice, Proposed};
use rules_core::outputs::{Document, Form, Piece};

use super::asked_for::options;
use crate::args::CheckArgs;
use crate::commands::each_proposal::with_rules_for;
use crate::commands::in_turn::{Came, CameOf, Taker, each_in_turn};
use crate::commands::told::{document, usual_notice};
use crate::exit_status::ExitStatus;
use crate::folder::Asked;
use crate::input;
use crate::plans::{Plans, ReadPlan};
use crate::terminal::Terminal;

/// What a worker makes of a proposal.
struct Told {
    piece: Piece,
    status: ExitStatus,
}

/// The document in the making.
struct InDocument<'t> {
    terminal: &'t mut Terminal,
    form: Form,
    document: Document<'static>,
    /// That of the usual rules.
    notice: Vec<Notice>,
    status: ExitStatus,
    proposals: usize,
}

/// Checks all proposals and writes the document.
pub(super) fn check_all(
    form: Form,
    files: Vec<Asked>,
    args: &CheckArgs,
    terminal: &mut Terminal,
) -> io::Result<ExitStatus> {
    let paths: Vec<PathBuf> = files.iter().map(|file| file.path().to_owned()).collect();
    let mut used = false;
    let asked = (paths.as_slice(), args.form.own());
    let status = with_rules_for(&args.rules, asked, terminal, |plans, terminal| {
        used = true;
        by_rules(form, files, args, plans, terminal)
    })?;
    if !used {
        without_rules(form, args, terminal)?;
    }
    Ok(status)
}

fn by_rules(
    form: Form,
    files: Vec<Asked>,
    args: &CheckArgs,
    plans: &mut Plans<'_>,
    terminal: &mut Terminal,
) -> io::Result<ExitStatus> {
    let notice = plans.usual().notice().to_vec();
    let mut taker = InDocument {
        terminal,
        form,
        document: document(form, &notice),
        notice,
        status: ExitStatus::Success,
        proposals: 0,
    };
    let work = |plan: &ReadPlan<'_>| told(form, plan, args);
    let ended = each_in_turn(plans, files, &mut taker, work);
    let status = taker.status();
    match ended.and_then(|()| taker.finish()) {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(status),
        other => other.map(|()| status),
    }
}

/// A document of nothing but what is wrong with the rules; people were told.
fn without_rules(form: Form, args: &CheckArgs, terminal: &mut Terminal) -> io::Result<()> {
    let names = args.rules.names();
    let problems = input::load_rules(&names, &args.rules.within).err();
    let notice = usual_notice();
    let mut document = document(form, &notice);
    let piece = Piece::of_unusable(
        form,
        &names.join(", "),
        &problems.unwrap_or_default(),
        &notice,
    );
    let text = document.add(piece);
    terminal.write(&text)?;
    terminal.write(&document.finish())
}

/// What a worker does: checks a proposal and makes its piece, so that the report need not be kept.
fn told(form: Form, plan: &ReadPlan<'_>, args: &CheckArgs) -> Result<Box<Told>, ProblemList> {
    let stages = args.stages.names();
    let options = options(args, &stages);
    plan.answer(|asked| {
        let report = check(asked.rules, asked.proposal, options)?;
        Ok(Box::new(Told {
            piece: Piece::of_report(form, &report, asked.rules, asked.proposal.source()),
            status: ExitStatus::of_report(&report, args.strict),
        }))
    })
}

impl InDocument<'_> {
    /// The gravest status; of files of which none was a proposal, that nothing was checked.
    fn status(&self) -> ExitStatus {
        match self.proposals {
            0 => self.status.graver(ExitStatus::NothingChecked),
            _ => self.status,
        }
    }

    fn finish(mut self) -> io::Result<()> {
        if self.proposals == 0 {
            // An empty document would look like a success.
            let help = "name the proposals, or a folder with some";
            let message = "none of the files is a proposal";
            let nothing = Problem::of_file(Fault::Empty, message, help);
            let piece = Piece::of_unusable(self.form, "proposals", &[nothing], &self.notice);
            let text = self.document.add(piece);
            self.terminal.write_now(text.as_bytes())?;
        }
        self.terminal.write_now(self.document.finish().as_bytes())
    }
}

impl Taker for InDocument<'_> {
    type Answer = Box<Told>;

    fn terminal(&mut self) -> &mut Terminal {
        self.terminal
    }

    fn take(&mut self, Came { name, of }: Came<Self::Answer>) -> io::Result<()> {
        let (piece, status) = match of {
            CameOf::Answer(told) => (told.piece, told.status),
            CameOf::Other(what) => {
                let name = harmless(&name);
                let said = format!("`{name}` is a {what} and was not checked\n");
                self.terminal.message(&said);
                return Ok(());
            }
            CameOf::Unusable(problems) => {
                self.terminal.report_problems(&problems);
                let piece = Piece::of_unusable(self.form, &name, &problems, &self.notice);
                (piece, ExitStatus::BadInput)
            }
        };
        self.proposals += 1;
        self.status = self.status.graver(status);
        let text = self.document.add(piece);
        self.terminal.write_now(text.as_bytes())
    }
}
