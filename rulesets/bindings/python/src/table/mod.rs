//! Tables: a proposal in each row, and columns of what was found.
//!
//! `columns` is which key of a proposal stands in which column, `cells` are the values of a column,
//! `found` is what becomes of a row and the columns of that.

mod cells;
mod columns;
mod found;

use std::sync::Arc;

use arrow_array::{RecordBatch, RecordBatchReader, StructArray};
use arrow_schema::{ArrowError, Schema, SchemaRef};
use pyo3::exceptions::PyTypeError;
use pyo3::prelude::*;
use pyo3::types::{PyCapsule, PyTuple};
use pyo3_arrow::error::PyArrowResult;
use pyo3_arrow::ffi::{ArrayIterator, to_stream_pycapsule};
use pyo3_arrow::input::AnyRecordBatch;
use rules_core::document::ProblemList;
use rulesets::bench::Bench;

use self::columns::Columns;
use self::found::{Checker, columns_of, fields_of};
use crate::loaded::Loaded;
use crate::to_python::{self, error};

/// How a table is checked.
pub(crate) struct How {
    pub(crate) by: Arc<Loaded>,
    /// The column of which each row is a proposal of JSON; none, if the columns are keys.
    pub(crate) json: Option<String>,
    /// The bench that every row takes from.
    pub(crate) bench: Option<Arc<Bench>>,
    /// The columns that the result has too.
    pub(crate) keep: Vec<String>,
    /// Whether each row says by which rules and beside which notice it was checked.
    pub(crate) identify: bool,
    /// So many threads work; none for one on each core.
    pub(crate) threads: Option<usize>,
}

/// What keeps a table from being checked at all.
enum Stopped {
    Problems(ProblemList),
    Arrow(ArrowError),
}

impl From<ArrowError> for Stopped {
    fn from(error: ArrowError) -> Self {
        Self::Arrow(error)
    }
}

impl From<ProblemList> for Stopped {
    fn from(problems: ProblemList) -> Self {
        Self::Problems(problems)
    }
}

impl From<Stopped> for PyErr {
    fn from(stopped: Stopped) -> Self {
        match stopped {
            Stopped::Problems(problems) => error(problems),
            Stopped::Arrow(error) => pyo3_arrow::error::PyArrowError::from(error).into(),
        }
    }
}

/// Checks every row of a table.
pub(crate) fn check(py: Python<'_>, table: &Bound<'_, PyAny>, how: &How) -> PyResult<CheckedTable> {
    let Ok(batches) = table.extract::<AnyRecordBatch>() else {
        let kind = table.get_type().name()?.to_string();
        return Err(PyTypeError::new_err(format!(
            "a `{kind}` gives no table through Arrow's C data interface; give a table or record batches of \
             pyarrow, a frame of polars, or a frame of pandas 2.2 or later with pyarrow installed"
        )));
    };
    let batches = batches.into_reader()?;
    let (schema, batches) = py.detach(|| check_batches(batches, how))?;
    Ok(CheckedTable {
        schema,
        batches,
        by: Arc::clone(&how.by),
    })
}

/// Batch after batch, each on all cores.
fn check_batches(
    batches: Box<dyn RecordBatchReader + Send>,
    how: &How,
) -> Result<(SchemaRef, Vec<RecordBatch>), Stopped> {
    let given = batches.schema();
    let columns = Columns::of(&given, how)?;
    let kept = columns::kept(&given, &how.keep, &fields_of(how))?;
    let checker = Checker::of(how)?;
    let schema = schema_of(&given, &kept, how);
    let mut done = Vec::new();
    let mut before = 0;
    for batch in batches {
        let batch = batch?;
        let rows = columns.rows(&batch)?;
        let found = checker.rows(&rows, before);
        before += batch.num_rows();
        let own = kept
            .iter()
            .filter_map(|at| batch.columns().get(*at))
            .cloned();
        let all = own.chain(columns_of(&found, how)).collect();
        done.push(RecordBatch::try_new(Arc::clone(&schema), all)?);
    }
    Ok((schema, done))
}

fn schema_of(given: &Schema, kept: &[usize], how: &How) -> SchemaRef {
    let own = kept
        .iter()
        .filter_map(|at| given.fields().get(*at))
        .cloned();
    let fields: Vec<_> = own.chain(fields_of(how)).collect();
    Arc::new(Schema::new(fields).with_metadata(found::metadata(how)))
}

/// A table with what was found of each row.
#[pyclass(frozen, module = "cellrules")]
pub(crate) struct CheckedTable {
    schema: SchemaRef,
    batches: Vec<RecordBatch>,
    by: Arc<Loaded>,
}

#[pymethods]
impl CheckedTable {
    /// The table, as Arrow's interface for Python hands it over.
    #[pyo3(signature = (requested_schema = None))]
    fn __arrow_c_stream__<'py>(
        &self,
        py: Python<'py>,
        requested_schema: Option<Bound<'py, PyCapsule>>,
    ) -> PyArrowResult<Bound<'py, PyCapsule>> {
        let field = arrow_schema::Field::new_struct("", self.schema.fields().clone(), false);
        let field = field.with_metadata(self.schema.metadata().clone());
        let batches = self.batches.clone().into_iter();
        let arrays = batches.map(|batch| Ok(Arc::new(StructArray::from(batch)) as _));
        let reader = Box::new(ArrayIterator::new(arrays, Arc::new(field)));
        to_stream_pycapsule(py, reader, requested_schema)
    }

    fn __len__(&self) -> usize {
        self.batches.iter().map(RecordBatch::num_rows).sum()
    }

    #[getter]
    fn column_names<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, self.schema.fields().iter().map(|field| field.name()))
    }

    #[getter]
    fn notice<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        to_python::notice(py, self.by.rules().notice())
    }

    #[getter]
    fn digest(&self) -> &str {
        self.by.rules().digest()
    }

    fn __repr__(&self) -> String {
        format!("<CheckedTable of {} rows>", self.__len__())
    }
}
