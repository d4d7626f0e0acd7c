//! The arguments of each command.

use std::path::PathBuf;

use clap::ValueEnum;
use rules_core::ruleset::Acceptance;

use super::help;
use super::options::{
    CheckFormOption, FindingsOption, FormatOption, PageFormatOption, RulesOptions, RulesWithin,
    RulesetArguments, StagesOption, utf8,
};

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

#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_PROSE)]
pub(crate) struct ProseArgs {
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
}

#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_CAUTIONS)]
pub(crate) struct CautionsArgs {
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
    #[command(flatten)]
    pub(crate) form: FormatOption,
}

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

#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_FACTS)]
pub(crate) struct FactsArgs {
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
    #[command(flatten)]
    pub(crate) form: FormatOption,
}

#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_LIMITS)]
pub(crate) struct LimitsArgs {
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
    #[command(flatten)]
    pub(crate) form: FormatOption,
}

#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_VET)]
pub(crate) struct VetArgs {
    #[command(flatten)]
    pub(crate) rulesets: RulesetArguments,
    #[command(flatten)]
    pub(crate) form: FindingsOption,
}

#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_CASES)]
pub(crate) struct CasesArgs {
    #[command(flatten)]
    pub(crate) rulesets: RulesetArguments,
    #[command(flatten)]
    pub(crate) form: FindingsOption,
}

#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_RULESET)]
pub(crate) struct RulesetArgs {
    /// Which ruleset; without a name, the names are listed
    #[arg(value_name = "NAME", value_parser = utf8())]
    pub(crate) name: Option<String>,
}

#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_MERGED)]
pub(crate) struct MergedArgs {
    #[command(flatten)]
    pub(crate) rulesets: RulesetArguments,
}

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
