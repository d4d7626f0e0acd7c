//! The form of the curves of the classes: for the build script, which draws them, and for `table.rs`,
//! which reads what it wrote.

/// Steps of a curve in a charge state of 1.
pub(crate) const STEPS: f64 = 200.0;

/// The points of a curve.
pub(crate) const POINTS: usize = 201;

/// A curve at equal steps of charge, and its slopes beyond both ends, in volts by charge state.
#[derive(Debug)]
pub(crate) struct Line {
    pub(crate) points: [f64; POINTS],
    pub(crate) below: f64,
    pub(crate) above: f64,
}

/// The curves of a class.
#[derive(Debug)]
pub(crate) struct Table {
    pub(crate) lowest: Line,
    pub(crate) mean: Line,
    pub(crate) highest: Line,
    pub(crate) floor: Line,
    pub(crate) ceiling: Line,
}
