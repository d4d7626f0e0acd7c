//! Small rules for tests of jobs.

use rules_core::ruleset::{Rules, Texts};

use crate::rules_from_texts;

/// Cautions, each by its name and the rest of it.
pub(super) fn rules(cautions: &[(&str, &str)]) -> Rules {
    let mut text =
        String::from("format: 1\nruleset: small\nversion: 1.0.0\ntitle: Small\ncautions:\n");
    for (id, rest) in cautions {
        text += &format!(
            "  - {{ id: {id}, title: {id}, {rest}, reason: So, basis: [{{ common_practice: so }}] }}\n"
        );
    }
    rules_from_texts(&["small.yaml"], Texts::of([("small.yaml", text.as_str())])).unwrap()
}

pub(super) const WRAP: (&str, &str) = (
    "wrap",
    "about: each cell, refuse_unless: cell.wrap == intact",
);
