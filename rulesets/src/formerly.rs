//! Names that facts, figures and keys of proposals had before, and what takes their place.
//!
//! The table is `data/formerly.yaml`.

use rules_core::document::{Entry, Fields, Prepared, ProblemList, Problems};
use rules_core::facts::{FormerNames, Successor};

use crate::prepared::prepared;

pub(crate) const TABLE: Prepared = prepared!("data/formerly");

/// The table.
///
/// # Errors
///
/// Every problem found; the tests read the table too, so that there is none.
pub(crate) fn names() -> Result<FormerNames, ProblemList> {
    let source = TABLE.source("formerly.yaml");
    let tree = TABLE.document(&source)?;
    let mut problems = Problems::new(&source);
    let mut former = FormerNames::new();
    if let Some(mut fields) = Fields::of(&tree, "a table of former names", &mut problems) {
        fields.need_format(&mut problems);
        for entry in fields.may_entries("names", &mut problems) {
            let successor = successor(entry, &mut problems);
            former.extend(successor.map(|successor| (entry.key.to_string(), successor)));
        }
        fields.finish(&mut problems);
    }
    if problems.is_empty() {
        Ok(former)
    } else {
        Err(problems.finish())
    }
}

fn successor(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<Successor> {
    let mut fields = Fields::of(&entry.node, "a former name", problems)?;
    let now = fields.must_text("now", problems).map(str::to_owned);
    let write = fields.may_text("write", problems).map(str::to_owned);
    fields.finish(problems);
    Some(Successor { now: now?, write })
}
