//! The form in which reports are written: as JSON, alike things once.
//!
//! In the library a finding is of one subject. Written, findings that differ in nothing but their
//! values are one entry, and so are facts, figures and what to measure next:
//!
//! * `subjects` of a report are all that it speaks of, by name, each once; `sets` are lists of
//!   positions in them. What an entry is of is one of the sets.
//! * Where the subjects of an entry have values of their own, a list stands in place of the value,
//!   with one for each, in the order of the set. What is no list is the same for all.
//! * A fact or a figure that takes part in a finding is reported once, under `facts` and `figures`,
//!   and findings name it and whose it is.
//! * What holds for a caution, whatever its outcome, is under `cautions`, by its id.
//!
//! So nothing is lost, and a report grows with what it is given and not with the product of cautions
//! and subjects.

mod each;
mod figures;
mod findings;
mod found;
mod lean;
mod narrowed;
mod next;
mod numbers;
mod report;
mod sheet;
mod tables;
mod texts;
mod told;
mod unused;

pub(super) use found::Found;
pub(super) use lean::WrittenLean;
pub(super) use tables::WrittenSubject;
