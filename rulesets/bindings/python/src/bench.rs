//! A bench, to Python.

use std::path::PathBuf;
use std::sync::Arc;

use pyo3::prelude::*;
use pyo3::types::PyTuple;
use rules_core::document::ProblemList;
use rules_core::ruleset::{Library, Texts, is_path};
use rulesets::bench::Bench as Loaded;
use rulesets::shipped::FILES;

use crate::from_python::texts;
use crate::loaded::{ByName, Recorder};
use crate::to_python::{error, texts_by_name};

/// What a workshop says once. It keeps the texts that it was read from, so that another process can be given
/// it.
#[pyclass(frozen, module = "cellrules")]
pub(crate) struct Bench {
    pub(crate) bench: Arc<Loaded>,
    name: String,
    texts: ByName,
}

impl Bench {
    fn load(name: String, library: &dyn Library) -> Result<Self, ProblemList> {
        let recorder = Recorder::of(library);
        let bench = Arc::new(Loaded::load(&name, &recorder)?);
        Ok(Self {
            bench,
            name,
            texts: recorder.texts(),
        })
    }
}

#[pymethods]
impl Bench {
    #[staticmethod]
    fn from_file(py: Python<'_>, path: PathBuf) -> PyResult<Self> {
        let name = path.to_string_lossy().into_owned();
        let name = match is_path(&name) {
            true => name,
            false => format!("./{name}"),
        };
        py.detach(|| Self::load(name, &FILES)).map_err(error)
    }

    #[staticmethod]
    fn from_texts(py: Python<'_>, files: &Bound<'_, PyAny>, name: String) -> PyResult<Self> {
        let files = Texts::of(texts(files)?);
        py.detach(|| Self::load(name, &files)).map_err(error)
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let own = slf.get();
        let all = texts_by_name(py, &own.texts)?;
        let make = slf.get_type().getattr("from_texts")?;
        (make, (all, &own.name)).into_pyobject(py)
    }

    #[getter]
    fn title(&self) -> &str {
        self.bench.title()
    }

    #[getter]
    fn digest(&self) -> &str {
        self.bench.digest()
    }

    #[getter]
    fn cells<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, self.bench.cells().collect::<Vec<_>>())
    }

    #[getter]
    fn lights<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, self.bench.lights().collect::<Vec<_>>())
    }

    fn __repr__(&self) -> String {
        format!("<Bench {}>", self.bench.title())
    }
}
