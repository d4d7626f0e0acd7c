//! Many proposals, one after the other as the caller takes them, checked on all cores.

use std::collections::VecDeque;
use std::sync::Arc;

use pyo3::prelude::*;
use pyo3::types::PyIterator;
use rules_core::check::{Options, Report as Found, checked};
use rules_core::document::ProblemList;

use crate::asked::Asked;
use crate::from_python::written;
use crate::in_parallel::{in_parallel, threads};
use crate::loaded::Loaded;
use crate::record::Record;
use crate::report::Report;
use crate::rules::CheckOptions;

/// What is done with each of many proposals.
pub(crate) struct Many {
    pub(crate) by: Arc<Loaded>,
    pub(crate) options: CheckOptions,
    /// What messages call each, before its number.
    pub(crate) name: String,
    /// Whether each gets its whole report.
    pub(crate) full: bool,
    /// So many proposals are taken ahead for each core.
    pub(crate) batch: usize,
    /// So many threads work; none for one on each core.
    pub(crate) threads: Option<usize>,
}

/// What a proposal came to.
enum Came {
    Record(Box<Record>),
    Report(Box<Found>),
}

/// A proposal that was taken: as it was given, or why it is none.
type Taken = Result<Asked, ProblemList>;

/// The records of many proposals, in their order. It holds no more of them than a batch.
#[pyclass(module = "cellrules")]
pub(crate) struct Records {
    many: Many,
    /// None when it gave its last.
    source: Option<Py<PyIterator>>,
    taken: usize,
    ready: VecDeque<Came>,
    /// What the source raised, told after what came before it.
    raised: Option<PyErr>,
}

impl Records {
    pub(crate) fn new(many: Many, source: Bound<'_, PyIterator>) -> Self {
        Self {
            many,
            source: Some(source.unbind()),
            taken: 0,
            ready: VecDeque::new(),
            raised: None,
        }
    }

    /// Takes a batch of proposals, with the names of each.
    fn take(&mut self, py: Python<'_>) -> Vec<(String, Taken)> {
        let most = self.many.batch.saturating_mul(threads(self.many.threads));
        let mut batch = Vec::new();
        let Some(source) = self.source.take() else {
            return batch;
        };
        let mut items = source.bind(py).clone();
        while batch.len() < most {
            match items.next() {
                None => return batch,
                Some(Err(raised)) => {
                    self.raised = Some(raised);
                    return batch;
                }
                Some(Ok(item)) => {
                    self.taken += 1;
                    let name = format!("{} {}", self.many.name, self.taken);
                    let written = written(&item, None);
                    let asked = written.map(|written| Asked::of(written, Some(name.clone())));
                    batch.push((name, asked.map_err(|unusable| unusable.problems(py))));
                }
            }
        }
        self.source = Some(source);
        batch
    }

    fn fill(&mut self, py: Python<'_>) -> PyResult<()> {
        let batch = self.take(py);
        let many = &self.many;
        let came = py.detach(|| {
            many.options.with(|options, _| {
                let batch: Vec<_> = batch.into_iter().map(Slot::new).collect();
                in_parallel(batch.len(), threads(many.threads), |at| {
                    batch
                        .get(at)
                        .and_then(Slot::take)
                        .map(|one| many.came(one, options))
                })
            })
        })?;
        self.ready.extend(came.into_iter().flatten());
        Ok(())
    }
}

/// A proposal that one of the workers takes.
struct Slot(std::sync::Mutex<Option<(String, Taken)>>);

impl Slot {
    fn new(taken: (String, Taken)) -> Self {
        Self(std::sync::Mutex::new(Some(taken)))
    }

    fn take(&self) -> Option<(String, Taken)> {
        let slot = self.0.lock();
        slot.unwrap_or_else(std::sync::PoisonError::into_inner)
            .take()
    }
}

impl Many {
    fn came(&self, (name, taken): (String, Taken), options: Options<'_>) -> Came {
        let read = taken.and_then(|asked| asked.read(&self.by));
        let came = read.and_then(|read| {
            let checked = checked(&read.rules, &read.proposal, options)?;
            Ok(match self.full {
                true => Came::Report(Box::new(checked.report())),
                false => Came::Record(Box::new(Record::of(&checked))),
            })
        });
        came.unwrap_or_else(|problems| Came::Record(Box::new(Record::of_problems(&name, problems))))
    }
}

#[pymethods]
impl Records {
    const fn __iter__(slf: PyRef<'_, Self>) -> PyRef<'_, Self> {
        slf
    }

    fn __next__<'py>(&mut self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        if self.ready.is_empty() {
            if let Some(raised) = self.raised.take() {
                return Err(raised);
            }
            self.fill(py)?;
        }
        match (self.ready.pop_front(), self.raised.take()) {
            (Some(came), raised) => {
                self.raised = raised;
                Ok(Some(match came {
                    Came::Record(record) => Bound::new(py, *record)?.into_any(),
                    Came::Report(found) => Bound::new(
                        py,
                        Report {
                            found: *found,
                            of: None,
                        },
                    )?
                    .into_any(),
                }))
            }
            (None, Some(raised)) => Err(raised),
            (None, None) => Ok(None),
        }
    }
}
