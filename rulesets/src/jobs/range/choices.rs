//! A choice instead of a range: each option with its verdict.

use rules_core::document::{Fault, Problem, ProblemList, Source, Span, quoted};
use rules_core::facts::{FactKind, OptionSet, Value};

use super::axis::supposed;
use super::ends::Vary;
use super::found::{Teller, apart};
use super::named::Varied;
use super::probe::Probe;
use super::report::{RangeApart, RangeFact, RangeOption, RangeReport};
use super::told::of_search;

/// What each option of a choice comes to.
pub(super) fn report<'r>(
    varied: Varied<'r>,
    asked: &Vary<'_>,
    mut probe: Probe<'r>,
) -> Result<RangeReport, ProblemList> {
    let words = words(&varied.def.kind);
    has_no_ends(asked, &varied, &words)?;
    let given = probe
        .sheet()
        .given(varied.def.subject, varied.position, varied.slot)
        .cloned();
    let report = probe.report(&[])?;
    let apart = report.map_or_else(RangeApart::nothing, |report| apart(&report, &probe));
    let mut teller = Teller::default();
    let mut options = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let value = match varied.def.kind {
            FactKind::YesNo => Value::YesNo(at == 0),
            _ => Value::Choice(OptionSet::one(at)),
        };
        let is_own = given.as_ref().is_some_and(|given| given.value == value);
        let values = [(&varied, supposed(value, word))];
        let came = probe.suppose(&values)?;
        options.push(RangeOption {
            option: word.clone(),
            is_own,
            found: teller.of_values(&values, &came, &mut probe)?,
        });
    }
    Ok(RangeReport {
        fact: RangeFact {
            own: given.map(|given| given.written.to_string()),
            chosen: "all options".to_owned(),
            ..RangeFact::of(&varied, &probe)
        },
        search: of_search(apart, &probe),
        pieces: Vec::new(),
        options,
    })
}

fn words(kind: &FactKind) -> Vec<String> {
    match kind {
        FactKind::Choice(options) => options.clone(),
        _ => vec!["yes".to_owned(), "no".to_owned()],
    }
}

/// A choice goes from nothing to nothing.
fn has_no_ends(asked: &Vary<'_>, varied: &Varied<'_>, words: &[String]) -> Result<(), Problem> {
    let ends = [asked.from, asked.to, asked.resolution];
    let Some(written) = ends.into_iter().flatten().next() else {
        return Ok(());
    };
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let message = format!("`{}` is a choice, not a number", varied.path);
    let help = format!(
        "leave the ends and the resolution out: each of {} gets its verdict",
        quoted(&words)
    );
    let source = Source::new(written.called, written.text.to_owned());
    let end = written.text.len();
    Err(Problem::at(
        &source,
        Fault::WrongKind,
        Span { start: 0, end },
        message,
        help,
    ))
}
