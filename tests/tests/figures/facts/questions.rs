//! What is asked for settles something: each question that a figure tells, answered as it typically
//! comes out, narrows the figure to what was told, none of a set can be left out, it is not asked
//! again, and no other answer widens the figure.

use std::collections::BTreeMap;

use rules_core::check::{
    AnsweredFact, FigureReport, NarrowedBy, Options, ReportedNumber, ReportedValue, figures,
};
use rules_core::document::Syntax;
use rules_core::quantity::Nature;
use rules_core::ruleset::Rules;
use rulesets::proposal::Proposal;
use serde_json::{Map, Value, json};

use super::setting::{encloses, places, rules, whole, without};

type Figures = BTreeMap<(String, String), FigureReport>;

/// All library figures; none of a proposal that is an error.
fn figures_of(rules: &Rules, proposal: &Value) -> Option<Figures> {
    let text = proposal.to_string();
    let proposal = Proposal::read("p.json", text.into(), Syntax::Json).ok()?;
    let options = Options {
        narrowing: true,
        ..Options::default()
    };
    let sheet = figures(rules, &proposal, options).ok()?;
    let own = sheet.figures.into_iter().filter(|one| one.is.is_none());
    Some(
        own.map(|one| ((one.subject.to_string(), one.name.clone()), one))
            .collect(),
    )
}

/// An answer as a person writes it, its number times a factor.
fn as_written(rules: &Rules, answer: &AnsweredFact, factor: f64) -> Value {
    let (_, def) = rules.catalogue().fact_named(&answer.name).unwrap();
    match &answer.value {
        ReportedValue::WorkedOut(measure, kind) => {
            let unit = kind.base_unit();
            let number = format!("{} {unit}", measure.nominal() * factor);
            match def.nature {
                Nature::Stated => json!(number),
                _ => json!(format!("{number} ± 0 {unit}")),
            }
        }
        other => json!(other.to_string()),
    }
}

/// Writes an answer where its fact stands; what stood there.
fn write(
    rules: &Rules,
    proposal: &mut Value,
    answer: &AnsweredFact,
    value: Value,
) -> Option<Value> {
    let catalogue = rules.catalogue();
    let (_, def) = catalogue.fact_named(&answer.name).unwrap();
    let subject = catalogue.subject(def.subject).unwrap();
    let section = match (&subject.plural, answer.subject.to_string()) {
        (Some(many), name) => {
            let name = name.split_once(' ').unwrap().1.to_owned();
            let all = proposal[&**many].as_array_mut().unwrap();
            all.iter_mut().find(|one| one["id"] == json!(name)).unwrap()
        }
        (None, _) => proposal
            .as_object_mut()
            .unwrap()
            .entry(subject.name.to_string())
            .or_insert_with(|| Value::Object(Map::new())),
    };
    // The draw is read as a current or as a power.
    let key = match answer.name.as_str() {
        "light.draw_current" => "draw",
        _ => def.key.as_deref().unwrap(),
    };
    let section = section.as_object_mut().unwrap();
    match key.split_once('.') {
        None => section.insert(key.to_owned(), value),
        Some((outer, inner)) => section
            .entry(outer)
            .or_insert_with(|| Value::Object(Map::new()))
            .as_object_mut()
            .unwrap()
            .insert(inner.to_owned(), value),
    }
}

/// The proposal with a question answered, but for the facts of one name.
fn answered(
    rules: &Rules,
    proposal: &Value,
    asked: &NarrowedBy,
    but: Option<&str>,
    factor: f64,
) -> Value {
    let mut more = proposal.clone();
    for answer in asked.answers.iter().filter(|one| Some(&*one.name) != but) {
        let value = as_written(rules, answer, factor);
        let _ = write(rules, &mut more, answer, value);
    }
    more
}

fn ends(value: &ReportedNumber) -> (f64, f64) {
    (
        value.low().unwrap_or(f64::NEG_INFINITY),
        value.high().unwrap_or(f64::INFINITY),
    )
}

fn near(one: (f64, f64), other: (f64, f64)) -> bool {
    let close = |one: f64, other: f64| {
        one.is_infinite() && one.total_cmp(&other).is_eq()
            || (one - other).abs() <= 1e-9 * one.abs().max(other.abs()).max(1.0)
    };
    close(one.0, other.0) && close(one.1, other.1)
}

/// Whether a figure is wider than another: open where that is not, or with ends further apart.
fn is_wider(one: &FigureReport, other: &FigureReport) -> bool {
    let width = |figure: &FigureReport| {
        let (low, high) = ends(figure.value.as_ref().unwrap());
        high - low
    };
    width(one) > width(other) || one.open.is_some() && other.open.is_none()
}

fn names(asked: &NarrowedBy) -> Vec<(String, String)> {
    let mut names: Vec<(String, String)> = asked
        .answers
        .iter()
        .map(|one| (one.name.clone(), one.subject.to_string()))
        .collect();
    names.sort();
    names
}

