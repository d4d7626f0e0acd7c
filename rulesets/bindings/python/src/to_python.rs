//! Data of the library to the data classes of the package.

use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyBytes, PyDict, PyTuple};
use rules_core::check::{
    ClauseReport, Finding, Outcome, ReportedNumber, RungName, StageOutcome, Status, Verdict,
};
use rules_core::document::{Place, Problem, ProblemList, json_text};
use rules_core::facts::Notice;
use rules_core::report::{Answers, Question};
use serde::Serialize;

use crate::loaded::ByName;

/// The module with the data classes.
fn classes(py: Python<'_>) -> PyResult<&Bound<'_, PyModule>> {
    static MODULE: PyOnceLock<Py<PyModule>> = PyOnceLock::new();
    let module =
        MODULE.get_or_try_init(py, || PyResult::Ok(py.import("cellrules._data")?.unbind()))?;
    Ok(module.bind(py))
}

/// The exception with these problems.
pub(crate) fn error(problems: ProblemList) -> PyErr {
    Python::attach(|py| {
        let raised = self::problems(py, &problems)
            .and_then(|problems| classes(py)?.getattr("CellRulesError")?.call1((problems,)));
        raised.map_or_else(|other| other, PyErr::from_value)
    })
}

/// What is raised where something cannot be written as JSON.
pub(crate) fn no_json(error: &serde_json::Error) -> PyErr {
    pyo3::exceptions::PyRuntimeError::new_err(error.to_string())
}

/// A value as the JSON that the command writes.
pub(crate) fn json(value: &impl Serialize) -> PyResult<String> {
    json_text(value).map_err(|error| no_json(&error))
}

/// Texts by name, as bytes.
pub(crate) fn texts_by_name<'py>(py: Python<'py>, texts: &ByName) -> PyResult<Bound<'py, PyDict>> {
    let all = PyDict::new(py);
    for (name, text) in texts {
        all.set_item(name, PyBytes::new(py, text))?;
    }
    Ok(all)
}

/// A text of JSON as values of Python.
pub(crate) fn from_json<'py>(py: Python<'py>, text: &str) -> PyResult<Bound<'py, PyAny>> {
    py.import("json")?.call_method1("loads", (text,))
}

pub(crate) const fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Pass => "pass",
        Verdict::Warn => "warn",
        Verdict::Refuse => "refuse",
    }
}

const fn status(status: Status) -> &'static str {
    match status {
        Status::Decided => "decided",
        Status::InDoubt => "in doubt",
        Status::Unmeasured => "unmeasured",
    }
}

/// An object of a data class.
fn object<'py>(
    py: Python<'py>,
    class: &str,
    fields: &Bound<'py, PyDict>,
) -> PyResult<Bound<'py, PyAny>> {
    classes(py)?.getattr(class)?.call((), Some(fields))
}

fn tuple<'py, T>(
    py: Python<'py>,
    all: impl IntoIterator<Item = T>,
    one: impl Fn(T) -> PyResult<Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyTuple>> {
    let all: Vec<_> = all.into_iter().map(one).collect::<PyResult<_>>()?;
    PyTuple::new(py, all)
}

pub(crate) fn problems<'py>(
    py: Python<'py>,
    problems: &[Problem],
) -> PyResult<Bound<'py, PyTuple>> {
    tuple(py, problems, |one| {
        let fields = PyDict::new(py);
        fields.set_item("code", one.fault.code())?;
        fields.set_item("message", &one.message)?;
        fields.set_item("help", &one.help)?;
        let place = one.place.as_ref().map(|place| self::place(py, place));
        fields.set_item("place", place.transpose()?)?;
        object(py, "Problem", &fields)
    })
}

fn place<'py>(py: Python<'py>, place: &Place) -> PyResult<Bound<'py, PyAny>> {
    let fields = PyDict::new(py);
    fields.set_item("file", &*place.file)?;
    fields.set_item("line", place.line)?;
    fields.set_item("column", place.column)?;
    object(py, "Place", &fields)
}

pub(crate) fn notice<'py>(py: Python<'py>, notice: &[Notice]) -> PyResult<Bound<'py, PyTuple>> {
    tuple(py, notice, |one| {
        let fields = PyDict::new(py);
        fields.set_item("id", &one.id)?;
        fields.set_item("says", &one.says)?;
        fields.set_item("short", &one.short)?;
        fields.set_item("source", &one.source)?;
        object(py, "Notice", &fields)
    })
}

pub(crate) fn stages<'py>(
    py: Python<'py>,
    stages: &[StageOutcome],
) -> PyResult<Bound<'py, PyTuple>> {
    tuple(py, stages, |one| {
        let fields = outcome(py, one.outcome())?;
        fields.set_item("stage", &*one.stage)?;
        object(py, "Stage", &fields)
    })
}

