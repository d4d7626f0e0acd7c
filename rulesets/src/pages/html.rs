//! HTML that is right by how it is made: what is opened is closed, and a text reaches the page only
//! through functions that escape it. Names of elements and attributes are words of this program.

use rules_core::document::harmless;

/// Attributes of an element: names of this program, values of anybody.
pub type Attributes<'a> = &'a [(&'static str, &'a str)];

/// A page, or a part of one, being written. It is XML as well.
#[derive(Debug, Default)]
pub struct Html {
    written: String,
    /// Where ids begin in it, in order: names of things of the page, and what leads to them.
    ids: Vec<usize>,
}

impl Html {
    /// A part that this writes.
    pub fn written(write: impl FnOnce(&mut Self)) -> Self {
        let mut html = Self::default();
        write(&mut html);
        html
    }

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

    /// An element with [prose](Self::prose) in it.
    pub fn told(&mut self, name: &'static str, attributes: Attributes<'_>, text: &str) {
        self.element(name, attributes, |html| html.prose(text));
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

    /// A text of this program, in which what is to be typed stands between backticks: it is set as
    /// such, without them. One without a partner stays.
    pub fn prose(&mut self, text: &str) {
        let mut rest = text;
        while let Some((before, (typed, after))) = rest
            .split_once('`')
            .and_then(|(before, after)| Some((before, after.split_once('`')?)))
        {
            self.text(before);
            self.said("code", &[], typed);
            rest = after;
        }
        self.text(rest);
    }

    /// A style sheet, which is a file of this program.
    pub fn style(&mut self, sheet: &'static str) {
        self.element("style", &[], |html| html.written.push_str(sheet));
    }

    /// A part that was written by itself.
    pub fn add(&mut self, part: Self) {
        let start = self.written.len();
        self.ids.extend(part.ids.iter().map(|at| start + at));
        self.written.push_str(&part.written);
    }

    /// The same with something before each id, so that two parts of one document have none in common.
    #[must_use]
    pub(super) fn with_ids_after(self, before: &str) -> Self {
        let mut made = Self::default();
        let ends = self.ids.iter().copied().skip(1);
        let first = self.ids.first().copied().unwrap_or(self.written.len());
        made.written
            .push_str(self.written.get(..first).unwrap_or_default());
        for (start, end) in self.ids.iter().zip(ends.chain([self.written.len()])) {
            made.ids.push(made.written.len());
            made.written.push_str(before);
            made.written
                .push_str(self.written.get(*start..end).unwrap_or_default());
        }
        made
    }

    /// A number by which parts are told apart: that of equal parts is equal (FNV-1a).
    pub(super) fn number(&self) -> u32 {
        let mixed = |number: u32, byte: u8| (number ^ u32::from(byte)).wrapping_mul(0x0100_0193);
        self.written.bytes().fold(0x811c_9dc5, mixed)
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
            let start = self.written.len();
            escape(value, &mut self.written);
            let ids = ids_in(name, value).map(|at| start + at);
            self.ids.extend(ids);
            self.written.push('"');
        }
    }
}

/// Where ids begin in the value of an attribute. They are words of this program, of which nothing is
/// escaped.
fn ids_in(name: &str, value: &str) -> impl Iterator<Item = usize> {
    let first = match name {
        "id" | "for" | "aria-labelledby" | "aria-describedby" => Some(0),
        _ => value.starts_with(FILLED_BY).then_some(FILLED_BY.len()),
    };
    let others = value
        .match_indices(' ')
        .map(|(at, space)| at + space.len())
        .filter(move |_| first == Some(0));
    first.into_iter().chain(others)
}

/// What stands before the id of a pattern that fills a shape.
const FILLED_BY: &str = "url(#";

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

    #[test]
    fn what_is_to_be_typed_is_set_as_such() {
        let html = Html::written(|html| html.told("p", &[], "`a<b`: write `c` or `d"));
        assert_eq!(
            html.written,
            "<p><code>a&lt;b</code>: write <code>c</code> or `d</p>"
        );
    }

    #[test]
    fn ids_become_those_of_a_part() {
        let attributes = [
            ("id", "a"),
            ("title", "url of b"),
            ("aria-labelledby", "a b"),
            ("fill", "url(#c)"),
        ];
        let first = Html::written(|html| html.said("p", &attributes, "id=\"a\" url(#d)"));
        let both = Html::written(|html| {
            html.text("no id here ");
            html.add(first);
            html.said("i", &[("id", "b")], "after");
        });
        assert_eq!(
            both.with_ids_after("x-").written,
            "no id here <p id=\"x-a\" title=\"url of b\" aria-labelledby=\"x-a x-b\" \
             fill=\"url(#x-c)\">id=&quot;a&quot; url(#d)</p><i id=\"x-b\">after</i>"
        );
        let without = Html::written(|html| html.text("plain"));
        assert_eq!(without.with_ids_after("x-").written, "plain");
    }
}
