//! A bench from its files: what is in it, and everything that is wrong with it.

use std::sync::Arc;

use rules_core::document::{
    Entry, Fault, Fields, Node, Problem, ProblemList, Problems, Source, Span, Syntax, digest, list,
    read_on, source, text,
};
use rules_core::ruleset::{Library, Text, beside, is_path};

use super::cells::{Stock, Surroundings, of_table};
use super::curves::Curves;
use super::files::{self, Found};
use super::nodes::{entry, list as nodes, map};
use super::readings::{Reading, Readings};
use super::sections::Sections;
use crate::proposal::Vetting;
use crate::table::Table;

/// What a workshop says once: meters, testers, chargers, lights, places, packs, cells, what was read
/// of them over time, and the rulesets in force.
#[derive(Debug, Clone)]
pub struct Bench {
    pub(super) title: String,
    pub(super) digest: String,
    pub(super) rules: Option<Vec<String>>,
    /// The texts that it was read from, its own first.
    pub(super) texts: Vec<Arc<Source>>,
    /// What its own text is and what its tables are, by whatever names they were found.
    own: Arc<str>,
    of_tables: Vec<Arc<str>>,
    pub(super) meters: Option<Node<'static>>,
    pub(super) sections: Sections,
    pub(super) packs: Stock,
    pub(super) cells: Stock,
    pub(super) readings: Readings,
    /// What is wrong with it.
    pub(super) problems: Vec<Problem>,
}

impl Bench {
    /// Reads a bench and its tables, which the library finds.
    ///
    /// # Errors
    ///
    /// Every problem found, each with its place.
    pub fn load(name: &str, library: &dyn Library) -> Result<Self, ProblemList> {
        let text = files::bench(name, None, library)?;
        let bench = Self::read(text, library)?;
        match bench.problems.is_empty() {
            true => Ok(bench),
            false => Err(bench.problems.into()),
        }
    }

    /// Reads a bench with what is wrong in it.
    pub(super) fn read(text: Text, library: &dyn Library) -> Result<Self, ProblemList> {
        let own = Arc::new(source(&text.name, text.bytes.to_vec())?);
        let (tree, found) = read_on(&own, Syntax::of_name(&text.name))?;
        let tree = tree.detached().further(Source::start_of(0));
        let tables = Tables::find(&tree, &text, library);
        let sources: Vec<&Source> = tables
            .found
            .iter()
            .map(|(_, table)| &*table.source)
            .collect();
        let curves = Curves::find(&tree, &sources, &text, library);
        let mut texts = vec![Arc::clone(&own)];
        texts.extend(tables.texts().chain(curves.texts()));
        let all = Source::new(&text.name, String::new()).with_others(texts.clone());
        let mut problems = Problems::resumed(&all, found);
        let reader = Reader {
            text: &text,
            tables,
            curves,
            library,
        };
        let bench = reader.bench(&tree, texts, &mut problems);
        let found = problems.finish();
        match bench {
            Some(bench) => Ok(Self {
                problems: found.into_vec(),
                ..bench
            }),
            None => Err(found),
        }
    }

    /// Its title.
    #[must_use]
    pub fn title(&self) -> &str {
        &self.title
    }

    /// The rulesets in force, as a library finds them; none if it does not say.
    #[must_use]
    pub fn rules(&self) -> Option<&[String]> {
        self.rules.as_deref()
    }

    /// Which text a cell is written in: its own, or that of a table, which another bench may have too.
    pub(super) fn home_of(&self, cell: &str) -> &Arc<str> {
        let start = self.cells.get(cell).map_or(0, |kept| kept.span.start);
        let mut tables = self.of_tables.iter().enumerate().rev();
        let table = tables.find(|(at, _)| start >= Source::start_of(at + 1));
        table.map_or(&self.own, |(_, table)| table)
    }

    /// The digest of all that it says: of its document and of the rows of its tables.
    #[must_use]
    pub fn digest(&self) -> &str {
        &self.digest
    }
}

/// The tables that a bench names.
struct Tables {
    found: Vec<(&'static str, Found)>,
    missing: Vec<(Span, Problem)>,
}

/// The keys under `tables`.
const TABLES: [&str; 2] = ["cells", "readings"];

impl Tables {
    fn find(tree: &Node<'_>, bench: &Text, library: &dyn Library) -> Self {
        let (mut found, mut missing) = (Vec::new(), Vec::new());
        for key in TABLES {
            let node = tree.at("tables").and_then(|tables| tables.at(key));
            let Some((node, path)) = node.and_then(|node| Some((node, node.scalar()?))) else {
                continue;
            };
            match files::table(path, bench, library) {
                Ok(table) => found.push((key, table)),
                Err(problems) => missing.extend(problems.into_iter().map(|one| (node.span, one))),
            }
        }
        Self { found, missing }
    }

