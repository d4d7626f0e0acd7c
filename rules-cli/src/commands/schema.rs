//! `schema`: the formats as JSON Schema.

use std::io;

use rules_core::document::{Fault, Problem, near_miss};
use rulesets::schema;

use crate::args::Schema;
use crate::outcome::Outcome;
use crate::terminal::Terminal;

pub(super) fn run(args: &Schema, terminal: &mut Terminal) -> io::Result<Outcome> {
    let Some(name) = &args.name else {
        terminal.put(&format!("{}\n", schema::NAMES.join("\n")))?;
        return Ok(Outcome::Fine);
    };
    match schema::by_name(name) {
        Some(schema) => {
            terminal.put_json(&schema)?;
            Ok(Outcome::Fine)
        }
        None => {
            terminal.complain_of(&[unknown(name)]);
            Ok(Outcome::BadInput)
        }
    }
}

fn unknown(name: &str) -> Problem {
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
