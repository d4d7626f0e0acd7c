//! An explanation as text.

use rules_core::report::text::{Page, Part, Role, basis};
use rules_core::ruleset::{IfUnmeasured, Loosening, Refused, WrittenCase, WrittenCaution};

use super::explanation::Explanation;
use crate::commands::limits::write_limit;

const INDENT: usize = 2;
const HANG: usize = 18;

pub(super) fn write(explanation: &Explanation<'_>, page: &mut Page<'_>) {
    let caution = explanation.caution;
    let name = Part::new(Role::Heading, caution.id.as_str());
    page.paragraph(0, &[name, Part::text(format!(": {}", caution.title))]);
    page.gap();
    conditions(explanation, page);
    entry("Reason:", &caution.reason, page);
    optional("Remedy:", caution.remedy.as_deref(), page);
    bases(explanation, page);
    entry("Defined at:", &explanation.place.to_string(), page);
    definitions(explanation, page);
    cases(&caution.cases, page);
    of_limits_before(explanation, page);
}

/// The cases of a caution are those of its file, which knows nothing of a later adjustment.
fn of_limits_before(explanation: &Explanation<'_>, page: &mut Page<'_>) {
    let mut limits = explanation.limits.values();
    let adjusted = limits.any(|limit| !limit.adjusted.is_empty());
    if adjusted && !explanation.caution.cases.is_empty() {
        let said = "Cases may rest on what a limit was before it was adjusted.";
        page.paragraph(INDENT, &[Part::new(Role::Quiet, said)]);
    }
}

fn conditions(explanation: &Explanation<'_>, page: &mut Page<'_>) {
    let caution = explanation.caution;
    let applies_when = caution.applies_when.as_deref().unwrap_or("always");
    entry("About:", &caution.about, page);
    optional("Stage:", explanation.stage.as_deref(), page);
    for one in &explanation.loosened {
        entry("Moved:", &moved(one), page);
    }
    entry("Applies when:", applies_when, page);
    optional("Refuses unless:", caution.refuse_unless.as_deref(), page);
    optional("Warns unless:", caution.warn_unless.as_deref(), page);
    entry("If unmeasured:", if_unmeasured(caution), page);
    optional("Refused:", explanation.refused.map(refused), page);
    let fixed = caution.fixed.then_some("no other ruleset may drop it");
    optional("Fixed:", fixed, page);
}

/// `from sorting to using by our-club. Reason given: ...`
fn moved(one: &Loosening) -> String {
    let Loosening {
        from,
        to,
        by,
        because,
        ..
    } = one;
    format!("from {from} to {to} by {by}. Reason given: {because}")
}

/// What it gives if a measurement is missing, by section 6 of the language.
const fn if_unmeasured(caution: &WrittenCaution) -> &'static str {
    match (
        caution.if_unmeasured,
        caution.refuse_unless.is_some(),
        caution.warn_unless.is_some(),
    ) {
        (Some(IfUnmeasured::Warn), true, _) => "warns, and says that it could refuse",
        (Some(IfUnmeasured::Refuse), ..) | (None, true, false) => "refuses",
        (None, true, true) => "refuses; if only the warning is left open, warns",
        (_, false, _) => "warns",
    }
}

/// What becomes of the cell that is refused.
const fn refused(refused: Refused) -> &'static str {
    match refused {
        Refused::KeepOut => "keep-out: the cell is kept out of this use, and may serve in another",
        Refused::SetAside => "set-aside: the cell is used nowhere as it is now",
        Refused::Retire => "retire: the cell is not used again",
    }
}

fn bases(explanation: &Explanation<'_>, page: &mut Page<'_>) {
    for (at, one) in explanation.caution.basis.iter().enumerate() {
        let label = if at == 0 { "Basis:" } else { "" };
        entry(label, &basis(one, &explanation.sources), page);
    }
}

fn definitions(explanation: &Explanation<'_>, page: &mut Page<'_>) {
    heading("Limits", explanation.limits.is_empty(), page);
    for (name, limit) in &explanation.limits {
        write_limit(limit, INDENT, name, &explanation.sources, page);
    }
    heading("Figures", explanation.figures.is_empty(), page);
    for (name, figure) in &explanation.figures {
        let name = Part::new(Role::Label, *name);
        let text = Part::text(format!(" is {}: {}.", figure.is, figure.meaning));
        page.item(INDENT, INDENT + 4, &[name, text]);
    }
    heading("Facts", explanation.facts.is_empty(), page);
    for fact in &explanation.facts {
        fact.write(page);
    }
}

fn cases(cases: &[WrittenCase], page: &mut Page<'_>) {
    heading("Cases", false, page);
    if cases.is_empty() {
        page.paragraph(INDENT, &[Part::text("None.")]);
    }
    for case in cases {
        let expected = Part::new(Role::Label, format!("{}:", expected(case)));
        let given = Part::text(format!(" {}", given(case)));
        page.item(INDENT, INDENT + 4, &[expected, given]);
    }
}

fn entry(label: &str, text: &str, page: &mut Page<'_>) {
    let label = Part::new(Role::Label, label);
    page.entry(INDENT, &[label], HANG, &[Part::text(text)]);
}

fn optional(label: &str, text: Option<&str>, page: &mut Page<'_>) {
    if let Some(text) = text {
        entry(label, text, page);
    }
}

fn heading(text: &str, nothing_follows: bool, page: &mut Page<'_>) {
    if !nothing_follows {
        page.gap();
        page.paragraph(0, &[Part::new(Role::Heading, text)]);
    }
}

/// What a case expects.
fn expected(case: &WrittenCase) -> String {
    let mut words = vec![case.expect.word().to_owned()];
    if case.doubt {
        words.push("in doubt".to_owned());
    }
    if !case.unmeasured.is_empty() {
        words.push(format!("unmeasured ({})", case.unmeasured.join(", ")));
    }
    words.join(", ")
}

/// The facts of a case, on a line.
fn given(case: &WrittenCase) -> String {
    let given = match &case.given {
        serde_json::Value::Object(facts) if facts.is_empty() => "nothing given".to_owned(),
        serde_json::Value::Object(facts) => {
            let facts = facts.iter();
            let facts = facts.map(|(name, value)| format!("{name} {}", plain(value)));
            facts.collect::<Vec<_>>().join(", ")
        }
        other => plain(other),
    };
    match &case.note {
        Some(note) => format!("{given} ({note})"),
        None => given,
    }
}

/// A text without its quotes, anything else as JSON.
fn plain(value: &serde_json::Value) -> String {
    match value.as_str() {
        Some(text) => text.to_owned(),
        None => value.to_string(),
    }
}
