//! The arguments of the command line, and the help that explains them.

mod choose;
mod commands;
mod help;
mod installing;
mod of_bench;
mod options;
#[cfg(feature = "page")]
mod page;
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
#[cfg(feature = "page")]
pub(crate) use self::page::PageArgs;
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
    #[cfg(feature = "page")]
    Page(PageArgs),
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
        let out = match self {
            Self::Check(args) => &args.form.out,
            Self::Changed(args) => &args.form.out,
            Self::Range(args) => &args.form.out,
            Self::Choose(args) => &args.form.out,
            Self::Plain(args) => &args.form.out,
            Self::Figures(args) => &args.form.out,
            Self::Label(args) => &args.form.out,
            Self::Cautions(args) => &args.form.out,
            Self::Explain(args) => &args.form.out,
            Self::Facts(args) => &args.form.out,
            Self::Limits(args) => &args.form.out,
            Self::Vet(args) => &args.form.out,
            Self::Cases(args) => &args.form.out,
            Self::Tag(args) => &args.form.out,
            Self::Sort(args) => &args.out,
            _ => return None,
        };
        out.as_deref()
    }
}
