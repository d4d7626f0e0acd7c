//! The native part of the Python package `cellrules`. What people call is in `python/cellrules`, with its
//! types and examples; here is what that stands on.
//!
//! ```text
//! loaded (rules), asked (a proposal) - no Python
//! from_python, to_python - values and data between the two
//! rules - check, many (records), jobs (answers), table (columns)
//! ```
#![forbid(unsafe_code)]

mod answer;
mod asked;
mod bench;
mod from_python;
mod in_parallel;
mod jobs;
mod loaded;
mod many;
mod quantity;
mod record;
mod report;
mod rules;
mod table;
mod to_python;

use pyo3::prelude::*;

/// The native part of `cellrules`.
#[pymodule(name = "_native")]
mod native {
    use super::*;
    #[pymodule_export]
    use crate::answer::Answer;
    #[pymodule_export]
    use crate::bench::Bench;
    #[pymodule_export]
    use crate::jobs::{choose_of, figures_of, label, range_of, sort_of};
    #[pymodule_export]
    use crate::many::Records;
    #[pymodule_export]
    use crate::record::Record;
    #[pymodule_export]
    use crate::report::Report;
    #[pymodule_export]
    use crate::rules::Rules;
    #[pymodule_export]
    use crate::table::CheckedTable;

    #[pymodule_init]
    fn init(module: &Bound<'_, PyModule>) -> PyResult<()> {
        module.add("__version__", env!("CARGO_PKG_VERSION"))
    }
}
