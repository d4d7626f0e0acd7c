//! The arguments of the command line, and the help that explains them.

mod choose;
mod commands;
mod help;
mod installing;
mod of_bench;
mod options;
mod range;
mod sort;
mod tag;

use std::path::Path;

use clap::{Parser, Subcommand};
use rules_core::report::text::USUAL_WIDTH;

pub(crate) use self::choose::ChooseArgs;
pub(crate) use self::commands::{
    CasesArgs, CautionsArgs, ChangedArgs, CheckArgs, ExplainArgs, FactsArgs, FiguresArgs,
    InterviewArgs, LabelArgs, LimitsArgs, MergedArgs, PlainArgs, ProseArgs, RulesetArgs,
    SchemaArgs, StartArgs, StarterName, StreamArgs, VetArgs,
};
pub(crate) use self::installing::{CompletionsArgs, HookArgs, HookPlace, ManualArgs};
pub(crate) use self::of_bench::BenchOptions;
pub(crate) use self::options::{Colours, Format, PageFormat, RulesOptions, RulesWithin};
pub(crate) use self::range::RangeArgs;
pub(crate) use self::sort::{SortArgs, SortForm};
pub(crate) use self::tag::TagArgs;

/// The heading of options about how text looks.
const APPEARANCE: &str = "Appearance of text";

/// Checks a proposed use of rescued lithium-ion cells in a light: pass, warn or refuse, with
/// reasons
#[derive(Debug, Parser)]
#[command(name = "cellrules", version, long_about = help::ABOUT, after_help = help::FIRST_STEPS, subcommand_required = true, arg_required_else_help = true)]
pub(crate) struct Args {
    /// When to use colours: `auto` (on a terminal, unless `NO_COLOR` is set, or where `CLICOLOR_FORCE`
    /// asks for them), `always` or `never`
    #[arg(long, global = true, value_enum, default_value_t = Colours::Auto, value_name = "WHEN", hide_possible_values = true, hide_default_value = true, help_heading = APPEARANCE)]
    pub(crate) color: Colours,

    /// Columns to wrap text to, 40 to 1000; without it, 80
    #[arg(long, global = true, default_value_t = USUAL_WIDTH, value_name = "COLUMNS", hide_default_value = true, help_heading = APPEARANCE, value_parser = options::width)]
    pub(crate) width: usize,

    #[command(subcommand)]
    pub(crate) command: Command,
}

/// What to do, in the order in which a new user meets it.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    Start(StartArgs),
    Interview(InterviewArgs),
    Check(CheckArgs),
    Changed(ChangedArgs),
    Range(RangeArgs),
    Choose(ChooseArgs),
    Plain(PlainArgs),
    Sort(SortArgs),
    Tag(TagArgs),
    Figures(FiguresArgs),
    Label(LabelArgs),
    Stream(StreamArgs),
    Prose(ProseArgs),
    Cautions(CautionsArgs),
    Explain(ExplainArgs),
    Facts(FactsArgs),
    Limits(LimitsArgs),
    Vet(VetArgs),
    Cases(CasesArgs),
    Ruleset(RulesetArgs),
    Merged(MergedArgs),
    Schema(SchemaArgs),
    Hook(HookArgs),
    Completions(CompletionsArgs),
    Manual(ManualArgs),
}

impl Command {
    /// The file that results go to, if one is named for them.
    pub(crate) fn out(&self) -> Option<&Path> {
        let form = match self {
            Self::Check(args) => return args.form.out.as_deref(),
            Self::Changed(args) => &args.form,
            Self::Range(args) => return args.form.out.as_deref(),
            Self::Choose(args) => &args.form,
            Self::Plain(args) => &args.form,
            Self::Figures(args) => &args.form,
            Self::Label(args) => &args.form,
            Self::Cautions(args) => &args.form,
            Self::Explain(args) => &args.form,
            Self::Facts(args) => &args.form,
            Self::Limits(args) => &args.form,
            Self::Vet(args) => return args.form.out.as_deref(),
            Self::Cases(args) => return args.form.out.as_deref(),
            Self::Tag(args) => return args.form.out.as_deref(),
            Self::Sort(args) => return args.out.as_deref(),
            _ => return None,
        };
        form.out.as_deref()
    }
}
