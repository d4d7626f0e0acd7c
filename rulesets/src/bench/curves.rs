//! The curves that the tests of a bench name in place of what they showed: logs of discharges, as
//! tables beside the bench.

use std::collections::BTreeSet;
use std::sync::Arc;

use rules_core::document::{Content, Entry, Fault, Node, Problem, Problems, Source, Span};
use rules_core::quantity::{Holds, Interval, Kind, Nature, Quantity};
use rules_core::ruleset::{Library, Text};

use super::columns::split;
use super::dated::{CAPACITY, RESISTANCE};
use super::files;
use super::nodes::{entry, map, over};
use crate::bounds::{MOST_CURVE_BYTES, MOST_CURVES};
use crate::curve::{BY, Beside, Fact, meter, shown};
use crate::proposal::Vetting;
use crate::table::Table;

/// The key by which a test names its curve.
pub(super) const CURVE: &str = "curve";

/// What a test tells by its curve and by nothing else beside it.
const BY_CURVE: [&str; 3] = ["value", "half", "late"];

/// The texts of curves by their paths.
#[derive(Debug, Default)]
pub(super) struct Curves {
    found: Vec<(String, Arc<Source>)>,
    missing: Vec<(String, Vec<Problem>)>,
    /// How many texts of the bench come before them.
    before: usize,
}

impl Curves {
    /// The curves that a bench and its tables name. Faults are reported where they are used.
    pub(super) fn find(
        tree: &Node<'_>,
        tables: &[&Source],
        bench: &Text,
        library: &dyn Library,
    ) -> Self {
        let mut paths = BTreeSet::new();
        of_cells(tree, &mut paths);
        tables.iter().for_each(|table| of_table(table, &mut paths));
        let mut curves = Self {
            before: 1 + tables.len(),
            ..Self::default()
        };
        let mut bytes = 0;
        for path in paths {
            if curves.found.len() == MOST_CURVES || bytes > MOST_CURVE_BYTES {
                let message = format!(
                    "a bench has at most {MOST_CURVES} curves, of {MOST_CURVE_BYTES} bytes together"
                );
                let problem = Problem::of_file(Fault::TooLarge, message, "split the bench");
                curves.missing.push((path, vec![problem]));
                continue;
            }
            match files::table(&path, bench, library) {
                Ok(table) => {
                    bytes += table.source.text().len();
                    curves.found.push((path, table.source));
                }
                Err(problems) => curves.missing.push((path, problems)),
            }
        }
        curves
    }

    pub(super) fn texts(&self) -> impl Iterator<Item = Arc<Source>> + '_ {
        self.found.iter().map(|(_, source)| Arc::clone(source))
    }

    /// Each as a table, by its path; for what is wrong with it, it is read where it is used.
    pub(super) fn tables(&self) -> impl Iterator<Item = (&str, Table<'_>)> {
        self.found.iter().filter_map(|(path, source)| {
            let mut unheard = Problems::new(source);
            Some((path.as_str(), Table::read(source.text(), 0, &mut unheard)?))
        })
    }

    /// The entries of a cell with what its curves show in the place of their names, and the
    /// resistance that they show beside.
    pub(super) fn expanded(
        &self,
        entries: Vec<Entry<'static>>,
        vetting: &Vetting,
        problems: &mut Problems<'_>,
    ) -> (Vec<Entry<'static>>, Option<Entry<'static>>) {
        let mut resistance = None;
        let expanded = entries.into_iter().map(|entry| {
            if entry.key != split(CAPACITY).0 {
                return entry;
            }
            let mut one = |place, node: &Node<'static>| {
                let reader = Reader {
                    curves: self,
                    vetting,
                    place,
                };
                let (node, shown) = reader.test(node, problems);
                resistance = resistance.take().or(shown);
                node
            };
            let node = match &entry.node.content {
                Content::List(tests) => {
                    let tests = tests.iter().enumerate();
                    let tests = tests.map(|(place, test)| one(place, test)).collect();
                    super::nodes::list(tests, entry.node.span)
                }
                _ => one(0, &entry.node),
            };
            Entry { node, ..entry }
        });
        let expanded = expanded.collect();
        (expanded, resistance)
    }
}

/// The entries of a cell, with a resistance that a curve shows where the cell has none.
pub(super) fn with_resistance(
    entries: Vec<Entry<'static>>,
    shown: Option<Entry<'static>>,
) -> Vec<Entry<'static>> {
    over(entries, shown)
}

/// What the cells of a bench name, in `capacity` or a list of such tests.
fn of_cells(tree: &Node<'_>, paths: &mut BTreeSet<String>) {
    let Some(Content::List(cells)) = tree.at("cells").map(|cells| &cells.content) else {
        return;
    };
    for tests in cells.iter().filter_map(|cell| cell.at(split(CAPACITY).0)) {
        let tests = match &tests.content {
            Content::List(tests) => tests.as_slice(),
            _ => std::slice::from_ref(tests),
        };
        let named = tests.iter().filter_map(|test| test.at(CURVE)?.scalar());
        paths.extend(named.map(str::to_owned));
    }
}

