//! The lines of a stream, worked on by all cores and answered in their order.
//!
//! One thread reads lines in batches and deals each batch to the worker that has the least to do.
//! The caller collects from the workers in the same turn, so nothing has to be sorted.
//!
//! Memory is bounded in bytes, whatever the stream:
//!
//! * The batches under way have no more than [`in_order::MOST_UNDER_WAY`] bytes together, or are a
//!   single larger one. The reader holds one batch as well.
//! * A batch has no more than [`reader::MOST_BATCH`] bytes and its last line.
//! * A worker hands over what it writes in pieces, while it writes. No more than
//!   [`in_order::MOST_WAITING`] of them wait for their turn.
//!
//! So a long record is never held whole as text, and a large line, whose report may take two hundred
//! times its bytes, is worked on alone.

mod backlog;
mod in_order;
mod piece_writer;
mod reader;
#[cfg(test)]
mod tests;

pub(crate) use self::in_order::{StreamError, in_order};
pub(crate) use self::piece_writer::PieceWriter;
pub(crate) use self::reader::{Batch, Line};
