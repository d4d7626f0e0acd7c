//! Formulas as trees of our own, and their text with no more parentheses than precedence asks for.

use std::collections::BTreeSet;

use rules_core::quantity::Kind;

use super::amount::Amount;
use super::vocabulary::{FACTS, FactAt, Many, Subject};

/// A number.
#[derive(Debug, Clone)]
pub(crate) enum Number {
    Constant(Amount),
    /// A limit by its position.
    Limit(usize),
    Fact(FactAt),
    /// `build.current`, which the library works out.
    Current,
    /// A figure by its position, with its subject.
    Figure(usize, Subject),
    /// Terms, with whether they are taken away.
    Sum(Vec<(bool, Number)>),
    /// Factors, with whether they divide.
    Product(Vec<(bool, Number)>),
    Negative(Box<Number>),
    Abs(Box<Number>),
    Least(Vec<Number>),
    Greatest(Vec<Number>),
    Fold(Folding, Many, Box<Number>),
    Distinct(Many, FactAt),
    Count(Many, Box<Condition>),
}

/// How a fold joins many numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Folding {
    Min,
    Max,
    Sum,
    Mean,
    Spread,
}

/// A condition.
#[derive(Debug, Clone)]
pub(crate) enum Condition {
    YesNo(bool),
    Fact(FactAt),
    /// A yes-no fact compared with a written yes or no, by `==` or, if true, by `!=`.
    FactIs(FactAt, bool, bool),
    Figure(usize, Subject),
    /// A choice compared with one option, by `==` or, if true, by `!=`.
    Option(FactAt, bool, usize),
    In(FactAt, Vec<usize>),
    /// Two choices or two texts compared, by `==` or, if true, by `!=`.
    Same(FactAt, bool, FactAt),
    Known(FactAt),
    Not(Box<Condition>),
    And(Vec<Condition>),
    Or(Vec<Condition>),
    /// Two numbers of one kind compared.
    Compare(Kind, Comparison, Number, Number),
    Every(Many, Box<Condition>),
    Any(Many, Box<Condition>),
}

/// A comparison of numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Comparison {
    AtLeast,
    Above,
    AtMost,
    Below,
    Equal,
    NotEqual,
}

impl Comparison {
    pub(crate) const ALL: [Self; 6] = [
        Self::AtLeast,
        Self::AtMost,
        Self::Above,
        Self::Below,
        Self::Equal,
        Self::NotEqual,
    ];

    const fn sign(self) -> &'static str {
        match self {
            Self::AtLeast => ">=",
            Self::Above => ">",
            Self::AtMost => "<=",
            Self::Below => "<",
            Self::Equal => "==",
            Self::NotEqual => "!=",
        }
    }
}

/// How tightly the parts of a formula hold together, loosest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Level {
    Or,
    And,
    Not,
    Relation,
    Sum,
    Product,
    Sign,
    Primary,
}

/// What stands where at least a level is wanted: in parentheses if it is looser.
fn within(level: Level, (own, text): (Level, String)) -> String {
    if own < level {
        format!("({text})")
    } else {
        text
    }
}

fn listed(parts: impl Iterator<Item = String>, between: &str) -> String {
    parts.collect::<Vec<_>>().join(between)
}

fn negated(different: bool) -> &'static str {
    if different { "!=" } else { "==" }
}

impl Number {
    pub(crate) fn text(&self) -> String {
        self.written().1
    }

    fn written(&self) -> (Level, String) {
        match self {
            // A sign before a number belongs to it, but a factor may not start with one and an
            // amount after a sign would be a second sign.
            Self::Constant(amount) if amount.text.starts_with('-') => {
                (Level::Sign, amount.text.clone())
            }
            Self::Constant(amount) => (Level::Primary, amount.text.clone()),
            Self::Limit(at) => (Level::Primary, format!("limit.l{at}")),
            Self::Fact(fact) => (Level::Primary, FACTS[*fact].name.clone()),
            Self::Current => (Level::Primary, "build.current".to_owned()),
            Self::Figure(at, subject) => (Level::Primary, format!("{}.f{at}", subject.name())),
            Self::Sum(terms) => (Level::Sum, chained(terms, Level::Product, ["+", "-"])),
            Self::Product(factors) => (Level::Product, chained(factors, Level::Sign, ["*", "/"])),
            Self::Negative(inner) => (
                Level::Sign,
                format!("-{}", within(Level::Sign, inner.written())),
            ),
            Self::Abs(inner) => (Level::Primary, format!("abs({})", inner.text())),
            Self::Least(parts) => (
                Level::Primary,
                format!("min({})", listed(parts.iter().map(Self::text), ", ")),
            ),
            Self::Greatest(parts) => (
                Level::Primary,
                format!("max({})", listed(parts.iter().map(Self::text), ", ")),
            ),
            Self::Fold(folding, _, body) => (
                Level::Primary,
                format!("{} of {}", folding.word(), body.fold_body()),
            ),
            Self::Distinct(_, fact) => {
                (Level::Primary, format!("distinct of {}", FACTS[*fact].name))
            }
            // The body reaches as far as a `not` does, so that nothing tighter may follow.
            Self::Count(many, body) => (
                Level::Not,
                format!("count of {} where {}", many.plural(), body.open()),
            ),
        }
    }

    /// A name stands alone after `of`, everything else in parentheses.
    fn fold_body(&self) -> String {
        match self {
            Self::Fact(_) | Self::Figure(..) => self.text(),
            _ => format!("({})", self.text()),
        }
    }

