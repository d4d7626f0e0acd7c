//! Any text as a formula: parsed, and as the rung of a caution about each cell.

use rules_core::formula::{FormulaFault, Tree, parse};
use serde_json::json;

use super::loaded::{HARDLY_KNOWN, MEASURED, checked, rules};

/// A formula is read or refused with a place in it; as a rung it gives reports that keep their
/// promises, and knowing less never gives a better worst verdict.
pub fn any(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    match parse(&text) {
        Ok(tree) => has_its_places(&tree, &text),
        Err(fault) => says_where_and_why(&fault, &text),
    }
    for about in ["each cell", "build"] {
        as_a_rung(&text, about);
    }
}

fn has_its_places(tree: &Tree, text: &str) {
    assert!(
        text.get(tree.span.clone()).is_some(),
        "{:?} is no place in `{text}`",
        tree.span
    );
    for (subject, name) in tree.names() {
        assert!(text.contains(subject) && text.contains(name));
    }
}

fn says_where_and_why(fault: &FormulaFault, text: &str) {
    assert!(
        text.get(fault.span.clone()).is_some(),
        "{:?} is no place in `{text}`",
        fault.span
    );
    assert!(!fault.message.is_empty());
}

fn as_a_rung(text: &str, about: &str) {
    let ruleset = json!({
        "format": 1, "ruleset": "any", "version": "1.0.0", "title": "Any formula",
        "limits": { "least": { "value": "3.00 V", "stricter": "higher", "meaning": "A limit" } },
        "figures": { "doubled": { "about": "build", "is": "2 * build.current", "meaning": "A figure" } },
        "cautions": [{ "id": "any", "title": "Any", "about": about, "refuse_unless": text, "reason": "it fails", "if_unmeasured": "warn" }],
    });
    let Some(rules) = rules("any.json", ruleset.to_string().as_bytes()) else {
        return;
    };
    let more = checked(&rules, &MEASURED);
    let less = checked(&rules, &HARDLY_KNOWN);
    let (Some(more), Some(less)) = (more, less) else {
        panic!("neither proposal gives facts that rules have to declare")
    };
    assert!(
        less.gravest().worst >= more.gravest().worst,
        "knowing less must not make the worst verdict better"
    );
}
