//! What a report says besides its verdicts, worked out by hand from what each entry means: margins,
//! the state of facts, what findings cite, what to measure next, counts and order.
#![cfg(test)]

mod findings {
    mod cited;
    mod margins;
    mod measure_next;
    mod order;
    pub(crate) mod setting;
    mod sheet;
    mod unused;
}
