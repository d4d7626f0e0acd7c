//! What a job came to: as data, as text, and as a part of a notebook.

use std::sync::Arc;

use pyo3::prelude::*;
use pyo3::types::PyTuple;
use rules_core::facts::Notice;
use rules_core::report::text::{Plain, Style, USUAL_WIDTH};
use rulesets::pages::Page;
use serde::Serialize;

use crate::to_python::{from_json, json, notice};

/// The answer of a job.
#[pyclass(frozen, module = "cellrules")]
pub(crate) struct Answer {
    json: String,
    text: Box<dyn Fn(usize) -> String + Send + Sync>,
    page: Box<dyn Fn() -> Page + Send + Sync>,
    notice: Vec<Notice>,
}

impl Answer {
    /// An answer with how it becomes text and a page.
    pub(crate) fn new<T: Serialize + Send + Sync + 'static>(
        found: T,
        notice: Vec<Notice>,
        text: fn(&T, usize, &dyn Style) -> String,
        page: fn(&T) -> Page,
    ) -> PyResult<Self> {
        let json = json(&found)?;
        let found = Arc::new(found);
        let drawn = Arc::clone(&found);
        Ok(Self {
            json,
            text: Box::new(move |width| text(&found, width, &Plain)),
            page: Box::new(move || page(&drawn)),
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

    /// What a notebook shows: the page that the command writes.
    fn _repr_html_(&self, py: Python<'_>) -> String {
        py.detach(|| (self.page)().part())
    }

    fn __repr__(&self) -> String {
        self.text(USUAL_WIDTH)
    }

    fn __getitem__<'py>(&self, py: Python<'py>, key: &str) -> PyResult<Bound<'py, PyAny>> {
        self.to_dict(py)?.get_item(key)
    }

    fn __str__(&self) -> String {
        self.text(USUAL_WIDTH)
    }
}
