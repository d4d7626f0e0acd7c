//! What can be asked on the command line, with help that teaches.

use std::ffi::OsString;
use std::path::PathBuf;

use clap::builder::{OsStringValueParser, TypedValueParser};
use clap::{Args as Section, Parser, Subcommand, ValueEnum};
use rules_core::report::text::USUAL_WIDTH;
use rules_core::ruleset::Acceptance;

/// Rulesets that are used where none is named.
const USUAL_RULES: &str = "rescued-cells";

/// The heading of options about how text looks.
const LOOK: &str = "How text looks";

const EXIT_CODES: &str = "\
Exit codes:
  0  pass or warn; nothing to complain of
  1  refuse, or warn with --strict; vet finds something wanting; a case comes out otherwise; a label is not to be believed
  2  bad input or wrong usage: nothing of it was judged
  3  nothing was checked: no caution applied to anything, or there was no case to run or no line to check
Of several, the gravest counts: 2, then 1, then 3, then 0.";

const WRITTEN: &str = "\
The language of rulesets is written down in rulesets/LANGUAGE.md of the repository, the facts and their places in a proposal in rulesets/FACTS.md.";

const ABOUT: &str = "\
Checks a proposed use of rescued lithium-ion cells in a light against rulesets of trade cautions, and says pass, warn or refuse, with the \
numbers, what to do about it and where each caution comes from.

Regulators and makers advise against the use of loose cells. A pass overrules neither them nor local codes nor licensed practice.";

/// Checks a proposed use of rescued lithium-ion cells in a light: pass, warn or refuse, with
/// reasons
#[derive(Debug, Parser)]
#[command(name = "cellrules", version, long_about = ABOUT, after_help = format!("{WRITTEN}\n\n{EXIT_CODES}"), subcommand_required = true, arg_required_else_help = true)]
pub(crate) struct Args {
    /// Colours: `auto` (unless `NO_COLOR` is set), `always` or `never`
    #[arg(long, global = true, value_enum, default_value_t = When::Auto, value_name = "WHEN", hide_possible_values = true, hide_default_value = true, help_heading = LOOK)]
    pub(crate) color: When,

    /// Columns to wrap text to, if not 80
    #[arg(long, global = true, default_value_t = USUAL_WIDTH, value_name = "COLUMNS", hide_default_value = true, help_heading = LOOK, value_parser = width)]
    pub(crate) width: usize,

    #[command(subcommand)]
    pub(crate) command: Command,
}

/// When to do something.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum When {
    /// Where it suits
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}

/// The form of results.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// For people
    Text,
    /// For programs
    Json,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    Check(Check),
    Stream(Stream),
    Figures(Figures),
    Vet(Vet),
    Cases(Cases),
    Cautions(Cautions),
    Explain(Explain),
    Limits(Limits),
    Facts(Facts),
    Label(Label),
    Merged(Merged),
    Schema(Schema),
}

/// Rulesets to use.
#[derive(Debug, Section)]
pub(crate) struct Rules {
    /// A ruleset: the name of a shipped one, or the path of a file. May be given several times; all
    /// of them then apply together, the stricter limit counting
    #[arg(long = "rules", value_name = "NAME_OR_PATH", default_value = USUAL_RULES, value_parser = text())]
    pub(crate) names: Vec<String>,
    #[command(flatten)]
    pub(crate) within: Within,
}

/// Where rulesets may be read from.
#[derive(Debug, Section)]
pub(crate) struct Within {
    /// Read rulesets from files in this folder alone, wherever `extends`, `..` or links lead to.
    /// For rulesets that others wrote
    #[arg(long = "rules-within", value_name = "FOLDER")]
    pub(crate) folder: Option<String>,
}

/// The form of results.
#[derive(Debug, Section)]
pub(crate) struct Form {
    /// `text` for people, or `json` for programs
    #[arg(long, value_enum, default_value_t = Format::Text, value_name = "FORM", hide_possible_values = true)]
    pub(crate) format: Format,
}

/// Check proposals
///
/// Reads proposals in YAML or JSON and reports on each: the verdict, what to do, every finding with
/// its numbers, what to measure next. Where input cannot be used, all that is wrong with it is
/// shown at once, and nothing of it is judged.
///
/// As JSON, one proposal gives one object and several give one array of those that could be
/// checked.
#[derive(Debug, Section)]
#[command(after_help = format!("{CHECK_EXAMPLES}\n\n{EXIT_CODES}"))]
pub(crate) struct Check {
    /// Proposals; `-` or none is standard input
    #[arg(value_name = "FILE")]
    pub(crate) files: Vec<PathBuf>,
    #[command(flatten)]
    pub(crate) rules: Rules,
    #[command(flatten)]
    pub(crate) form: Form,
    /// How a value that reaches over a limit decides, instead of what the rules say: `guarded`, it
    /// must keep the limit with all its uncertainty; `simple`, its nominal value decides, but of
    /// what the library works out the whole interval
    #[arg(long, value_enum, value_name = "HOW", hide_possible_values = true)]
    acceptance: Option<HowAccepted>,
    /// Exit with 1 for a warning too
    #[arg(long)]
    pub(crate) strict: bool,
    /// Leave out the findings in full: only the list of them, what to measure next, what could not
    /// be used, what was loosened, and the notice. JSON is always whole
    #[arg(long)]
    pub(crate) brief: bool,
}

