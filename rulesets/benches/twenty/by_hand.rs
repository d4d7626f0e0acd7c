//! The twenty rules written by hand in Rust, on plain numbers without intervals: what there is to
//! gain by not having a language.

use rules_core::check::Verdict;

/// A rule that is not kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Fails {
    /// Which of the twenty, from 0.
    pub(crate) rule: usize,
    /// Which cell, from 0; 0 for what there is one of.
    pub(crate) subject: usize,
    /// How grave.
    pub(crate) verdict: Verdict,
}

/// The sleeve of a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Wrap {
    Intact,
    Rewrapped,
    Nicked,
}

/// A cell, in volts, ampere-hours, ohms, hours and millimetres.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Cell {
    pub(crate) rest_voltage: f64,
    pub(crate) found_voltage: f64,
    pub(crate) capacity: f64,
    pub(crate) rated_capacity: f64,
    pub(crate) rated_full: f64,
    pub(crate) resistance: f64,
    pub(crate) drift_fall: f64,
    pub(crate) drift_over: f64,
    pub(crate) wrap: Wrap,
    pub(crate) sound: bool,
    pub(crate) length: f64,
    pub(crate) diameter: f64,
}

/// A build, in volts, amperes, hours, millimetres and degrees Celsius.
#[derive(Debug, Clone)]
pub(crate) struct Build {
    pub(crate) cells: Vec<Cell>,
    pub(crate) series: f64,
    pub(crate) parallel: f64,
    pub(crate) draw: f64,
    pub(crate) cut_off: f64,
    pub(crate) bay_length: f64,
    pub(crate) bay_diameter: f64,
    pub(crate) pack_circuit: bool,
    pub(crate) each_cell: bool,
    pub(crate) termination: f64,
    pub(crate) charge_current: f64,
    pub(crate) charge_ambient: f64,
    pub(crate) attended: bool,
    pub(crate) surface_safe: bool,
    pub(crate) run_time: f64,
}

const CELL: Cell = Cell {
    rest_voltage: 3.846,
    found_voltage: 3.52,
    capacity: 2.24,
    rated_capacity: 2.6,
    rated_full: 4.20,
    resistance: 0.062,
    drift_fall: 0.005,
    drift_over: 28.0 * 24.0,
    wrap: Wrap::Intact,
    sound: true,
    length: 65.1,
    diameter: 18.3,
};

/// The build of `sound.json`.
pub(crate) fn sound() -> Build {
    Build {
        cells: vec![
            CELL,
            Cell {
                rest_voltage: 3.849,
                capacity: 2.19,
                resistance: 0.064,
                drift_fall: 0.006,
                ..CELL
            },
            Cell {
                rest_voltage: 3.851,
                found_voltage: 3.50,
                capacity: 2.21,
                resistance: 0.061,
                wrap: Wrap::Rewrapped,
                ..CELL
            },
            Cell {
                rest_voltage: 3.848,
                found_voltage: 3.51,
                capacity: 2.23,
                resistance: 0.066,
                drift_fall: 0.004,
                ..CELL
            },
        ],
        series: 2.0,
        parallel: 2.0,
        draw: 2.0,
        cut_off: 6.0,
        bay_length: 67.5,
        bay_diameter: 19.0,
        pack_circuit: true,
        each_cell: true,
        termination: 4.20,
        charge_current: 1.5,
        charge_ambient: 18.0,
        attended: true,
        surface_safe: true,
        run_time: 2.0,
    }
}

/// The build of `faulty.json`.
pub(crate) fn faulty() -> Build {
    let sound = sound();
    let [one, two, three, four] = sound.cells.as_slice() else {
        unreachable!("it has four cells")
    };
    let cells = vec![
        Cell {
            found_voltage: 1.60,
            ..*one
        },
        Cell {
            rest_voltage: 3.62,
            capacity: 1.42,
            ..*two
        },
        Cell {
            wrap: Wrap::Nicked,
            ..*three
        },
        Cell {
            resistance: 0.140,
            drift_fall: 0.040,
            drift_over: 14.0 * 24.0,
            ..*four
        },
    ];
    Build {
        cells,
        attended: false,
        ..sound
    }
}

/// Checks the twenty rules, one after the other, each for each of its subjects.
pub(crate) fn check(build: &Build) -> Vec<Fails> {
    let mut fails = Vec::new();
    cells(build, &mut fails);
    rest(build, &mut fails);
    fails
}

/// A rule about each cell: which it is, how grave, and what must hold.
#[inline]
fn each(
    build: &Build,
    fails: &mut Vec<Fails>,
    (rule, verdict): (usize, Verdict),
    holds: impl Fn(&Cell) -> bool,
) {
    for (subject, cell) in build.cells.iter().enumerate() {
        if !holds(cell) {
            fails.push(Fails {
                rule,
                subject,
                verdict,
            });
        }
    }
}

fn cells(build: &Build, fails: &mut Vec<Fails>) {
    use Verdict::{Refuse, Warn};
    each(build, fails, (0, Refuse), |cell| cell.rest_voltage >= 2.5);
    each(build, fails, (1, Refuse), |cell| cell.rest_voltage <= 4.25);
    each(build, fails, (2, Refuse), |cell| cell.capacity >= 1.5);
    each(build, fails, (3, Warn), |cell| {
        cell.capacity >= 0.8 * cell.rated_capacity
    });
    each(build, fails, (4, Warn), |cell| cell.resistance <= 0.12);
    each(build, fails, (5, Refuse), |cell| {
        matches!(cell.wrap, Wrap::Intact | Wrap::Rewrapped)
    });
    each(build, fails, (6, Refuse), |cell| cell.sound);
    each(build, fails, (7, Warn), |cell| {
        cell.drift_fall / cell.drift_over <= 0.001 / 24.0
    });
    each(build, fails, (8, Refuse), |cell| cell.found_voltage >= 2.0);
    each(build, fails, (9, Refuse), |cell| {
        cell.length <= build.bay_length
    });
    each(build, fails, (10, Refuse), |cell| {
        cell.diameter <= build.bay_diameter
    });
    each(build, fails, (11, Refuse), |cell| {
        build.termination <= cell.rated_full
    });
}

/// A rule about what there is one of.
#[inline]
fn one(fails: &mut Vec<Fails>, (rule, verdict): (usize, Verdict), holds: bool) {
    if !holds {
        fails.push(Fails {
            rule,
            subject: 0,
            verdict,
        });
    }
}

fn rest(build: &Build, fails: &mut Vec<Fails>) {
    use Verdict::{Refuse, Warn};
    let voltages = || build.cells.iter().map(|cell| cell.rest_voltage);
    let spread = voltages().fold(f64::MIN, f64::max) - voltages().fold(f64::MAX, f64::min);
    let capacity: f64 = build.cells.iter().map(|cell| cell.capacity).sum();
    let many = build.series * build.parallel > 1.0;
    let watched = build.pack_circuit && build.each_cell;
    let long_enough = capacity / build.series >= build.draw * build.run_time;
    let temperate = (5.0..=40.0).contains(&build.charge_ambient);
    let looked_after = build.attended && build.surface_safe;
    one(
        fails,
        (12, Refuse),
        build.charge_current / build.parallel <= 1.0,
    );
    one(fails, (13, Refuse), build.draw / build.parallel <= 2.5);
    one(fails, (14, Refuse), build.cut_off >= 3.0 * build.series);
    one(fails, (15, Refuse), !many || watched);
    one(fails, (16, Refuse), spread <= 0.05);
    one(fails, (17, Warn), long_enough);
    one(fails, (18, Refuse), temperate);
    one(fails, (19, Refuse), looked_after);
}
