//! The rows of a log as readings.

use rules_core::document::{Fault, Problems, Span};
use rules_core::facts::{StatedMeters, add_quantity_problem};
use rules_core::quantity::{Interval, Kind, Measure, Nature, OneMeter, Quantity};

use super::assumed::meter;
use crate::table::{Heading, HeadingUnit, Table};

/// The columns that a log may have, and a unit of each for messages.
const COLUMNS: [(&str, Kind, &str); 5] = [
    ("time", Kind::Time, "s"),
    ("charge", Kind::Charge, "mAh"),
    ("voltage", Kind::Voltage, "V"),
    ("current", Kind::Current, "A"),
    ("temperature", Kind::Temperature, "degC"),
];

/// A reading apart from the gain error of its meter: the true value is in the core times a factor
/// that the whole column shares.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reading {
    pub core: Interval,
    pub nominal: f64,
    pub span: Span,
}

impl Reading {
    pub(super) fn negative(self) -> Self {
        Self {
            core: -self.core,
            nominal: -self.nominal,
            ..self
        }
    }
}

/// A column of readings.
#[derive(Debug, Clone)]
struct Column {
    readings: Vec<Reading>,
    factor: Interval,
}

/// A row: time in h, charge in Ah, and so on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Row {
    pub time: Option<Reading>,
    pub charge: Option<Reading>,
    pub voltage: Reading,
    pub current: Option<Reading>,
    pub temperature: Option<Reading>,
}

/// What the readings of each column share.
#[derive(Debug, Clone, Copy)]
pub(super) struct Factors {
    pub time: Interval,
    pub charge: Interval,
    pub voltage: Interval,
    pub current: Interval,
}

/// A log, row by row.
#[derive(Debug, Clone)]
pub(super) struct Log {
    pub rows: Vec<Row>,
    pub factors: Factors,
    /// Where its headings are.
    pub span: Span,
}

impl Log {
    /// Reads a table; what is wrong in it is reported.
    pub(super) fn read(
        table: &mut Table<'_>,
        meters: &StatedMeters,
        problems: &mut Problems<'_>,
    ) -> Option<Self> {
        let before = problems.len();
        refuse_unknown(table.headings(), problems);
        let numbers: Vec<usize> = COLUMNS
            .iter()
            .filter_map(|(name, ..)| table.column(name))
            .collect();
        table.settle_decimals(&numbers, problems);
        let columns = COLUMNS.map(|(name, kind, unit)| {
            let column = Named { name, kind, unit };
            column.read(table, meters, problems)
        });
        let span = table.headings().first().map(|heading| heading.span)?;
        let [time, charge, voltage, current, temperature] = columns;
        if voltage.is_none() && problems.len() == before {
            missing("voltage", "voltage [V]", span, problems);
        }
        if problems.len() > before {
            return None;
        }
        let voltage = voltage?;
        let factor = |column: &Option<Column>| {
            let known = column.as_ref().map(|column| column.factor);
            known.unwrap_or(Interval::point(1.0))
        };
        let factors = Factors {
            time: factor(&time),
            charge: factor(&charge),
            voltage: voltage.factor,
            current: factor(&current),
        };
        let at = |column: &Option<Column>, row: usize| column.as_ref()?.readings.get(row).copied();
        let row = |(row, voltage): (usize, &Reading)| Row {
            time: at(&time, row),
            charge: at(&charge, row),
            voltage: *voltage,
            current: at(&current, row),
            temperature: at(&temperature, row),
        };
        let rows = voltage.readings.iter().enumerate().map(row).collect();
        Some(Self {
            rows,
            factors,
            span,
        })
    }
}

/// Reports a column that a log must have.
pub(super) fn missing(what: &str, heading: &str, span: Span, problems: &mut Problems<'_>) {
    let message = format!("the curve has no column `{what}`");
    let help = format!("write a heading `{heading}` above it");
    problems.add(Fault::MissingKey, span, message, help);
}

fn refuse_unknown(headings: &[Heading], problems: &mut Problems<'_>) {
    for heading in headings {
        let name = heading.name.as_str();
        if name.is_empty() || COLUMNS.iter().any(|(known, ..)| *known == name) {
            continue;
        }
        let help = match problems.near(name, COLUMNS.iter().map(|(known, ..)| *known)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => {
                "a curve has `time` or `charge`, `voltage`, and perhaps `current` and `temperature`; \
                 take the others out"
                    .to_owned()
            }
        };
        let message = format!("a curve has no column `{name}`");
        problems.add(Fault::UnknownKey, heading.span, message, help);
    }
}

/// A column by its name.
struct Named {
    name: &'static str,
    kind: Kind,
    /// A usual unit.
    unit: &'static str,
}

impl Named {
    /// The readings of the column; none where there is none, or one that cannot be read.
    fn read(
        &self,
        table: &Table<'_>,
        meters: &StatedMeters,
        problems: &mut Problems<'_>,
    ) -> Option<Column> {
        let at = table.column(self.name)?;
        let heading = table.headings().get(at)?;
        if !self.fits(heading, problems) {
            return None;
        }
        let (mut measures, mut spans) = (Vec::new(), Vec::new());
        let meter = meter(self.kind, meters);
        for row in table.rows() {
            let Some(node) = table.quantity(row, at) else {
                let message = format!("this row has no `{}`", self.name);
                problems.add(Fault::MissingKey, row.span(), message, "fill it in");
                continue;
            };
            let text = node.scalar().unwrap_or_default();
            match Quantity::read(text, self.kind, Nature::Measured, meter.as_ref()) {
                Ok(measure) => {
                    measures.push(measure);
                    spans.push(node.span);
                }
                Err(error) => add_quantity_problem(&node, &error, problems),
            }
        }
        Some(Column::of(&measures, &spans))
    }

    /// Whether the heading has a unit of its kind.
    fn fits(&self, heading: &Heading, problems: &mut Problems<'_>) -> bool {
        let unit = match &heading.unit {
            HeadingUnit::Known(unit) => unit,
            // It is reported.
            HeadingUnit::Faulty => return false,
            HeadingUnit::None => {
                let message = format!("`{}` has no unit", self.name);
                let help = format!(
                    "write it into the heading, as `{} [{}]`",
                    self.name, self.unit
                );
                problems.add(Fault::NoUnit, heading.span, message, help);
                return false;
            }
        };
        let one = Quantity::read(&format!("1 {unit}"), self.kind, Nature::Stated, None);
        if one.is_err() {
            let message = format!("`{unit}` is no unit of `{}`", self.name);
            let help = self.kind.how_to_write();
            problems.add(Fault::WrongKind, heading.span, message, help);
        }
        one.is_ok()
    }
}

impl Column {
    /// Readings of one meter share its gain error; of others each is by itself.
    fn of(measures: &[Measure], spans: &[Span]) -> Self {
        let shared = OneMeter::of(measures.iter().copied());
        let (cores, factor) = match shared {
            Some(OneMeter { cores, factor }) => (cores, factor),
            None => {
                let ranges = measures.iter().map(Measure::range).collect();
                (ranges, Interval::point(1.0))
            }
        };
        let each = cores.into_iter().zip(measures).zip(spans);
        let readings = each.map(|((core, measure), span)| Reading {
            core,
            nominal: measure.nominal(),
            span: *span,
        });
        Self {
            readings: readings.collect(),
            factor,
        }
    }
}
