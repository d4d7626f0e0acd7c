//! Reports read again from the form in which they are written.

mod entries;
mod report;
