//! Generated rulesets: limits, figures and cautions of every form.

use std::collections::{BTreeMap, BTreeSet};

use rules_core::quantity::Kind;

use super::amount::{amount, main_unit, usual};
use super::choices::Choices;
use super::document::{Doc, map, text};
use super::formula::{Condition, Number};
use super::grow::{Ground, Grower};
use super::meter::Meter;
use super::vocabulary::{FACTS, FactAt, Subject, declarations};

/// A limit with the interval it stands for, in base units.
#[derive(Debug, Clone)]
pub(crate) struct Limit {
    pub(crate) kind: Kind,
    pub(crate) text: String,
    pub(crate) low: f64,
    pub(crate) high: f64,
    /// Whether the higher is the stricter.
    pub(crate) higher: bool,
}

/// What a figure comes to.
#[derive(Debug, Clone)]
pub(crate) enum Body {
    Number(Kind, Number),
    Condition(Condition),
}

/// A figure.
#[derive(Debug, Clone)]
pub(crate) struct Figure {
    pub(crate) about: Subject,
    pub(crate) body: Body,
}

/// What a missing measurement gives, where the caution says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Unmeasured {
    Silent,
    Warn,
    Refuse,
}

/// A caution.
#[derive(Debug, Clone)]
pub(crate) struct Caution {
    pub(crate) id: String,
    pub(crate) about: Subject,
    /// One of the stages; none for every stage.
    pub(crate) stage: Option<&'static str>,
    pub(crate) applies_when: Option<Condition>,
    pub(crate) refuse_unless: Option<Condition>,
    pub(crate) warn_unless: Option<Condition>,
    pub(crate) if_unmeasured: Unmeasured,
    pub(crate) reason: String,
}

/// The stages that every generated ruleset declares, in their order.
pub(crate) const STAGES: [&str; 3] = ["sorting", "fitting", "using"];

/// A ruleset.
#[derive(Debug, Clone)]
pub(crate) struct Ruleset {
    /// The meters that it assumes.
    pub(crate) meters: BTreeMap<Kind, Vec<Meter>>,
    pub(crate) limits: Vec<Limit>,
    pub(crate) figures: Vec<Figure>,
    pub(crate) cautions: Vec<Caution>,
    pub(crate) simple: bool,
}

/// Grows a ruleset. Its formulas keep away from the shunned facts; directed, they use limits only
/// where the stricter is harder to keep.
pub(crate) fn ruleset(choices: &mut Choices<'_>, shunned: &[FactAt], directed: bool) -> Ruleset {
    let limits: Vec<Limit> = (0..choices.below(5)).map(|_| limit(choices)).collect();
    let mut made = Ruleset {
        meters: BTreeMap::new(),
        limits,
        figures: Vec::new(),
        cautions: Vec::new(),
        simple: false,
    };
    for _ in 0..choices.below(4) {
        let grown = figure(
            choices,
            &Ground {
                limits: &made.limits,
                figures: &made.figures,
                shunned,
                directed,
            },
        );
        made.figures.push(grown);
    }
    for at in 0..1 + choices.below(3) {
        let grown = caution(
            choices,
            &Ground {
                limits: &made.limits,
                figures: &made.figures,
                shunned,
                directed,
            },
            &format!("c{at}"),
        );
        made.cautions.push(grown);
    }
    made
}

const LIMIT_KINDS: [Kind; 14] = [
    Kind::Voltage,
    Kind::Charge,
    Kind::Current,
    Kind::Resistance,
    Kind::Time,
    Kind::Temperature,
    Kind::TemperatureDifference,
    Kind::Power,
    Kind::Energy,
    Kind::Length,
    Kind::Rate,
    Kind::Drift,
    Kind::Count,
    Kind::Ratio,
];

fn limit(choices: &mut Choices<'_>) -> Limit {
    let kind = *choices.pick(&LIMIT_KINDS);
    let usual = usual(kind);
    let made = amount(choices, kind, usual.low, usual.high);
    let higher = choices.one_in(2);
    let wide = choices.one_in(6) && kind != Kind::Count;
    let (low, high) = (
        made.value,
        made.value + if wide { usual.high / 40.0 } else { 0.0 },
    );
    // A plain number would be a count if it is whole.
    let text = if wide || kind == Kind::Ratio {
        strict_text(kind, low, high, false).2
    } else {
        made.text
    };
    Limit {
        kind,
        text,
        low,
        high,
        higher,
    }
}

