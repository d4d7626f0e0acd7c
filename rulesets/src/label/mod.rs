//! What the label of a pack says of the cells inside: how many in series, how many in parallel, of
//! what capacity each.
//!
//! A label is what is printed on a pack: nominal voltage, capacity, energy, a designation code.
//! `decode` finds every arrangement that the numbers allow, the likeliest first, and says where
//! the label contradicts itself.
//!
//! * **In series**: the pack's nominal voltage over a cell's, which is 3.60 V to 3.85 V for cobalt,
//!   nickel and manganese cells and 3.2 V to 3.3 V for iron phosphate. For the former the number is
//!   unique up to 14: 3.60 V × 16 is the first below 3.85 V × 15. What could also be iron phosphate
//!   is a reading of its own.
//! * **In parallel**: the pack's capacity over a cell's. Every number that leaves a cell a credible
//!   capacity is a reading; an uncommon capacity is marked, and stays a reading. A count of the
//!   cells settles the number.
//! * **The code** of IEC 61960, `3INR19/66-2`, states both outright (clause 5.1). It is
//!   believed, and compared with the numbers.
//! * **Energy** is voltage times capacity. It gives the one of them that is not printed, and is
//!   checked if both are.
//!
//! Numbers are intervals as wide as their rounding, see [`Printed::read`]. Wider numbers never lose
//! a reading, nor make one less plausible. That holds as long as they can be read at all: a number
//! that reaches down to zero, or so high that more than [`MOST_COUNTED`] cells could be in a row,
//! is an error, so no reading is left out silently.
//!
//! A label proves nothing of a pack that was rewrapped or rebuilt.
//!
//! ```
//! use rulesets::label::{Label, Plausible, Printed, decode};
//!
//! let label = Label {
//!     voltage: Some(Printed::Voltage.read("14.8 V")?),
//!     capacity: Some(Printed::Capacity.read("4.4 Ah")?),
//!     energy: Some(Printed::Energy.read("65 Wh")?),
//!     code: None,
//!     cells: Some(8), // felt through the case
//! };
//! let decoded = decode(&label).expect("a label that can be read");
//! let [reading] = decoded.readings.as_slice() else { panic!("the count leaves one") };
//! assert_eq!((reading.arrangement().as_str(), reading.plausible()), ("4S2P", Plausible::Yes));
//! assert!(reading.cell_capacity.is_some_and(|capacity| capacity.contains(2.2)));
//! assert!(decoded.contradictions.is_empty());
//! # Ok::<(), rules_core::quantity::QuantityError>(())
//! ```

mod code;
mod contradiction;
mod credible;
mod decode;
mod fault;
mod pack;
mod pack_reading;
mod printed;
mod report;
mod search;
pub(crate) mod text;
mod words;

pub use crate::bounds::MOST_COUNTED;
pub use code::{ClassLetters, states_parallel};
pub use contradiction::Contradiction;
pub use credible::{Bound, CapacityDoubt, Family};
pub use decode::{Decoded, decode};
pub use fault::LabelFault;
pub use pack::{Amount, Pack};
pub use pack_reading::{Doubt, PackReading, Plausible};
pub use printed::{Label, Printed};
pub use report::{
    ContradictionAbout, DoubtAbout, LabelContradiction, LabelDoubt, LabelNumber, LabelReading,
    LabelReport,
};
pub use text::text;
