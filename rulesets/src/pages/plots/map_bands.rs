//! The areas of a map put together: rows that come to the same, and in them runs that come to the
//! same.

use std::collections::BTreeMap;

use crate::jobs::range::{Class, MapArea, MapReport, RangeEnds};

/// Rows that come to the same at every place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Band<'r> {
    /// The first row from the bottom, and the first that is none of it.
    pub(super) rows: (usize, usize),
    /// From where to where it goes up, as texts.
    pub(super) up: (&'r str, &'r str),
    pub(super) runs: Vec<Run<'r>>,
}

/// Adjoining places of a band that come to the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Run<'r> {
    /// The first column, and the first that is none of it.
    pub(super) columns: (usize, usize),
    /// From where to where it goes across, as texts.
    pub(super) across: (&'r str, &'r str),
    pub(super) class: Class,
}

/// The columns and rows of a map.
pub(super) fn size(report: &MapReport) -> (usize, usize) {
    let most = |of: fn(&MapArea) -> usize| report.areas.iter().map(of).max().unwrap_or(0);
    (most(|area| area.columns[1]), most(|area| area.rows[1]))
}

/// The bands of a map, from the bottom.
pub(super) fn bands(report: &MapReport) -> Vec<Band<'_>> {
    let (_, rows) = size(report);
    let mut bands: Vec<Band<'_>> = Vec::new();
    for row in 0..rows {
        let next = band(report, row);
        let alike = |band: &Band<'_>| {
            let key = |run: &Run<'_>| (run.columns, run.class);
            band.runs.iter().map(key).eq(next.runs.iter().map(key))
        };
        match bands.last_mut().filter(|last| alike(last)) {
            Some(last) => {
                last.rows.1 = next.rows.1;
                last.up.1 = next.up.1;
            }
            None => bands.push(next),
        }
    }
    bands
}

/// One row. Where two rows differ an area ends, so that each end of a band has its text.
fn band(report: &MapReport, row: usize) -> Band<'_> {
    let of_row = report.areas.iter();
    let of_row = of_row.filter(|area| (area.rows[0]..area.rows[1]).contains(&row));
    let by_column: BTreeMap<usize, &MapArea> = of_row.map(|area| (area.columns[0], area)).collect();
    let mut runs: Vec<Run<'_>> = Vec::new();
    let mut up = ("", "");
    for area in by_column.values() {
        let (from, to) = texts(&area.up);
        if area.rows[0] == row {
            up.0 = from;
        }
        if area.rows[1] == row + 1 {
            up.1 = to;
        }
        let class = area.found.alone;
        let across = texts(&area.across);
        match runs.last_mut().filter(|last| last.class == class) {
            Some(last) => {
                last.columns.1 = area.columns[1];
                last.across.1 = across.1;
            }
            None => runs.push(Run {
                columns: (area.columns[0], area.columns[1]),
                across,
                class,
            }),
        }
    }
    Band {
        rows: (row, row + 1),
        up,
        runs,
    }
}

fn texts(ends: &RangeEnds) -> (&str, &str) {
    (&ends.from.text, &ends.to.text)
}