/// Ends of seven places, rounded up or down, and their text.
fn strict_text(kind: Kind, low: f64, high: f64, up: bool) -> (f64, f64, String) {
    let round = |value: f64| {
        if up {
            (value * 1e7).ceil() / 1e7
        } else {
            (value * 1e7).floor() / 1e7
        }
    };
    let (low, high) = (round(low), round(high));
    match kind {
        Kind::Count => (low, low, format!("{low}")),
        Kind::Ratio => (
            low,
            high,
            format!("{:.5}..{:.5} %", 100.0 * low, 100.0 * high),
        ),
        _ => (low, high, format!("{low}..{high} {}", main_unit(kind))),
    }
}

impl Limit {
    /// One that asks at least as much.
    pub(crate) fn tightened(&self, choices: &mut Choices<'_>) -> Self {
        let part = choices.part();
        self.tightened_by(choices, part)
    }

    /// One that asks more, by a part of what is usual of its kind.
    pub(crate) fn tightened_by(&self, choices: &mut Choices<'_>, part: f64) -> Self {
        let step = usual(self.kind).high * part * [0.01, 0.2, 1.0][choices.below(3)];
        let step = if self.kind == Kind::Count {
            step.ceil()
        } else {
            step
        };
        let (low, high) = if self.higher {
            (self.low + step, self.high + 1.5 * step)
        } else {
            (self.low - 1.5 * step, self.high - step)
        };
        let low = if self.kind == Kind::Count {
            low.round()
        } else {
            low
        };
        let (low, high, text) = strict_text(self.kind, low, high, self.higher);
        Self {
            text,
            low,
            high,
            ..self.clone()
        }
    }

    /// Gives it one value.
    pub(crate) fn set(&mut self, value: f64) {
        let value = if self.kind == Kind::Count {
            value.round()
        } else {
            value
        };
        self.text = match self.kind {
            Kind::Count => format!("{value}"),
            Kind::Ratio => format!("{:e} %", 100.0 * value),
            kind => format!("{value:e} {}", main_unit(kind)),
        };
        (self.low, self.high) = (value, value);
    }

    fn doc(&self) -> Doc {
        let stricter = if self.higher { "higher" } else { "lower" };
        map([
            ("value", text(&self.text)),
            ("stricter", text(stricter)),
            ("meaning", text("generated")),
        ])
    }
}

fn figure(choices: &mut Choices<'_>, ground: &Ground<'_>) -> Figure {
    let about = Subject::ALL[choices.weighted(&[5, 3, 4, 1, 1, 1, 1, 1])];
    let body = if choices.one_in(4) {
        let ground = Ground {
            limits: if ground.directed { &[] } else { ground.limits },
            ..*ground
        };
        Body::Condition(Grower::new(&ground, choices, about).condition(true))
    } else {
        let kind = *choices.pick(&LIMIT_KINDS);
        Body::Number(kind, Grower::new(ground, choices, about).number(kind))
    };
    Figure { about, body }
}

/// Grows a caution of a name.
pub(crate) fn caution(choices: &mut Choices<'_>, ground: &Ground<'_>, id: &str) -> Caution {
    let about = Subject::ALL[choices.weighted(&[6, 4, 3, 1, 1, 1, 1, 2])];
    let rungs = choices.below(3);
    let mut grow = |wanted: bool| Grower::new(ground, choices, about).condition(wanted);
    let refuse_unless = (rungs != 1).then(|| grow(true));
    let warn_unless = (rungs != 0).then(|| grow(true));
    let applies_when = grow(false);
    let applies_when = choices.one_in(3).then_some(applies_when);
    let if_unmeasured = *choices.pick(&[Unmeasured::Silent, Unmeasured::Warn, Unmeasured::Refuse]);
    let reason = reason(choices, ground, about);
    let stage = STAGES.get(choices.below(STAGES.len() + 1)).copied();
    Caution {
        id: id.to_owned(),
        about,
        stage,
        applies_when,
        refuse_unless,
        warn_unless,
        if_unmeasured,
        reason,
    }
}