    /// The facts that stand in it, figures apart.
    pub(crate) fn facts(&self, found: &mut BTreeSet<FactAt>) {
        match self {
            Self::Constant(_) | Self::Limit(_) | Self::Figure(..) => {}
            Self::Fact(fact) | Self::Distinct(_, fact) => found.extend([*fact]),
            Self::Current => {
                let needs = [
                    "light.draw_current",
                    "light.draw_power",
                    "light.cut_off",
                    "light.input_min",
                ];
                found.extend(needs.map(super::vocabulary::fact_named));
            }
            Self::Sum(parts) | Self::Product(parts) => {
                parts.iter().for_each(|(_, part)| part.facts(found))
            }
            Self::Least(parts) | Self::Greatest(parts) => {
                parts.iter().for_each(|part| part.facts(found))
            }
            Self::Negative(inner) | Self::Abs(inner) | Self::Fold(_, _, inner) => {
                inner.facts(found)
            }
            Self::Count(_, body) => body.facts(found),
        }
    }
}

fn chained(parts: &[(bool, Number)], level: Level, [plus, minus]: [&str; 2]) -> String {
    let (first, rest) = parts.split_first().unwrap();
    let mut text = within(level, first.1.written());
    for (inverse, part) in rest {
        text = format!(
            "{text} {} {}",
            if *inverse { minus } else { plus },
            within(level, part.written())
        );
    }
    text
}

impl Folding {
    pub(crate) const ALL: [Self; 5] = [Self::Min, Self::Max, Self::Sum, Self::Mean, Self::Spread];

    const fn word(self) -> &'static str {
        match self {
            Self::Min => "min",
            Self::Max => "max",
            Self::Sum => "sum",
            Self::Mean => "mean",
            Self::Spread => "spread",
        }
    }
}

impl Condition {
    pub(crate) fn text(&self) -> String {
        self.written().1
    }

    fn written(&self) -> (Level, String) {
        let name = |fact: &FactAt| FACTS[*fact].name.clone();
        let yes = |yes: &bool| if *yes { "yes" } else { "no" }.to_owned();
        match self {
            Self::YesNo(said) => (Level::Primary, yes(said)),
            Self::Fact(fact) => (Level::Primary, name(fact)),
            Self::FactIs(fact, different, said) => same(&name(fact), *different, &yes(said)),
            Self::Figure(at, subject) => (Level::Primary, format!("{}.f{at}", subject.name())),
            Self::Option(fact, different, option) => {
                let option = options(*fact)[*option].as_str();
                match (option, different) {
                    // Reserved words are no options but in a list.
                    ("yes" | "no", false) => {
                        (Level::Relation, format!("{} in [{option}]", name(fact)))
                    }
                    ("yes" | "no", true) => {
                        (Level::Not, format!("not {} in [{option}]", name(fact)))
                    }
                    _ => same(&name(fact), *different, option),
                }
            }
            Self::In(fact, some) => {
                let words = some.iter().map(|option| options(*fact)[*option].clone());
                let words = listed(words, ", ");
                (Level::Relation, format!("{} in [{words}]", name(fact)))
            }
            Self::Same(a, different, b) => same(&name(a), *different, &name(b)),
            Self::Known(fact) => (Level::Relation, format!("{} is known", name(fact))),
            Self::Not(inner) => (
                Level::Not,
                format!("not {}", within(Level::Not, inner.written())),
            ),
            Self::And(parts) => (Level::And, joined(Level::Not, parts, " and ")),
            Self::Or(parts) => (Level::Or, joined(Level::And, parts, " or ")),
            Self::Compare(_, comparison, a, b) => {
                let [a, b] = [a, b].map(|side| within(Level::Sum, side.written()));
                (Level::Relation, format!("{a} {} {b}", comparison.sign()))
            }
            Self::Every(many, body) => (Level::Not, of_all("every", *many, body)),
            Self::Any(many, body) => (Level::Not, of_all("any", *many, body)),
        }
    }

    /// As the body of `has` or `where`: what is a `not` or tighter needs no parentheses.
    fn open(&self) -> String {
        within(Level::Not, self.written())
    }

    /// The facts that stand in it, figures apart.
    pub(crate) fn facts(&self, found: &mut BTreeSet<FactAt>) {
        match self {
            Self::YesNo(_) | Self::Figure(..) => {}
            Self::Fact(fact)
            | Self::FactIs(fact, ..)
            | Self::Option(fact, ..)
            | Self::In(fact, _)
            | Self::Known(fact) => {
                found.insert(*fact);
            }
            Self::Same(a, _, b) => found.extend([*a, *b]),
            Self::Not(inner) | Self::Every(_, inner) | Self::Any(_, inner) => inner.facts(found),
            Self::And(parts) | Self::Or(parts) => parts.iter().for_each(|part| part.facts(found)),
            Self::Compare(_, _, a, b) => {
                a.facts(found);
                b.facts(found);
            }
        }
    }
}

/// A comparison by `==` or, if they are to differ, by `!=`.
fn same(a: &str, different: bool, b: &str) -> (Level, String) {
    (Level::Relation, format!("{a} {} {b}", negated(different)))
}

fn of_all(word: &str, many: Many, body: &Condition) -> String {
    format!("{word} {} has {}", many.subject().name(), body.open())
}

/// Conditions joined by a word, each in parentheses unless it is at least this tight.
fn joined(tightest: Level, parts: &[Condition], word: &str) -> String {
    listed(
        parts.iter().map(|part| within(tightest, part.written())),
        word,
    )
}

/// The options of a choice.
pub(crate) fn options(fact: FactAt) -> &'static [String] {
    match &FACTS[fact].values {
        super::vocabulary::Values::Choice(options) => options,
        _ => &[],
    }
}
