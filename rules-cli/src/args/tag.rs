//! The arguments of `tag`.

use super::of_bench::BenchOptions;
use super::options::{PageFormatOption, utf8};

#[derive(Debug, clap::Args)]
#[command(after_help = OF_TAG)]
pub(crate) struct TagArgs {
    /// The bench; without it, `bench.yaml`
    #[arg(value_name = "BENCH", default_value = "bench.yaml", hide_default_value = true, value_parser = utf8())]
    pub(crate) bench: String,
    /// The cells, by their ids; without any, all of the bench
    #[arg(value_name = "CELL", value_parser = utf8())]
    pub(crate) cells: Vec<String>,
    /// Letters of a line of the label, 12 to 200; without it, 32
    #[arg(long, default_value_t = 32, value_name = "LETTERS", hide_default_value = true, value_parser = clap::value_parser!(u16).range(12..=200))]
    pub(crate) columns: u16,
    /// Lines of the label, 3 to 100; without it, 6
    #[arg(long, default_value_t = 6, value_name = "LINES", hide_default_value = true, value_parser = clap::value_parser!(u16).range(3..=100))]
    pub(crate) lines: u16,
    #[command(flatten)]
    pub(crate) by: BenchOptions,
    #[command(flatten)]
    pub(crate) form: PageFormatOption,
}

const OF_TAG: &str = "\
The standing notice has no room on a tag and follows on standard error.

Examples:
  cellrules tag bench.yaml K4 K7
  cellrules tag bench.yaml --columns 24 --lines 8 -o tags.txt
  cellrules tag --format json

Exit status:
  0  written, whatever the grades
  2  bad input or wrong usage
  3  nothing was written: the bench lists no cells";
