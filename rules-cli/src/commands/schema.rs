//! `schema`: the file formats as JSON Schemas.

use std::io;

use rules_core::document::{Fault, Problem, near_miss, quoted};
use rulesets::schema;
use serde_json::Value;

use super::with_rules::with_named_rules;
use crate::args::{Format, SchemaArgs};
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

pub(super) fn run(args: &SchemaArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let Some(name) = &args.name else {
        terminal.write(&format!("{}\n", schema::NAMES.join("\n")))?;
        return Ok(ExitStatus::Success);
    };
    if args.rules.is_empty() {
        return write(name, schema::by_name(name), &schema::NAMES, terminal);
    }
    let rules = (args.rules.as_slice(), &args.within);
    with_named_rules(rules, Format::Json, terminal, |rules, terminal| {
        let known = schema::in_force(name, rules);
        write(name, known, &schema::NAMES_IN_FORCE, terminal)
    })
}

fn write(
    name: &str,
    schema: Option<Value>,
    known: &[&str],
    terminal: &mut Terminal,
) -> io::Result<ExitStatus> {
    match schema {
        Some(schema) => {
            terminal.write_json(&schema)?;
            Ok(ExitStatus::Success)
        }
        None => {
            terminal.report_problems(&[unknown_schema(name, known)]);
            Ok(ExitStatus::BadInput)
        }
    }
}

fn unknown_schema(name: &str, known: &[&str]) -> Problem {
    let help = match near_miss(name, known.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("there are schemas of {}", quoted(known)),
    };
    Problem::of_file(
        Fault::UnknownName,
        format!("there is no schema of `{name}`"),
        help,
    )
}
