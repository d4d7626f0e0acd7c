//! A merged view to rules: names become numbers, formulas are checked for kinds.

mod cautions;
mod definitions;
mod draft;
mod facts;
mod figures;
mod limits;
mod meters;
mod subject;

pub(crate) use draft::Draft;
pub(super) use draft::compile;
