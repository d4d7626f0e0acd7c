//! Which bench a job goes through, on which day, by which rules.

use super::options::{RulesOptions, utf8};

// A bench and the rules that it is gone through by.
#[derive(Debug, clap::Args)]
pub(crate) struct BenchOptions {
    /// Day on which readings count, as `2026-11-29`: later ones are left out. Without it, that of the
    /// newest reading
    #[arg(long = "as-of", value_name = "DATE", value_parser = utf8())]
    pub(crate) as_of: Option<String>,
    #[command(flatten)]
    pub(crate) rules: RulesOptions,
}
