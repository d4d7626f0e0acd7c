//! The checks for C and C++: rules are loaded once, a proposal goes in as bytes, and an answer
//! comes out as a verdict and JSON. `include/cellrules.h` is made of this crate.
//!
//! * [`interface`]: the functions that C calls, each a few lines.
//! * [`boundary`]: what comes over the border, checked: pointers, lengths, texts. All unsafe code
//!   that reads or writes through a pointer is there.
//! * [`answer`]: what is done with it, in safe code.
//! * [`failure`]: why a call failed, and the text of the last failure of each thread.

mod answer;
mod boundary;
mod failure;
pub mod interface;
