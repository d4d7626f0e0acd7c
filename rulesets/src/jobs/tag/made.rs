//! Tags made of sorted cells.

use rules_core::document::{Fault, Problem, ProblemList};

use super::lines::lines;
use super::report::{CellTag, NO_RELEASE, TagReport, TagSize};
use crate::jobs::sort::{SortReport, SortedCell, Suits};

/// The tags of sorted cells, for labels of a size.
///
/// # Errors
///
/// Labels that are too small for the id of a cell, its grade, and that it is no release.
pub fn tags(report: &SortReport, size: TagSize) -> Result<TagReport, ProblemList> {
    let mut problems = Vec::new();
    let mut tags = Vec::new();
    for cell in &report.cells {
        let mut tag = CellTag::of(cell);
        match lines(&tag, cell, size) {
            Some(lines) => tag.lines = lines,
            None => problems.push(too_small(&cell.id, size)),
        }
        tags.push(tag);
    }
    if !problems.is_empty() {
        return Err(problems.into());
    }
    Ok(TagReport {
        format: 1,
        bench: report.bench.clone(),
        as_of: report.as_of.clone(),
        acceptance: report.acceptance,
        digest: report.digest.clone(),
        loosened: report.loosened.clone(),
        caution: NO_RELEASE,
        tags,
        notice: report.notice.clone(),
    })
}

impl CellTag {
    /// Without its lines.
    fn of(cell: &SortedCell) -> Self {
        let lights = |wanted: &[Suits]| {
            let all = cell.lights.iter();
            let all = all.filter(|entry| wanted.contains(&entry.suits));
            all.map(|entry| entry.light.clone()).collect()
        };
        Self {
            id: cell.id.clone(),
            grade: cell.grade,
            known: cell.known.clone(),
            alone: lights(&[Suits::Pass, Suits::Warn]),
            with_others: lights(&[Suits::WithOthers]),
            questions: cell.questions.iter().map(|one| one.key.clone()).collect(),
            lines: Vec::new(),
        }
    }
}

fn too_small(id: &str, size: TagSize) -> Problem {
    let TagSize { columns, lines } = size;
    let message = format!(
        "the tag of `{id}` does not fit: its name, its grade and `{NO_RELEASE}` need more than {lines} \
         lines of {columns} letters"
    );
    let help = "ask for more with `--columns` or `--lines`";
    Problem::of_file(Fault::TooLarge, message, help)
}
