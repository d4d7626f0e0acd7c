//! The entries of a written report, with what they refer to.

use std::borrow::Cow;
use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

use serde::Deserialize;

use crate::check::{
    AnsweredFact, ClauseReport, FactReport, FactState, FigureUse, FilledText, Margin, MarginShown,
    NarrowedBy, NumberShown, ReportedNumber, ReportedValue, Subject, ToldNumber,
};
use crate::document::Place;
use crate::formula::{Evaluated, Truth};
use crate::quantity::{Interval, Measure};

/// Why what is read is no report.
pub(super) type NoReport = String;

#[derive(Deserialize)]
pub(super) struct ReadSubject {
    kind: String,
    #[serde(default)]
    name: Option<String>,
    #[serde(default)]
    called: Option<String>,
    #[serde(default = "yes")]
    listed: bool,
    #[serde(default = "one")]
    count: usize,
}

const fn yes() -> bool {
    true
}

const fn one() -> usize {
    1
}

impl ReadSubject {
    pub(super) fn subject(&self) -> Subject {
        match (&self.name, &self.called) {
            (Some(name), _) => Subject::named(&self.kind, name),
            (None, Some(called)) if self.listed => Subject::nameless(&self.kind, called),
            (None, Some(called)) => Subject::not_listed(&self.kind, called, self.count),
            (None, None) => Subject::only(&self.kind),
        }
    }
}

/// The same for all subjects of an entry, or one for each.
#[derive(Deserialize)]
#[serde(untagged)]
pub(super) enum Each<T> {
    List(Vec<T>),
    Same(T),
}

impl<T: Clone> Each<T> {
    pub(super) fn at(&self, place: usize) -> Result<T, NoReport> {
        match self {
            Self::Same(value) => Ok(value.clone()),
            Self::List(values) => values
                .get(place)
                .cloned()
                .ok_or_else(|| "a list is shorter than its set".to_owned()),
        }
    }
}

impl<T: Default> Default for Each<T> {
    fn default() -> Self {
        Self::Same(T::default())
    }
}

#[derive(Deserialize)]
pub(super) struct ReadNumber {
    text: Each<String>,
    #[serde(default)]
    limit: Option<Cow<'static, str>>,
    #[serde(default)]
    missing: Each<bool>,
    low: Each<Option<f64>>,
    high: Each<Option<f64>>,
    unit: String,
}

impl ReadNumber {
    pub(super) fn at(&self, place: usize) -> Result<ReportedNumber, NoReport> {
        let low = self.low.at(place)?.unwrap_or(f64::NEG_INFINITY);
        let high = self.high.at(place)?.unwrap_or(f64::INFINITY);
        let range = Interval::new(low, high).ok_or("the ends of a number are not in order")?;
        let number = Evaluated {
            value: Measure::of(range),
            missing: self.missing.at(place)?,
        };
        Ok(ReportedNumber {
            number,
            limit: self.limit.clone(),
            is_figure: false,
            shown: NumberShown::Told(told(&self.text, place, &self.unit)?),
        })
    }
}

fn told(text: &Each<String>, place: usize, unit: &str) -> Result<ToldNumber, NoReport> {
    Ok(ToldNumber {
        text: text.at(place)?.into(),
        unit: Cow::Owned(unit.to_owned()),
    })
}

#[derive(Deserialize)]
pub(super) struct ReadMargin {
    text: Each<String>,
    amount: Each<f64>,
    unit: String,
    #[serde(default)]
    percent: Each<Option<f64>>,
}

impl ReadMargin {
    fn at(&self, place: usize) -> Result<Margin, NoReport> {
        Ok(Margin {
            amount: self.amount.at(place)?,
            percent: self.percent.at(place)?,
            shown: MarginShown::Told(told(&self.text, place, &self.unit)?),
        })
    }
}

#[derive(Deserialize)]
pub(super) struct ReadClause {
    text: String,
    truth: Truth,
    #[serde(default)]
    of_condition: bool,
    #[serde(default)]
    left: Option<ReadNumber>,
    #[serde(default)]
    right: Option<ReadNumber>,
    #[serde(default)]
    margin: Option<ReadMargin>,
    #[serde(default)]
    limits: Vec<Cow<'static, str>>,
}

