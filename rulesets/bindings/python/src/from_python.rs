//! Values of Python to values of JSON, and whatever a caller gives for a proposal.

use std::path::PathBuf;
use std::sync::Arc;

use pyo3::prelude::*;
use pyo3::types::{
    PyBool, PyByteArray, PyBytes, PyDict, PyFloat, PyInt, PyList, PyMapping, PyString, PyTuple,
};
use rules_core::document::{Fault, Problem, ProblemList, Syntax};
use serde_json::{Map, Number, Value};

use crate::asked::{Asked, Written};
use crate::bench::Bench;
use crate::loaded::ByName;
use crate::quantity::{is_of_library, of_library, of_pair};
use crate::to_python::error;

/// So deep a value may be nested. Documents may be less deep; this is where a value that holds itself
/// ends.
const MOST_DEEP: usize = 200;

/// A value that cannot be taken for one of JSON.
pub(crate) enum Unusable {
    /// By a fault of its own.
    Problem(Box<Problem>),
    /// Because Python raised an exception.
    Raised(PyErr),
}

impl From<PyErr> for Unusable {
    fn from(raised: PyErr) -> Self {
        Self::Raised(raised)
    }
}

impl Unusable {
    pub(crate) fn new(fault: Fault, message: String, help: &str) -> Self {
        Self::Problem(Box::new(Problem::of_file(fault, message, help)))
    }

    /// The problem; what Python raised is one too.
    pub(crate) fn problems(self, py: Python<'_>) -> ProblemList {
        match self {
            Self::Problem(problem) => (*problem).into(),
            Self::Raised(raised) => {
                let message = format!("a value raised: {}", raised.value(py));
                Problem::of_file(Fault::Unreadable, message, "").into()
            }
        }
    }
}

impl From<Unusable> for PyErr {
    fn from(unusable: Unusable) -> Self {
        match unusable {
            Unusable::Problem(problem) => error((*problem).into()),
            Unusable::Raised(raised) => raised,
        }
    }
}

/// The value of JSON that stands for a value of Python. A pair of a number and a unit becomes a text, and
/// so does a quantity of a library of units.
pub(crate) fn value(object: &Bound<'_, PyAny>) -> Result<Value, Unusable> {
    value_at(object, &mut Vec::new())
}

/// The same; `path` leads to it.
fn value_at(object: &Bound<'_, PyAny>, path: &mut Vec<String>) -> Result<Value, Unusable> {
    if path.len() > MOST_DEEP {
        let message = format!("the proposal is nested deeper than {MOST_DEEP} levels");
        let help = "a value that holds itself never ends";
        return Err(Unusable::new(Fault::TooDeep, message, help));
    }
    if let Ok(text) = object.cast::<PyString>() {
        return Ok(Value::String(text_of(text, path)?));
    }
    if let Ok(map) = object.cast::<PyDict>() {
        return of_entries(map.iter().map(Ok), path);
    }
    if let Ok(list) = object.cast::<PyList>() {
        return of_items(list.iter(), path);
    }
    if let Ok(pair) = object.cast::<PyTuple>() {
        return of_tuple(pair, path);
    }
    if object.is_none() {
        return Ok(Value::Null);
    }
    match of_number(object, path)? {
        Some(number) => Ok(number),
        None => of_other(object, path),
    }
}

fn of_number(object: &Bound<'_, PyAny>, path: &[String]) -> Result<Option<Value>, Unusable> {
    if let Ok(truth) = object.cast::<PyBool>() {
        return Ok(Some(Value::Bool(truth.is_true())));
    }
    if object.is_instance_of::<PyInt>() {
        let small = object.extract::<i64>().ok().map(Number::from);
        let number = small.or_else(|| object.extract::<u64>().ok().map(Number::from));
        let float = || object.extract::<f64>().ok().and_then(Number::from_f64);
        return match number.or_else(float) {
            Some(number) => Ok(Some(Value::Number(number))),
            None => Err(not_finite(object, path)),
        };
    }
    let Ok(float) = object.cast::<PyFloat>() else {
        return Ok(None);
    };
    match Number::from_f64(float.value()) {
        Some(number) => Ok(Some(Value::Number(number))),
        None => Err(not_finite(object, path)),
    }
}

