//! What a part of a range or a map looks like by what it comes to: a ground with a pattern on it, so
//! that no colour is needed to tell them apart.

use super::drawing::{Drawing, Place, WIDTH};
use super::scale::Scale;
use crate::jobs::range::{Class, RangeFact, meaning};
use crate::pages::html::Html;

/// Where the list of looks starts across, and how far its lines are apart.
const COLUMNS: [f64; 2] = [70.0, WIDTH / 2.0 + 30.0];
const STEP: f64 = 26.0;
const SWATCH: (f64, f64) = (30.0, 17.0);
/// The size of the ring that marks what the plan has, and of the ground behind it.
const RING: (f64, f64) = (6.0, 8.5);

/// What is drawn of each class: its ground, and the pattern on it.
const LOOKS: [(Class, &str, Option<&str>); 7] = [
    (Class::Pass, "ground", None),
    (Class::Warn, "ground", Some("url(#look-specks)")),
    (Class::Refuse, "solid", None),
    (Class::Open, "ground", Some("url(#look-hatch)")),
    (Class::Boundary, "pale", None),
    (Class::CannotBe, "ground", Some("url(#look-cross)")),
    (Class::NotSearched, "pale", Some("url(#look-dashes)")),
];

/// The classes among these, each once, in the order of the list.
pub(super) fn drawn(classes: impl Iterator<Item = Class> + Clone) -> Vec<Class> {
    let all = LOOKS.into_iter().map(|(class, ..)| class);
    all.filter(|class| classes.clone().any(|one| one == *class))
        .collect()
}

/// A rectangle that looks like a class.
pub(super) fn fill(class: Class, from: Place, to: Place, drawing: &mut Drawing<'_>) {
    let looks = LOOKS.into_iter().find(|(one, ..)| *one == class);
    if let Some((_, ground, pattern)) = looks {
        drawing.filled(ground, pattern, from, to);
    }
}

/// The ring that marks what the plan has.
pub(super) fn ring(place: Place, drawing: &mut Drawing<'_>) {
    drawing.dot("backing", place, RING.1);
    drawing.dot("own", place, RING.0);
}

/// What the plan has, where that is drawn.
pub(super) fn own(fact: &RangeFact) -> Option<f64> {
    let ([low, high], range) = fact.own_range.zip(fact.range.as_ref())?;
    let own = low.midpoint(high);
    (range.from.value..=range.to.value)
        .contains(&own)
        .then_some(own)
}

/// A line at what the plan has, from one height to another.
pub(super) fn own_line(
    fact: &RangeFact,
    across: Scale,
    (top, bottom): (f64, f64),
    drawing: &mut Drawing<'_>,
) {
    if let Some(x) = own(fact).map(|own| across.at(own)) {
        drawing.line("limit", (x, top), (x, bottom));
        drawing.text("halo", (x + 6.0, top + 12.0), "what the plan has");
    }
}

/// How high the list of so many classes is.
pub(super) fn list_height(drawn: &[Class]) -> f64 {
    let lines = u32::try_from(drawn.len() / COLUMNS.len() + 1).unwrap_or(u32::MAX);
    STEP * f64::from(lines)
}

/// The list of what is drawn, from a height on.
pub(super) fn list(drawn: &[Class], top: f64, drawing: &mut Drawing<'_>) {
    let places = (0_u32..).flat_map(|row| {
        let y = top + STEP * f64::from(row);
        COLUMNS.map(|x| (x, y))
    });
    let said = |class: &Class| (Some(*class), meaning(*class));
    let own = (None, "what the plan has");
    for ((class, words), (x, y)) in drawn.iter().map(said).chain([own]).zip(places) {
        let corner = (x + SWATCH.0, y + SWATCH.1);
        match class {
            Some(class) => {
                fill(class, (x, y), corner, drawing);
                drawing.area("edge", (x, y), corner);
            }
            None => ring((x.midpoint(corner.0), y.midpoint(corner.1)), drawing),
        }
        drawing.text("list", (corner.0 + 8.0, corner.1 - 4.0), words);
    }
}

/// The patterns, which a drawing that fills anything has once.
pub(super) fn patterns(drawing: &mut Drawing<'_>) {
    drawing.html().element("defs", &[], |html| {
        pattern(("look-hatch", "8"), html, |html| {
            stroke("M-2 2 L2 -2 M0 8 L8 0 M6 10 L10 6", html);
        });
        pattern(("look-cross", "8"), html, |html| {
            stroke("M0 0 L8 8 M0 8 L8 0", html);
        });
        pattern(("look-dashes", "10"), html, |html| {
            stroke("M1 5 L6 5", html);
        });
        pattern(("look-specks", "8"), html, |html| {
            let place = [("class", "speck"), ("cx", "4"), ("cy", "4"), ("r", "1.5")];
            html.empty("circle", &place);
        });
    });
}

fn pattern((id, size): (&'static str, &str), html: &mut Html, inside: impl FnOnce(&mut Html)) {
    let attributes = [
        ("id", id),
        ("width", size),
        ("height", size),
        ("patternUnits", "userSpaceOnUse"),
    ];
    html.element("pattern", &attributes, inside);
}

fn stroke(path: &'static str, html: &mut Html) {
    html.empty("path", &[("class", "pen"), ("d", path)]);
}
