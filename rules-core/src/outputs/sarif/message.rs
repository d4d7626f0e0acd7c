//! Texts as messages of SARIF, which gives braces and links a meaning.

use super::super::said::one_line;
use super::model::Message;

/// A plain message: braces are doubled (3.11.5 of the standard), and no text of a user becomes a link
/// (3.11.6).
pub(super) fn message(text: &str) -> Message {
    let text = one_line(text).replace('{', "{{").replace('}', "}}");
    Message {
        text: text.replace("](", "] ("),
    }
}