    fn texts(&self) -> impl Iterator<Item = Arc<Source>> + '_ {
        self.found
            .iter()
            .map(|(_, table)| Arc::clone(&table.source))
    }

    /// The rows under a key.
    fn read(&self, key: &str, problems: &mut Problems<'_>) -> Option<Table<'_>> {
        let at = self.found.iter().position(|(known, _)| *known == key)?;
        let (_, table) = self.found.get(at)?;
        Table::read(table.source.text(), Source::start_of(at + 1), problems)
    }

    /// The identities of the tables, in their order.
    fn identities(&self) -> impl Iterator<Item = Arc<str>> + '_ {
        self.found
            .iter()
            .map(|(_, table)| Arc::clone(&table.identity))
    }

    /// Reports the tables that could not be read: those without a place of their own at their names.
    fn report(&self, problems: &mut Problems<'_>) {
        for (span, problem) in &self.missing {
            let place = problem.place.as_ref().map(|place| format!("{place}: "));
            let message = format!("{}{}", place.unwrap_or_default(), problem.message);
            let help = problem.help.clone().unwrap_or_default();
            problems.add(problem.fault, *span, message, help);
        }
    }
}

/// Whether it is a plan that takes from a bench, in place of one, which is reported.
fn is_plan(tree: &Node<'_>, problems: &mut Problems<'_>) -> bool {
    let (Some(_), Some(named)) = (tree.at("title"), tree.at("bench")) else {
        return false;
    };
    let path = named.scalar().unwrap_or_default();
    let message = format!("this is a plan, which takes from the bench `{path}`");
    let help = format!("name the bench itself: `{path}`, seen from the folder of the plan");
    problems.add(Fault::WrongShape, named.span, message, help);
    true
}

struct Reader<'l> {
    text: &'l Text,
    tables: Tables,
    curves: Curves,
    library: &'l dyn Library,
}

impl Reader<'_> {
    fn bench(
        &self,
        tree: &Node<'static>,
        texts: Vec<Arc<Source>>,
        problems: &mut Problems<'_>,
    ) -> Option<Bench> {
        let mut fields = Fields::of(tree, "a bench", problems)?;
        if is_plan(tree, problems) {
            return None;
        }
        if fields.refuse_others(&OTHERS, problems) {
            return None;
        }
        fields.need_format(problems);
        let title = fields
            .must_text("bench", problems)
            .unwrap_or_default()
            .to_owned();
        let rules = fields.may("rules").map(|node| self.rules(node, problems));
        let meters = fields.may("meters").map(Node::detached);
        let vetting = Vetting::new(meters.as_ref(), problems);
        let sections = Sections::read(&mut fields, &vetting, problems);
        let around = Surroundings {
            sections: &sections,
            vetting: &vetting,
            curves: &self.curves,
        };
        let mut packs = Stock::default();
        if let Some(node) = fields.may("packs") {
            packs.add_packs(&items(node, problems), &vetting, problems);
        }
        let inline = fields
            .may("cells")
            .map(|node| items(node, problems))
            .unwrap_or_default();
        self.tables_are_named(fields.may("tables"), problems);
        fields.finish(problems);
        let (cells, readings, rows) = self.cells(&inline, &around, problems);
        Some(Bench {
            title,
            digest: digest(&said(tree, rows, self.rows_of_curves())),
            rules,
            texts,
            own: Arc::from(self.library.identity(self.text)),
            of_tables: self.tables.identities().collect(),
            meters,
            sections,
            packs,
            cells,
            readings,
            problems: Vec::new(),
        })
    }

    /// The cells, their readings, and the rows of the tables.
    fn cells(
        &self,
        inline: &[Node<'static>],
        around: &Surroundings<'_>,
        problems: &mut Problems<'_>,
    ) -> (Stock, Readings, Node<'static>) {
        let (mut cells, mut readings) = (Stock::default(), Readings::default());
        let mut rows = Vec::new();
        cells.add_cells(inline, around, problems);
        if let Some(mut table) = self.tables.read("cells", problems) {
            cells.add_cells(&of_table(&mut table, problems), around, problems);
            rows.push(entry("cells", Span::default(), rows_of(&table)));
        }
        if let Some(mut table) = self.tables.read("readings", problems) {
            readings = Readings::read(&mut table, &cells, around, problems);
            rows.push(entry("readings", Span::default(), rows_of(&table)));
        }
        refuse_undated(&cells, &readings, problems);
        (cells, readings, map(rows, Span::default()))
    }

    /// The rows of the curves, by their paths.
    fn rows_of_curves(&self) -> Vec<Entry<'static>> {
        let curves = self.curves.tables();
        let rows = curves.map(|(path, table)| entry(path, Span::default(), rows_of(&table)));
        rows.collect()
    }

    fn tables_are_named(&self, node: Option<&Node<'_>>, problems: &mut Problems<'_>) {
        self.tables.report(problems);
        let Some(mut fields) = node.and_then(|node| Fields::of(node, "`tables`", problems)) else {
            return;
        };
        for key in TABLES {
            let _ = fields.may_text(key, problems);
        }
        fields.finish(problems);
    }

    /// The rulesets in force, by names that the library finds.
    fn rules(&self, node: &Node<'_>, problems: &mut Problems<'_>) -> Vec<String> {
        let mut all = Vec::new();
        for item in list(node, problems) {
            let Some(name) = text(item, problems) else {
                continue;
            };
            let path = is_path(name);
            if path && !files::stays_below(name) {
                let message = format!("`{name}` is no file in the folder of the bench");
                let help = "a bench names rulesets in its own folder or below it; name others with `--rules`";
                problems.add(Fault::Unreadable, item.span, message, help);
                continue;
            }
            let asked = if path {
                beside(name, &self.text.name)
            } else {
                name.to_owned()
            };
            match self.library.find(&asked, None) {
                Ok(found) if self.library.identity(&found) == self.library.identity(self.text) => {
                    let message = format!("`{name}` is the bench itself");
                    problems.add(Fault::Cycle, item.span, message, "name a ruleset");
                }
                Ok(_) => all.push(asked),
                Err(problem) => {
                    let help = problem.help.unwrap_or_default();
                    problems.add(problem.fault, item.span, problem.message, help);
                }
            }
        }
        all
    }
}

