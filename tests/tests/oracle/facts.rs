//! Facts: what there can be, and what a proposal gives, read from its document by LANGUAGE.md
//! sections 2 to 4.

use std::collections::BTreeMap;

use rules_core::facts::FactKind;
use rules_core::quantity::{Kind, Nature};
use unicode_normalization::UnicodeNormalization as _;

use super::number::{Number, Span};
use super::quantity::{Taking, Tolerance, bare, decimal, half_by, said, unit};
use crate::generate::document::Doc;

/// What values a fact can have.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Values {
    Number(Kind),
    Choice(Vec<String>),
    YesNo,
    Text,
}

/// A fact.
#[derive(Debug, Clone)]
pub(crate) struct Def {
    pub(crate) values: Values,
    pub(crate) domain: Span,
    nature: Nature,
    /// Its keys in the section of its subject.
    keys: Vec<String>,
    none_is_zero: bool,
}

/// Facts by their whole names.
pub(crate) type Defs = BTreeMap<String, Def>;

/// A value that is given.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Given {
    /// What it says, and its nominal value.
    Number(Number, Number),
    Choice(String),
    YesNo(bool),
    Text(String),
}

/// What is given, by whole names.
pub(crate) type Facts = BTreeMap<String, Given>;

/// The facts of the trade: the table of what there is, where it is, and of what kind it is.
pub(crate) fn catalogue() -> Defs {
    let catalogue = rulesets::catalogue();
    let each = catalogue.facts().map(|(_, def)| {
        let name = format!("{}.{}", catalogue.subject_name(def.subject), def.name);
        let values = match &def.kind {
            FactKind::Number(kind) => Values::Number(*kind),
            FactKind::Choice(options) => Values::Choice(options.clone()),
            FactKind::YesNo => Values::YesNo,
            FactKind::Id | FactKind::Text => Values::Text,
        };
        let keys = def
            .key
            .iter()
            .flat_map(|key| key.split('.'))
            .map(str::to_owned)
            .collect();
        let domain = Span {
            low: super::end::End::exact(def.domain.lo()),
            high: super::end::End::exact(def.domain.hi()),
        };
        (
            name,
            Def {
                values,
                domain,
                nature: def.nature,
                keys,
                none_is_zero: def.none_is_zero,
            },
        )
    });
    each.collect()
}

/// Facts that a ruleset declares.
pub(crate) fn declared(doc: &Doc) -> Defs {
    let each = doc
        .get("facts")
        .map(Doc::entries)
        .unwrap_or_default()
        .iter()
        .map(|(name, doc)| {
            let kind = doc.text_of("kind").unwrap();
            let options = || {
                doc.get("options")
                    .map(Doc::items)
                    .unwrap_or_default()
                    .iter()
                    .map(|option| option.text().to_owned())
                    .collect()
            };
            let values = match kind {
                "choice" => Values::Choice(options()),
                "yes-no" => Values::YesNo,
                "text" => Values::Text,
                kind => {
                    Values::Number(*Kind::ALL.iter().find(|known| known.name() == kind).unwrap())
                }
            };
            let number = if let Values::Number(kind) = values {
                Some(kind)
            } else {
                None
            };
            let all = if number == Some(Kind::Count) {
                Span {
                    low: super::end::End::ZERO,
                    ..Span::WHOLE
                }
            } else {
                Span::WHOLE
            };
            let domain = doc
                .text_of("domain")
                .map_or(all, |text| said(text, number, Taking::Stated).number.span);
            let nature = if doc.text_of("nature") == Some("measured") {
                Nature::Measured
            } else {
                Nature::Stated
            };
            let keys = vec![
                "extra".to_owned(),
                name.split_once('.').unwrap().1.to_owned(),
            ];
            (
                name.clone(),
                Def {
                    values,
                    domain,
                    nature,
                    keys,
                    none_is_zero: false,
                },
            )
        });
    each.collect()
}

/// The meters that rules assume, by kind: of several the widest counts.
pub(crate) type Assumed = BTreeMap<Kind, Vec<Tolerance>>;

