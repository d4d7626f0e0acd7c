//! `schema`: the file formats as JSON Schemas.

use std::io;

use rules_core::document::{Fault, Problem, near_miss};
use rulesets::schema;

use crate::args::SchemaArgs;
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

pub(super) fn run(args: &SchemaArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let Some(name) = &args.name else {
        terminal.write(&format!("{}\n", schema::NAMES.join("\n")))?;
        return Ok(ExitStatus::Success);
    };
    match schema::by_name(name) {
        Some(schema) => {
            terminal.write_json(&schema)?;
            Ok(ExitStatus::Success)
        }
        None => {
            terminal.report_problems(&[unknown_schema(name)]);
            Ok(ExitStatus::BadInput)
        }
    }
}

fn unknown_schema(name: &str) -> Problem {
    let help = match near_miss(name, schema::NAMES) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!(
            "there are schemas of {}",
            schema::NAMES.map(|name| format!("`{name}`")).join(", ")
        ),
    };
    Problem::of_file(
        Fault::UnknownName,
        format!("there is no schema of `{name}`"),
        help,
    )
}
