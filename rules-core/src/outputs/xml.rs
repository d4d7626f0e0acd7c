//! Elements of XML 1.0 with their text and attributes.

use std::borrow::Cow;

use quick_xml::escape::escape;

use super::said::one_line;
use crate::document::harmless;

/// An attribute, with the space before it. It is one line: readers take the end of a line in an attribute
/// for a space.
pub(super) fn attribute(name: &str, value: &str) -> String {
    let value = allowed(&one_line(value)).into_owned();
    format!(" {name}=\"{}\"", escape(value))
}

/// An element that holds text, on lines of its own.
pub(super) fn element(name: &str, attributes: &str, text: &str) -> String {
    format!("<{name}{attributes}>{}</{name}>\n", content(text))
}

/// Text between tags. What XML cannot hold, and what acts where it is shown, is written out as
/// `\u{1b}`.
fn content(text: &str) -> String {
    let lines = text.split('\n').map(|line| {
        let line = harmless(line);
        escape(allowed(&line).into_owned()).into_owned()
    });
    lines.collect::<Vec<_>>().join("\n")
}

/// Two characters that are no control characters and that XML 1.0 cannot hold (production 2).
fn allowed(text: &str) -> Cow<'_, str> {
    match text.contains(['\u{fffe}', '\u{ffff}']) {
        true => text
            .replace('\u{fffe}', "\\u{fffe}")
            .replace('\u{ffff}', "\\u{ffff}")
            .into(),
        false => text.into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_of_a_text_is_taken_for_xml() {
        assert_eq!(
            attribute("name", "<a b=\"c\">&']]>\nd"),
            " name=\"&lt;a b=&quot;c&quot;&gt;&amp;&apos;]]&gt; d\""
        );
        assert_eq!(
            element("out", "", "]]></out>\nb\u{1b}\u{0}\u{fffe}"),
            "<out>]]&gt;&lt;/out&gt;\nb\\u{1b}\\u{0}\\u{fffe}</out>\n"
        );
    }
}
