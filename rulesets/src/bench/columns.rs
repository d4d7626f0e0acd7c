//! The columns of a table of cells, and of one of readings: which key of a cell each holds.

use rules_core::document::{Fault, Node, Problems, Span};
use rules_core::facts::{FactKind, Key};
use rules_core::quantity::{Kind, Nature, Quantity};

use crate::facts::{CELL, catalogue};
use crate::table::{HeadingUnit, Row, Table};

/// What stands in a column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Holds {
    /// Words, ids, dates.
    Words,
    /// Numbers of several kinds.
    Numbers,
    /// Numbers of one kind.
    Of(Kind),
}

/// A column, with the key of a cell that it holds.
#[derive(Debug, Clone)]
pub(super) struct Column {
    pub at: usize,
    /// The key: `wrap`, `rest.voltage`.
    pub key: String,
    pub span: Span,
    holds: Holds,
}

impl Column {
    /// What stands in it.
    pub(super) fn node(&self, table: &Table<'_>, row: &Row<'_>) -> Option<Node<'static>> {
        match self.holds {
            Holds::Words => Some(row.field(self.at)?.node()),
            Holds::Numbers | Holds::Of(_) => table.quantity(row, self.at),
        }
    }
}

/// The columns of a table of whose headings `holds` knows what stands below. Others are reported, with
/// a near miss among `all`. A column whose unit cannot be is left out.
pub(super) fn columns(
    table: &mut Table<'_>,
    holds: impl Fn(&str) -> Option<Holds>,
    all: &[String],
    problems: &mut Problems<'_>,
) -> Vec<Column> {
    let mut found = Vec::new();
    for (at, heading) in table.headings().iter().enumerate() {
        // What is wrong with a unit is told; its numbers cannot be read.
        if heading.name.is_empty() || heading.unit == HeadingUnit::Faulty {
            continue;
        }
        let Some(holds) = holds(&heading.name) else {
            unknown(&heading.name, heading.span, all, problems);
            continue;
        };
        let has_unit = heading.unit.known().is_some() && holds == Holds::Words;
        found.push(Column {
            at,
            key: heading.name.clone(),
            span: heading.span,
            holds: if has_unit { Holds::Numbers } else { holds },
        });
    }
    let numbers = found.iter().filter(|column| column.holds != Holds::Words);
    let numbers: Vec<usize> = numbers.map(|column| column.at).collect();
    table.settle_decimals(&numbers, problems);
    found.retain(|column| match column.holds {
        Holds::Of(kind) => fits(table, column, kind, problems),
        Holds::Words | Holds::Numbers => true,
    });
    found
}

/// Whether the numbers of a column have a unit of their kind. What lacks one is reported once, at the
/// heading.
fn fits(table: &Table<'_>, column: &Column, kind: Kind, problems: &mut Problems<'_>) -> bool {
    let heading = table.headings().get(column.at);
    let fits = |text: &str| {
        let read = Quantity::parse(text);
        read.is_ok_and(|quantity| quantity.measure(kind, Nature::Stated, None).is_ok())
    };
    if let Some(unit) = heading.and_then(|heading| heading.unit.known()) {
        let fits = fits(&format!("1 {unit}"));
        if !fits {
            let message = format!("`{unit}` is no unit of `{}`", column.key);
            problems.add(Fault::WrongKind, column.span, message, kind.how_to_write());
        }
        return fits;
    }
    let lacks = |row: &&Row<'_>| {
        let node = table.quantity(row, column.at);
        node.and_then(|node| node.scalar().map(lacks_unit)) == Some(true)
    };
    if fits("1") {
        return true;
    }
    let lacking = table.rows().iter().filter(lacks).count();
    if lacking > 0 {
        let message = format!(
            "`{}` has no unit, here and in {lacking} of its rows",
            column.key
        );
        let help = format!(
            "write it into the heading, as `{} [V]`, or beside each number",
            column.key
        );
        let help = help.replace("[V]", &format!("[{}]", usual_unit(kind)));
        problems.add(Fault::NoUnit, column.span, message, help);
    }
    lacking == 0
}

fn lacks_unit(text: &str) -> bool {
    Quantity::parse(text).is_ok_and(|quantity| quantity.unit().is_none())
}

/// The unit that a spreadsheet of cells mostly has.
const fn usual_unit(kind: Kind) -> &'static str {
    match kind {
        Kind::Charge => "mAh",
        Kind::Resistance => "mΩ",
        Kind::Current => "A",
        Kind::Time => "d",
        Kind::Length => "mm",
        Kind::Temperature => "degC",
        Kind::TemperatureDifference => "K",
        _ => "V",
    }
}

fn unknown(name: &str, span: Span, all: &[String], problems: &mut Problems<'_>) {
    let inside = |key: &&String| {
        key.strip_prefix(name)
            .is_some_and(|rest| rest.starts_with('.'))
    };
    let parts: Vec<&str> = all.iter().filter(inside).map(String::as_str).collect();
    let near = problems.near(name, all.iter().map(String::as_str));
    let help = match near {
        _ if !parts.is_empty() => format!("it has parts: {}", rules_core::document::quoted(&parts)),
        Some(near) => format!("did you mean `{near}`?"),
        None => {
            "headings are keys of a cell, such as `rest.voltage [V]`; `cellrules facts` lists them"
                .to_owned()
        }
    };
    problems.add(
        Fault::UnknownKey,
        span,
        format!("there is no column `{name}`"),
        help,
    );
}

/// Keys of a cell that are read by more than the table of facts.
const MORE: [&str; 5] = ["designation", "in", "id", "kind", CURVE_OF_CELL];

/// The key of a cell that names the curve of its capacity test.
const CURVE_OF_CELL: &str = "capacity.curve";

/// What stands at a key of a cell, if it is one.
pub(super) fn holds_at(key: &str) -> Option<Holds> {
    let mut facts = catalogue().facts().filter(|(_, def)| def.subject == CELL);
    if let Some((_, def)) = facts.find(|(_, def)| def.key.as_deref() == Some(key)) {
        return Some(match def.kind {
            FactKind::Number(kind) => Holds::Of(kind),
            _ => Holds::Words,
        });
    }
    let (outer, inner) = key.split_once('.').unwrap_or((key, ""));
    let is_map = matches!(catalogue().key(CELL, outer), Some(Key::Map(_)));
    let is_summary = matches!(catalogue().key(CELL, key), Some(Key::Summary(_)));
    let known = is_summary
        || MORE.contains(&key)
        || outer == "extra" && !inner.is_empty()
        || is_map && inner == "tester";
    known.then_some(Holds::Words)
}

/// Every key of a cell that a column can hold.
pub(super) fn keys() -> Vec<String> {
    let facts = catalogue().facts().filter(|(_, def)| def.subject == CELL);
    let keys = facts.filter_map(|(_, def)| def.key.as_deref().map(str::to_owned));
    let summaries = catalogue().summaries().iter();
    let summaries = summaries.filter(|one| one.subject == CELL);
    keys.chain(summaries.map(|one| one.key.clone()))
        .chain(MORE.map(str::to_owned))
        .collect()
}

/// A key of a map that a cell has: `voltage` of `rest.voltage`.
pub(super) fn split(key: &str) -> (&str, Option<&str>) {
    match key.split_once('.') {
        Some((outer, inner)) => (outer, Some(inner)),
        None => (key, None),
    }
}
