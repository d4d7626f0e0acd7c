//! The standing notice in short.

use crate::facts::Notice;
use crate::report::text::page::{Page, Part};
use crate::report::text::sentences::sentences;

/// Every point, each in its short words, or in its first sentence where it has none.
pub(super) fn write(notice: &[Notice], page: &mut Page<'_>) {
    page.gap();
    page.paragraph(0, &[Part::text(points(notice).join(" "))]);
}

/// Its points, each in short.
pub(super) fn points(notice: &[Notice]) -> Vec<&str> {
    notice.iter().filter_map(short).collect()
}

fn short(point: &Notice) -> Option<&str> {
    match &point.short {
        Some(short) => Some(short),
        None => sentences(&point.says).first().copied(),
    }
}