/// The meters of a proposal, and those that are assumed where it has none.
pub(crate) struct Meters<'a> {
    stated: BTreeMap<Kind, Tolerance>,
    assumed: &'a Assumed,
}

/// How wide a reading is by the widest of some meters.
fn widest(text: &str, kind: Kind, meters: &[Tolerance]) -> Option<f64> {
    let halves = meters.iter().map(|meter| half_by(text, kind, *meter));
    halves
        .collect::<Option<Vec<f64>>>()?
        .into_iter()
        .reduce(f64::max)
}

impl Meters<'_> {
    /// Whether the stated meter makes a reading wider than the one that is assumed.
    fn is_too_coarse(&self, def: &Def, text: &str) -> bool {
        let Values::Number(kind) = def.values else {
            return false;
        };
        let stated = self
            .stated
            .get(&kind)
            .filter(|_| def.nature == Nature::Measured);
        let halves = stated
            .zip(self.assumed.get(&kind))
            .and_then(|(stated, assumed)| {
                Some((half_by(text, kind, *stated)?, widest(text, kind, assumed)?))
            });
        halves.is_some_and(|(stated, worst)| stated - worst > 1e-9 * stated.max(1e-3))
    }
}

/// Whether a section or an entry has a reading for which the stated meter is too coarse.
pub(crate) fn any_too_coarse(
    subject: &str,
    section: &Doc,
    defs: &Defs,
    meters: &Meters<'_>,
) -> bool {
    texts(subject, section, defs).any(|(_, def, text)| meters.is_too_coarse(def, text))
}

pub(crate) fn meters<'a>(proposal: &Doc, assumed: &'a Assumed) -> Meters<'a> {
    let kind = |name: &str| *Kind::ALL.iter().find(|kind| kind.name() == name).unwrap();
    let all = proposal.get("meters").map(Doc::entries).unwrap_or_default();
    let of_kind = |(name, tolerance): &(String, Doc)| {
        let meter = Tolerance::of_meter(tolerance.text(), kind(name));
        (kind(name), meter)
    };
    Meters {
        stated: all.iter().map(of_kind).collect(),
        assumed,
    }
}

/// The facts that a section or an entry of `cells` gives of a subject.
pub(crate) fn given(subject: &str, section: &Doc, defs: &Defs, meters: &Meters<'_>) -> Facts {
    let all = texts(subject, section, defs);
    all.map(|(name, def, text)| (name.clone(), value(def, text, meters)))
        .collect()
}

/// What a section or an entry says of each fact.
fn texts<'d>(
    subject: &'d str,
    section: &'d Doc,
    defs: &'d Defs,
) -> impl Iterator<Item = (&'d String, &'d Def, &'d str)> {
    let own = defs.iter().filter(move |(name, def)| {
        name.split_once('.').unwrap().0 == subject && !def.keys.is_empty()
    });
    own.filter_map(move |(name, def)| {
        let mut keys = def.keys.iter();
        let found = keys.try_fold(section, |doc, key| doc.get(key))?;
        Some((name, def, found.text()))
    })
}

pub(crate) fn value(def: &Def, text: &str, meters: &Meters<'_>) -> Given {
    match &def.values {
        Values::Number(_) if def.none_is_zero && text == "none" => Given::exactly(0.0),
        Values::Number(kind) => number(*kind, def, text, meters),
        Values::Choice(_) => Given::Choice(text.to_owned()),
        Values::YesNo => Given::YesNo(matches!(text, "yes" | "true")),
        Values::Text => Given::Text(normal(text)),
    }
}

/// A text or an id in the form in which it is compared: spaces around it left out, several one, and
/// NFC. What is wrong in them is an error, and never read here.
pub(crate) fn normal(text: &str) -> String {
    let words: Vec<&str> = text.split(' ').filter(|word| !word.is_empty()).collect();
    words.join(" ").nfc().collect()
}

