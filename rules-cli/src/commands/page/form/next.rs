//! What is asked next: what could still change the verdict, in the order of an interview.

use std::collections::BTreeSet;

use rules_core::check::Report;
use rules_core::report::{Answers, Question, questions};
use rules_core::ruleset::Rules;
use rulesets::pages::html::Html;

use super::field::{Field, Word, Writes};
use super::places::fact_at;
use crate::commands::interview::words_of;

/// So many fields are asked at once.
const AT_ONCE: usize = 6;

/// The next fields, with how many follow; a place of which nobody knows what belongs there is not asked.
pub(in crate::commands::page) fn next(
    report: &Report,
    not_known: &BTreeSet<String>,
    rules: &Rules,
) -> Html {
    let fields = fields(report, not_known, rules);
    let mut html = Html::default();
    if fields.is_empty() {
        let done = "Nothing else is left to ask that could change the verdict.";
        html.said("p", &[], done);
        return html;
    }
    let shown = fields.iter().take(AT_ONCE);
    shown.for_each(|field| field.write(&mut html));
    let left = fields.len().saturating_sub(AT_ONCE);
    let says = match left {
        0 => "What you leave empty counts as not known.".to_owned(),
        _ => format!("What you leave empty counts as not known. After these: {left}."),
    };
    html.said("p", &[("class", "quiet")], &says);
    let button = [("type", "button"), ("data-do", "next")];
    html.said("button", &button, "Ask on");
    html
}

fn fields(report: &Report, not_known: &BTreeSet<String>, rules: &Rules) -> Vec<Field> {
    let best = report.gravest().best;
    let mut all: Vec<Question<'_>> = questions(report)
        .into_iter()
        .filter(|question| question.leaves_open > best)
        .filter(|question| !matches!(question.answers, Answers::MoreEntries(_)))
        .collect();
    all.sort_by_key(|one| {
        let stage = one.stage.unwrap_or(usize::MAX);
        (!one.decides, !one.holds_the_verdict, stage)
    });
    let mut fields = Vec::new();
    for question in &all {
        let places = question.paths().into_iter();
        let places = places.filter(|place| !not_known.contains(place));
        for places in together(question, places.collect()) {
            fields.push(field(fields.len(), question, places, rules));
        }
    }
    fields
}

/// What is alike for several is asked once; what is read off an instrument, of each by itself.
fn together(question: &Question<'_>, places: Vec<String>) -> Vec<Vec<String>> {
    match question.answers {
        _ if places.is_empty() => Vec::new(),
        Answers::OneOf(_) | Answers::InOneWord(_) => vec![places],
        _ => places.into_iter().map(|place| vec![place]).collect(),
    }
}

fn field(number: usize, question: &Question<'_>, places: Vec<String>, rules: &Rules) -> Field {
    let called = match places.as_slice() {
        [one] => one.clone(),
        _ => question.place(),
    };
    let whose = whose(&places);
    Field {
        id: format!("next-{number}"),
        called,
        meaning: format!("{}{whose}", question.meaning),
        writes: writes(question, rules),
        own: None,
        of_bench: None,
        places,
    }
}

/// `, K4 K7`: whose entries are meant, so that a label says it.
fn whose(places: &[String]) -> String {
    let names = places.iter().filter_map(|place| {
        let (_, rest) = place.split_once('[')?;
        rest.split_once(']').map(|(name, _)| name)
    });
    let names: Vec<&str> = names.collect();
    match names.is_empty() {
        true => String::new(),
        false => format!(", {}", names.join(" ")),
    }
}

fn writes(question: &Question<'_>, rules: &Rules) -> Writes {
    match &question.answers {
        Answers::OneOf(words) => {
            let key = question.key.unwrap_or_default();
            let fact = fact_at(question.section, key, rules).unwrap_or_default();
            Writes::Words(Word::options_of(fact, words.to_vec()))
        }
        Answers::InOneWord(word) => Writes::Words(Word::saying(words_of(word))),
        Answers::Quantity { kind, unit } => Writes::Number {
            kind: (*kind).to_owned(),
            unit: (*unit).to_owned(),
        },
        Answers::Like(example) => Writes::Like((*example).to_owned()),
        _ => Writes::Text,
    }
}
