//! One section, or one entry of a list, with all its keys: those of the table of facts, and those that
//! say several facts at once.

use std::fmt;

use rules_core::document::{Node, Problems};
use rules_core::facts::{Instance, SubjectId};

use super::draw::read_draw;
use super::marks::{self, Marks, entry};
use super::sections::SectionReader;
use crate::facts::{CELL, LIGHT, PACK};

/// Reads a section of a subject; `at` has the position among those of its subject too.
pub(super) fn whole(
    sections: &mut SectionReader<'_, '_>,
    node: &Node<'_>,
    at: (SubjectId, usize),
    what: fmt::Arguments<'_>,
    problems: &mut Problems<'_>,
) -> Instance {
    let mut instance = Instance::default();
    let special: &[&str] = match at.0 {
        LIGHT => &["draw"],
        CELL => &["designation"],
        _ => &[],
    };
    sections.read(node, at, what, special, &mut instance, problems);
    match at.0 {
        LIGHT => {
            if let Some(draw) = entry(node, "draw") {
                read_draw(draw, sections.catalogue, &mut instance, problems);
            }
        }
        CELL => Marks {
            cell: &mut instance,
            problems,
        }
        .read(node),
        PACK => {
            if let Some(designation) = entry(node, "designation") {
                marks::of_pack(designation, problems);
            }
        }
        _ => {}
    }
    instance
}
