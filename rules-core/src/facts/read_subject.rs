//! Reading whom an entry of a catalogue is about.

use super::catalogue::Catalogue;
use super::subject::SubjectId;
use crate::document::{Entry, Fault, Problems};

/// The subject that a key of an entry names, and what comes after it: `cable.load`.
pub(super) fn subject_and_name<'e>(
    entry: &'e Entry<'_>,
    catalogue: &Catalogue,
    problems: &mut Problems<'_>,
) -> Option<(SubjectId, &'e str)> {
    let named = entry.key.split_once('.');
    let about = named.and_then(|(of, name)| Some((catalogue.subject_named(of)?, name)));
    if about.is_none() {
        let message = format!("`{}` names no subject", entry.key);
        let help = "write `subject.name`, with one of `subjects`";
        problems.add(Fault::UnknownName, entry.key_span, message, help);
    }
    about
}
