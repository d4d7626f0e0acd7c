//! Rules, to Python: loaded once, they answer everything else.

use std::path::PathBuf;
use std::sync::Arc;

use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};
use rules_core::check::Options;
use rules_core::document::{Fault, Problem};
use rules_core::ruleset::Acceptance;

use crate::bench::Bench;
use crate::from_python::{self, Question};
use crate::loaded::Loaded;
use crate::many::{Many, Records};
use crate::report::Report;
use crate::table::{self, CheckedTable, How};
use crate::to_python::{self, error, texts_by_name};

/// Rules that apply together.
#[pyclass(frozen, module = "cellrules")]
pub(crate) struct Rules {
    pub(crate) loaded: Arc<Loaded>,
}

/// What a check is asked for.
#[derive(FromPyObject)]
pub(crate) struct CheckOptions(Vec<String>, Option<String>, bool, bool);

/// How a table is checked: the column of JSON, the bench, the columns that are kept, whether each row says by
/// what it was checked, how many threads work.
#[derive(FromPyObject)]
pub(crate) struct TableOptions(
    Option<String>,
    Option<Py<Bench>>,
    Vec<String>,
    bool,
    Option<usize>,
);

impl CheckOptions {
    /// Does something with the options of the library.
    pub(crate) fn with<T>(&self, act: impl FnOnce(Options<'_>, bool) -> T) -> PyResult<T> {
        let Self(stages, acceptance, narrowing, would_change) = self;
        let stages: Vec<&str> = stages.iter().map(String::as_str).collect();
        let acceptance = acceptance.as_deref().map(acceptance_of).transpose()?;
        let options = Options {
            acceptance,
            stages: &stages,
            narrowing: *narrowing,
        };
        Ok(act(options, *would_change))
    }
}

fn acceptance_of(word: &str) -> PyResult<Acceptance> {
    match word {
        "guarded" => Ok(Acceptance::Guarded),
        "simple" => Ok(Acceptance::Simple),
        other => {
            let message = format!("`{other}` is no acceptance");
            let help = "give `guarded` or `simple`";
            Err(error(
                Problem::of_file(Fault::UnknownOption, message, help).into(),
            ))
        }
    }
}

impl Rules {
    fn of(loaded: Loaded) -> Self {
        Self {
            loaded: Arc::new(loaded),
        }
    }
}

#[pymethods]
impl Rules {
    #[staticmethod]
    fn shipped(py: Python<'_>) -> PyResult<Self> {
        py.detach(Loaded::shipped).map(Self::of).map_err(error)
    }

    #[staticmethod]
    fn from_files(py: Python<'_>, names: Vec<String>, within: Option<PathBuf>) -> PyResult<Self> {
        let loaded = py.detach(|| Loaded::of_files(names, within.as_deref()));
        loaded.map(Self::of).map_err(error)
    }

    #[staticmethod]
    fn from_texts(py: Python<'_>, files: &Bound<'_, PyAny>, names: Vec<String>) -> PyResult<Self> {
        let files = from_python::texts(files)?;
        let loaded = py.detach(|| Loaded::of_texts(files, names));
        loaded.map(Self::of).map_err(error)
    }

    #[getter]
    fn digest(&self) -> &str {
        self.loaded.rules().digest()
    }

    #[getter]
    fn names(&self) -> Vec<String> {
        self.loaded.asked.clone()
    }

    #[getter]
    fn texts<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        texts_by_name(py, &self.loaded.texts)
    }

    #[getter]
    fn notice<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        to_python::notice(py, self.loaded.rules().notice())
    }

    #[getter]
    fn stages<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let stages = self.loaded.rules().stages().iter();
        PyTuple::new(py, stages.map(|stage| &*stage.id))
    }

    #[getter]
    fn cautions<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let cautions = self.loaded.rules().cautions().iter();
        PyTuple::new(py, cautions.map(|caution| &*caution.id))
    }

    fn check(
        &self,
        py: Python<'_>,
        question: Question<'_>,
        options: CheckOptions,
    ) -> PyResult<Report> {
        let asked = question.asked()?;
        let found = py.detach(|| {
            let read = asked.read(&self.loaded);
            options.with(|options, changes| {
                let read = read?;
                let found = read.report(options, changes)?;
                let of = Some((read.rules, read.proposal));
                Ok(Report { found, of })
            })
        })?;
        found.map_err(error)
    }

    fn check_many(
        &self,
        proposals: &Bound<'_, PyAny>,
        options: CheckOptions,
        name: String,
        full: bool,
        ahead: (usize, Option<usize>),
    ) -> PyResult<Records> {
        let many = Many {
            by: Arc::clone(&self.loaded),
            options,
            name,
            full,
            batch: ahead.0.max(1),
            threads: ahead.1,
        };
        Ok(Records::new(many, proposals.try_iter()?))
    }

    fn check_table(
        &self,
        py: Python<'_>,
        table: &Bound<'_, PyAny>,
        options: TableOptions,
    ) -> PyResult<CheckedTable> {
        let TableOptions(json, bench, keep, identify, threads) = options;
        let how = How {
            by: Arc::clone(&self.loaded),
            json,
            bench: bench.map(|bench| Arc::clone(&bench.get().bench)),
            keep,
            identify,
            threads,
        };
        table::check(py, table, &how)
    }

    fn __repr__(&self) -> String {
        let rules = self.loaded.rules();
        let layers = rules.layers().iter();
        let names: Vec<String> = layers
            .map(|layer| format!("{} {}", layer.ruleset, layer.version))
            .collect();
        format!("<Rules {}>", names.join(", "))
    }
}
