//! JSON Schemas (draft 2020-12) of the file formats and of the report.

mod parts;

pub(crate) use parts::{about, fact_kind, format_one, given, nature, needs_a_rung, only_yes, quantity, text_or_number, yes_no};
