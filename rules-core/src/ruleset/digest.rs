//! The digest of a merged ruleset.

use sha2::{Digest, Sha256};

use super::print::WrittenRuleset;
use crate::document::json_text;

/// The merged ruleset as `cellrules merged` prints it: JSON with two spaces, keys in order, a line
/// end at the end, and what acts on a terminal as escapes.
pub(super) fn normal_form(written: &WrittenRuleset) -> String {
    json_text(written).unwrap_or_default()
}

/// SHA-256 of the normal form, as `sha256:` and 64 hexadecimal digits.
pub(super) fn digest(written: &WrittenRuleset) -> String {
    let hash = Sha256::digest(normal_form(written).as_bytes());
    let digits: String = hash.iter().map(|byte| format!("{byte:02x}")).collect();
    format!("sha256:{digits}")
}
