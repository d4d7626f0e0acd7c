//! Lines, areas and words of a drawing. What they look like is in the style sheet alone.

use super::scale::Scale;
use crate::pages::html::Html;
use crate::pages::paper::wide;

/// A place on a drawing: across from the left, down from the top.
pub(super) type Place = (f64, f64);

/// How wide a drawing is, in units of its own; text is 13 of them high.
pub(super) const WIDTH: f64 = 600.0;

/// A drawing being made.
pub(super) struct Drawing<'h> {
    html: &'h mut Html,
}

/// What names a drawing to those who do not see it. The id is the page's alone.
pub(super) struct Named<'a> {
    pub(super) id: String,
    pub(super) title: &'a str,
    pub(super) words: &'a str,
}

/// A figure: the drawing, its words below, and then what follows, which is its table.
pub(super) fn figure(
    named: &Named<'_>,
    height: f64,
    html: &mut Html,
    draw: impl FnOnce(&mut Drawing<'_>),
    then: impl FnOnce(&mut Html),
) {
    let (title_id, words_id) = (format!("{}-title", named.id), format!("{}-words", named.id));
    let labelled = format!("{title_id} {words_id}");
    let view = format!("0 0 {WIDTH} {height}");
    html.element("figure", &[], |html| {
        html.element("div", &wide(named.title), |html| {
            let attributes = [
                ("xmlns", "http://www.w3.org/2000/svg"),
                ("viewBox", view.as_str()),
                ("role", "img"),
                ("aria-labelledby", labelled.as_str()),
            ];
            html.element("svg", &attributes, |html| {
                html.said("title", &[("id", &title_id)], named.title);
                html.said("desc", &[("id", &words_id)], named.words);
                draw(&mut Drawing { html });
            });
        });
        html.element("figcaption", &[], |html| {
            html.said("strong", &[], named.title);
            html.text(" ");
            html.text(named.words);
        });
        then(html);
    });
}

impl Drawing<'_> {
    /// A straight line.
    pub(super) fn line(&mut self, class: &'static str, from: Place, to: Place) {
        let (x1, y1, x2, y2) = (units(from.0), units(from.1), units(to.0), units(to.1));
        let places = [("x1", &*x1), ("y1", &*y1), ("x2", &*x2), ("y2", &*y2)];
        let all = [&[("class", class)], places.as_slice()].concat();
        self.html.empty("line", &all);
    }

    /// A rectangle between two corners.
    pub(super) fn area(&mut self, class: &'static str, one: Place, other: Place) {
        self.filled(class, None, one, other);
    }

    /// A rectangle with a class, and a pattern of this drawing over what the class gives it.
    pub(super) fn filled(
        &mut self,
        class: &'static str,
        pattern: Option<&'static str>,
        one: Place,
        other: Place,
    ) {
        let (x, y) = (units(one.0.min(other.0)), units(one.1.min(other.1)));
        let width = units((one.0 - other.0).abs());
        let height = units((one.1 - other.1).abs());
        let places = [
            ("x", &*x),
            ("y", &*y),
            ("width", &*width),
            ("height", &*height),
        ];
        let all = [&[("class", class)], places.as_slice()].concat();
        self.html.empty("rect", &all);
        if let Some(pattern) = pattern {
            let all = [&[("fill", pattern)], places.as_slice()].concat();
            self.html.empty("rect", &all);
        }
    }

    /// An area with these corners.
    pub(super) fn polygon(&mut self, class: &'static str, corners: &[Place]) {
        let places: Vec<String> = corners
            .iter()
            .map(|(x, y)| format!("{},{}", units(*x), units(*y)))
            .collect();
        let attributes = [("class", class), ("points", &*places.join(" "))];
        self.html.empty("polygon", &attributes);
    }

    /// A dot.
    pub(super) fn dot(&mut self, class: &'static str, (x, y): Place, size: f64) {
        let (x, y, size) = (units(x), units(y), units(size));
        let attributes = [("class", class), ("cx", &x), ("cy", &y), ("r", &size)];
        self.html.empty("circle", &attributes);
    }

    /// Words, at the place where their base line starts, ends or has its middle.
    pub(super) fn text(&mut self, class: &'static str, (x, y): Place, text: &str) {
        let (x, y) = (units(x), units(y));
        let attributes = [("class", class), ("x", &*x), ("y", &*y)];
        self.html.said("text", &attributes, text);
    }

    /// The round values of a scale that goes up, each with a line from one side to the other.
    pub(super) fn grid_up(&mut self, scale: Scale, (left, right): (f64, f64)) {
        for (value, text) in scale.ticks() {
            let y = scale.at(value);
            self.line("grid", (left, y), (right, y));
            self.text("end", (left - 6.0, y + 4.5), &text);
        }
    }

    /// The round values of a scale that goes across, below an axis at this height.
    pub(super) fn ticks_across(&mut self, scale: Scale, height: f64) {
        for (value, text) in scale.ticks() {
            let x = scale.at(value);
            self.line("axis", (x, height), (x, height + 5.0));
            self.text("middle", (x, height + 20.0), &text);
        }
    }

    /// Elements of another kind.
    pub(super) fn html(&mut self) -> &mut Html {
        self.html
    }
}

fn units(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}
