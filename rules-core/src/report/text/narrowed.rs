//! What would narrow a figure, in words.

use super::group::subjects;
use crate::check::{AnsweredFact, NarrowedBy};

/// As a sentence.
pub(super) fn sentence(narrowed: &NarrowedBy) -> String {
    let clause = clause(narrowed);
    clause
        .strip_prefix('n')
        .map_or(clause.clone(), |rest| format!("N{rest}"))
}

/// `narrower with room.warmth (say 20 degC): 3.2 A ± 0.1 A`: the values are typical ones.
pub(super) fn clause(narrowed: &NarrowedBy) -> String {
    let mut asked: Vec<(&str, String)> = Vec::new();
    for answer in &narrowed.answers {
        let one = (answer.name.as_str(), answer.value.to_string());
        if !asked.contains(&one) {
            asked.push(one);
        }
    }
    // Of many subjects each may have a value of its own: then the names alone are told.
    let mut words: Vec<String> = Vec::new();
    for (name, value) in &asked {
        let several = asked.iter().filter(|(other, _)| other == name).count() > 1;
        let text = if several {
            (*name).to_owned()
        } else {
            format!("{name} (say {value})")
        };
        if !words.contains(&text) {
            words.push(text);
        }
    }
    let of: Vec<&AnsweredFact> = narrowed
        .answers
        .iter()
        .filter(|answer| !answer.subject.is_only())
        .collect();
    let of = if of.is_empty() {
        String::new()
    } else {
        format!(" of {}", subjects(of.iter().map(|answer| &answer.subject)))
    };
    format!("narrower with {}{of}: {}", listed(&words), narrowed.value)
}

fn listed(words: &[String]) -> String {
    match words.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, first)) => format!("{} and {last}", first.join(", ")),
        None => String::new(),
    }
}
