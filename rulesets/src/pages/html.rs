//! HTML that is right by how it is made: what is opened is closed, and a text reaches the page only
//! through functions that escape it. Names of elements and attributes are words of this program.

use rules_core::document::harmless;

/// Attributes of an element: names of this program, values of anybody.
pub type Attributes<'a> = &'a [(&'static str, &'a str)];

/// A page, or a part of one, being written. It is XML as well.
#[derive(Debug, Default)]
pub struct Html {
    written: String,
}

impl Html {
    /// An element with something in it.
    pub fn element(
        &mut self,
        name: &'static str,
        attributes: Attributes<'_>,
        inside: impl FnOnce(&mut Self),
    ) {
        self.start(name, attributes);
        self.written.push('>');
        inside(self);
        for piece in ["</", name, ">"] {
            self.written.push_str(piece);
        }
    }

    /// An element with a text in it.
    pub fn said(&mut self, name: &'static str, attributes: Attributes<'_>, text: &str) {
        self.element(name, attributes, |html| html.text(text));
    }

    /// An element that holds nothing.
    pub fn empty(&mut self, name: &'static str, attributes: Attributes<'_>) {
        self.start(name, attributes);
        self.written.push_str("/>");
    }

    /// A text, as it reads.
    pub fn text(&mut self, text: &str) {
        escape(text, &mut self.written);
    }

    /// A style sheet, which is a file of this program.
    pub fn style(&mut self, sheet: &'static str) {
        self.element("style", &[], |html| html.written.push_str(sheet));
    }

    /// A part that was written by itself.
    pub fn add(&mut self, part: Self) {
        self.written.push_str(&part.written);
    }

    /// What was written, to stand in a page.
    #[must_use]
    pub fn part(self) -> String {
        self.written
    }

    /// The whole document.
    #[must_use]
    pub fn document(self) -> String {
        format!("<!DOCTYPE html>\n{}\n", self.written)
    }

    fn start(&mut self, name: &'static str, attributes: Attributes<'_>) {
        self.written.push('<');
        self.written.push_str(name);
        for (name, value) in attributes {
            for piece in [" ", name, "=\""] {
                self.written.push_str(piece);
            }
            escape(value, &mut self.written);
            self.written.push('"');
        }
    }
}

/// Writes a text so that nothing of it is read as markup, in an element and in an attribute alike.
/// Signs that turn or hide what stands beside them are written out.
fn escape(text: &str, into: &mut String) {
    for letter in harmless(text).chars() {
        match letter {
            '&' => into.push_str("&amp;"),
            '<' => into.push_str("&lt;"),
            '>' => into.push_str("&gt;"),
            '"' => into.push_str("&quot;"),
            '\'' => into.push_str("&#39;"),
            // No letters, and no document of XML may hold them.
            '\u{fffe}' | '\u{ffff}' => into.push(char::REPLACEMENT_CHARACTER),
            letter => into.push(letter),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_becomes_markup() {
        let mut html = Html::default();
        let hostile = "</p><script>a & b</script>\"'";
        html.said("p", &[("title", hostile)], hostile);
        let escaped = "&lt;/p&gt;&lt;script&gt;a &amp; b&lt;/script&gt;&quot;&#39;";
        assert_eq!(
            html.written,
            format!("<p title=\"{escaped}\">{escaped}</p>")
        );
    }

    #[test]
    fn signs_that_turn_text_around_are_written_out() {
        let mut html = Html::default();
        html.text("a\u{202e}b\u{0}\u{ffff}");
        assert_eq!(html.written, "a\\u{202e}b\\u{0}\u{fffd}");
    }
}
