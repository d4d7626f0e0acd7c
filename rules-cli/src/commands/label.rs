//! `label`: which cells the label of a pack means.

use std::io;

use rules_core::document::{Fault, Problem, Problems, Source, Span};
use rules_core::quantity::{Interval, QuantityError};
use rulesets::label::{Label as Printed, LabelFault, LabelReport, Printed as Number, decode, text};

use crate::args::{Format, Label};
use crate::outcome::Outcome;
use crate::terminal::Terminal;

pub(super) fn run(args: &Label, terminal: &mut Terminal) -> io::Result<Outcome> {
    let report = match report(args) {
        Ok(report) => report,
        Err(problems) => {
            terminal.complain_of(&problems);
            return Ok(Outcome::BadInput);
        }
    };
    match args.form.format {
        Format::Json => terminal.put_json(&report)?,
        Format::Text => terminal.put(&text(&report, terminal.width(), terminal.dress()))?,
    }
    Ok(Outcome::against_if(!report.believable))
}

fn report(args: &Label) -> Result<LabelReport, Vec<Problem>> {
    let mut problems = Vec::new();
    let mut number = |number: Number| -> Option<Interval> {
        let text = written(args, number)?;
        number
            .read(text)
            .map_err(|error| problems.extend(unreadable(number, text, &error)))
            .ok()
    };
    let (voltage, capacity, energy) = (
        number(Number::Voltage),
        number(Number::Capacity),
        number(Number::Energy),
    );
    let label = Printed {
        voltage,
        capacity,
        energy,
        code: args.code.as_deref(),
        cells: args.cells,
    };
    match decode(&label) {
        Ok(decoded) if problems.is_empty() => {
            return Ok(LabelReport::new(
                &label,
                &decoded,
                rulesets::facts::catalogue().notice(),
            ));
        }
        Ok(_) => {}
        // What cannot be read is as good as missing: then it is no fault that it is.
        Err(faults) => {
            let could_be_read = problems.is_empty();
            let told = faults
                .into_iter()
                .filter(|fault| could_be_read || *fault != LabelFault::NoVoltage);
            problems.extend(told.flat_map(|fault| unusable(args, fault)));
        }
    }
    Err(problems)
}

fn written(args: &Label, number: Number) -> Option<&str> {
    match number {
        Number::Voltage => args.voltage.as_deref(),
        Number::Capacity => args.capacity.as_deref(),
        Number::Energy => args.energy.as_deref(),
    }
}

/// A text that is no quantity, or none of the kind.
fn unreadable(number: Number, text: &str, error: &QuantityError) -> Vec<Problem> {
    let help = match error.suggestion() {
        Some(near) => format!("did you mean `{near}`? {}", error.help()),
        None => error.help(),
    };
    let span = Span {
        start: error.span().start,
        end: error.span().end,
    };
    of_option(
        number.word(),
        text,
        Some(span),
        Fault::BadNumber,
        &error.message(),
        &help,
    )
}

/// A label that cannot be decoded.
fn unusable(args: &Label, fault: LabelFault) -> Vec<Problem> {
    let (message, help) = (fault.to_string(), fault.help());
    match (fault, fault.printed()) {
        (LabelFault::Code(_), _) => of_option(
            "code",
            args.code.as_deref().unwrap_or_default(),
            None,
            Fault::BadCode,
            &message,
            &help,
        ),
        (_, Some(number)) => of_option(
            number.word(),
            written(args, number).unwrap_or_default(),
            None,
            Fault::OutOfDomain,
            &message,
            &help,
        ),
        _ => vec![Problem::of_file(Fault::OutOfDomain, message, help)],
    }
}

/// A problem in the text of an option; without a place in it, in all of it.
fn of_option(
    option: &str,
    text: &str,
    span: Option<Span>,
    fault: Fault,
    message: &str,
    help: &str,
) -> Vec<Problem> {
    let source = Source::new(&format!("--{option}"), text.to_owned());
    let mut problems = Problems::new(&source);
    problems.add(
        fault,
        span.unwrap_or(Span {
            start: 0,
            end: text.len(),
        }),
        message,
        help,
    );
    problems.finish()
}