impl ReadClause {
    pub(super) fn at(&self, place: usize) -> Result<ClauseReport, NoReport> {
        let side = |side: &Option<ReadNumber>| side.as_ref().map(|one| one.at(place)).transpose();
        let margin = self.margin.as_ref().map(|margin| margin.at(place));
        Ok(ClauseReport {
            text: self.text.as_str().into(),
            truth: self.truth,
            of_condition: self.of_condition,
            left: side(&self.left)?,
            right: side(&self.right)?,
            margin: margin.transpose()?,
            limits: self.limits.clone(),
        })
    }
}

/// A text of all subjects of an entry, or in pieces.
#[derive(Deserialize)]
#[serde(untagged)]
pub(super) enum ReadText {
    Whole(String),
    Pieces(Vec<Option<Each<String>>>),
}

impl ReadText {
    pub(super) fn at(&self, place: usize, of: &Subject) -> Result<FilledText, NoReport> {
        let value = |piece: &Option<Each<String>>| match piece {
            Some(each) => Ok(ReportedValue::Text(each.at(place)?.into())),
            None => Ok(ReportedValue::Text(of.own().unwrap_or(of.kind()).into())),
        };
        let values = match self {
            Self::Whole(whole) => vec![ReportedValue::Text(whole.as_str().into())],
            Self::Pieces(pieces) => pieces.iter().map(value).collect::<Result<_, NoReport>>()?,
        };
        Ok(FilledText {
            words: vec![None; values.len()].into(),
            values,
        })
    }
}

#[derive(Deserialize)]
pub(super) struct ReadFact {
    name: Cow<'static, str>,
    pub(super) subjects: usize,
    state: FactState,
    #[serde(default)]
    value: Option<Each<String>>,
    #[serde(default)]
    meter_assumed: bool,
    #[serde(default)]
    file: Option<Each<Arc<str>>>,
    #[serde(default)]
    line: Option<Each<usize>>,
    #[serde(default)]
    column: Option<Each<usize>>,
}

impl ReadFact {
    fn at(&self, place: usize, of: &Subject, proposal: &Arc<str>) -> Result<FactReport, NoReport> {
        let value = self
            .value
            .as_ref()
            .map(|value| value.at(place))
            .transpose()?;
        let file = self.file.as_ref().map(|file| file.at(place)).transpose()?;
        let found = match (&self.line, &self.column) {
            (Some(line), Some(column)) => Some(Place {
                file: file.unwrap_or_else(|| Arc::clone(proposal)),
                line: line.at(place)?,
                column: column.at(place)?,
            }),
            _ => None,
        };
        Ok(FactReport {
            name: self.name.clone(),
            subject: of.clone(),
            state: self.state,
            value: value.map(|value| ReportedValue::Text(value.into())),
            meter_assumed: self.meter_assumed,
            place: found,
        })
    }
}

#[derive(Deserialize)]
pub(super) struct ReadFigure {
    name: String,
    pub(super) subjects: usize,
    value: ReadNumber,
    #[serde(default)]
    open: Option<String>,
    #[serde(default)]
    narrowed_by: Option<ReadNarrowing>,
}

#[derive(Deserialize)]
struct ReadNarrowing {
    answers: Vec<ReadAnswer>,
    to: ReadNumber,
}

#[derive(Deserialize)]
struct ReadAnswer {
    fact: String,
    subject: ReadSubject,
    value: String,
}

impl ReadNarrowing {
    fn narrowed_by(&self) -> Result<NarrowedBy, NoReport> {
        let answer = |one: &ReadAnswer| AnsweredFact {
            name: one.fact.clone(),
            subject: one.subject.subject(),
            value: ReportedValue::Text(one.value.as_str().into()),
        };
        Ok(NarrowedBy {
            answers: self.answers.iter().map(answer).collect(),
            value: self.to.at(0)?,
        })
    }
}

