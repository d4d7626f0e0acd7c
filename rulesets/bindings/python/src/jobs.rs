//! The jobs around a check, to Python.

use pyo3::prelude::*;
use rules_core::check::{FigureSheet, Options, figures};
use rules_core::document::{Fault, Problem, ProblemList, Problems, Source, Span};
use rules_core::quantity::Interval;
use rules_core::report::text::figures as figures_as_text;
use rulesets::bench::{Date, rules_in_force};
use rulesets::jobs::choose::{self, Choice, Wish};
use rulesets::jobs::range::{self, USUAL_CHECKS, USUAL_MAP_CHECKS, Vary, Written};
use rulesets::jobs::sort::{self, SortReport, Sorting};
use rulesets::label::{self as labels, Label, LabelFault, LabelReport, Printed};
use rulesets::pages;

use crate::answer::Answer;
use crate::asked::Read;
use crate::bench::Bench;
use crate::from_python::Question;
use crate::loaded::Beside;
use crate::rules::Rules;
use crate::to_python::error;

/// What is varied: a fact, from, to, resolution.
#[derive(FromPyObject)]
pub(crate) struct Varied(String, Option<String>, Option<String>, Option<String>);

/// What is wished of a choice: how many sets, how many checks at the most, whether cells of other lights are
/// offered, whether sets are told that do not pass.
#[derive(FromPyObject)]
pub(crate) struct Wished(usize, Option<usize>, bool, bool);

impl Varied {
    /// What the library is asked, with what messages call the ends.
    fn asked<'a>(&'a self, called: [&'a str; 3]) -> Vary<'a> {
        let [from, to, resolution] = called;
        let written = |called, text: &'a Option<String>| {
            let text = text.as_deref()?;
            Some(Written { called, text })
        };
        Vary {
            fact: &self.0,
            from: written(from, &self.1),
            to: written(to, &self.2),
            resolution: written(resolution, &self.3),
        }
    }
}

impl Rules {
    fn read(&self, py: Python<'_>, question: Question<'_>) -> PyResult<Read> {
        let asked = question.asked()?;
        py.detach(|| asked.read(&self.loaded)).map_err(error)
    }
}

/// What can be worked out of a proposal.
#[pyfunction(name = "figures")]
pub(crate) fn figures_of(
    rules: &Rules,
    py: Python<'_>,
    question: Question<'_>,
) -> PyResult<Answer> {
    let read = rules.read(py, question)?;
    let options = Options {
        narrowing: true,
        ..Options::default()
    };
    let sheet = py.detach(|| figures(&read.rules, &read.proposal, options));
    let sheet = sheet.map_err(error)?;
    let notice = sheet.notice.clone();
    let page = |sheet: &FigureSheet| pages::figures(sheet, None);
    Answer::new(sheet, notice, figures_as_text, page)
}

fn names(stages: &[String]) -> Vec<&str> {
    stages.iter().map(String::as_str).collect()
}

