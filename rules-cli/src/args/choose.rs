//! The arguments of `choose`.

use std::path::PathBuf;

use super::help;
use super::options::{PageFormatOption, RulesOptions, StagesOption, utf8};

#[derive(Debug, clap::Args)]
#[command(after_help = help::OF_CHOOSE)]
pub(crate) struct ChooseArgs {
    /// The plan; `-` is standard input
    #[arg(
        value_name = "FILE",
        required_unless_present = "light",
        conflicts_with_all = ["light", "bench"]
    )]
    pub(crate) file: Option<PathBuf>,
    /// Bench to choose from, where there is no plan yet
    #[arg(long, value_name = "FILE", requires = "light", value_parser = utf8())]
    pub(crate) bench: Option<String>,
    /// Light of that bench. How it is charged and used is then not known
    #[arg(long, value_name = "NAME", requires = "bench", value_parser = utf8())]
    pub(crate) light: Option<String>,
    /// How many sets to show
    #[arg(long, value_name = "COUNT", default_value_t = 5, value_parser = clap::value_parser!(u16).range(1..))]
    pub(crate) sets: u16,
    /// How much work to do at most, in checks: of one or two cells and groups; of a whole set it is as
    /// much as five, and twenty cells that are put beside others without a check are one
    #[arg(long, value_name = "COUNT", default_value_t = 30_000, value_parser = clap::value_parser!(u32).range(1..))]
    pub(crate) most_checks: u32,
    /// Offer cells that are in other lights too
    #[arg(long)]
    pub(crate) from_other_lights: bool,
    /// Show sets that do not pass, after those that do
    #[arg(long)]
    pub(crate) not_passing: bool,
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
    #[command(flatten)]
    pub(crate) stages: StagesOption,
    /// Exit with status 1 for a warning too
    #[arg(long)]
    pub(crate) strict: bool,
    #[command(flatten)]
    pub(crate) form: PageFormatOption,
}