impl ReadFigure {
    fn at(&self, place: usize, of: &Subject) -> Result<FigureUse, NoReport> {
        Ok(FigureUse {
            name: self.name.clone(),
            subject: of.clone(),
            value: self.value.at(place)?,
            open: self.open.clone().map(Cow::Owned),
            narrowed_by: self
                .narrowed_by
                .as_ref()
                .map(ReadNarrowing::narrowed_by)
                .transpose()?,
        })
    }
}

#[derive(Deserialize)]
pub(super) struct ReadUses {
    names: Vec<String>,
    #[serde(default)]
    own: bool,
    #[serde(default)]
    of: Option<Each<usize>>,
}

/// What entries refer to: subjects, sets of them, and the facts and figures of each.
pub(super) struct ReadTables {
    pub(super) subjects: Vec<Subject>,
    pub(super) sets: Vec<Vec<usize>>,
    facts: HashMap<(String, usize), Arc<FactReport>>,
    figures: HashMap<(String, usize), Arc<FigureUse>>,
}

impl ReadTables {
    pub(super) fn of(
        subjects: &[ReadSubject],
        sets: Vec<Vec<usize>>,
        (facts, figures): (&[ReadFact], &[ReadFigure]),
        proposal: &str,
    ) -> Result<Self, NoReport> {
        let file: Arc<str> = proposal.into();
        let mut tables = Self {
            subjects: subjects.iter().map(ReadSubject::subject).collect(),
            sets,
            facts: HashMap::new(),
            figures: HashMap::new(),
        };
        for entry in facts {
            for (place, at, subject) in tables.members(entry.subjects)? {
                let fact = entry.at(place, &subject, &file)?;
                tables
                    .facts
                    .insert((entry.name.to_string(), at), fact.into());
            }
        }
        for entry in figures {
            for (place, at, subject) in tables.members(entry.subjects)? {
                let figure = entry.at(place, &subject)?;
                tables
                    .figures
                    .insert((entry.name.clone(), at), figure.into());
            }
        }
        Ok(tables)
    }

    /// The subjects of a set, each with its place in it and its position among all.
    pub(super) fn members(&self, set: usize) -> Result<Vec<(usize, usize, Subject)>, NoReport> {
        let set = self
            .sets
            .get(set)
            .ok_or("an entry names a set that is not there")?;
        let member = |(place, at): (usize, &usize)| {
            let subject = self.subjects.get(*at)?;
            Some((place, *at, subject.clone()))
        };
        let members: Option<Vec<_>> = set.iter().enumerate().map(member).collect();
        members.ok_or_else(|| "a set names a subject that is not there".to_owned())
    }

    /// The facts that one subject of an entry uses, by name and subject.
    pub(super) fn facts(
        &self,
        uses: &[ReadUses],
        (place, own): (usize, usize),
    ) -> Result<Vec<Arc<FactReport>>, NoReport> {
        self.used(uses, (place, own), &self.facts)
    }

    /// The figures that one subject of an entry uses, by name and subject.
    pub(super) fn figures(
        &self,
        uses: &[ReadUses],
        (place, own): (usize, usize),
    ) -> Result<Vec<Arc<FigureUse>>, NoReport> {
        self.used(uses, (place, own), &self.figures)
    }

    fn used<T: Clone>(
        &self,
        uses: &[ReadUses],
        (place, own): (usize, usize),
        table: &HashMap<(String, usize), T>,
    ) -> Result<Vec<T>, NoReport> {
        let mut all: BTreeMap<(&str, &Subject), T> = BTreeMap::new();
        for entry in uses {
            let mut whose = match &entry.of {
                Some(of) => self
                    .members(of.at(place)?)?
                    .iter()
                    .map(|one| one.1)
                    .collect(),
                None => Vec::new(),
            };
            whose.extend(entry.own.then_some(own));
            for (name, at) in entry
                .names
                .iter()
                .flat_map(|name| whose.iter().map(move |at| (name, *at)))
            {
                let told = table
                    .get(&(name.clone(), at))
                    .zip(self.subjects.get(at))
                    .ok_or_else(|| format!("`{name}` is used and not told"))?;
                all.insert((name, told.1), told.0.clone());
            }
        }
        Ok(all.into_values().collect())
    }
}
