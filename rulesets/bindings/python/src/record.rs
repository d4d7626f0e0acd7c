//! What many checks give, each in few words: a lean record, or the problems that stand in its place.

use pyo3::prelude::*;
use pyo3::types::PyTuple;
use rules_core::check::{Checked, Outcome};
use rules_core::document::{ProblemList, write_json_line};
use rules_core::report::{Lean, ProblemRecord};

use crate::to_python::{from_json, problems, verdict};

/// A check without its words, as ids and numbers; or the problems of a proposal that cannot be used.
#[pyclass(frozen, module = "cellrules")]
pub(crate) struct Record {
    outcome: Option<Outcome>,
    cautions: Vec<String>,
    missing: Option<String>,
    problems: ProblemList,
    json: String,
}

impl Record {
    /// Of a check.
    pub(crate) fn of(checked: &Checked<'_>) -> Self {
        Self {
            outcome: checked.outcome(),
            cautions: cautions(checked),
            missing: checked.first_missing(),
            problems: ProblemList::default(),
            json: line(|into| write_json_line(into, &Lean(checked))),
        }
    }

    /// Of a proposal that cannot be used, with what messages call it.
    pub(crate) fn of_problems(name: &str, problems: ProblemList) -> Self {
        let record = ProblemRecord::of_proposal(name, problems.clone());
        Self {
            outcome: None,
            cautions: Vec::new(),
            missing: None,
            problems,
            json: line(|into| write_json_line(into, &record)),
        }
    }
}

/// The cautions that speak against it, the gravest first, each once.
pub(crate) fn cautions(checked: &Checked<'_>) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for finding in checked.findings() {
        if !all.iter().any(|known| **known == *finding.caution) {
            all.push(finding.caution.to_string());
        }
    }
    all
}

/// What is written into memory is always text.
fn line(write: impl FnOnce(&mut Vec<u8>) -> serde_json::Result<()>) -> String {
    let mut bytes = Vec::new();
    match write(&mut bytes) {
        Ok(()) => String::from_utf8(bytes).unwrap_or_default(),
        Err(_) => String::new(),
    }
}

#[pymethods]
impl Record {
    #[getter]
    fn verdict(&self) -> Option<&'static str> {
        self.outcome.map(|outcome| verdict(outcome.verdict))
    }

    #[getter]
    fn best(&self) -> Option<&'static str> {
        self.outcome.map(|outcome| verdict(outcome.best))
    }

    #[getter]
    fn worst(&self) -> Option<&'static str> {
        self.outcome.map(|outcome| verdict(outcome.worst))
    }

    #[getter]
    fn cautions<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, &self.cautions)
    }

    #[getter]
    fn missing(&self) -> Option<&str> {
        self.missing.as_deref()
    }

    #[getter]
    fn problems<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        problems(py, &self.problems)
    }

    fn to_json(&self) -> &str {
        &self.json
    }

    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        from_json(py, &self.json)
    }

    fn __repr__(&self) -> String {
        match (self.verdict(), self.problems.len()) {
            (Some(verdict), _) => format!("<Record {verdict}: {}>", self.cautions.join(", ")),
            (None, 0) => "<Record of some stages>".to_owned(),
            (None, count) => format!("<Record of {count} problems>"),
        }
    }
}