/// Other documents, by a key that only they have.
const OTHERS: [(&str, &str, &str); 2] = [
    (
        "ruleset",
        "this is a ruleset; a bench belongs here",
        "name rulesets under `rules` of the bench",
    ),
    (
        "arrangement",
        "this is a proposal; a bench belongs here",
        "name a file with `bench: <title>`",
    ),
];

fn items(node: &Node<'_>, problems: &mut Problems<'_>) -> Vec<Node<'static>> {
    list(node, problems).iter().map(Node::detached).collect()
}

/// All that a bench says, for its digest.
fn said(tree: &Node<'static>, rows: Node<'static>, curves: Vec<Entry<'static>>) -> Node<'static> {
    let nowhere = Span::default();
    let bench = entry("bench", nowhere, tree.clone());
    let mut all = vec![bench, entry("tables", nowhere, rows)];
    if !curves.is_empty() {
        all.push(entry("curves", nowhere, map(curves, nowhere)));
    }
    map(all, nowhere)
}

/// A table as lists, for its digest.
fn rows_of(table: &Table<'_>) -> Node<'static> {
    let texts = |texts: Vec<String>| {
        let texts = texts.into_iter().map(|text| Node::of_text(&text));
        nodes(texts.collect(), Span::default())
    };
    let headings = table
        .headings()
        .iter()
        .map(|heading| match heading.unit.known() {
            Some(unit) => format!("{} [{unit}]", heading.name),
            None => heading.name.clone(),
        });
    let mut rows = vec![texts(headings.collect())];
    for row in table.rows() {
        let fields = (0..table.headings().len()).map(|at| row.field(at));
        let fields = fields.map(|field| field.map(|field| field.text.to_string()));
        rows.push(texts(fields.map(Option::unwrap_or_default).collect()));
    }
    nodes(rows, Span::default())
}

/// Reports what a cell says without a date and its readings with one: which is newer is not known.
fn refuse_undated(cells: &Stock, readings: &Readings, problems: &mut Problems<'_>) {
    for id in cells.ids() {
        let all: Vec<&Reading> = readings.of(id).collect();
        let Some(kept) = cells.get(id).filter(|_| !all.is_empty()) else {
            continue;
        };
        let mut dated: Vec<&str> = all
            .iter()
            .flat_map(|reading| reading.entries.iter().map(|entry| &*entry.key))
            .collect();
        if dated.contains(&"capacity") {
            dated.push("tested_ago");
        }
        if all
            .iter()
            .filter(|reading| reading.what.name() == super::dated::REST)
            .count()
            > 1
        {
            dated.push("drift");
        }
        let is_dated = |entry: &&Entry<'_>| dated.contains(&&*entry.key);
        for entry in kept.entries.iter().filter(is_dated) {
            let message = format!(
                "`{}` of `{id}` stands here without a date, and readings of `{id}` tell it with one",
                entry.key
            );
            let help = "move it to the readings, with its date";
            problems.add(Fault::DefinedTwice, entry.node.span, message, help);
        }
    }
}