const CHECK_EXAMPLES: &str = "\
Examples:
  cellrules check helmet-lamp.yaml
  cellrules check --brief helmet-lamp.yaml
  cellrules check lamps/*.yaml --strict --rules club-practice.yaml
  cellrules check --format json < helmet-lamp.yaml";

/// Acceptance, as an option spells it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum HowAccepted {
    /// The whole interval of a value must keep the limit
    Guarded,
    /// The nominal value decides
    Simple,
}

impl Check {
    /// The acceptance chosen, if one is.
    pub(crate) fn acceptance(&self) -> Option<Acceptance> {
        self.acceptance.map(|how| match how {
            HowAccepted::Guarded => Acceptance::Guarded,
            HowAccepted::Simple => Acceptance::Simple,
        })
    }
}

/// Check a stream: one proposal as JSON a line
///
/// Writes one record a line, in the order of the lines: `{"line": 1, "report": ...}` with the whole
/// report, or `{"line": 2, "problems": [...]}` for a line that cannot be used; the stream goes on.
/// Blank lines are passed over. All cores work. Memory does not grow with the stream: lines of 1 MiB
/// together, or one that is longer, are worked at a time, and for each core up to 4 MiB of records
/// wait for their turn. What the lines came to is counted on standard error at the end.
#[derive(Debug, Section)]
#[command(after_help = format!("Examples:\n  cellrules stream plans.jsonl > reports.jsonl\n  cellrules stream --brief < plans.jsonl\n\n{EXIT_CODES}"))]
pub(crate) struct Stream {
    /// The stream; `-` or none is standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) rules: Rules,
    /// Exit with 1 for a warning too
    #[arg(long)]
    pub(crate) strict: bool,
    /// Instead of whole reports, the verdict and which cautions speak about what
    #[arg(long)]
    pub(crate) brief: bool,
}

/// Show what can be worked out of proposals
///
/// For each cell, group, pack and the build: every figure of the library and of the rules with its
/// unit and its interval, what it was worked from, what is missing, and, where the model does not
/// reach, which test would close the gap. Figures are no verdict: that is for `check`.
#[derive(Debug, Section)]
#[command(
    after_help = "Examples:\n  cellrules figures helmet-lamp.yaml\n  cellrules figures --format json < helmet-lamp.yaml"
)]
pub(crate) struct Figures {
    /// Proposals; `-` or none is standard input
    #[arg(value_name = "FILE")]
    pub(crate) files: Vec<PathBuf>,
    #[command(flatten)]
    pub(crate) rules: Rules,
    #[command(flatten)]
    pub(crate) form: Form,
}

/// Say what rulesets lack
///
/// Besides errors: cautions that can never apply or never fail, a warning laxer than the refusal, a
/// missing basis, an outcome that no case shows, a case that comes out otherwise, definitions that
/// nothing uses. Each ruleset is vetted by itself, with what it extends.
#[derive(Debug, Section)]
#[command(
    after_help = "Examples:\n  cellrules vet club-practice.yaml\n  cellrules vet rescued-cells --format json"
)]
pub(crate) struct Vet {
    /// Rulesets: names of shipped ones, or paths
    #[arg(required = true, value_name = "RULESET", value_parser = text())]
    pub(crate) rulesets: Vec<String>,
    #[command(flatten)]
    pub(crate) within: Within,
    #[command(flatten)]
    pub(crate) form: Form,
}

/// Run the cases that rulesets carry
///
/// Every caution can carry cases: facts that are given, and what must come of them. Each ruleset is
/// run by itself; of what it extends the cases are not run, because what it adjusts they need not
/// fit.
#[derive(Debug, Section)]
#[command(
    after_help = "Examples:\n  cellrules cases rescued-cells\n  cellrules cases club-practice.yaml --format json"
)]
pub(crate) struct Cases {
    /// Rulesets: names of shipped ones, or paths
    #[arg(required = true, value_name = "RULESET", value_parser = text())]
    pub(crate) rulesets: Vec<String>,
    #[command(flatten)]
    pub(crate) within: Within,
    #[command(flatten)]
    pub(crate) form: Form,
}

/// List the cautions
#[derive(Debug, Section)]
#[command(
    after_help = "Examples:\n  cellrules cautions\n  cellrules cautions --rules club-practice.yaml --format json"
)]
pub(crate) struct Cautions {
    #[command(flatten)]
    pub(crate) rules: Rules,
    #[command(flatten)]
    pub(crate) form: Form,
}

/// Explain one caution
///
/// When it applies, what it asks, with the limits, figures and facts that take part, what each
/// rests on, and the cases that show what comes of it.
#[derive(Debug, Section)]
#[command(
    after_help = "Examples:\n  cellrules explain self-discharge-high\n  cellrules explain spare-lamp-missing --rules club-practice.yaml"
)]
pub(crate) struct Explain {
    /// The caution's name, as `cellrules cautions` lists it
    #[arg(value_name = "CAUTION", value_parser = text())]
    pub(crate) caution: String,
    #[command(flatten)]
    pub(crate) rules: Rules,
    #[command(flatten)]
    pub(crate) form: Form,
}

/// List the limits that local practice can adjust
///
/// For each limit: its name, its value after every adjustment, which way is stricter, whether it is
/// fixed, what it means, and what it rests on. Any may be made stricter; one that is not fixed may
/// be loosened with a reason, which every report then shows.
#[derive(Debug, Section)]
#[command(
    after_help = "Examples:\n  cellrules limits\n  cellrules limits --rules club-practice.yaml --format json"
)]
pub(crate) struct Limits {
    #[command(flatten)]
    pub(crate) rules: Rules,
    #[command(flatten)]
    pub(crate) form: Form,
}

/// List the facts and figures that rulesets can use
///
/// For each fact: its name in formulas, its kind, what it can be, whether it is measured or stated,
/// what it means, and where it stands in a proposal.
#[derive(Debug, Section)]
#[command(
    after_help = "Examples:\n  cellrules facts\n  cellrules facts --rules club-practice.yaml --format json"
)]
pub(crate) struct Facts {
    #[command(flatten)]
    pub(crate) rules: Rules,
    #[command(flatten)]
    pub(crate) form: Form,
}

/// Say which cells the label of a pack means
///
/// From the numbers on the label, or its designation code, or both: every arrangement in series and
/// parallel that they allow, the likeliest first, with the voltage and capacity that it leaves a
/// cell; and where the label contradicts itself. A number is as good as its digits: `11.1 V` is
/// 11.05 V to 11.15 V. An energy has at least 1 % either way, since labels round it freely.
///
/// Exits with 1 if the label contradicts itself or the count, or no cells can be as it says.
#[derive(Debug, Section)]
#[command(after_help = LABEL_EXAMPLES)]
pub(crate) struct Label {
    /// Nominal voltage, as printed
    #[arg(long, value_name = "VOLTAGE", value_parser = text())]
    pub(crate) voltage: Option<String>,
    /// Capacity, as printed
    #[arg(long, value_name = "CAPACITY", value_parser = text())]
    pub(crate) capacity: Option<String>,
    /// Energy, as printed
    #[arg(long, value_name = "ENERGY", value_parser = text())]
    pub(crate) energy: Option<String>,
    /// Designation code of the pack (`3INR19/66-2`) or of its cells (`ICR18650`)
    #[arg(long, value_name = "CODE", value_parser = text())]
    pub(crate) code: Option<String>,
    /// How many cells were felt through the case or seen inside
    #[arg(long, value_name = "COUNT")]
    pub(crate) cells: Option<u32>,
    #[command(flatten)]
    pub(crate) form: Form,
}

const LABEL_EXAMPLES: &str = "\
Examples:
  cellrules label --voltage \"11.1 V\" --capacity \"5.6 Ah\" --energy \"62 Wh\" --cells 6
  cellrules label --voltage \"10.8 V\" --energy \"48 Wh\" --format json
  cellrules label --code 3INR19/66-2";

/// Print rulesets merged into one, as JSON
///
/// This is what a check with all of them works by, after every adjustment, and what the digest in
/// reports is taken of. It is itself a ruleset.
#[derive(Debug, Section)]
#[command(after_help = "Example:\n  cellrules merged rescued-cells club-practice.yaml > all.json")]
pub(crate) struct Merged {
    /// Rulesets: names of shipped ones, or paths
    #[arg(required = true, value_name = "RULESET", value_parser = text())]
    pub(crate) rulesets: Vec<String>,
    #[command(flatten)]
    pub(crate) within: Within,
}

/// Print a JSON Schema (draft 2020-12) of a file format
#[derive(Debug, Section)]
#[command(
    after_help = "Examples:\n  cellrules schema\n  cellrules schema proposal > proposal.schema.json"
)]
pub(crate) struct Schema {
    /// Of what; without it, what there are schemas of is listed
    #[arg(value_name = "NAME", value_parser = text())]
    pub(crate) name: Option<String>,
}

/// A text, which has to be UTF-8: it is looked up, or read as a quantity. Files of any name are
/// paths instead.
fn text() -> impl TypedValueParser<Value = String> {
    OsStringValueParser::new().try_map(|given: OsString| {
        given
            .into_string()
            .map_err(|_| "it is not UTF-8; write it so, and rename the file if it is one")
    })
}

/// Lines shorter than 40 columns cannot hold the labels; nobody reads lines longer than 1,000.
fn width(text: &str) -> Result<usize, String> {
    match text.parse() {
        Ok(width @ 40..=1000) => Ok(width),
        _ => Err("write a number from 40 to 1000".to_owned()),
    }
}
