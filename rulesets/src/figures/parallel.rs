//! Cells joined in parallel: the rush of current at the moment of joining, how they share a
//! current, and a group taken as one cell.

mod as_one;
mod conductance;
mod inrush;
mod shares;
#[cfg(test)]
mod tests;

pub use self::as_one::as_one;
pub use self::inrush::{Joined, equalising, inrush};
pub use self::shares::shares;
