//! The report of a check, to Python.

use std::sync::Arc;

use pyo3::prelude::*;
use pyo3::types::PyTuple;
use rules_core::check::{FigureSheet, Options, Outcome, Report as Found, figures};
use rules_core::report::questions;
use rules_core::report::text::{
    Plain, USUAL_LINES, USUAL_WIDTH, Ways, first_page, question_page, text,
};
use rules_core::ruleset::Rules;
use rulesets::pages;
use rulesets::proposal::Proposal;

use crate::to_python::{self, from_json, json, verdict};

/// What a check found.
#[pyclass(frozen, module = "cellrules")]
pub(crate) struct Report {
    pub(crate) found: Found,
    /// The rules and the proposal, where they are still at hand: figures are drawn of them.
    pub(crate) of: Option<(Arc<Rules>, Proposal)>,
}

/// How to get at what a first page leaves out.
const WAYS: Ways<'_> = Ways {
    questions: "question_page()",
    all: "All reasons, values and sources: text()",
};

impl Report {
    /// The figures of its proposal; none of a report that was read.
    fn figures(&self) -> FigureSheet {
        let drawn = self.of.as_ref();
        let drawn = drawn.map(|(rules, proposal)| figures(rules, proposal, Options::default()));
        drawn
            .and_then(Result::ok)
            .unwrap_or_else(|| FigureSheet::without_figures(&self.found))
    }

    fn word(&self, of: fn(Outcome) -> &'static str) -> Option<&'static str> {
        self.found.outcome.map(of)
    }
}

#[pymethods]
impl Report {
    #[getter]
    fn title(&self) -> &str {
        &self.found.title
    }

    #[getter]
    fn proposal(&self) -> &str {
        &self.found.proposal
    }

    #[getter]
    fn verdict(&self) -> Option<&'static str> {
        self.word(|outcome| verdict(outcome.verdict))
    }

    #[getter]
    fn best(&self) -> Option<&'static str> {
        self.word(|outcome| verdict(outcome.best))
    }

    #[getter]
    fn worst(&self) -> Option<&'static str> {
        self.word(|outcome| verdict(outcome.worst))
    }

    #[getter]
    fn nothing_checked(&self) -> bool {
        self.found.gravest().nothing_checked
    }

    #[getter]
    fn digest(&self) -> &str {
        &self.found.digest
    }

    #[getter]
    fn stages<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        to_python::stages(py, &self.found.stages)
    }

    #[getter]
    fn findings<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        to_python::findings(py, &self.found.findings)
    }

    #[getter]
    fn questions<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        to_python::questions(py, &questions(&self.found))
    }

    #[getter]
    fn passed<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, self.found.passed.iter().map(|one| &**one))
    }

    #[getter]
    fn not_applicable<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, self.found.not_applicable.iter().map(|one| &**one))
    }

    #[getter]
    fn notice<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        to_python::notice(py, &self.found.notice)
    }

    fn to_json(&self, py: Python<'_>) -> PyResult<String> {
        py.detach(|| json(&self.found))
    }

    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        from_json(py, &self.to_json(py)?)
    }

    #[pyo3(signature = (width = USUAL_WIDTH))]
    fn text(&self, width: usize) -> String {
        text(&self.found, width, &Plain)
    }

    #[pyo3(signature = (width = USUAL_WIDTH, lines = USUAL_LINES))]
    fn first_page(&self, width: usize, lines: usize) -> String {
        first_page(&self.found, (width, lines), WAYS, &Plain)
    }

    #[pyo3(signature = (width = USUAL_WIDTH))]
    fn question_page(&self, width: usize) -> String {
        question_page(&self.found, width, &Plain)
    }

    /// What a notebook shows: the page that the command writes.
    fn _repr_html_(&self, py: Python<'_>) -> String {
        py.detach(|| pages::check(&self.found, &self.figures(), None).part())
    }

    fn __str__(&self) -> String {
        self.first_page(USUAL_WIDTH, USUAL_LINES)
    }

    fn __repr__(&self) -> String {
        let verdict = self.verdict().unwrap_or("some stages");
        format!("<Report {verdict}: {}>", self.found.title)
    }

    fn __reduce__<'py>(
        slf: &Bound<'py, Self>,
        py: Python<'py>,
    ) -> PyResult<(Bound<'py, PyAny>, (String,))> {
        let json = slf.get().to_json(py)?;
        Ok((slf.get_type().getattr("from_json")?, (json,)))
    }

    #[staticmethod]
    fn from_json(text: &str) -> PyResult<Self> {
        let found = serde_json::from_str(text);
        let found =
            found.map_err(|error| pyo3::exceptions::PyValueError::new_err(error.to_string()))?;
        Ok(Self { found, of: None })
    }
}
