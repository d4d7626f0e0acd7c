//! `designations.json`: designations after IEC 61960 and the trade's size codes, read alone and on
//! a cell of a proposal.

mod sizes;

use rules_core::document::Fault;
use rules_core::facts::{Catalogue, FactKind, Proposed, Value};
use rules_core::quantity::Interval;
use rulesets::designation::Designation;
use rulesets::proposal::Proposal;
use serde::Deserialize;
use serde_json::json;

use super::proposals::{self, told};
use super::table::{Exceptions, NotMet, Outcome, Part, double, same};

/// Valid designations that the library takes for errors. That is the safe side: a proposal with an
/// error in it passes nowhere.
const NOT_MET: &[NotMet] = &[
    NotMet {
        id: "standard-19",
        comes_to: OTHER_LETTERS,
        why: SIX_CLASSES,
    },
    NotMet {
        id: "standard-20",
        comes_to: OTHER_LETTERS,
        why: SIX_CLASSES,
    },
    NotMet {
        id: "standard-21",
        comes_to: OTHER_LETTERS,
        why: SIX_CLASSES,
    },
    NotMet {
        id: "standard-22",
        comes_to: "the size cannot be read",
        why: "the clause allows sizes of three figures; the library reads diameters up to 99 mm and calls more an error",
    },
];

const OTHER_LETTERS: &str = "the letters are not those of";

const SIX_CLASSES: &str = "the standard has such a cell; the library reads the letters of six classes and calls others an error";

/// A row whose text has a meaning, no meaning, or none that the sources settle.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    text: String,
    expect: Expect,
    #[serde(default)]
    form: Option<Form>,
    shape: Option<String>,
    cell_class: Option<String>,
    electrode_letters: Option<String>,
    series: Option<u32>,
    parallel: Option<u32>,
    cells: Option<u32>,
    max_diameter_mm: Option<u32>,
    max_height_mm: Option<u32>,
    nominal_diameter_mm: Option<String>,
    nominal_height_mm: Option<String>,
    /// What an open row may be read as, if it is no error.
    may: Option<May>,
    #[serde(rename = "must_not")]
    _must_not: Option<String>,
    #[serde(rename = "negative")]
    _negative: Option<String>,
    #[serde(rename = "positive")]
    _positive: Option<String>,
    #[serde(rename = "section")]
    _section: String,
}

#[derive(Deserialize, Clone, Copy, PartialEq, Eq)]
enum Expect {
    #[serde(rename = "valid")]
    Valid,
    #[serde(rename = "valid, not cylindrical")]
    NotCylindrical,
    #[serde(rename = "malformed")]
    Malformed,
    #[serde(rename = "open")]
    Open,
}

#[derive(Deserialize, Clone, Copy, PartialEq, Eq)]
#[serde(rename_all = "lowercase")]
enum Form {
    Standard,
    Trade,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct May {
    cell_class: Option<String>,
    series: Option<u32>,
    parallel: Option<u32>,
    max_diameter_mm: Option<u32>,
    max_height_mm: Option<u32>,
    nominal_diameter_mm: Option<String>,
    nominal_height_mm: Option<String>,
}

/// The fields that a reading has to agree with, those that are given.
struct Wanted<'r> {
    class: Option<&'r str>,
    series: Option<u32>,
    parallel: Option<u32>,
    /// Largest sizes, rounded up to whole millimetres.
    largest: (Option<u32>, Option<u32>),
    /// Figures of the code.
    nominal: (Option<&'r str>, Option<&'r str>),
}

impl Row {
    fn wanted(&self) -> Wanted<'_> {
        Wanted {
            class: self.cell_class.as_deref(),
            series: self.series,
            parallel: self.parallel,
            largest: (self.max_diameter_mm, self.max_height_mm),
            nominal: (
                self.nominal_diameter_mm.as_deref(),
                self.nominal_height_mm.as_deref(),
            ),
        }
    }

    /// A row that calls itself valid says everything about the cell.
    fn is_complete(&self) -> Outcome {
        let has_sizes = match self.form {
            Some(Form::Standard) => self.max_diameter_mm.is_some() && self.max_height_mm.is_some(),
            Some(Form::Trade) => {
                self.nominal_diameter_mm.is_some() && self.nominal_height_mm.is_some()
            }
            None => false,
        };
        let cells = self
            .series
            .zip(self.parallel)
            .map(|(series, parallel)| series * parallel);
        same("whether the sizes are given", &has_sizes, &true)?;
        same("the shape", &self.shape.as_deref(), &Some("cylindrical"))?;
        same("the number of cells", &self.cells, &cells)
    }
}

impl May {
    fn wanted(&self) -> Wanted<'_> {
        Wanted {
            class: self.cell_class.as_deref(),
            series: self.series,
            parallel: self.parallel,
            largest: (self.max_diameter_mm, self.max_height_mm),
            nominal: (
                self.nominal_diameter_mm.as_deref(),
                self.nominal_height_mm.as_deref(),
            ),
        }
    }
}

impl Wanted<'_> {
    /// Sizes rounded up are within the millimetre below; the trade's code cuts the diameter off to
    /// whole millimetres and gives the length in tenths.
    fn agrees(&self, found: Designation) -> Outcome {
        let given = |what: &str, found: u32, wanted: Option<u32>| {
            wanted.map_or(Ok(()), |wanted| same(what, &found, &wanted))
        };
        given("the number in series", found.series, self.series)?;
        given("the number in parallel", found.parallel, self.parallel)?;
        if let (Some(diameter), Some(height)) = self.largest {
            same(
                "the diameter",
                &found.size.diameter,
                &(diameter - 1, diameter),
            )?;
            same(
                "the height in tenths",
                &found.size.length,
                &(10 * (height - 1), 10 * height),
            )?;
        }
        if let (Some(diameter), Some(height)) = self.nominal {
            let tenths = 10.0 * double(height);
            same(
                "the diameter",
                &f64::from(found.size.diameter.0),
                &double(diameter),
            )?;
            same(
                "the height in tenths",
                &(
                    f64::from(found.size.length.0),
                    f64::from(found.size.length.1),
                ),
                &(tenths, tenths),
            )?;
        }
        Ok(())
    }
}

