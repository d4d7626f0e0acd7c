//! Reading a relation of a catalogue.

use std::sync::Arc;

use super::catalogue::Catalogue;
use super::relation::RelationDef;
use super::subject::SubjectId;
use crate::document::{Fault, Fields, Node, Problems, Source, text};

/// Reads a relation of a catalogue that has these facts.
pub(super) fn relation(
    node: &Node<'_>,
    before: &[RelationDef],
    (catalogue, source): (&Catalogue, &Arc<Source>),
    problems: &mut Problems<'_>,
) -> Option<RelationDef> {
    let mut fields = Fields::of(node, "a relation", problems)?;
    let id = fields.must("id", problems);
    let about = fields.must("about", problems);
    let holds = fields.must("holds", problems);
    let says = fields.must_text("says", problems).map(str::to_owned);
    // Where relations come from is for people, but it is never left out.
    fields.must("basis", problems);
    fields.finish(problems);
    let id = new_id(id?, before, problems);
    let about = subject(about?, catalogue, problems);
    text(holds?, problems)?;
    Some(RelationDef {
        id: id?.into(),
        about: about?,
        holds: holds?.detached(),
        says: says?.into(),
        source: Arc::clone(source),
    })
}

fn new_id(node: &Node<'_>, before: &[RelationDef], problems: &mut Problems<'_>) -> Option<String> {
    let id = text(node, problems)?;
    if before.iter().any(|one| one.id == id) {
        let message = format!("there is a relation `{id}` already");
        problems.add(
            Fault::DefinedTwice,
            node.span,
            message,
            "give it another name",
        );
        return None;
    }
    Some(id.to_owned())
}

/// `heater`, or `each cable` where there are many.
fn subject(
    node: &Node<'_>,
    catalogue: &Catalogue,
    problems: &mut Problems<'_>,
) -> Option<SubjectId> {
    let written = text(node, problems)?;
    let about = |id: SubjectId| {
        let each = if catalogue.is_many(id) { "each " } else { "" };
        format!("{each}{}", catalogue.subject_name(id))
    };
    let ids = || {
        catalogue
            .subjects()
            .iter()
            .filter_map(|subject| catalogue.subject_named(&subject.name))
    };
    let found = ids().find(|id| about(*id) == written);
    if found.is_none() {
        let known: Vec<String> = ids().map(about).collect();
        let near = problems.near(written, known.iter().map(String::as_str));
        let help = near.map_or_else(
            || "write a subject of the table; `each cable` where there are many".to_owned(),
            |near| format!("did you mean `{near}`?"),
        );
        let message = format!("a relation cannot be about `{written}`");
        problems.add(Fault::UnknownName, node.span, message, help);
    }
    found
}
