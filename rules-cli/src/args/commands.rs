//! The arguments of each command.

use std::path::PathBuf;

use clap::ValueEnum;
use rules_core::ruleset::Acceptance;

use super::help;
use super::options::{
    CheckFormOption, FindingsOption, FormatOption, PageFormatOption, RulesOptions, RulesWithin,
    RulesetArguments, StagesOption, utf8,
};

/// Print a commented starter: a plan, a bench or a ruleset
///
/// Each is short, valid, and says in its comments what belongs where. The plan of one light is what
/// `check` reads; a bench says once what a workshop has; a ruleset adds local practice.
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_START)]
pub(crate) struct StartArgs {
    /// What to start: `plan`, `bench` or `ruleset`
    #[arg(value_enum, value_name = "WHAT", hide_possible_values = true)]
    pub(crate) what: StarterName,
    /// File to write to, which must not exist yet; without it, standard output
    #[arg(long, short, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

/// What can be started.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum StarterName {
    /// One use of cells in a light
    Plan,
    /// What a workshop says once
    Bench,
    /// Local practice
    Ruleset,
}

/// Be asked, one question at a time, and write the proposal
///
/// Asks in the terminal only what could still change the verdict, what holds it first, stage by
/// stage. After each answer it says where the verdict stands and writes the file, so that nothing is
/// lost. It begins a new file, or goes on with one.
///
/// Answer `?` where you do not know, `back` to take the last answer back, `quit` to stop. Tab
/// completes words.
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_INTERVIEW)]
pub(crate) struct InterviewArgs {
    /// The proposal, new or unfinished
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// Bench to take from: asks which light, cells, charger and place of it, and then what it does not
    /// say
    #[arg(long, short, value_name = "FILE")]
    pub(crate) bench: Option<PathBuf>,
    /// File to write to instead, which must not exist yet
    #[arg(long, short, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
}

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
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_CHECK)]
pub(crate) struct CheckArgs {
    /// Proposals; `-` or none is standard input. A folder means those of its files that end in
    /// `.yaml`, `.yml` or `.json`, by name, and none below it. Benches and rulesets among them are
    /// told and not checked
    #[arg(value_name = "FILE")]
    pub(crate) files: Vec<PathBuf>,
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
    #[command(flatten)]
    pub(crate) form: CheckFormOption,
    #[command(flatten)]
    pub(crate) stages: StagesOption,
    /// How much of an uncertain value has to keep a limit, whatever the rulesets say: `guarded`, all
    /// of it; `simple`, only its nominal value. What the library works out has to keep the limit
    /// with its whole interval in both
    #[arg(long, value_enum, value_name = "HOW", hide_possible_values = true)]
    acceptance: Option<AcceptanceWord>,
    /// Exit with status 1 for a warning too
    #[arg(long)]
    pub(crate) strict: bool,
    /// Show everything: reasons, values with their places, comparisons, sources. JSON always has it
    #[arg(long, short, conflicts_with = "questions")]
    pub(crate) full: bool,
    /// Show the questions alone: what is not known yet and what each is about
    #[arg(long, short)]
    pub(crate) questions: bool,
}

/// Acceptance, as an option spells it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum AcceptanceWord {
    /// The whole interval of a value has to keep the limit
    Guarded,
    /// The nominal value decides
    Simple,
}

impl CheckArgs {
    /// The acceptance chosen, if one is.
    pub(crate) fn acceptance(&self) -> Option<Acceptance> {
        self.acceptance.map(|word| match word {
            AcceptanceWord::Guarded => Acceptance::Guarded,
            AcceptanceWord::Simple => Acceptance::Simple,
        })
    }
}

