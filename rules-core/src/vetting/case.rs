//! The cases of rulesets, read so that they can be run.

use super::case_facts::{sheet, unknown_fact};
use crate::document::{Problems, Span};
use crate::facts::{Sheet, add_clashes};
use crate::formula::{Relations, Vocabulary};
use crate::ruleset::{CaseText, CautionText, Draft, Expectation, Ledger, Named, Stack, View};

/// An example, ready to be run.
#[derive(Debug, Clone)]
pub struct CaseCode {
    /// The position of its caution among those of the rules.
    pub caution: usize,
    /// The facts given.
    pub sheet: Sheet,
    /// The outcome expected.
    pub expect: Expectation,
    /// Whether the finding must be in doubt.
    pub doubt: bool,
    /// The missing facts that must leave it undecided.
    pub unmeasured: Vec<String>,
    /// The position of its file among those that are vetted.
    pub file: usize,
    /// Where it is in it.
    pub span: Span,
}

/// The cases of the cautions that are not dropped.
pub(super) fn cases(
    stack: &Stack,
    view: &View,
    draft: &Draft,
    ledger: &mut Ledger<'_>,
) -> Vec<CaseCode> {
    let vocabulary = draft.names.vocabulary(&draft.catalogue);
    let known = (&vocabulary, &draft.relations);
    let mut read = Vec::new();
    for (file, at) in stack.asked.iter().enumerate() {
        let (Some(layer), Some(problems)) = (stack.layers.get(*at), ledger.layers.get_mut(*at))
        else {
            continue;
        };
        let kept = |caution: &&Named<CautionText>| {
            view.cautions
                .get(&caution.name)
                .is_none_or(|seen| seen.dropped.is_empty())
        };
        for named in layer.cautions.iter().filter(kept) {
            // One that is at fault has no position; its cases are looked at for problems alone.
            let position = draft
                .cautions
                .iter()
                .position(|caution| *caution.id == *named.name)
                .unwrap_or_default();
            read.extend(
                named
                    .body
                    .cases
                    .iter()
                    .filter_map(|text| case(text, position, file, known, problems)),
            );
        }
    }
    read
}

/// Reads a case of the caution at a position, from the file at one.
fn case(
    case: &CaseText,
    caution: usize,
    file: usize,
    (vocabulary, relations): (&Vocabulary<'_>, &Relations),
    problems: &mut Problems<'_>,
) -> Option<CaseCode> {
    let sheet = sheet(&case.given, vocabulary, problems)?;
    add_clashes(vocabulary.catalogue, &sheet, case.span, problems);
    relations.add_broken(vocabulary.catalogue, &sheet, case.span, problems);
    for (name, span) in &case.unmeasured {
        if vocabulary.catalogue.fact_named(name).is_none() {
            unknown_fact(name, *span, vocabulary, problems);
        }
    }
    let unmeasured = case
        .unmeasured
        .iter()
        .map(|(name, _)| name.clone())
        .collect();
    Some(CaseCode {
        caution,
        sheet,
        expect: case.expect,
        doubt: case.doubt,
        unmeasured,
        file,
        span: case.span,
    })
}