fn reason(choices: &mut Choices<'_>, ground: &Ground<'_>, about: Subject) -> String {
    let mut names: Vec<String> = FACTS
        .iter()
        .filter(|fact| !fact.declared && (fact.subject.many().is_none() || fact.subject == about))
        .map(|fact| fact.name.clone())
        .collect();
    names.extend((0..ground.limits.len()).map(|at| format!("limit.l{at}")));
    let figures = ground
        .figures
        .iter()
        .enumerate()
        .filter(|(_, figure)| figure.about.many().is_none() || figure.about == about);
    names.extend(figures.map(|(at, figure)| format!("{}.f{at}", figure.about.name())));
    (0..choices.below(3)).fold("because".to_owned(), |reason, _| {
        format!("{reason} {{{}}}", choices.pick(&names))
    })
}

impl Caution {
    pub(crate) fn doc(&self) -> Doc {
        let mut entries = vec![
            ("id", text(&self.id)),
            ("title", text("generated")),
            ("about", text(self.about.about())),
        ];
        entries.extend(self.stage.map(|stage| ("stage", text(stage))));
        let formulas = [
            ("applies_when", &self.applies_when),
            ("refuse_unless", &self.refuse_unless),
            ("warn_unless", &self.warn_unless),
        ];
        entries.extend(
            formulas
                .into_iter()
                .filter_map(|(key, formula)| Some((key, text(formula.as_ref()?.text())))),
        );
        match self.if_unmeasured {
            Unmeasured::Silent => {}
            Unmeasured::Warn => entries.push(("if_unmeasured", text("warn"))),
            Unmeasured::Refuse => entries.push(("if_unmeasured", text("refuse"))),
        }
        entries.push(("reason", text(&self.reason)));
        map(entries)
    }

    fn formulas(&self) -> impl Iterator<Item = &Condition> {
        self.applies_when
            .iter()
            .chain(&self.refuse_unless)
            .chain(&self.warn_unless)
    }
}

impl Figure {
    fn doc(&self) -> Doc {
        let is = match &self.body {
            Body::Number(_, number) => number.text(),
            Body::Condition(condition) => condition.text(),
        };
        map([
            ("about", text(self.about.about())),
            ("is", text(is)),
            ("meaning", text("generated")),
        ])
    }
}

/// The top of a ruleset's document.
pub(crate) fn head(name: &str) -> Vec<(&'static str, Doc)> {
    vec![
        ("format", text("1")),
        ("ruleset", text(name)),
        ("version", text("1.0.0")),
        ("title", text("generated")),
    ]
}

/// What is said of the meters of a kind: of one it needs no list.
pub(crate) fn said_of(meters: &[Meter]) -> Doc {
    match meters {
        [only] => text(&only.text),
        several => Doc::List(several.iter().map(|meter| text(&meter.text)).collect()),
    }
}

impl Ruleset {
    /// Its stages, declared facts, limits and figures.
    pub(crate) fn definitions(&self) -> Vec<(&'static str, Doc)> {
        let limits = self
            .limits
            .iter()
            .enumerate()
            .map(|(at, limit)| (format!("l{at}"), limit.doc()));
        let figures = self
            .figures
            .iter()
            .enumerate()
            .map(|(at, figure)| (format!("f{at}"), figure.doc()));
        let stages = STAGES.map(|id| (id.to_owned(), text("generated")));
        let meters = self.meters.iter();
        let meters = meters.map(|(kind, meters)| (kind.name(), map([("is", said_of(meters))])));
        vec![
            ("meters", map(meters)),
            ("stages", map(stages)),
            ("facts", declarations(&self.facts())),
            ("limits", map(limits)),
            ("figures", map(figures)),
        ]
    }

    pub(crate) fn cautions_doc(&self) -> Doc {
        Doc::List(self.cautions.iter().map(Caution::doc).collect())
    }

    /// All of it in one document.
    pub(crate) fn doc(&self) -> Doc {
        let mut entries = head("generated");
        if self.simple {
            entries.push(("acceptance", text("simple")));
        }
        entries.extend(self.definitions());
        entries.push(("cautions", self.cautions_doc()));
        map(entries)
    }

    /// The facts its formulas name.
    pub(crate) fn facts(&self) -> BTreeSet<FactAt> {
        let mut found = BTreeSet::new();
        self.cautions
            .iter()
            .flat_map(Caution::formulas)
            .for_each(|condition| condition.facts(&mut found));
        for figure in &self.figures {
            match &figure.body {
                Body::Number(_, number) => number.facts(&mut found),
                Body::Condition(condition) => condition.facts(&mut found),
            }
        }
        found
    }
}
