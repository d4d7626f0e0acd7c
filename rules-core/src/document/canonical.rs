//! Digests of documents in canonical form: comments and ways of writing do not count, everything
//! that is said does.

use sha2::{Digest, Sha256};

use super::node::{Content, Entry, Node};

/// The digest of a document: `sha256:` and 64 hexadecimal digits, of its canonical form. That is JSON
/// as RFC 8785 writes it, with each scalar as a text.
#[must_use]
pub fn digest(document: &Node<'_>) -> String {
    let mut text = String::new();
    write(document, &mut text);
    let hash = Sha256::digest(text.as_bytes());
    let digits: String = hash.iter().map(|byte| format!("{byte:02x}")).collect();
    format!("sha256:{digits}")
}

fn write(node: &Node<'_>, to: &mut String) {
    match &node.content {
        Content::Nothing => to.push_str("null"),
        Content::Scalar(scalar) => string(&scalar.text, to),
        Content::List(items) => {
            joined('[', items.iter(), ']', to, write);
        }
        Content::Map(entries) => {
            let mut sorted: Vec<&Entry<'_>> = entries.iter().collect();
            // The RFC orders keys by their UTF-16 code units.
            sorted.sort_by(|a, b| a.key.encode_utf16().cmp(b.key.encode_utf16()));
            joined('{', sorted.into_iter(), '}', to, |entry, to| {
                string(&entry.key, to);
                to.push(':');
                write(&entry.node, to);
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
