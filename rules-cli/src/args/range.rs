//! The arguments of `range`.

use std::path::PathBuf;

use super::help;
use super::options::{PageFormatOption, RulesOptions, StagesOption, utf8};

#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_RANGE)]
pub(crate) struct RangeArgs {
    /// The proposal; `-` is standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// What to vary: its path in the proposal, as `light.draw` or `cells[K4].capacity.value`, or its
    /// name, as `cellrules facts` lists it
    #[arg(value_name = "FACT", value_parser = utf8())]
    pub(crate) fact: String,
    #[command(flatten)]
    pub(crate) ends: EndsOptions,
    /// A second number to vary, for a map: it goes up, the first goes across
    #[arg(long = "and", value_name = "FACT", value_parser = utf8())]
    pub(crate) second: Option<String>,
    /// First value of the second number
    #[arg(long, value_name = "QUANTITY", value_parser = utf8(), allow_hyphen_values = true, requires = "second")]
    pub(crate) and_from: Option<String>,
    /// Last value of the second number
    #[arg(long, value_name = "QUANTITY", value_parser = utf8(), allow_hyphen_values = true, requires = "second")]
    pub(crate) and_to: Option<String>,
    /// How narrow a piece of the second number may get
    #[arg(long, value_name = "QUANTITY", value_parser = utf8(), requires = "second")]
    pub(crate) and_resolution: Option<String>,
    /// Most checks to make; without it 5000, for a map 10000. What is left then is told as not
    /// searched
    #[arg(long, value_name = "COUNT")]
    pub(crate) checks: Option<usize>,
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
    #[command(flatten)]
    pub(crate) stages: StagesOption,
    #[command(flatten)]
    pub(crate) form: PageFormatOption,
}

// From where to where, and how finely.
#[derive(Debug, clap::Args)]
pub(crate) struct EndsOptions {
    /// First value. Without it a quarter of what the proposal has; of temperatures 30 K below; or the
    /// least that can be believed
    #[arg(long, value_name = "QUANTITY", value_parser = utf8(), allow_hyphen_values = true)]
    pub(crate) from: Option<String>,
    /// Last value. Without it four times what the proposal has; of temperatures 30 K above; or the
    /// most that can be believed
    #[arg(long, value_name = "QUANTITY", value_parser = utf8(), allow_hyphen_values = true)]
    pub(crate) to: Option<String>,
    /// How narrow a piece may get. Without it there are up to 500 steps from end to end, and
    /// 56 across a map
    #[arg(long, value_name = "QUANTITY", value_parser = utf8())]
    pub(crate) resolution: Option<String>,
}
