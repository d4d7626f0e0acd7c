//! What generated formulas and proposals can speak of: every fact of the catalogue, and facts that
//! generated rulesets declare for the kinds it lacks.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use rules_core::facts::FactKind;
use rules_core::quantity::{Kind, Nature};

use super::document::{Doc, map, text};

/// A subject.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Subject {
    Light,
    Build,
    Protection,
    Charging,
    Conditions,
    Group,
    Cell,
    Pack,
}

/// Subjects there are many of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Many {
    Cells,
    Groups,
    Packs,
}

impl Many {
    pub(crate) const fn subject(self) -> Subject {
        match self {
            Self::Cells => Subject::Cell,
            Self::Groups => Subject::Group,
            Self::Packs => Subject::Pack,
        }
    }

    pub(crate) const fn plural(self) -> &'static str {
        match self {
            Self::Cells => "cells",
            Self::Groups => "groups",
            Self::Packs => "packs",
        }
    }
}

impl Subject {
    pub(crate) const ALL: [Self; 8] = [
        Self::Cell,
        Self::Build,
        Self::Group,
        Self::Light,
        Self::Protection,
        Self::Charging,
        Self::Conditions,
        Self::Pack,
    ];
    pub(crate) const SINGLE: [Self; 5] = [
        Self::Light,
        Self::Build,
        Self::Protection,
        Self::Charging,
        Self::Conditions,
    ];

    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Light => "light",
            Self::Build => "build",
            Self::Protection => "protection",
            Self::Charging => "charging",
            Self::Conditions => "conditions",
            Self::Group => "group",
            Self::Cell => "cell",
            Self::Pack => "pack",
        }
    }

    pub(crate) const fn many(self) -> Option<Many> {
        match self {
            Self::Cell => Some(Many::Cells),
            Self::Group => Some(Many::Groups),
            Self::Pack => Some(Many::Packs),
            _ => None,
        }
    }

    /// As `about` has it.
    pub(crate) fn about(self) -> String {
        if self.many().is_some() {
            format!("each {}", self.name())
        } else {
            self.name().to_owned()
        }
    }
}

/// What a fact can be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Values {
    Number(Kind),
    Choice(Vec<String>),
    YesNo,
    Text,
}

/// A fact, as tests see it.
#[derive(Debug, Clone)]
pub(crate) struct Fact {
    pub(crate) subject: Subject,
    pub(crate) name: String,
    pub(crate) values: Values,
    pub(crate) low: f64,
    pub(crate) high: f64,
    /// Whether it is as good as its digits where no tolerance is written.
    pub(crate) measured: bool,
    /// Whether no meter has a part in it.
    pub(crate) printed: bool,
    pub(crate) place: Place,
    /// Whether a ruleset has to declare it.
    pub(crate) declared: bool,
}

/// Where a proposal gives a fact.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Place {
    /// Under these keys of the subject's section.
    Section(Vec<String>),
    /// Under `extra` of the section, as a ruleset declares it.
    Extra,
    /// Under `draw` of the light.
    Draw,
    /// Nowhere: it follows from something else, or no section is about the subject.
    Derived,
}

/// A fact by its position in the list of all.
pub(crate) type FactAt = usize;

/// All facts.
pub(crate) static FACTS: LazyLock<Vec<Fact>> = LazyLock::new(|| {
    let catalogue = rulesets::catalogue();
    // A test that is set aside has no values: the reason is no fact beside them.
    let facts = catalogue
        .facts()
        .filter(|(_, def)| def.name != "capacity_set_aside");
    let listed = facts.filter_map(|(_, def)| {
        let name = catalogue.subject_name(def.subject);
        let subject = Subject::ALL
            .into_iter()
            .find(|subject| subject.name() == name)?;
        let place = match (&def.key, &*def.name) {
            (Some(key), _) => Place::Section(key.split('.').map(str::to_owned).collect()),
            (None, "draw_current" | "draw_power") => Place::Draw,
            (None, _) => Place::Derived,
        };
        let values = match &def.kind {
            FactKind::Number(kind) => Values::Number(*kind),
            FactKind::Choice(options) => Values::Choice(options.clone()),
            FactKind::YesNo => Values::YesNo,
            FactKind::Id | FactKind::Text => Values::Text,
        };
        Some(Fact {
            subject,
            name: format!("{name}.{}", def.name),
            values,
            low: def.domain.lo(),
            high: def.domain.hi(),
            measured: def.nature != Nature::Stated,
            printed: def.nature == Nature::Printed,
            place,
            declared: false,
        })
    });
    listed.chain(DECLARED.iter().map(Declared::fact)).collect()
});

/// A fact that generated rulesets declare. The domain is in base units; without one it is all
/// numbers.
struct Declared {
    subject: Subject,
    word: &'static str,
    kind: Option<Kind>,
    options: &'static [&'static str],
    measured: bool,
    domain: Option<(&'static str, f64, f64)>,
}