fn number(kind: Kind, def: &Def, text: &str, meters: &Meters<'_>) -> Given {
    let meter = meters.stated.get(&kind).copied();
    let assumed = meters.assumed.get(&kind).filter(|_| meter.is_none());
    let half = assumed.and_then(|assumed| widest(text, kind, assumed));
    let taking = match def.nature {
        Nature::Measured if half.is_some() => Taking::Within(half.unwrap()),
        Nature::Measured => Taking::Measured(meter),
        // No meter has a part in what a label says.
        Nature::Printed => Taking::Measured(None),
        Nature::Stated => Taking::Stated,
    };
    let said = said(text, Some(kind), taking);
    let cut = |number: Number| Number {
        span: number.span.cut(def.domain),
        ..number
    };
    // A nominal value outside the domain is past one of its ends, and is cut to that end alone.
    let nominal = said.nominal.span.within(def.domain);
    Given::Number(
        cut(said.number),
        Number {
            span: nominal,
            ..said.nominal
        },
    )
}

impl Given {
    pub(crate) fn exactly(value: f64) -> Self {
        Self::between(value, value)
    }

    pub(crate) fn between(low: f64, high: f64) -> Self {
        let span = Span {
            low: super::end::End::exact(low),
            high: super::end::End::exact(high),
        };
        Self::Number(
            Number::plain(span),
            Number::plain(Span::exact(f64::midpoint(low, high))),
        )
    }
}

/// `draw` is a current or a power.
pub(crate) fn draw(light: &Doc, defs: &Defs, meters: &Meters<'_>) -> Option<(String, Given)> {
    let text = light.text_of("draw")?;
    let before = ["±", "+/-"]
        .iter()
        .find_map(|mark| text.split_once(mark))
        .map_or(text, |(before, _)| before);
    let amount = before.rsplit("..").next().unwrap();
    let (_, rest) = decimal(bare(amount)).unwrap();
    let kind = unit(bare(rest)).unwrap().0;
    let name = if kind == Kind::Power {
        "light.draw_power"
    } else {
        "light.draw_current"
    };
    Some((name.to_owned(), value(&defs[name], text, meters)))
}

/// What follows from a designation: IEC 61960's `INR19/66`, or the trade's `ICR18650`.
pub(crate) fn coded(designation: &str) -> Facts {
    let (class, size) = bare(designation).split_at(3);
    let mut facts = sized(size);
    facts.insert("cell.class".to_owned(), Given::Choice(class.to_owned()));
    facts
}

/// What follows from the code of a size: `19/66`, or the trade's `18650`.
pub(crate) fn sized(size: &str) -> Facts {
    let [diameter, length] = sides(size);
    let facts = [
        ("cell.code_diameter", Given::between(diameter.0, diameter.1)),
        ("cell.code_length", Given::between(length.0, length.1)),
    ];
    facts.map(|(name, given)| (name.to_owned(), given)).into()
}

/// What a designation and the code of a size allow both, if there is any.
pub(crate) fn sized_by_both(size: &str, designation: &str) -> Option<Facts> {
    let (_, other) = bare(designation).split_at(3);
    let [one, other] = [sides(size), sides(other)];
    let both = [0, 1].map(|side| {
        (
            one[side].0.max(other[side].0),
            one[side].1.min(other[side].1),
        )
    });
    if both.iter().any(|(low, high)| low > high) {
        return None;
    }
    let facts = [
        ("cell.code_diameter", Given::between(both[0].0, both[0].1)),
        ("cell.code_length", Given::between(both[1].0, both[1].1)),
    ];
    Some(facts.map(|(name, given)| (name.to_owned(), given)).into())
}

/// Diameter and length in millimetres, each from and to.
fn sides(size: &str) -> [(f64, f64); 2] {
    let number = |text: &str| text.parse::<f64>().unwrap();
    match bare(size).split_once('/') {
        Some((diameter, height)) => [
            (number(diameter) - 1.0, number(diameter)),
            (number(height) - 1.0, number(height)),
        ],
        None => {
            let (diameter, length) = bare(size).split_at(2);
            let in_one = if length.len() == 3 { 10.0 } else { 1.0 };
            let (diameter, length) = (number(diameter), number(length) / in_one);
            [(diameter, diameter + 1.0), (length, length)]
        }
    }
}
