//! `label`: which cells the label of a pack means.

use std::io;

use rules_core::document::{Fault, Problem, ProblemList, Problems, Source, Span};
use rules_core::quantity::{Interval, QuantityError};
use rules_core::report::ProblemRecord;
use rulesets::label::{Label, LabelFault, LabelReport, Printed as Number, decode, text};
use rulesets::pages;

use crate::args::{LabelArgs, PageFormat};
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

pub(super) fn run(args: &LabelArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let report = match report(args) {
        Ok(report) => report,
        Err(problems) => {
            terminal.report_problems(&problems);
            let format = args.form.format.or_text();
            terminal.write_record(&ProblemRecord::of(problems), format)?;
            return Ok(ExitStatus::BadInput);
        }
    };
    match args.form.format {
        PageFormat::Json => terminal.write_json(&report)?,
        PageFormat::Text => terminal.write(&text(&report, terminal.width(), terminal.style()))?,
        PageFormat::Html => terminal.write(&pages::label(&report).document())?,
    }
    Ok(ExitStatus::objection_if(!report.believable))
}

fn report(args: &LabelArgs) -> Result<LabelReport, ProblemList> {
    let mut problems = Vec::new();
    let mut read = |number| read_number(args, number, &mut problems);
    let label = Label {
        voltage: read(Number::Voltage),
        capacity: read(Number::Capacity),
        energy: read(Number::Energy),
        code: args.code.as_deref(),
        cells: args.cells,
    };
    let all_read = problems.is_empty();
    match decode(&label) {
        Ok(decoded) if all_read => {
            let notice = rulesets::facts::catalogue().notice();
            return Ok(LabelReport::new(&label, &decoded, notice));
        }
        Ok(_) => {}
        Err(faults) => {
            // A voltage that cannot be read counts as missing here. Its problem is known already.
            let told = |fault: &LabelFault| all_read || *fault != LabelFault::NoVoltage;
            let faults = faults.into_iter().filter(told);
            problems.extend(faults.flat_map(|fault| cannot_be_decoded(args, fault)));
        }
    }
    Err(problems.into())
}

/// A number of the label; none if it is not given or cannot be read.
fn read_number(args: &LabelArgs, number: Number, problems: &mut Vec<Problem>) -> Option<Interval> {
    let text = given(args, number)?;
    match number.read(text) {
        Ok(interval) => Some(interval),
        Err(error) => {
            problems.extend(cannot_be_read(number, text, &error));
            None
        }
    }
}

/// The text of a number, if it is given.
fn given(args: &LabelArgs, number: Number) -> Option<&str> {
    match number {
        Number::Voltage => args.voltage.as_deref(),
        Number::Capacity => args.capacity.as_deref(),
        Number::Energy => args.energy.as_deref(),
    }
}

/// A text that is no quantity, or one of another kind.
fn cannot_be_read(number: Number, text: &str, error: &QuantityError) -> ProblemList {
    let help = match error.suggestion() {
        Some(near) => format!("did you mean `{near}`? {}", error.help()),
        None => error.help(),
    };
    let span = Span {
        start: error.span().start,
        end: error.span().end,
    };
    let option = OptionText::part(number.word(), text, span);
    option.problem(Fault::BadNumber, &error.message(), &help)
}

/// A label whose texts can be read, but which means no cells.
fn cannot_be_decoded(args: &LabelArgs, fault: LabelFault) -> ProblemList {
    let (message, help) = (fault.to_string(), fault.help());
    match (fault, fault.printed()) {
        (LabelFault::Code(_), _) => {
            let code = args.code.as_deref().unwrap_or_default();
            OptionText::whole("code", code).problem(Fault::BadCode, &message, &help)
        }
        (_, Some(number)) => {
            let text = given(args, number).unwrap_or_default();
            OptionText::whole(number.word(), text).problem(Fault::OutOfDomain, &message, &help)
        }
        _ => Problem::of_file(Fault::OutOfDomain, message, help).into(),
    }
}

/// A stretch of the text of an option.
struct OptionText<'a> {
    name: &'a str,
    text: &'a str,
    span: Span,
}

impl<'a> OptionText<'a> {
    const fn whole(name: &'a str, text: &'a str) -> Self {
        let end = text.len();
        Self::part(name, text, Span { start: 0, end })
    }

    const fn part(name: &'a str, text: &'a str, span: Span) -> Self {
        Self { name, text, span }
    }

    /// A problem at this stretch.
    fn problem(&self, fault: Fault, message: &str, help: &str) -> ProblemList {
        let source = Source::new(&format!("--{}", self.name), self.text.to_owned());
        let mut problems = Problems::new(&source);
        problems.add(fault, self.span, message, help);
        problems.finish()
    }
}