/// Asks every question of a proposal and looks at what comes of it; how many there were.
fn ask(rules: &Rules, proposal: &Value) -> usize {
    let Some(plain) = figures_of(rules, proposal) else {
        return 0;
    };
    let mut count = 0;
    // Figures that ask the same of the same are answered together.
    let mut by_question: BTreeMap<String, (NarrowedBy, Vec<(String, String)>)> = BTreeMap::new();
    for (name, figure) in &plain {
        for asked in &figure.narrowed_by {
            let key = format!("{:?}", asked.answers);
            let of = by_question
                .entry(key)
                .or_insert((asked.clone(), Vec::new()));
            of.1.push(name.clone());
            count += 1;
        }
    }
    for (asked, of) in by_question.values() {
        let question = Asked {
            rules,
            proposal,
            plain: &plain,
            asked,
            of,
        };
        question.look();
    }
    count
}

/// A question of a proposal, and the figures that tell it.
struct Asked<'a> {
    rules: &'a Rules,
    proposal: &'a Value,
    plain: &'a Figures,
    asked: &'a NarrowedBy,
    of: &'a [(String, String)],
}

impl Asked<'_> {
    fn look(&self) {
        let full = answered(self.rules, self.proposal, self.asked, None, 1.0);
        let after = figures_of(self.rules, &full).unwrap_or_else(|| {
            panic!(
                "its answers are an error: {}\n{full}",
                self.say(&self.of[0])
            )
        });
        self.of
            .iter()
            .for_each(|name| self.comes_as_told(name, &after));
        self.no_other_answer_widens();
        self.none_can_be_left_out(&after);
    }

    fn say(&self, name: &(String, String)) -> String {
        format!(
            "{name:?} asks {:?}\nof {}",
            names(self.asked),
            self.proposal
        )
    }

    fn comes_as_told(&self, name: &(String, String), after: &Figures) {
        let asks = |figure: &FigureReport| {
            let all = figure.narrowed_by.iter();
            all.clone()
                .find(|one| names(one) == names(self.asked))
                .cloned()
        };
        let (plain, after) = (&self.plain[name], &after[name]);
        let told = ends(&asks(plain).unwrap().value);
        let came = ends(after.value.as_ref().unwrap());
        assert!(
            near(told, came),
            "{came:?}, not {told:?}: {}",
            self.say(name)
        );
        assert!(
            encloses(plain, after) && is_wider(plain, after),
            "not narrower: {}",
            self.say(name)
        );
        assert!(asks(after).is_none(), "asked again: {}", self.say(name));
    }

    fn no_other_answer_widens(&self) {
        for factor in [0.93, 1.04] {
            let other = answered(self.rules, self.proposal, self.asked, None, factor);
            let Some(other) = figures_of(self.rules, &other) else {
                continue;
            };
            for name in self.of {
                assert!(
                    encloses(&self.plain[name], &other[name]),
                    "times {factor} it widens: {}",
                    self.say(name)
                );
            }
        }
    }

    /// A reading that is taken anew is taken as a whole.
    fn is_new(&self) -> bool {
        self.asked.answers.iter().all(|answer| {
            let value = as_written(self.rules, answer, 1.0);
            write(self.rules, &mut self.proposal.clone(), answer, value).is_none()
        })
    }

    fn none_can_be_left_out(&self, after: &Figures) {
        if !self.is_new() {
            return;
        }
        let mut all: Vec<&str> = self.asked.answers.iter().map(|one| &*one.name).collect();
        all.dedup();
        for left_out in all {
            let part = answered(self.rules, self.proposal, self.asked, Some(left_out), 1.0);
            let Some(part) = figures_of(self.rules, &part) else {
                continue;
            };
            for name in self.of {
                assert!(
                    is_wider(&part[name], &after[name]),
                    "as narrow without {left_out}: {}",
                    self.say(name)
                );
            }
        }
    }
}

/// Proposals that lack each thing that may be left out, one by one.
fn lacking(proposal: &Value) -> Vec<Value> {
    let mut all = Vec::new();
    places(proposal, "", &mut all);
    all.retain(|place| !place.starts_with("/packs") && !place.ends_with("/pack"));
    all.iter().map(|place| without(proposal, place)).collect()
}

#[test]
fn what_is_asked_for_settles_something() {
    let rules = rules();
    let mut count = 0;
    for draw in ["2 A", "7 W", "8 A"] {
        let one = whole("1S1P", draw);
        let untested = without(&one, "/cells/0/capacity_2");
        let bare = without(
            &without(&untested, "/cells/0/loaded"),
            "/cells/0/resistance",
        );
        for proposal in [&one, &untested, &bare] {
            count += ask(&rules, proposal);
        }
        if draw == "2 A" {
            for less in lacking(&untested).iter().chain(&lacking(&bare)) {
                count += ask(&rules, less);
            }
        }
    }
    let many = whole("2S2P", "1.5 A");
    for place in ["/conditions/ambient", "/cells/0/loaded", "/light/draw"] {
        count += ask(&rules, &without(&many, place));
    }
    println!("{count} questions were answered");
    assert!(count > 300, "{count}");
}
