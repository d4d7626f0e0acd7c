//! `explain`: one caution with everything that it uses.

mod explanation;
mod text;

use std::io;

use rules_core::document::{Fault, Problem, near_miss};
use rules_core::report::ProblemRecord;
use rules_core::ruleset::Rules;

use self::explanation::{Explanation, loosened};
use super::with_rules::with_rules;
use crate::args::{ExplainArgs, Format};
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

pub(super) fn run(args: &ExplainArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    with_rules(
        &args.rules,
        args.form.format,
        terminal,
        |rules, terminal| {
            let Some(explanation) = Explanation::of(&args.caution, rules) else {
                let problem = unknown_caution(&args.caution, rules);
                terminal.report_problems(std::slice::from_ref(&problem));
                let record = ProblemRecord::of(problem.into());
                terminal.write_record(&record, args.form.format)?;
                return Ok(ExitStatus::BadInput);
            };
            match args.form.format {
                Format::Json => terminal.write_json(&explanation)?,
                Format::Text => {
                    let mut page = terminal.page();
                    text::write(&explanation, &mut page);
                    terminal.write_page(page)?;
                }
            }
            Ok(ExitStatus::Success)
        },
    )
}

/// Why there is no caution of a name: those who dropped it, or that nobody has it.
fn unknown_caution(name: &str, rules: &Rules) -> Problem {
    let dropped = loosened(name, rules).filter(|one| one.drops(name));
    let (by, reasons): (Vec<String>, Vec<&str>) = dropped
        .map(|one| (format!("`{}`", one.by), one.because.as_str()))
        .unzip();
    if !by.is_empty() {
        let message = format!("the caution `{name}` was dropped by {}", by.join(", "));
        let help = format!("reason given: {}", reasons.join("; "));
        return Problem::of_file(Fault::UnknownName, message, help);
    }
    let names = rules.cautions().iter().map(|caution| &*caution.id);
    let help = match near_miss(name, names) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "`cellrules cautions` lists the cautions; `--rules` names the rulesets to look in"
            .to_owned(),
    };
    Problem::of_file(
        Fault::UnknownName,
        format!("the rules in use have no caution `{name}`"),
        help,
    )
}
