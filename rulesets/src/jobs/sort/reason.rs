//! Why a cell has its grade, in words.

use rules_core::check::Status;

use super::grade::Grade;
use super::report::{DecidedBy, NextReading, SortedCell};

/// What is said of a cell, without its own number. What nobody looked at is a question, and no
/// accusation.
pub(super) fn said(cell: &SortedCell) -> Option<String> {
    let Some(decided) = &cell.decided_by else {
        let unchecked = cell.grade == Grade::ToTest;
        return unchecked.then(|| "nothing of it was checked".to_owned());
    };
    let next = keys(&cell.next);
    Some(match (decided.status, next.is_empty()) {
        (Status::Decided, _) => decided.title.clone(),
        (Status::InDoubt, _) | (_, true) => format!("in doubt: {}", decided.title),
        (Status::Unmeasured, false) => format!("not known yet: {next}"),
    })
}

/// The finding whose number goes with what is said of a cell.
pub(super) fn with_number(cell: &SortedCell) -> Option<&DecidedBy> {
    let decided = cell.decided_by.as_ref();
    decided.filter(|one| one.value.is_some() && one.status != Status::Unmeasured)
}

/// Why a cell has its grade: `Worn cell, 52 % (limit 60 %)`.
#[must_use]
pub fn reason(cell: &SortedCell) -> Option<String> {
    let said = said(cell)?;
    let Some(DecidedBy { value, limit, .. }) = with_number(cell) else {
        return Some(said);
    };
    let value = value.as_deref().unwrap_or_default();
    Some(format!("{said}, {value}{}", beside(limit.as_deref())))
}

/// A limit behind what was held against it.
pub(super) fn beside(limit: Option<&str>) -> String {
    limit.map_or_else(String::new, |limit| format!(" (limit {limit})"))
}

/// The keys of readings: `drift.from, drift.to`.
pub(super) fn keys(readings: &[NextReading]) -> String {
    let keys: Vec<&str> = readings.iter().map(|one| one.key.as_str()).collect();
    keys.join(", ")
}
