//! Which answers would lift a verdict, in a sentence.

use super::page::{Page, Part};
use super::style::Role;
use crate::check::{Report, Verdict};
use crate::report::{Question, questions};

/// How many questions a verdict waits for: those that were found to lift it; where nobody tried, those
/// that hold it.
pub(super) fn waiting(questions: &[Question<'_>]) -> usize {
    let count = |is_meant: fn(&Question<'_>) -> bool| {
        let meant = questions.iter().filter(|one| is_meant(one));
        meant.count()
    };
    match count(|one| one.decides) {
        0 => count(|one| one.holds_the_verdict),
        deciding => deciding,
    }
}

/// `The first 5 decide it: with good answers it is refused no more.` None where nothing was found.
pub(super) fn in_a_sentence(report: &Report, questions: &[Question<'_>]) -> Option<String> {
    report.would_lift.as_ref()?;
    let first = match questions.iter().filter(|one| one.decides).count() {
        0 => return None,
        1 if questions.len() == 1 => "With a good answer".to_owned(),
        count if count == questions.len() => "With good answers".to_owned(),
        1 => "The first decides it: with a good answer".to_owned(),
        count => format!("The first {count} decide it: with good answers"),
    };
    let then = match report.gravest().verdict {
        Verdict::Refuse => "is refused no more",
        Verdict::Warn | Verdict::Pass => "warns no more",
    };
    Some(format!("{first} it {then}."))
}

/// Where the answers belong, and what they come to; nothing where nobody tried.
pub(super) fn write(report: &Report, page: &mut Page<'_>) {
    let Some(found) = &report.would_lift else {
        return;
    };
    let questions = questions(report).into_iter();
    let deciding = questions.filter(|question| question.decides);
    let places: Vec<String> = deciding.map(|question| question.place()).collect();
    let then = match found.verdict {
        Verdict::Refuse | Verdict::Warn => "warns",
        Verdict::Pass => "passes",
    };
    let few = match found.fewest {
        true => "fewer are not enough",
        false => "none of them can be left out",
    };
    let said = format!("With good answers to these alone it {then}; {few}: ");
    page.gap();
    page.paragraph(0, &[Part::new(Role::Heading, "What decides it")]);
    page.item(2, 4, &[Part::text(said), Part::text(places.join(", "))]);
}
