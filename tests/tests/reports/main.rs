//! What a report says besides its verdicts, worked out by hand from what each entry means: margins,
//! the state of facts, what findings cite, what to measure next, counts and order. And how long it is
//! as it is written.
#![cfg(test)]

mod cited;
mod length;
mod margins;
mod measure_next;
mod order;
mod setting;
mod sheet;
mod unused;