/// Show what changed between two reports on one plan
///
/// Takes two reports as `check --format json` writes them. Shows the verdict and the stages before and
/// now, findings that went, came or changed, and whether the rules are the same.
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_CHANGED)]
pub(crate) struct ChangedArgs {
    /// The older report
    #[arg(value_name = "OLD")]
    pub(crate) old: PathBuf,
    /// The newer report; `-` is standard input
    #[arg(value_name = "NEW")]
    pub(crate) new: PathBuf,
    #[command(flatten)]
    pub(crate) form: FormatOption,
}

/// Write a proposal out, with all that it takes from its bench
///
/// Prints the proposal that results: complete and plain, so that it says the same without the bench.
/// Checked, it gives the same report, but for the places where things are written.
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_PLAIN)]
pub(crate) struct PlainArgs {
    /// Proposals; `-` or none is standard input. A folder means its files, as for `check`. Several
    /// are the documents of one stream of YAML, or an array of JSON
    #[arg(value_name = "FILE")]
    pub(crate) files: Vec<PathBuf>,
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
    #[command(flatten)]
    pub(crate) form: FormatOption,
}

/// Work out run time, voltage under load, heat and more
///
/// Shows every figure of the library and of the rules, for each cell, group and pack and for the
/// build: its interval, what it was worked out from, and what is missing. Where the model of a cell
/// does not reach, it names the test that would help. Figures are no verdict: use `check` for that.
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_FIGURES)]
pub(crate) struct FiguresArgs {
    /// Proposals; `-` or none is standard input. A folder means its files, as for `check`
    #[arg(value_name = "FILE")]
    pub(crate) files: Vec<PathBuf>,
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
    #[command(flatten)]
    pub(crate) form: PageFormatOption,
}

/// Read the label of a pack: which cells it has
///
/// Give the numbers on the label, its designation code, or both. The answer is every arrangement in
/// series and parallel that fits, the likeliest first, with the voltage and capacity of one cell, and
/// every contradiction in the label.
///
/// A number is as good as its digits: `14.8 V` is 14.75 V to 14.85 V. An energy counts as 1 % wide on
/// either side at least, because labels round it freely.
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_LABEL)]
pub(crate) struct LabelArgs {
    /// Nominal voltage, as printed
    #[arg(long, value_name = "VOLTAGE", value_parser = utf8())]
    pub(crate) voltage: Option<String>,
    /// Capacity, as printed
    #[arg(long, value_name = "CAPACITY", value_parser = utf8())]
    pub(crate) capacity: Option<String>,
    /// Energy, as printed
    #[arg(long, value_name = "ENERGY", value_parser = utf8())]
    pub(crate) energy: Option<String>,
    /// Designation code of the pack (`3INR19/66-2`) or of its cells (`ICR18650`)
    #[arg(long, value_name = "CODE", value_parser = utf8())]
    pub(crate) code: Option<String>,
    /// How many cells you felt through the case or saw inside
    #[arg(long, value_name = "COUNT")]
    pub(crate) cells: Option<u32>,
    #[command(flatten)]
    pub(crate) form: PageFormatOption,
}

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
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_STREAM)]
pub(crate) struct StreamArgs {
    /// The stream; `-` or none is standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: Option<PathBuf>,
    /// Bench that every proposal takes from. Proposals of a stream name none themselves
    #[arg(long, value_name = "FILE", value_parser = utf8())]
    pub(crate) bench: Option<String>,
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
    #[command(flatten)]
    pub(crate) stages: StagesOption,
    /// Exit with status 1 for a warning too
    #[arg(long)]
    pub(crate) strict: bool,
    /// Write whole reports, with their words: `{"line": 1, "report": ...}`
    #[arg(long)]
    pub(crate) full: bool,
}

/// Print the words of rulesets, as JSON
///
/// With them a lean record of `stream` is a whole report: what each caution is about, its
/// reason and remedy, what it rests on, what facts mean, and the standing notice, which whoever shows a
/// record has to show with it.
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_PROSE)]
pub(crate) struct ProseArgs {
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
}

