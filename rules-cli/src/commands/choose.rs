//! `choose`: the cells of a light.

use std::io;
use std::path::PathBuf;

use rules_core::check::Options;
use rules_core::document::ProblemList;
use rules_core::report::ProblemRecord;
use rulesets::jobs::Trial;
use rulesets::jobs::choose::{Choice, Wish, choose, text};
use rulesets::jobs::sort::{Sorting, limits, sort};
use rulesets::pages;
use rulesets::proposal::Draft;
use serde_json::json;

use super::each_proposal::with_rules_for;
use crate::args::{ChooseArgs, PageFormat};
use crate::exit_status::ExitStatus;
use crate::plans::{Plans, ReadPlan};
use crate::terminal::Terminal;

pub(super) fn run(args: &ChooseArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let files: Vec<PathBuf> = args.file.iter().cloned().collect();
    with_rules_for(
        &args.rules,
        (&files, args.form.format.or_text()),
        terminal,
        |plans, terminal| answer(plans, args, terminal),
    )
}

fn answer(
    plans: &mut Plans<'_>,
    args: &ChooseArgs,
    terminal: &mut Terminal,
) -> io::Result<ExitStatus> {
    let plan = plan(plans, args, terminal);
    let answer = plan.and_then(|plan| {
        let choice = choice(&plan, args)?;
        let is_page = args.form.format == PageFormat::Html;
        let drawn = is_page.then(|| drawn(&plan, &choice));
        Ok((choice, drawn.transpose()?))
    });
    let (choice, drawn) = match answer {
        Ok(answer) => answer,
        Err(problems) => {
            terminal.report_problems(&problems);
            let format = args.form.format.or_text();
            terminal.write_record(&ProblemRecord::of(problems), format)?;
            return Ok(ExitStatus::BadInput);
        }
    };
    if choice.searched.unsearched > 0 {
        terminal.message("not all was searched: `--most-checks` with a higher number goes on\n");
    }
    match (drawn, args.form.format) {
        (Some(drawn), _) => terminal.write(&drawn)?,
        (None, PageFormat::Json) => terminal.write_json(&choice)?,
        (None, _) => terminal.write(&text(&choice, terminal.width(), terminal.style()))?,
    }
    Ok(match choice.sets.first() {
        Some(set) => ExitStatus::of_outcome(set.outcome, args.strict),
        None => ExitStatus::Objection,
    })
}

/// A choice as a page, with the cells of the bench.
fn drawn(plan: &ReadPlan<'_>, choice: &Choice) -> Result<String, ProblemList> {
    let Some(bench) = plan.plan.bench() else {
        return Ok(pages::choose(choice, None).document());
    };
    plan.answer(|asked| {
        let sorting = Sorting::default();
        let sorted = sort(bench, asked.rules, sorting)?;
        let limits = limits(bench, asked.rules, sorting, &sorted)?;
        Ok(pages::choose(choice, Some((&sorted, &limits))).document())
    })
}

/// The plan of a file, or one of a light of a bench.
fn plan<'l>(
    plans: &mut Plans<'l>,
    args: &ChooseArgs,
    terminal: &mut Terminal,
) -> Result<ReadPlan<'l>, ProblemList> {
    match (&args.file, &args.bench, &args.light) {
        (Some(file), ..) => plans.read(file, terminal),
        (None, bench, light) => {
            let plan = json!({ "format": 1, "title": light, "bench": bench, "light": light });
            plans.of_draft(&Draft::of("--light", plan))
        }
    }
}

fn choice(plan: &ReadPlan<'_>, args: &ChooseArgs) -> Result<Choice, ProblemList> {
    let stages = args.stages.names();
    let options = Options {
        stages: &stages,
        ..Options::default()
    };
    let wish = Wish {
        sets: usize::from(args.sets),
        most_checks: usize::try_from(args.most_checks).unwrap_or(usize::MAX),
        from_other_lights: args.from_other_lights,
        not_passing: args.not_passing,
    };
    plan.answer(|asked| choose(&Trial::of(asked.plan, asked.rules, options)?, &wish))
}
