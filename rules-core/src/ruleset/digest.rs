//! The digest of a merged ruleset.

use sha2::{Digest, Sha256};

use super::print::WrittenRuleset;

/// The merged ruleset as `cellrules merged` prints it: JSON with two spaces, keys in order, a line
/// end at the end.
pub(super) fn normal_form(written: &WrittenRuleset) -> String {
    let mut text = serde_json::to_string_pretty(written).unwrap_or_default();
    text.push('\n');
    text
}

/// SHA-256 of the normal form, as `sha256:` and 64 hexadecimal digits.
pub(super) fn digest(written: &WrittenRuleset) -> String {
    let hash = Sha256::digest(normal_form(written).as_bytes());
    let digits: String = hash.iter().map(|byte| format!("{byte:02x}")).collect();
    format!("sha256:{digits}")
}