/// List the cautions
///
/// For each caution: its name, what it is about, the stage of the work that it is of, whether it can
/// refuse or warn, and its title.
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_CAUTIONS)]
pub(crate) struct CautionsArgs {
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
    #[command(flatten)]
    pub(crate) form: FormatOption,
}

/// Explain one caution
///
/// Shows of which stage it is, when it applies, what it asks, which limits, figures and facts it uses, where each comes
/// from, and its cases: examples with the verdict that each gives.
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_EXPLAIN)]
pub(crate) struct ExplainArgs {
    /// The name of the caution, as `cellrules cautions` lists it
    #[arg(value_name = "CAUTION", value_parser = utf8())]
    pub(crate) caution: String,
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
    #[command(flatten)]
    pub(crate) form: FormatOption,
}

/// List what a proposal can say and a ruleset can use
///
/// For each fact: its name in formulas, its kind and credible range, whether it is measured or
/// stated, what it means, and where it is written in a proposal. For each figure: what it means and
/// what it is worked out from. For each relation: what always holds between facts. A proposal that
/// surely breaks one has an error in it.
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_FACTS)]
pub(crate) struct FactsArgs {
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
    #[command(flatten)]
    pub(crate) form: FormatOption,
}

/// List the limits that a ruleset can adjust
///
/// For each limit: its name, its value after all adjustments, which way is stricter, whether it is
/// fixed, what it means and where it comes from. A ruleset can make any limit stricter. It can loosen
/// one that is not fixed if it gives a reason; every report then shows that.
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_LIMITS)]
pub(crate) struct LimitsArgs {
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
    #[command(flatten)]
    pub(crate) form: FormatOption,
}

/// Find what rulesets lack
///
/// Finds cautions that can never apply or never fail, warnings laxer than the refusal, a missing
/// basis, outcomes that no case shows, cases that give another verdict than they expect, and
/// definitions and stages that nothing uses. Vets each ruleset by itself, with the rulesets that it extends.
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_VET)]
pub(crate) struct VetArgs {
    #[command(flatten)]
    pub(crate) rulesets: RulesetArguments,
    #[command(flatten)]
    pub(crate) form: FindingsOption,
}

/// Run the cases of rulesets
///
/// A case is an example that a caution carries: some facts, and the verdict they must give. Runs
/// each ruleset by itself and without the cases of the rulesets that it extends, because these need
/// not fit what it adjusts.
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_CASES)]
pub(crate) struct CasesArgs {
    #[command(flatten)]
    pub(crate) rulesets: RulesetArguments,
    #[command(flatten)]
    pub(crate) form: FindingsOption,
}

/// Print a shipped ruleset as it is written
///
/// Reports name a place in a shipped ruleset by its name, its line and its column:
/// `rescued-cells:120:5`. This prints the lines that they count.
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_RULESET)]
pub(crate) struct RulesetArgs {
    /// Which ruleset; without a name, the names are listed
    #[arg(value_name = "NAME", value_parser = utf8())]
    pub(crate) name: Option<String>,
}

/// Print rulesets merged into one, as JSON
///
/// This is what a check with all of them uses, after all adjustments. It is a ruleset itself.
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_MERGED)]
pub(crate) struct MergedArgs {
    #[command(flatten)]
    pub(crate) rulesets: RulesetArguments,
}

/// Print the JSON Schema (draft 2020-12) of a file format
#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_SCHEMA)]
pub(crate) struct SchemaArgs {
    /// Which schema; without a name, the names are listed
    #[arg(value_name = "NAME", value_parser = utf8())]
    pub(crate) name: Option<String>,
    /// Ruleset in force: the schema of a ruleset, proposal or bench then knows its limits, cautions,
    /// stages and facts by name. Give the option several times for several
    #[arg(long = "rules", short = 'r', value_name = "RULESET", value_parser = utf8())]
    pub(crate) rules: Vec<String>,
    #[command(flatten)]
    pub(crate) within: RulesWithin,
}