/// A proposal with one cell so marked.
fn marked(text: &str) -> Result<Proposal, (Vec<Fault>, String)> {
    let cell = json!({ "id": "K1", "designation": text });
    proposals::read("1S1P", &[cell], json!({}))
        .map_err(|found| (found.iter().map(|one| one.fault).collect(), told(&found)))
}

/// The text is an error, alone and on a cell.
fn is_refused(text: &str) -> Outcome {
    same("what it is read as", &Designation::parse(text).ok(), &None)?;
    // Where there is no text, the document is at fault before any designation is.
    let expected = if text.is_empty() {
        Fault::WrongShape
    } else {
        Fault::BadCode
    };
    match marked(text) {
        Ok(_) => Err("a cell may be marked with it".to_owned()),
        Err((faults, told)) if faults != [expected] => Err(format!("on a cell it gives {told}")),
        Err(_) => Ok(()),
    }
}

/// On a cell, the designation gives the class and sizes of one cell, and is an error if it is that
/// of several.
fn gives_facts(
    catalogue: &Catalogue,
    text: &str,
    read: Designation,
    wanted: &Wanted<'_>,
) -> Outcome {
    let proposal = match marked(text) {
        Ok(proposal) => proposal,
        Err((faults, _)) if !read.is_single() && faults == [Fault::BadCode] => return Ok(()),
        Err((_, told)) => return Err(told),
    };
    same("whether it is one cell", &read.is_single(), &true)?;
    let (diameter, length) = (read.size.diameter, read.size.length);
    let tenths = |tenths: u32| f64::from(tenths) / 10.0;
    same(
        "cell.class",
        &class(catalogue, &proposal)?.as_deref(),
        &wanted.class,
    )?;
    same(
        "cell.code_diameter",
        &Some(range(f64::from(diameter.0), f64::from(diameter.1))),
        &number(catalogue, &proposal, "cell.code_diameter")?,
    )?;
    same(
        "cell.code_length",
        &Some(range(tenths(length.0), tenths(length.1))),
        &number(catalogue, &proposal, "cell.code_length")?,
    )
}

fn range(low: f64, high: f64) -> Interval {
    Interval::new(low, high).expect("sizes are in order")
}

fn value(catalogue: &Catalogue, proposal: &Proposal, name: &str) -> Result<Option<Value>, String> {
    let sheet = proposal
        .facts(catalogue)
        .map_err(|problems| told(&problems))?;
    let (id, def) = catalogue
        .fact_named(name)
        .ok_or(format!("there is no fact `{name}`"))?;
    Ok(sheet
        .given(def.subject, 0, catalogue.slot(id))
        .map(|given| given.value.clone()))
}

fn number(
    catalogue: &Catalogue,
    proposal: &Proposal,
    name: &str,
) -> Result<Option<Interval>, String> {
    Ok(match value(catalogue, proposal, name)? {
        Some(Value::Number(measure)) => Some(measure.range()),
        _ => None,
    })
}

fn class(catalogue: &Catalogue, proposal: &Proposal) -> Result<Option<String>, String> {
    let (_, def) = catalogue
        .fact_named("cell.class")
        .ok_or("cells have no class")?;
    let FactKind::Choice(options) = &def.kind else {
        return Err("the class is no choice".to_owned());
    };
    Ok(match value(catalogue, proposal, "cell.class")? {
        Some(Value::Choice(set)) => set.only().and_then(|at| options.get(at)).cloned(),
        _ => None,
    })
}

fn is_read(catalogue: &Catalogue, text: &str, wanted: &Wanted<'_>) -> Outcome {
    let read = Designation::parse(text).map_err(|fault| fault.to_string())?;
    wanted.agrees(read)?;
    gives_facts(catalogue, text, read, wanted)
}

#[test]
fn designations_are_read_or_refused_as_the_sources_say() {
    let catalogue = rulesets::catalogue();
    Part::read("designations", "rows", 92).run_with(
        &Exceptions {
            not_met: NOT_MET,
            ..Exceptions::default()
        },
        |row: &Row| match row.expect {
            Expect::Malformed | Expect::NotCylindrical => is_refused(&row.text),
            Expect::Valid => {
                row.is_complete()?;
                is_read(&catalogue, &row.text, &row.wanted())?;
                let letter = row
                    .electrode_letters
                    .as_ref()
                    .and_then(|letters| letters.chars().nth(1));
                same(
                    "the electrode letter",
                    &Designation::parse(&row.text)
                        .ok()
                        .map(|read| read.electrode),
                    &letter,
                )
            }
            Expect::Open => match &row.may {
                Some(may) if Designation::parse(&row.text).is_ok() => {
                    is_read(&catalogue, &row.text, &may.wanted())
                }
                _ => is_refused(&row.text),
            },
        },
    );
}

/// Not met means refused here. Read as another cell, such a designation would be no safe side.
#[test]
fn what_is_not_read_is_an_error() {
    let rows = Part::read("designations", "rows", 92);
    for NotMet { id, .. } in NOT_MET {
        assert_eq!(
            is_refused(rows.row(id)["text"].as_str().unwrap()),
            Ok(()),
            "{id}"
        );
    }
}