fn not_finite(object: &Bound<'_, PyAny>, path: &[String]) -> Unusable {
    let message = format!("{} is {object}, which is no finite number", at(path));
    let help = "leave out what is not known";
    Unusable::new(Fault::NotFinite, message, help)
}

/// A pair of a number and a unit; any other tuple is a list.
fn of_tuple(pair: &Bound<'_, PyTuple>, path: &mut Vec<String>) -> Result<Value, Unusable> {
    let parts: Vec<Bound<'_, PyAny>> = pair.iter().collect();
    if let [number, unit] = parts.as_slice()
        && let Ok(unit) = unit.cast::<PyString>()
        && !number.is_instance_of::<PyString>()
    {
        let unit = text_of(unit, path)?;
        return Ok(Value::String(of_pair(number, &unit, &at(path))?));
    }
    of_items(parts.into_iter(), path)
}

/// What is none of the values that JSON has: a further mapping, a quantity of a library, a day, a number
/// of a library of numbers, a sequence.
fn of_other(object: &Bound<'_, PyAny>, path: &mut Vec<String>) -> Result<Value, Unusable> {
    if is_of_library(object)? {
        return Ok(Value::String(of_library(object, &at(path))?));
    }
    if let Ok(map) = object.cast::<PyMapping>() {
        let items = map.items()?;
        let pairs = items
            .iter()
            .map(|pair| pair.extract::<(Bound<'_, PyAny>, Bound<'_, PyAny>)>());
        return of_entries(pairs, path);
    }
    if object.hasattr("isoformat")? {
        return Ok(Value::String(object.call_method0("isoformat")?.extract()?));
    }
    if object.hasattr("item")? && object.hasattr("dtype")? {
        let item = object.call_method0("item")?;
        if item.is_instance_of::<PyFloat>()
            || item.is_instance_of::<PyInt>()
            || item.is_instance_of::<PyString>()
        {
            path.push(String::new());
            let value = value_at(&item, path);
            path.pop();
            return value;
        }
    }
    let kind = object.get_type().name()?.to_string();
    let message = format!(
        "{} is a value of `{kind}`, which a proposal cannot have",
        at(path)
    );
    let help =
        "give a text with its unit, as \"3.71 V\"; (3.71, \"V\"); a number, a dict or a list";
    Err(Unusable::new(Fault::WrongShape, message, help))
}

fn of_entries<'py>(
    entries: impl Iterator<Item = PyResult<(Bound<'py, PyAny>, Bound<'py, PyAny>)>>,
    path: &mut Vec<String>,
) -> Result<Value, Unusable> {
    let mut map = Map::new();
    for entry in entries {
        let (key, value) = entry?;
        let Ok(key) = key.cast::<PyString>() else {
            let message = format!("{} has the key {}, which is no text", at(path), key.repr()?);
            return Err(Unusable::new(
                Fault::WrongShape,
                message,
                "name keys by texts",
            ));
        };
        let key = text_of(key, path)?;
        path.push(if path.is_empty() {
            key.clone()
        } else {
            format!(".{key}")
        });
        let value = value_at(&value, path);
        path.pop();
        map.insert(key, value?);
    }
    Ok(Value::Object(map))
}

fn of_items<'py>(
    items: impl Iterator<Item = Bound<'py, PyAny>>,
    path: &mut Vec<String>,
) -> Result<Value, Unusable> {
    let mut list = Vec::new();
    for (position, item) in items.enumerate() {
        path.push(format!("[{position}]"));
        let value = value_at(&item, path);
        path.pop();
        list.push(value?);
    }
    Ok(Value::Array(list))
}

fn text_of(text: &Bound<'_, PyString>, path: &[String]) -> Result<String, Unusable> {
    match text.to_cow() {
        Ok(text) => Ok(text.into_owned()),
        Err(_) => {
            let message = format!("{} has a text with half a character", at(path));
            let help = "a lone surrogate is no character; decode the bytes as UTF-8";
            Err(Unusable::new(Fault::Syntax, message, help))
        }
    }
}

/// Where a value is, in words.
fn at(path: &[String]) -> String {
    match path {
        [] => "the proposal".to_owned(),
        steps => format!("`{}`", steps.concat()),
    }
}