/// What a table of cells or of readings names.
fn of_table(source: &Source, paths: &mut BTreeSet<String>) {
    if !source.text().contains(CURVE) {
        return;
    }
    let mut unheard = Problems::new(source);
    let Some(table) = Table::read(source.text(), 0, &mut unheard) else {
        return;
    };
    let of_cells = format!("{}.{CURVE}", split(CAPACITY).0);
    let Some(column) = table.column(CURVE).or_else(|| table.column(&of_cells)) else {
        return;
    };
    let named = table.rows().iter().filter_map(|row| row.field(column));
    paths.extend(named.map(|field| field.text.to_string()));
}

/// Reads the curve of one test.
struct Reader<'b> {
    curves: &'b Curves,
    vetting: &'b Vetting,
    /// Its place among the tests of its cell.
    place: usize,
}

impl Reader<'_> {
    /// A test with what its curve shows; as it is where it names none.
    fn test(
        &self,
        node: &Node<'static>,
        problems: &mut Problems<'_>,
    ) -> (Node<'static>, Option<Entry<'static>>) {
        let Some(named) = node.at(CURVE) else {
            return (node.clone(), None);
        };
        let kept = node.entries().iter().filter(|entry| entry.key != CURVE);
        let kept: Vec<Entry<'static>> = kept.cloned().collect();
        let before = problems.len();
        self.refuse_both(&kept, problems);
        let Some(mut table) = self.table(named, problems) else {
            return (map(kept, node.span), None);
        };
        let beside = self.beside(node);
        let found = shown(&mut table, self.vetting.meters(), &beside, problems);
        let Some(found) = found.filter(|_| problems.len() == before) else {
            return (map(kept, node.span), None);
        };
        let is_first = self.place == 0;
        let facts = found
            .test
            .iter()
            .filter(|fact| is_first || !fact.key.starts_with(BY));
        let facts: Vec<Entry<'static>> = facts.map(entry_of).collect();
        self.refuse_other_current(node, &facts, problems);
        let mut resistance = found.resistance.iter().map(entry_of).peekable();
        let resistance = resistance.peek().is_some().then(|| resistance.collect());
        let resistance = resistance.map(|all| {
            let key = split(RESISTANCE).0;
            entry(key, named.span, map(all, named.span))
        });
        (map(over(facts, kept), node.span), resistance)
    }

    /// Reports what a test tells by hand and by its curve.
    fn refuse_both(&self, kept: &[Entry<'static>], problems: &mut Problems<'_>) {
        let is_both =
            |entry: &&Entry<'_>| BY_CURVE.contains(&&*entry.key) || entry.key.starts_with(BY);
        // `by` alone says what the capacity is.
        for both in kept.iter().filter(is_both) {
            let message = format!("`{}` stands here beside a curve, which tells it", both.key);
            let help =
                "keep one of the two; another test of the cell is an entry or a row of its own";
            problems.add(Fault::DefinedTwice, both.node.span, message, help);
        }
    }

    /// Reports a current beside a curve that surely has another.
    fn refuse_other_current(
        &self,
        node: &Node<'static>,
        facts: &[Entry<'static>],
        problems: &mut Problems<'_>,
    ) {
        let read = facts.iter().find(|fact| fact.key == "at");
        let read = read.and_then(|fact| Some((fact, self.current(&fact.node)?)));
        let told = node.at("at").and_then(|at| self.current(at));
        let Some(((fact, read), told)) = read.zip(told) else {
            return;
        };
        if read.equals(told) == Holds::No {
            let message = format!(
                "the curve was logged at {}, and the test says another current",
                fact.node.scalar().unwrap_or_default()
            );
            let help = "correct `at` of the test or of its tester, or the unit of the curve";
            problems.add(Fault::Contradiction, fact.node.span, message, help);
        }
    }

    fn table<'s>(&'s self, named: &Node<'_>, problems: &mut Problems<'_>) -> Option<Table<'s>> {
        let path = rules_core::document::text(named, problems)?;
        let all = &self.curves.found;
        if let Some(at) = all.iter().position(|(known, _)| known == path) {
            let (_, source) = all.get(at)?;
            let start = Source::start_of(self.curves.before + at);
            return Table::read(source.text(), start, problems);
        }
        let missing = self.curves.missing.iter().find(|(known, _)| known == path);
        for problem in missing.into_iter().flat_map(|(_, found)| found) {
            let place = problem.place.as_ref().map(|place| format!("{place}: "));
            let message = format!("{}{}", place.unwrap_or_default(), problem.message);
            let help = problem.help.clone().unwrap_or_default();
            problems.add(problem.fault, named.span, message, help);
        }
        None
    }

    /// What stands beside the curve, or comes from the tester. What is faulty is reported where the
    /// cell is read.
    fn beside(&self, node: &Node<'_>) -> Beside {
        let end = node.at("to").and_then(Node::scalar).and_then(|text| {
            let end = Quantity::read(text, Kind::Voltage, Nature::Stated, None);
            Some(end.ok()?.nominal())
        });
        Beside {
            current: node.at("at").and_then(|at| self.current(at)),
            end,
        }
    }

    /// A current as good as its meter.
    fn current(&self, node: &Node<'_>) -> Option<Interval> {
        let meter = meter(Kind::Current, self.vetting.meters());
        let read = Quantity::read(
            node.scalar()?,
            Kind::Current,
            Nature::Measured,
            meter.as_ref(),
        );
        Some(read.ok()?.range())
    }
}

fn entry_of(fact: &Fact) -> Entry<'static> {
    let at: Span = fact.span;
    entry(&fact.key, at, Node::text_at(&fact.value, at))
}