/// What a check of some stages is asked for.
fn of_stages<'a>(stages: &'a [&'a str]) -> Options<'a> {
    Options {
        stages,
        ..Options::default()
    }
}

/// The verdict over the range of a fact, or of two.
#[pyfunction(name = "range")]
pub(crate) fn range_of(
    rules: &Rules,
    py: Python<'_>,
    question: Question<'_>,
    across: Varied,
    up: Option<Varied>,
    checks: Option<usize>,
    stages: Vec<String>,
) -> PyResult<Answer> {
    let read = rules.read(py, question)?;
    let stages = names(&stages);
    let trial = read.trial(of_stages(&stages)).map_err(error)?;
    let across = across.asked(["start", "end", "resolution"]);
    let Some(up) = up else {
        let most = checks.unwrap_or(USUAL_CHECKS);
        let found = py.detach(|| range::range(&trial, &across, most));
        let found = found.map_err(error)?;
        let notice = found.search.notice.clone();
        return Answer::new(found, notice, range::text, pages::range);
    };
    let up = up.asked(["up_start", "up_end", "up_resolution"]);
    let most = checks.unwrap_or(USUAL_MAP_CHECKS);
    let found = py.detach(|| range::map(&trial, &across, &up, most));
    let found = found.map_err(error)?;
    let notice = found.search.notice.clone();
    Answer::new(found, notice, range::map_text, pages::map)
}

/// The cells of a light.
#[pyfunction(name = "choose")]
pub(crate) fn choose_of(
    rules: &Rules,
    py: Python<'_>,
    question: Question<'_>,
    wish: Wished,
    stages: Vec<String>,
) -> PyResult<Answer> {
    let read = rules.read(py, question)?;
    let stages = names(&stages);
    let trial = read.trial(of_stages(&stages)).map_err(error)?;
    let Wished(sets, most_checks, from_other_lights, not_passing) = wish;
    let wish = Wish {
        sets,
        most_checks: most_checks.unwrap_or(Wish::default().most_checks),
        from_other_lights,
        not_passing,
    };
    let found = py.detach(|| choose::choose(&trial, &wish)).map_err(error)?;
    let notice = found.notice.clone();
    let page = |found: &Choice| pages::choose(found, None);
    Answer::new(found, notice, choose::text, page)
}

/// The cells of a bench, graded.
#[pyfunction(name = "sort")]
pub(crate) fn sort_of(
    rules: &Rules,
    py: Python<'_>,
    bench: &Bench,
    cells: Vec<String>,
    as_of: Option<String>,
) -> PyResult<Answer> {
    let as_of = as_of.as_deref().map(day).transpose().map_err(error)?;
    let sorting = Sorting {
        as_of,
        cells: &cells,
    };
    let (bench, loaded) = (&bench.bench, &rules.loaded);
    let found = py.detach(|| {
        let names = rules_in_force(Some(bench), &loaded.asked);
        let rules = loaded.of_names(names, Beside::Files)?;
        sort::sort(bench, &rules, sorting)
    });
    let found = found.map_err(error)?;
    let notice = found.notice.clone();
    let page = |found: &SortReport| pages::sort(found, &[]);
    Answer::new(found, notice, sort::text, page)
}

fn day(text: &str) -> Result<Date, ProblemList> {
    Date::parse(text).ok_or_else(|| {
        let message = format!("`{text}` is no day of the calendar");
        Problem::of_file(Fault::BadDate, message, "write it as `2026-11-29`").into()
    })
}

/// Which cells the label of a pack means.
#[pyfunction]
pub(crate) fn label(
    voltage: Option<String>,
    capacity: Option<String>,
    energy: Option<String>,
    code: Option<String>,
    cells: Option<u32>,
) -> PyResult<Answer> {
    let given = OnLabel {
        voltage,
        capacity,
        energy,
        code,
    };
    let found = given.read(cells).map_err(error)?;
    let notice = found.notice.clone();
    Answer::new(found, notice, labels::text, pages::label)
}

/// What is printed on a label, as texts.
struct OnLabel {
    voltage: Option<String>,
    capacity: Option<String>,
    energy: Option<String>,
    code: Option<String>,
}

impl OnLabel {
    fn text(&self, printed: Printed) -> Option<&str> {
        match printed {
            Printed::Voltage => self.voltage.as_deref(),
            Printed::Capacity => self.capacity.as_deref(),
            Printed::Energy => self.energy.as_deref(),
        }
    }

    fn read(&self, cells: Option<u32>) -> Result<LabelReport, ProblemList> {
        let mut problems = Vec::new();
        let mut number = |printed| self.number(printed, &mut problems);
        let label = Label {
            voltage: number(Printed::Voltage),
            capacity: number(Printed::Capacity),
            energy: number(Printed::Energy),
            code: self.code.as_deref(),
            cells,
        };
        if !problems.is_empty() {
            return Err(problems.into());
        }
        rulesets::read_label(&label).map_err(|faults| {
            let told = faults.into_iter().map(|fault| self.fault(fault));
            told.collect::<Vec<_>>().into()
        })
    }

    fn number(&self, printed: Printed, problems: &mut Vec<Problem>) -> Option<Interval> {
        let text = self.text(printed)?;
        let error = match printed.read(text) {
            Ok(interval) => return Some(interval),
            Err(error) => error,
        };
        let help = match error.suggestion() {
            Some(near) => format!("did you mean `{near}`? {}", error.help()),
            None => error.help(),
        };
        let (start, end) = (error.span().start, error.span().end);
        let span = Span { start, end };
        let told = (Fault::BadNumber, error.message(), help);
        problems.push(placed(printed.word(), text, span, told));
        None
    }

    fn fault(&self, fault: LabelFault) -> Problem {
        let told = |code| (code, fault.to_string(), fault.help());
        let (name, text, code) = match (fault, fault.printed()) {
            (LabelFault::Code(_), _) => ("code", self.code.as_deref(), Fault::BadCode),
            (_, Some(printed)) => (printed.word(), self.text(printed), Fault::OutOfDomain),
            (_, None) => ("label", None, Fault::OutOfDomain),
        };
        match text {
            Some(text) => placed(
                name,
                text,
                Span {
                    start: 0,
                    end: text.len(),
                },
                told(code),
            ),
            None => Problem::of_file(code, fault.to_string(), fault.help()),
        }
    }
}

/// A problem of an argument, by its name.
fn placed(
    name: &str,
    text: &str,
    span: Span,
    (fault, message, help): (Fault, String, String),
) -> Problem {
    let source = Source::new(name, text.to_owned());
    let mut problems = Problems::new(&source);
    problems.add(fault, span, message.clone(), help.clone());
    let found = problems.finish().into_vec().into_iter().next();
    found.unwrap_or_else(|| Problem::of_file(fault, message, help))
}