const fn number(
    subject: Subject,
    word: &'static str,
    kind: Kind,
    measured: bool,
    domain: Option<(&'static str, f64, f64)>,
) -> Declared {
    Declared {
        subject,
        word,
        kind: Some(kind),
        options: &[],
        measured,
        domain,
    }
}

const fn word(subject: Subject, word: &'static str, options: &'static [&'static str]) -> Declared {
    Declared {
        subject,
        word,
        kind: None,
        options,
        measured: false,
        domain: None,
    }
}

/// So that there is a fact of every kind in a cell, and a choice and a text to compare with one
/// elsewhere.
const DECLARED: [Declared; 16] = [
    number(
        Subject::Cell,
        "club_energy",
        Kind::Energy,
        true,
        Some(("0..1000 Wh", 0.0, 1000.0)),
    ),
    number(
        Subject::Cell,
        "club_rate",
        Kind::Rate,
        false,
        Some(("0..50 C", 0.0, 50.0)),
    ),
    number(
        Subject::Cell,
        "club_share",
        Kind::Ratio,
        true,
        Some(("0..200 %", 0.0, 2.0)),
    ),
    number(Subject::Cell, "club_drift", Kind::Drift, true, None),
    number(
        Subject::Cell,
        "club_cold",
        Kind::Temperature,
        true,
        Some(("-60..120 degC", -60.0, 120.0)),
    ),
    number(Subject::Cell, "club_power", Kind::Power, true, None),
    number(
        Subject::Cell,
        "club_uses",
        Kind::Count,
        false,
        Some(("0..5000", 0.0, 5000.0)),
    ),
    number(Subject::Light, "club_drop", Kind::Voltage, true, None),
    number(Subject::Light, "club_share", Kind::Ratio, false, None),
    word(
        Subject::Cell,
        "club_mark",
        &["red", "green-dot", "blue_ring"],
    ),
    word(
        Subject::Light,
        "club_mark",
        &["red", "green-dot", "blue_ring"],
    ),
    word(Subject::Cell, "club_ready", &["yes", "no"]),
    word(Subject::Charging, "club_watch", &["yes", "no"]),
    word(Subject::Cell, "club_tag", &[]),
    word(Subject::Light, "club_tag", &[]),
    word(Subject::Conditions, "club_leg", &[]),
];

impl Declared {
    fn fact(&self) -> Fact {
        let place = if matches!(self.subject, Subject::Group | Subject::Build) {
            Place::Derived
        } else {
            Place::Extra
        };
        let values = match (self.kind, self.options) {
            (Some(kind), _) => Values::Number(kind),
            (None, []) => Values::Text,
            (None, ["yes", "no"]) => Values::YesNo,
            (None, options) => {
                Values::Choice(options.iter().map(|option| (*option).to_owned()).collect())
            }
        };
        let (_, low, high) = self
            .domain
            .unwrap_or(("", f64::NEG_INFINITY, f64::INFINITY));
        let name = format!("{}.{}", self.subject.name(), self.word);
        Fact {
            subject: self.subject,
            name,
            values,
            low,
            high,
            measured: self.measured,
            printed: false,
            place,
            declared: true,
        }
    }

    fn declaration(&self) -> (String, Doc) {
        let fact = self.fact();
        let kind = match &fact.values {
            Values::Number(kind) => kind.name(),
            Values::Choice(_) => "choice",
            Values::YesNo => "yes-no",
            Values::Text => "text",
        };
        let mut entries = vec![("kind", text(kind)), ("meaning", text("generated"))];
        if let Values::Choice(options) = &fact.values {
            entries.push(("options", Doc::List(options.iter().map(text).collect())));
        }
        if let Some((written, _, _)) = self.domain {
            entries.push(("domain", text(written)));
        }
        if self.measured {
            entries.push(("nature", text("measured")));
        }
        (fact.name, map(entries))
    }
}

/// The `facts` of a generated ruleset that uses these.
pub(crate) fn declarations(used: &BTreeSet<FactAt>) -> Doc {
    let used = |declared: &&Declared| used.contains(&fact_named(&declared.fact().name));
    Doc::Map(
        DECLARED
            .iter()
            .filter(used)
            .map(Declared::declaration)
            .collect(),
    )
}

/// The fact of a dotted name.
pub(crate) fn fact_named(name: &str) -> FactAt {
    FACTS
        .iter()
        .position(|fact| fact.name == name)
        .unwrap_or_else(|| panic!("there is a fact {name}"))
}

impl Fact {
    pub(crate) fn word(&self) -> &str {
        self.name.split_once('.').unwrap().1
    }

    pub(crate) const fn kind(&self) -> Option<Kind> {
        match self.values {
            Values::Number(kind) => Some(kind),
            _ => None,
        }
    }
}
