//! What a job came to: as data, and as text.

use pyo3::prelude::*;
use pyo3::types::PyTuple;
use rules_core::facts::Notice;
use rules_core::report::text::{Style, USUAL_WIDTH};
use serde::Serialize;

use crate::to_python::{from_json, json, notice};

/// The answer of a job.
#[pyclass(frozen, module = "cellrules")]
pub(crate) struct Answer {
    json: String,
    text: Box<dyn Fn(usize) -> String + Send + Sync>,
    notice: Vec<Notice>,
}

impl Answer {
    /// An answer with how it becomes text.
    pub(crate) fn new<T: Serialize + Send + Sync + 'static>(
        found: T,
        notice: Vec<Notice>,
        text: fn(&T, usize, &dyn Style) -> String,
    ) -> PyResult<Self> {
        Ok(Self {
            json: json(&found)?,
            text: Box::new(move |width| text(&found, width, &rules_core::report::text::Plain)),
            notice,
        })
    }
}

#[pymethods]
impl Answer {
    #[getter]
    fn notice<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        notice(py, &self.notice)
    }

    fn to_json(&self) -> &str {
        &self.json
    }

    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        from_json(py, &self.json)
    }

    #[pyo3(signature = (width = USUAL_WIDTH))]
    fn text(&self, width: usize) -> String {
        (self.text)(width)
    }

    fn __getitem__<'py>(&self, py: Python<'py>, key: &str) -> PyResult<Bound<'py, PyAny>> {
        self.to_dict(py)?.get_item(key)
    }

    fn __str__(&self) -> String {
        self.text(USUAL_WIDTH)
    }
}
