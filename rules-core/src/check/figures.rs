//! All figures of a proposal: those of the library and those of the rules.

use super::figure_sheet::{FigureReport, FigureSheet};
use super::finding::FactState;
use super::given::given;
use super::reporter::Reporter;
use super::run::Options;
use super::steps;
use super::unused::unused;
use super::values::ReportedNumber;
use crate::document::ProblemList;
use crate::facts::{Proposed, SubjectId, WorkedDef, WorkedId};
use crate::formula::{Bound, Evaluator, FactAt, FigureCode, FigureId, Number, RestsOn, Sort};
use crate::ruleset::{Acceptance, Rules};

/// Works out every figure of a proposal.
///
/// # Errors
///
/// Facts under `extra` that the rules do not declare, or whose values do not fit; readings of one
/// thing that cannot both be true, or facts that break a relation of the catalogue; more steps than [`crate::bounds`] allow.
pub fn figures(
    rules: &Rules,
    proposal: &dyn Proposed,
    options: Options<'_>,
) -> Result<FigureSheet, ProblemList> {
    let sheet = given(rules, proposal)?;
    steps::within_bounds(rules, &sheet)?;
    let acceptance = options.acceptance.unwrap_or_else(|| rules.acceptance());
    let evaluator = Evaluator::new(
        rules.catalogue(),
        rules.program(),
        &sheet,
        acceptance == Acceptance::Simple,
    );
    let figures = FigureReporter {
        rules,
        evaluator: &evaluator,
        reporter: Reporter::new(rules, &evaluator).narrowing(options.narrowing),
    };
    Ok(FigureSheet {
        format: 1,
        title: proposal.title().into(),
        proposal: proposal.name().to_owned(),
        rules: rules.layers().to_vec(),
        digest: rules.digest_under(acceptance).to_owned(),
        figures: figures.all(),
        unused: unused(&evaluator, &figures.reporter),
        notice: rules.notice().to_vec(),
    })
}

struct FigureReporter<'t, 'e> {
    rules: &'t Rules,
    evaluator: &'t Evaluator<'e>,
    reporter: Reporter<'t, 'e>,
}

impl FigureReporter<'_, '_> {
    fn all(&self) -> Vec<FigureReport> {
        let catalogue = self.rules.catalogue();
        let mut told = Vec::new();
        for subject in catalogue
            .subjects()
            .iter()
            .filter_map(|subject| catalogue.subject_named(&subject.name))
        {
            for position in 0..self.evaluator.sheet().count(subject) {
                self.of_one(subject, position, &mut told);
            }
        }
        told
    }

    fn of_one(&self, subject: SubjectId, position: usize, told: &mut Vec<FigureReport>) {
        let catalogue = self.rules.catalogue();
        for (at, def) in catalogue
            .worked()
            .iter()
            .enumerate()
            .filter(|(_, def)| def.subject == subject)
        {
            told.push(self.worked(WorkedId::new(at), def, position));
        }
        let name = catalogue.subject_name(subject);
        let bound = self.evaluator.one(subject, position);
        for (at, info) in self.rules.figures().iter().enumerate() {
            if info.name.split_once('.').is_some_and(|(of, _)| of == name) {
                told.extend(self.written(FigureId(at), subject, position, &bound));
            }
        }
    }

    fn worked(&self, id: WorkedId, def: &WorkedDef, position: usize) -> FigureReport {
        let bound = self.evaluator.one(def.subject, position);
        let number = Number::Worked(id, def.subject);
        let unsettled = self.evaluator.sheet().is_unsettled(def.subject);
        let open = self
            .evaluator
            .work(id, position)
            .open
            .filter(|_| !unsettled);
        FigureReport {
            open,
            narrowed_by: if unsettled {
                Vec::new()
            } else {
                self.reporter.narrowed_by(id, position)
            },
            value: Some(ReportedNumber::of_figure(
                self.evaluator.number(&number, &bound),
                Sort::of(def.kind),
            )),
            ..self.report(
                def.name,
                def.meaning,
                def.subject,
                position,
                self.evaluator.number_rests_on(&number, &bound),
            )
        }
    }

    fn written(
        &self,
        id: FigureId,
        subject: SubjectId,
        position: usize,
        bound: &Bound,
    ) -> Option<FigureReport> {
        let info = self.rules.figure(id)?;
        let name = info
            .name
            .split_once('.')
            .map_or(&*info.name, |(_, name)| name);
        let is = Some(info.is.to_string());
        match self.evaluator.program().figures.get(id.0)? {
            FigureCode::Number(number, sort) => {
                let rest = self.evaluator.number_rests_on(number, bound);
                let number = self.evaluator.number(number, bound);
                let value = ReportedNumber::new(number, *sort, None);
                Some(FigureReport {
                    is,
                    value: Some(value),
                    ..self.report(name, &info.meaning, subject, position, rest)
                })
            }
            FigureCode::Condition(condition) => {
                let truth = Some(self.evaluator.condition(condition, bound).plain());
                let rest = self.evaluator.condition_rests_on(condition, bound);
                Some(FigureReport {
                    is,
                    truth,
                    ..self.report(name, &info.meaning, subject, position, rest)
                })
            }
        }
    }

    fn report(
        &self,
        name: &str,
        meaning: &str,
        subject: SubjectId,
        position: usize,
        rest: RestsOn,
    ) -> FigureReport {
        let facts: Vec<_> = rest
            .facts
            .iter()
            .map(|at: &FactAt| self.reporter.fact(*at))
            .collect();
        let (missing, given): (Vec<_>, Vec<_>) = facts
            .into_iter()
            .partition(|fact| fact.state == FactState::Missing);
        FigureReport {
            name: self.rules.catalogue().full_name(subject, name),
            subject: self.reporter.subject(subject, position),
            meaning: meaning.to_owned(),
            is: None,
            value: None,
            truth: None,
            open: None,
            narrowed_by: Vec::new(),
            facts: given.into_iter().chain(missing).collect(),
            more_facts: rest.more_facts,
        }
    }
}
