//! Relations between facts that hold of everything there is, by "Relations between facts" of
//! LANGUAGE.md section 3: read from `facts.yaml` itself.

use std::sync::LazyLock;

use super::end::Close;
use super::evaluate::Walk;
use super::grammar::{Tree, read};
use super::proposal::Proposal;
use super::rules::Rules;
use super::truth::Truth;
use crate::generate::document::Doc;

/// What each is about, and what holds.
static RELATIONS: LazyLock<Vec<(String, Tree)>> = LazyLock::new(|| {
    let table = Doc::read(rulesets::facts::TABLE);
    let each = table.get("consistent").map(Doc::items).unwrap_or_default();
    each.iter()
        .map(|relation| {
            let about = relation.text_of("about").unwrap();
            let holds = read(relation.text_of("holds").unwrap());
            (about.trim_start_matches("each ").to_owned(), holds)
        })
        .collect()
});

/// Whether any is surely broken; none, where rounding alone would decide.
pub(crate) fn broken(rules: &Rules, proposal: &Proposal) -> Option<bool> {
    let walk = Walk {
        rules,
        proposal,
        simple: false,
        close: Close::default(),
    };
    let is_broken = RELATIONS.iter().any(|(about, holds)| {
        let many = if about == "cell" {
            proposal.cells.len()
        } else {
            1
        };
        (0..many).any(|at| walk.truth(holds, walk.seat(about, at)) == Truth::No)
    });
    (!walk.close.met()).then_some(is_broken)
}