fn outcome(py: Python<'_>, outcome: Outcome) -> PyResult<Bound<'_, PyDict>> {
    let fields = PyDict::new(py);
    fields.set_item("verdict", verdict(outcome.verdict))?;
    fields.set_item("best", verdict(outcome.best))?;
    fields.set_item("worst", verdict(outcome.worst))?;
    fields.set_item("nothing_checked", outcome.nothing_checked)?;
    Ok(fields)
}

pub(crate) fn findings<'py>(
    py: Python<'py>,
    findings: &[Finding],
) -> PyResult<Bound<'py, PyTuple>> {
    tuple(py, findings, |one| {
        let fields = PyDict::new(py);
        fields.set_item("caution", &*one.caution)?;
        fields.set_item("title", &*one.title)?;
        fields.set_item("stage", one.stage.as_deref())?;
        fields.set_item("subject", one.subject.in_words())?;
        fields.set_item("count", one.subject.count())?;
        fields.set_item("verdict", verdict(one.verdict))?;
        fields.set_item("best", verdict(one.best))?;
        fields.set_item("worst", verdict(one.worst))?;
        fields.set_item("status", status(one.status))?;
        fields.set_item("fixed", one.fixed)?;
        fields.set_item("reason", one.reason.to_string())?;
        fields.set_item("remedy", one.remedy.as_ref().map(ToString::to_string))?;
        fields.set_item("rung", rung(one.rung))?;
        fields.set_item(
            "missing",
            PyTuple::new(
                py,
                one.missing.iter().map(|fact| &**fact).collect::<Vec<_>>(),
            )?,
        )?;
        fields.set_item("facts", PyTuple::new(py, fact_names(one))?)?;
        fields.set_item("clauses", tuple(py, &one.clauses, |one| clause(py, one))?)?;
        object(py, "Finding", &fields)
    })
}

const fn rung(rung: RungName) -> &'static str {
    match rung {
        RungName::RefuseUnless => "refuse_unless",
        RungName::WarnUnless => "warn_unless",
    }
}

/// The facts that took part, each name once.
fn fact_names(finding: &Finding) -> Vec<&str> {
    let mut names = Vec::new();
    for fact in &finding.facts {
        if !names.contains(&&*fact.name) {
            names.push(&*fact.name);
        }
    }
    names
}

fn clause<'py>(py: Python<'py>, clause: &ClauseReport) -> PyResult<Bound<'py, PyAny>> {
    let side = |side: &Option<ReportedNumber>| {
        let number = side.as_ref().map(|number| self::number(py, number));
        number.transpose()
    };
    let fields = PyDict::new(py);
    fields.set_item("text", &*clause.text)?;
    fields.set_item("left", side(&clause.left)?)?;
    fields.set_item("right", side(&clause.right)?)?;
    let margin = clause.margin.as_ref();
    fields.set_item("margin", margin.map(|margin| margin.amount))?;
    fields.set_item("margin_unit", margin.map(|margin| margin.unit()))?;
    let share = margin.and_then(|margin| Some(margin.percent? / 100.0));
    fields.set_item("share", share)?;
    object(py, "Clause", &fields)
}

fn number<'py>(py: Python<'py>, number: &ReportedNumber) -> PyResult<Bound<'py, PyAny>> {
    let fields = PyDict::new(py);
    fields.set_item("text", number.to_string())?;
    fields.set_item("low", number.low())?;
    fields.set_item("high", number.high())?;
    fields.set_item("unit", number.unit())?;
    object(py, "Number", &fields)
}

pub(crate) fn questions<'py>(
    py: Python<'py>,
    questions: &[Question<'_>],
) -> PyResult<Bound<'py, PyTuple>> {
    tuple(py, questions, |one| {
        let (kind, unit, options): (&str, Option<&str>, &[String]) = match &one.answers {
            Answers::OneOf(words) => ("choice", None, words),
            Answers::InOneWord(word) => ("choice", None, &word.words),
            Answers::Quantity { kind, unit } => (kind, Some(unit), &[]),
            Answers::Like(_) | Answers::Text => ("text", None, &[]),
            Answers::MoreEntries(_) => ("entries", None, &[]),
            _ => ("other", None, &[]),
        };
        let fields = PyDict::new(py);
        fields.set_item("place", one.place())?;
        fields.set_item("paths", PyTuple::new(py, one.paths())?)?;
        fields.set_item("meaning", one.meaning)?;
        fields.set_item("kind", kind)?;
        fields.set_item("unit", unit.filter(|unit| !unit.is_empty()))?;
        fields.set_item("options", PyTuple::new(py, options)?)?;
        fields.set_item("leaves_open", verdict(one.leaves_open))?;
        fields.set_item("holds_the_verdict", one.holds_the_verdict)?;
        object(py, "Question", &fields)
    })
}
