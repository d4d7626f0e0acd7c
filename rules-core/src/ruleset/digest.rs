//! Digests: of one ruleset, as it stands in its file, and of the merged rules of a check.

use sha2::{Digest, Sha256};

use super::written::WrittenRuleset;
use crate::document::{Content, Entry, Node, json_text};

/// The merged ruleset as `cellrules merged` prints it: JSON with two spaces, keys in order, a line
/// end at the end, and what acts on a terminal as escapes.
pub(super) fn normal_form(written: &WrittenRuleset) -> String {
    json_text(written).unwrap_or_default()
}

/// The digest of the merged rules.
pub(super) fn digest(written: &WrittenRuleset) -> String {
    sha256(&normal_form(written))
}

/// The digest of one ruleset: that of the canonical form of its document, so that neither comments
/// nor the way of writing count, but everything that is said.
pub(super) fn of_document(document: &Node<'_>) -> String {
    let mut text = String::new();
    canonical(document, &mut text);
    sha256(&text)
}

/// SHA-256, as `sha256:` and 64 hexadecimal digits.
fn sha256(text: &str) -> String {
    let hash = Sha256::digest(text.as_bytes());
    let digits: String = hash.iter().map(|byte| format!("{byte:02x}")).collect();
    format!("sha256:{digits}")
}

/// JSON as RFC 8785 writes it, with each scalar as a text.
fn canonical(node: &Node<'_>, to: &mut String) {
    match &node.content {
        Content::Nothing => to.push_str("null"),
        Content::Scalar(scalar) => string(&scalar.text, to),
        Content::List(items) => {
            joined('[', items.iter(), ']', to, canonical);
        }
        Content::Map(entries) => {
            let mut sorted: Vec<&Entry<'_>> = entries.iter().collect();
            // The RFC orders keys by their UTF-16 code units.
            sorted.sort_by(|a, b| a.key.encode_utf16().cmp(b.key.encode_utf16()));
            joined('{', sorted.into_iter(), '}', to, |entry, to| {
                string(&entry.key, to);
                to.push(':');
                canonical(&entry.node, to);
            });
        }
    }
}

/// What is written of each of several, with commas between and brackets around.
fn joined<T>(
    open: char,
    all: impl Iterator<Item = T>,
    close: char,
    to: &mut String,
    mut write: impl FnMut(T, &mut String),
) {
    to.push(open);
    for (at, one) in all.enumerate() {
        if at > 0 {
            to.push(',');
        }
        write(one, to);
    }
    to.push(close);
}

/// A string with the escapes of the RFC, which are those of the JSON writer.
fn string(text: &str, to: &mut String) {
    to.push_str(&serde_json::to_string(text).unwrap_or_default());
}