/// A proposal as a caller gives it: a mapping, a text or a path.
pub(crate) fn written(
    object: &Bound<'_, PyAny>,
    syntax: Option<Syntax>,
) -> Result<Written, Unusable> {
    if let Ok(text) = object.cast::<PyString>() {
        let text = text_of(text, &[])?;
        return match looks_like_a_path(&text) {
            true => Err(no_path(&text)),
            false => Ok(Written::Text(text.into_bytes(), syntax)),
        };
    }
    if let Ok(bytes) = object.cast::<PyBytes>() {
        return Ok(Written::Text(bytes.as_bytes().to_vec(), syntax));
    }
    if let Ok(bytes) = object.cast::<PyByteArray>() {
        return Ok(Written::Text(bytes.to_vec(), syntax));
    }
    if object.hasattr("__fspath__")? {
        return Ok(Written::File(object.extract::<PathBuf>()?));
    }
    if object.cast::<PyMapping>().is_ok() {
        return Ok(Written::Value(value(object)?));
    }
    let kind = object.get_type().name()?.to_string();
    let message = format!("a value of `{kind}` is no proposal");
    let help = "give a dict, a text or bytes of JSON or YAML, or a pathlib.Path of a file";
    Err(Unusable::new(Fault::WrongShape, message, help))
}

/// One line that ends as files do is no proposal.
fn looks_like_a_path(text: &str) -> bool {
    let endings = [".yaml", ".yml", ".json"];
    let text = text.trim();
    !text.contains(['\n', '{', ':', '"']) && endings.iter().any(|ending| text.ends_with(ending))
}

fn no_path(text: &str) -> Unusable {
    let message = format!("`{text}` is a text and no proposal");
    let help = format!("is it a file? Give its path as `pathlib.Path(\"{text}\")`");
    Unusable::new(Fault::WrongShape, message, &help)
}

/// What is asked about, as the Python side hands it over: the proposal, what messages call it, its
/// syntax, the bench that it takes from, and texts that it can name.
#[derive(FromPyObject)]
pub(crate) struct Question<'py>(
    Bound<'py, PyAny>,
    Option<String>,
    Option<String>,
    Option<Py<Bench>>,
    Option<Bound<'py, PyAny>>,
);

impl Question<'_> {
    /// The proposal that is asked about.
    pub(crate) fn asked(self) -> Result<Asked, Unusable> {
        let Self(proposal, name, syntax, bench, files) = self;
        let syntax = syntax.as_deref().map(syntax_of).transpose()?;
        Ok(Asked {
            written: written(&proposal, syntax)?,
            name,
            bench: bench.map(|bench| Arc::clone(&bench.get().bench)),
            files: files
                .map(|files| texts(&files))
                .transpose()?
                .unwrap_or_default(),
        })
    }
}

fn syntax_of(word: &str) -> Result<Syntax, Unusable> {
    match word {
        "json" => Ok(Syntax::Json),
        "yaml" => Ok(Syntax::Yaml),
        other => {
            let message = format!("`{other}` is no syntax of a proposal");
            Err(Unusable::new(
                Fault::UnknownOption,
                message,
                "give `json` or `yaml`",
            ))
        }
    }
}

/// Texts by name, from a mapping of texts or bytes.
pub(crate) fn texts(mapping: &Bound<'_, PyAny>) -> Result<ByName, Unusable> {
    let Ok(mapping) = mapping.cast::<PyMapping>() else {
        let message = "texts are given as a dict from names to texts".to_owned();
        let help = "write it as {\"club.yaml\": text}";
        return Err(Unusable::new(Fault::WrongShape, message, help));
    };
    let mut all = ByName::new();
    for item in mapping.items()?.iter() {
        let (name, text): (Bound<'_, PyAny>, Bound<'_, PyAny>) = item.extract()?;
        let Ok(name) = name.cast::<PyString>() else {
            let message = format!("the name {} is no text", name.repr()?);
            return Err(Unusable::new(
                Fault::WrongShape,
                message,
                "name texts by texts",
            ));
        };
        let name = text_of(name, &[])?;
        let bytes = match (text.cast::<PyBytes>(), text.cast::<PyString>()) {
            (Ok(bytes), _) => bytes.as_bytes().to_vec(),
            (_, Ok(text)) => text_of(text, std::slice::from_ref(&name))?.into_bytes(),
            _ => {
                let message = format!("`{name}` is neither a text nor bytes");
                return Err(Unusable::new(Fault::WrongShape, message, "give its text"));
            }
        };
        all.insert(name, bytes);
    }
    Ok(all)
}
