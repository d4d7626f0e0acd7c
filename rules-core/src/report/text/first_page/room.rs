//! How what a page has to say is fitted into the room there is.

use super::questions::{self, Asking};
use super::spoken::{Manner, Spoken};
use super::ways::Ways;
use crate::report::text::page::Page;
use crate::report::text::style::Style;

/// The room between the head of a page and its end.
pub(super) struct Room<'s> {
    pub width: usize,
    pub style: &'s dyn Style,
    pub lines: usize,
    /// So many questions are shown before anything that speaks against the use is put more shortly.
    pub questions: usize,
}

impl<'s> Room<'s> {
    /// What speaks against the use and what is in doubt, as fully as it fits beside a few questions;
    /// then as many questions as find room. Beside it how many that speak have a line of their own.
    pub(super) fn filled(
        &self,
        spoken: &Spoken,
        questions: &Asking<'_>,
        ways: Ways<'_>,
    ) -> (String, usize) {
        let least = self.asked(questions, self.questions.min(questions.all.len()), ways);
        let least = line_count(&least);
        let (said, own) = self.as_fully_as_fits(spoken, self.lines.saturating_sub(least));
        let left = self.lines.saturating_sub(line_count(&said));
        (said + &self.as_many_as_fit(questions, left, ways), own)
    }

    fn as_fully_as_fits(&self, spoken: &Spoken, lines: usize) -> (String, usize) {
        let mut last = (String::new(), 0);
        for manner in manners(spoken.longest().min(lines + 1)) {
            last = (self.said(spoken, manner), manner.against);
            if line_count(&last.0) <= lines {
                break;
            }
        }
        last
    }

    fn said(&self, spoken: &Spoken, manner: Manner) -> String {
        let mut page = self.page();
        spoken.write(manner, &mut page);
        after_a_gap(page)
    }

    fn as_many_as_fit(&self, questions: &Asking<'_>, lines: usize, ways: Ways<'_>) -> String {
        let mut text = self.asked(questions, 0, ways);
        for count in 1..=questions.all.len() {
            let more = self.asked(questions, count, ways);
            if line_count(&more) > lines {
                break;
            }
            text = more;
        }
        text
    }

    fn asked(&self, questions: &Asking<'_>, count: usize, ways: Ways<'_>) -> String {
        let mut page = self.page();
        questions::write(questions, count, ways, &mut page);
        after_a_gap(page)
    }

    fn page(&self) -> Page<'s> {
        Page::new(self.width, self.style)
    }
}

/// Ever shorter manners: first what is in doubt gives way, then cures, then lines of their own, each
/// from the mildest on. `most` entries have a line of their own at the fullest.
fn manners(most: usize) -> impl Iterator<Item = Manner> {
    let full = Manner {
        cures: most,
        settled_by: true,
        against: most,
        in_doubt: most,
    };
    let from = move |start: Manner, shorter: fn(Manner, usize) -> Manner| {
        (0..=most).rev().map(move |count| shorter(start, count))
    };
    let unsettled = Manner {
        settled_by: false,
        ..full
    };
    let in_doubt = from(unsettled, |manner, in_doubt| Manner { in_doubt, ..manner });
    let joined = Manner {
        in_doubt: 0,
        ..unsettled
    };
    let cures = from(joined, |manner, cures| Manner { cures, ..manner });
    let bare = Manner { cures: 0, ..joined };
    let against = from(bare, |manner, against| Manner { against, ..manner });
    std::iter::once(full)
        .chain(in_doubt)
        .chain(cures)
        .chain(against)
}

/// What a page holds, after an empty line; nothing, if it is empty.
pub(super) fn after_a_gap(page: Page<'_>) -> String {
    match page.finish() {
        text if text.is_empty() => text,
        text => format!("\n{text}"),
    }
}

/// How many lines a text has.
pub(super) fn line_count(text: &str) -> usize {
    text.lines().count()
}
