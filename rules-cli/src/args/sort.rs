//! The arguments of `sort`.

use std::path::PathBuf;

use clap::ValueEnum;

use super::of_bench::BenchOptions;
use super::options::utf8;

#[derive(Debug, clap::Args)]
#[command(after_help = OF_SORT)]
pub(crate) struct SortArgs {
    /// The bench; without it, `bench.yaml`
    #[arg(value_name = "BENCH", default_value = "bench.yaml", hide_default_value = true, value_parser = utf8())]
    pub(crate) bench: String,
    #[command(flatten)]
    pub(crate) by: BenchOptions,
    /// `text` for people, `json` for programs, `csv`: a row a cell, for a spreadsheet, or `html`: a page
    /// to look at and to print
    #[arg(long, value_enum, default_value_t = SortForm::Text, value_name = "FORM", hide_possible_values = true)]
    pub(crate) format: SortForm,
    /// File to write results to, which is made anew; without it, standard output
    #[arg(long, short, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

/// The form of sorted cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum SortForm {
    /// For people
    Text,
    /// For programs
    Json,
    /// For spreadsheets
    Csv,
    /// For people who look at it or print it
    Html,
}

const OF_SORT: &str = "\
A table of CSV has no room for the standing notice: it follows on standard error. Show it with the table.

Examples:
  cellrules sort
  cellrules sort bench.yaml --as-of 2026-10-01
  cellrules sort bench.yaml --format csv -o sorted.csv

Exit status:
  0  sorted, whatever the grades
  2  bad input or wrong usage
  3  nothing was sorted: the bench lists no cells";
