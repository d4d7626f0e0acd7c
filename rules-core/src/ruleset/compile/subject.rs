//! What a definition is about.

use crate::document::{Fault, Problems, Span, quoted};
use crate::facts::{Catalogue, SubjectId};
use crate::ruleset::layer::AboutText;

/// The subject of an `about`, which must say `each` exactly where there are many.
pub(super) fn subject_of(
    about: &AboutText,
    catalogue: &Catalogue,
    problems: &mut Problems<'_>,
) -> Option<SubjectId> {
    let Some(subject) = catalogue.subject_named(&about.subject) else {
        unknown_subject(&about.subject, about.span, catalogue, problems);
        return None;
    };
    let name = &about.subject;
    let (message, help) = match (catalogue.is_many(subject), about.each) {
        (true, false) => (
            format!("there are many of `{name}`"),
            format!("write `each {name}`"),
        ),
        (false, true) => (format!("there is one `{name}`"), format!("write `{name}`")),
        _ => return Some(subject),
    };
    problems.add(Fault::OutOfScope, about.span, message, help);
    Some(subject)
}

pub(super) fn unknown_subject(
    name: &str,
    span: Span,
    catalogue: &Catalogue,
    problems: &mut Problems<'_>,
) {
    let names: Vec<&str> = catalogue
        .subjects()
        .iter()
        .map(|subject| &*subject.name)
        .collect();
    let help = match problems.near(name, names.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("the subjects are {}", quoted(&names)),
    };
    problems.add(
        Fault::UnknownName,
        span,
        format!("there is no subject `{name}`"),
        help,
    );
}
