//! How far the curves of cells may lie from those of a class.
//!
//! The build script draws the curves, so that this uses nothing of the crate.

/// How far below the lowest and above the highest curve of a class a cell of it may lie, in volts,
/// up to a charge state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Width {
    /// The charge state up to which it holds.
    pub up_to: f64,
    /// Below the lowest curve and above the highest, for cobalt.
    pub icr: (f64, f64),
    /// For nickel.
    pub inr: (f64, f64),
    /// For iron phosphate.
    pub ifr: (f64, f64),
}

/// The widths by charge state: the largest excursions of eleven published parameter sets, new and worn to
/// half of their lithium (`curves.csv` of the reference tables), and of a twelfth when new, from the
/// curves of the class, and a quarter more.
pub const CURVE_WIDTHS: [Width; 11] = [
    Width {
        up_to: 0.02,
        icr: (0.15, 0.258),
        inr: (0.036, 0.19),
        ifr: (0.865, 0.01),
    },
    Width {
        up_to: 0.05,
        icr: (0.11, 0.183),
        inr: (0.06, 0.235),
        ifr: (0.809, 0.01),
    },
    Width {
        up_to: 0.10,
        icr: (0.11, 0.08),
        inr: (0.06, 0.218),
        ifr: (0.609, 0.01),
    },
    Width {
        up_to: 0.20,
        icr: (0.06, 0.074),
        inr: (0.027, 0.196),
        ifr: (0.363, 0.01),
    },
    Width {
        up_to: 0.40,
        icr: (0.069, 0.103),
        inr: (0.051, 0.087),
        ifr: (0.189, 0.01),
    },
    Width {
        up_to: 0.60,
        icr: (0.08, 0.146),
        inr: (0.04, 0.174),
        ifr: (0.107, 0.01),
    },
    Width {
        up_to: 0.80,
        icr: (0.17, 0.129),
        inr: (0.07, 0.108),
        ifr: (0.082, 0.01),
    },
    Width {
        up_to: 0.90,
        icr: (0.17, 0.102),
        inr: (0.07, 0.039),
        ifr: (0.073, 0.01),
    },
    Width {
        up_to: 0.95,
        icr: (0.075, 0.051),
        inr: (0.025, 0.048),
        ifr: (0.058, 0.01),
    },
    Width {
        up_to: 0.975,
        icr: (0.045, 0.025),
        inr: (0.012, 0.019),
        ifr: (0.044, 0.046),
    },
    Width {
        up_to: 1.0,
        icr: (0.035, 0.013),
        inr: (0.012, 0.008),
        ifr: (0.04, 0.162),
    },
];
