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

/// What to do, in the order in which a new user meets it, with what the help says of it. The arguments of
/// a command are described when it is asked for.
#[derive(Debug, Subcommand)]
#[command(defer = true)]
pub(crate) enum Command {
    /// Print a commented starter: a plan, a bench or a ruleset
    ///
    /// Each is short, valid, and says in its comments what belongs where. The plan of one light is what
    /// `check` reads; a bench says once what a workshop has; a ruleset adds local practice.
    Start(StartArgs),
    /// Be asked, one question at a time, and write the proposal
    ///
    /// Asks in the terminal only what could still change the verdict, what holds it first, stage by
    /// stage. After each answer it says where the verdict stands and writes the file, so that nothing is
    /// lost. It begins a new file, or goes on with one.
    ///
    /// Answer `?` where you do not know, `back` to take the last answer back, `quit` to stop. Tab
    /// completes words.
    Interview(InterviewArgs),
    /// Fill in a form in the browser, which answers at once
    ///
    /// Serves a page on this machine, for this machine alone, and prints its address. There you choose a
    /// plan or begin one, say what is known, and see after each answer what `check` says of it. Of a bench
    /// you see the cells as a table, correct them, import a spreadsheet, sort them and choose a set. Ctrl-C
    /// ends it.
    ///
    /// It reads and writes the files of one folder and no others. Saving keeps comments, order and keys that
    /// the form does not know; what somebody else changed meanwhile is not written over. Until you save, a
    /// plan is kept in a file beside it whose name begins with a dot.
    #[cfg(feature = "page")]
    Page(PageArgs),
    /// Check proposals: pass, warn or refuse, with reasons
    ///
    /// Reads proposals in YAML or JSON and reports on each: the verdict, what to do, every finding with
    /// its numbers, and what to measure next. If a file cannot be used, all its errors are shown at once
    /// and it gets no verdict.
    ///
    /// Where one proposal is refused, the last lines say what would change it: single values of the plan at
    /// their nearest, other cells of its bench, the fewest changes together, or that nothing of these does.
    /// All that is told was tried, in up to 120 checks.
    ///
    /// Several proposals have one line each, however long, as soon as it is ready: verdict, title, what
    /// is against it and what is open, and the file. What they came to follows. With `--full` or
    /// `--questions` each has its page instead. All processor cores work, and memory does not grow with
    /// the number of files.
    ///
    /// With `--format json`, one proposal gives an object and several give an array in their order. In
    /// place of what cannot be checked stands a record of its problems. The forms for other tools put all
    /// files into one document, with the standing notice.
    ///
    /// With `--format html` the answer on one proposal is a page with plots and all findings. It needs no
    /// network, and can be printed.
    Check(CheckArgs),
    /// Show what changed between two reports on one plan
    ///
    /// Takes two reports as `check --format json` writes them. Shows the verdict and the stages before and
    /// now, findings that went, came or changed, and whether the rules are the same.
    Changed(ChangedArgs),
    /// Find up to where a plan passes, as one of its values changes
    ///
    /// Varies one fact of a plan, all else as it is, and says for which values it passes, warns or is
    /// refused. That is proved for every value of a piece and not tried at some of them: pieces are split
    /// until nothing but a limit is left in one that is as narrow as the resolution. What is open for
    /// another reason is told apart, with what leaves it open.
    ///
    /// What is varied is the true value: no meter makes it less exact. Whole numbers are gone through one
    /// by one; of a choice each option gets its verdict. With `--and` a second number is varied too, and
    /// the answer is a map.
    ///
    /// Cautions that do not read what is varied are told apart, because they are the same for every value.
    /// Acceptance is guarded here, whatever the rulesets have. With `--format html` the answer is a page
    /// that draws it.
    Range(RangeArgs),
    /// Choose the cells of a light: the set that passes with the widest margins
    ///
    /// Takes the cells of the bench that are in no other light, in every grouping that the arrangement
    /// has. A plan says the rest: light, charging, conditions; which cells it lists does not matter. Of a
    /// plan without a bench the cells that it lists are the ones to choose from.
    ///
    /// The margin of a caution is the distance from its limit, at the worst, as a share of the limit. A set
    /// is as good as its narrowest margin; of two that are alike in that the next narrowest counts. Where
    /// none passes, sets come first that nothing is against, those with the fewest open findings before
    /// others; then those that warn; then those that the fewest findings refuse.
    ///
    /// What is told is proved to be the best of all sets, or it says how many could be as good and were
    /// not checked.
    Choose(ChooseArgs),
    /// Write a proposal out, with all that it takes from its bench
    ///
    /// Prints the proposal that results: complete and plain, so that it says the same without the bench.
    /// Checked, it gives the same report, but for the places where things are written.
    Plain(PlainArgs),
    /// Sort the cells of a bench: sound, watch, to test, set aside, retire
    ///
    /// Checks each cell by itself and says what becomes of it and why, what to read next of those that are
    /// to be tested, and which of the bench's lights each may go into. The rules say what becomes of a cell
    /// that they refuse (`refused` of a stage or a caution).
    ///
    /// Lights are judged by the cell and its fit. Charger, place and use are for a check of the plan.
    Sort(SortArgs),
    /// Write tags for cells: what is known, the grade, where each may go
    ///
    /// Prints a tag for each cell as lines for a label printer: all tags have the same number of lines, so
    /// that they can be cut apart. Name, grade and the words that it is no release are on every tag. What
    /// finds no room is cut off with `…`, or left out. With `--format html` they are a page to print, eight
    /// to a sheet.
    Tag(TagArgs),
    /// Work out run time, voltage under load, heat and more
    ///
    /// Shows every figure of the library and of the rules, for each cell, group and pack and for the
    /// build: its interval, what it was worked out from, and what is missing. Where the model of a cell
    /// does not reach, it names the test that would help. Figures are no verdict: use `check` for that.
    Figures(FiguresArgs),
    /// Read the label of a pack: which cells it has
    ///
    /// Give the numbers on the label, its designation code, or both. The answer is every arrangement in
    /// series and parallel that fits, the likeliest first, with the voltage and capacity of one cell, and
    /// every contradiction in the label.
    ///
    /// A number is as good as its digits: `14.8 V` is 14.75 V to 14.85 V. An energy counts as 1 % wide on
    /// either side at least, because labels round it freely.
    Label(LabelArgs),
    /// Check many proposals, one as JSON on each line
    ///
    /// Writes a lean record for each line, in the same order: all that a report says, as ids and numbers,
    /// or `{"line": 2, "problems": [...]}` for a line that cannot be used. `cellrules prose` prints the
    /// words to it, the standing notice with them. Blank lines get none. A count of the verdicts follows
    /// on standard error.
    ///
    /// All processor cores work. Memory does not grow with the stream: the lines under way have 1 MiB
    /// together, or are a single longer one, and each core holds up to 4 MiB of records until it is
    /// their turn.
    Stream(StreamArgs),
    /// Print the words of rulesets, as JSON
    ///
    /// With them a lean record of `stream` is a whole report: what each caution is about, its
    /// reason and remedy, what it rests on, what facts mean, and the standing notice, which whoever shows a
    /// record has to show with it.
    Prose(ProseArgs),
    /// List the cautions
    ///
    /// For each caution: its name, what it is about, the stage of the work that it is of, whether it can
    /// refuse or warn, and its title.
    Cautions(CautionsArgs),
    /// Explain one caution
    ///
    /// Shows of which stage it is, when it applies, what it asks, which limits, figures and facts it uses, where each comes
    /// from, and its cases: examples with the verdict that each gives.
    Explain(ExplainArgs),
    /// List what a proposal can say and a ruleset can use
    ///
    /// For each fact: its name in formulas, its kind and credible range, whether it is measured or
    /// stated, what it means, and where it is written in a proposal. For each figure: what it means and
    /// what it is worked out from. For each relation: what always holds between facts. A proposal that
    /// surely breaks one has an error in it.
    Facts(FactsArgs),
    /// List the limits that a ruleset can adjust
    ///
    /// For each limit: its name, its value after all adjustments, which way is stricter, whether it is
    /// fixed, what it means, which rulesets adjusted it and why, and where it comes from. A ruleset can
    /// make any limit stricter. It can loosen one that is not fixed if it gives a reason; every report
    /// then shows that.
    Limits(LimitsArgs),
    /// Find what rulesets lack
    ///
    /// Finds cautions that can never apply or never fail, warnings laxer than the refusal, a missing
    /// basis, outcomes that no case shows, cases that give another verdict than they expect, and
    /// definitions and stages that nothing uses. Vets each ruleset by itself, with the rulesets that it extends.
    Vet(VetArgs),
    /// Run the cases of rulesets
    ///
    /// A case is an example that a caution carries: some facts, and the verdict they must give. Runs
    /// each ruleset by itself and without the cases of the rulesets that it extends, because these need
    /// not fit what it adjusts.
    Cases(CasesArgs),
    /// Print a shipped ruleset as it is written
    ///
    /// Reports name a place in a shipped ruleset by its name, its line and its column:
    /// `rescued-cells:120:5`. This prints the lines that they count.
    Ruleset(RulesetArgs),
    /// Print rulesets merged into one, as JSON
    ///
    /// This is what a check with all of them uses, after all adjustments. It is a ruleset itself.
    Merged(MergedArgs),
    /// Print the JSON Schema (draft 2020-12) of a file format
    Schema(SchemaArgs),
    /// Print a script that checks the rulesets and plans of a Git repository
    ///
    /// It is plain shell, to be read and changed, and says at its head what it does.
    Hook(HookArgs),
    /// Print completions of commands and options for a shell
    ///
    /// Give it to the shell when it starts, or put it where it looks for completions.
    Completions(CompletionsArgs),
    /// Print the page of the manual, or write one for each command
    ///
    /// A page says what `--help` says, for `man`.
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
