//! A proposal as it is written, which may take from a bench.

use std::sync::Arc;

use rules_core::check::given;
use rules_core::document::{
    Fault, Node, Problem, ProblemList, Problems, SetAside, Source, Span, Syntax, read_on, source,
};
use rules_core::ruleset::{Rules, shipped_left_out};

use super::file::Bench;
use super::nodes::{entry, list, map};
use super::order::in_usual_order;
use super::plain;
use super::shelf::Benches;
use super::taken::{Taken, taken};
use crate::front::USUAL_RULESET;
use crate::proposal::{Draft, Proposal};
use crate::shipped::Shipped;

/// A proposal as it is written, with the bench that it names, if it names one.
///
/// ```
/// use rulesets::{Benches, Options, Plan, Syntax, Texts, Verdict, check, shipped_rules};
///
/// let bench = "
/// format: 1
/// bench: Clubhouse of the night relay
/// lights: { torch: { bays: 1, draw: 2.8 W, arrangement: 1S1P } }
/// tables: { cells: cells.csv }
/// ";
/// let cells = "id;rest.voltage [V]\nK4;1,87\n";
/// let files = Texts::of([("bench.yaml", bench), ("cells.csv", cells)]);
/// let plan = "{ format: 1, bench: ./bench.yaml, light: torch, cells: [K4] }";
/// let plan = Plan::read("plan.yaml", plan.into(), Syntax::Yaml, &mut Benches::of(&files))?;
/// let rules = shipped_rules()?;
/// let report = check(&rules, &plan.proposal(Some(&rules))?, Options::default())?;
/// assert_eq!(report.verdict(), Some(Verdict::Refuse)); // K4 was found deeply discharged
/// # Ok::<(), rulesets::ProblemList>(())
/// ```
#[derive(Debug, Clone)]
pub struct Plan {
    source: Arc<Source>,
    syntax: Syntax,
    from: Option<FromBench>,
}

/// What a proposal became with its bench.
#[derive(Debug, Clone)]
struct FromBench {
    bench: Arc<Bench>,
    tree: Node<'static>,
    /// The cells of the bench that are in it.
    cells: Vec<Arc<str>>,
    found: SetAside,
}

impl Plan {
    /// Reads a proposal, and the bench that it names; `name` is what messages call it, and where the
    /// path of the bench starts.
    ///
    /// # Errors
    ///
    /// A text that cannot be read, or a bench of which nothing can be. All other problems are told
    /// when the proposal is made.
    pub fn read(
        name: &str,
        bytes: Vec<u8>,
        syntax: Syntax,
        benches: &mut Benches<'_>,
    ) -> Result<Self, ProblemList> {
        let source = source(name, bytes)?;
        // Most proposals name no bench, and are not to be read twice.
        if !source.text().contains(BENCH) {
            return Ok(Self::without(source, syntax));
        }
        let (tree, found) = read_on(&source, syntax)?;
        let Some(named) = tree.at(BENCH).filter(|_| !is_bench(&tree)) else {
            return Ok(Self::without(source, syntax));
        };
        let span = named.span;
        let bench = named.scalar().ok_or_else(|| no_name(&source, span).into());
        let bench = bench.and_then(|bench| benches.named(bench, name));
        let tree = tree.detached();
        match bench {
            Ok(bench) => {
                let mut plan = Self::with(source, syntax, &tree, found, &bench);
                plan.note_uses(benches);
                Ok(plan)
            }
            Err(problems) => Err(placed(&source, span, found, problems)),
        }
    }

    /// A proposal in the making, with the bench that it names.
    ///
    /// # Errors
    ///
    /// As of one that is read.
    pub fn of_draft(draft: &Draft, benches: &mut Benches<'_>) -> Result<Self, ProblemList> {
        let text = draft.value().to_string();
        Self::read(draft.name(), text.into(), Syntax::Json, benches)
    }

    /// A proposal in the making that takes from a bench which the caller gives: it names none itself.
    ///
    /// # Errors
    ///
    /// As of one that is read.
    pub fn of_draft_beside(draft: &Draft, bench: &Arc<Bench>) -> Result<Self, ProblemList> {
        let text = draft.value().to_string();
        Self::read_beside(draft.name(), text.into(), Syntax::Json, bench)
    }

    /// The bench that it takes from, if it takes from one.
    #[must_use]
    pub fn bench(&self) -> Option<&Arc<Bench>> {
        self.from.as_ref().map(|from| &from.bench)
    }

    /// The proposal as it is written, to be changed field by field.
    ///
    /// # Errors
    ///
    /// A text that is no document.
    pub fn draft(&self) -> Result<Draft, ProblemList> {
        let value = plain::value(&read_on(&self.source, self.syntax)?.0);
        Ok(Draft::of(self.source.name(), value))
    }

    /// The proposal as it is written, as YAML, its keys in the order of the table of facts. Comments
    /// are not kept.
    ///
    /// # Errors
    ///
    /// A text that is no document.
    pub fn yaml(&self) -> Result<String, ProblemList> {
        let tree = read_on(&self.source, self.syntax)?.0.detached();
        Ok(plain::yaml(&in_usual_order(&tree)))
    }

    /// Reads a proposal that takes from a bench which the caller names: it names none itself.
    ///
    /// # Errors
    ///
    /// A text that cannot be read, or a proposal that names a bench.
    pub fn read_beside(
        name: &str,
        bytes: Vec<u8>,
        syntax: Syntax,
        bench: &Arc<Bench>,
    ) -> Result<Self, ProblemList> {
        let source = source(name, bytes)?;
        let (tree, found) = read_on(&source, syntax)?;
        let tree = tree.detached();
        if let Some(named) = tree.at(BENCH) {
            let message = "the bench is named for all proposals here";
            let problem = Problem::of_file(Fault::DefinedTwice, message, "leave the key out");
            return Err(placed(&source, named.span, found, problem.into()));
        }
        Ok(Self::with(source, syntax, &tree, found, bench))
    }

    fn without(source: Source, syntax: Syntax) -> Self {
        let source = Arc::new(source);
        Self {
            source,
            syntax,
            from: None,
        }
    }

    fn with(
        source: Source,
        syntax: Syntax,
        tree: &Node<'static>,
        found: SetAside,
        bench: &Arc<Bench>,
    ) -> Self {
        let source = source.with_others(bench.texts.clone());
        let mut problems = Problems::resumed(&source, found);
        let Taken { tree, cells } = taken(tree, bench, &mut problems);
        let found = problems.set_aside();
        let bench = Arc::clone(bench);
        let from = Some(FromBench {
            bench,
            tree,
            cells,
            found,
        });
        Self {
            source: Arc::new(source),
            syntax,
            from,
        }
    }

    fn note_uses(&mut self, benches: &mut Benches<'_>) {
        let name = self.source.name().to_owned();
        if let Some(from) = &mut self.from {
            let told = benches.used(&from.bench, &from.cells, &name);
            from.note(told);
        }
    }

    /// The bench that it names, if it names one, without a fault.
    ///
    /// # Errors
    ///
    /// Everything that is wrong with the bench.
    pub fn sound_bench(&self) -> Result<Option<&Arc<Bench>>, ProblemList> {
        match self.from.as_ref().map(|from| &from.bench) {
            Some(bench) if !bench.problems.is_empty() => Err(bench.problems.clone().into()),
            bench => Ok(bench),
        }
    }

    /// How many bytes it has as it is written.
    #[must_use]
    pub fn bytes(&self) -> usize {
        self.source.text().len()
    }

    /// What it is where it is no proposal but one of the files that stand beside proposals: a bench or
    /// a ruleset.
    #[must_use]
    pub fn other_than_proposal(&self) -> Option<&'static str> {
        let text = self.source.text();
        if !text.contains(BENCH) && !text.contains(RULESET) {
            return None;
        }
        let (tree, _) = read_on(&self.source, self.syntax).ok()?;
        let is_ruleset = tree.at(RULESET).is_some();
        let is_bench = tree.at(BENCH).is_some() && is_bench(&tree);
        is_ruleset
            .then_some("ruleset")
            .or_else(|| is_bench.then_some("bench"))
    }

    /// The rulesets that it is to be checked by, as a library finds them: those that its bench has in
    /// force, and those asked for besides. Without either it is the usual one.
    #[must_use]
    pub fn rules(&self, asked: &[String]) -> Vec<String> {
        rules_in_force(self.from.as_ref().map(|from| &*from.bench), asked)
    }

    /// The proposal, and if it has faults, those that a check by these rules would find.
    ///
    /// # Errors
    ///
    /// Every problem found in it and in its bench, each with its place.
    pub fn proposal(&self, rules: Option<&Rules>) -> Result<Proposal, ProblemList> {
        let Some(from) = &self.from else {
            return Proposal::of_source(&self.source, self.syntax, rules);
        };
        let tree = from.under(rules);
        let proposal = Proposal::of_tree(&self.source, &tree, from.found.clone(), rules);
        if from.bench.problems.is_empty() {
            return proposal;
        }
        let mut all = from.bench.problems.clone();
        let own = match proposal {
            // What a check would find is told with them.
            Ok(proposal) => rules.and_then(|rules| given(rules, &proposal).err()),
            Err(problems) => Some(problems),
        };
        for problem in own.unwrap_or_default() {
            if !all.contains(&problem) {
                all.push(problem);
            }
        }
        Err(all.into())
    }

    /// The proposal that results, complete and plain, as YAML: a proposal by itself.
    ///
    /// # Errors
    ///
    /// A text that is no document.
    pub fn plain_yaml(&self, rules: &Rules) -> Result<String, ProblemList> {
        self.written(rules, plain::yaml)
    }

    /// The same as a value of JSON.
    ///
    /// # Errors
    ///
    /// A text that is no document.
    pub fn plain_value(&self, rules: &Rules) -> Result<serde_json::Value, ProblemList> {
        self.written(rules, plain::value)
    }

    fn written<T>(&self, rules: &Rules, write: fn(&Node<'_>) -> T) -> Result<T, ProblemList> {
        match &self.from {
            Some(from) => Ok(write(&from.under(Some(rules)))),
            None => Ok(write(&read_on(&self.source, self.syntax)?.0)),
        }
    }
}

impl FromBench {
    /// Adds notes to those that are there.
    fn note(&mut self, notes: Vec<String>) {
        if !notes.is_empty() {
            self.tree = noted(&self.tree, notes);
        }
    }

    /// The tree, with a note where the bench leaves out the rules that are used everywhere else.
    fn under(&self, rules: Option<&Rules>) -> Node<'static> {
        match rules {
            Some(rules) if self.bench.rules.is_some() && leaves_out_usual(rules) => {
                let note = format!("The rulesets of the bench leave out `{USUAL_RULESET}`.");
                noted(&self.tree, vec![note])
            }
            _ => self.tree.clone(),
        }
    }
}

/// The rulesets to check by, as a library finds them: those that a bench has in force, and those asked
/// for besides. Without either it is the usual one.
#[must_use]
pub fn rules_in_force(bench: Option<&Bench>, asked: &[String]) -> Vec<String> {
    let in_force = bench.and_then(Bench::rules).unwrap_or_default();
    let mut all = in_force.to_vec();
    for name in asked {
        if !all.contains(name) {
            all.push(name.clone());
        }
    }
    if all.is_empty() {
        all.push(USUAL_RULESET.to_owned());
    }
    all
}

const BENCH: &str = "bench";
const RULESET: &str = "ruleset";

/// Whether a document with the key is a bench itself, whose title that is.
fn is_bench(tree: &Node<'_>) -> bool {
    ["lights", "chargers", "kinds", "testers", "places", "tables"]
        .iter()
        .any(|key| tree.at(key).is_some())
}

fn no_name(source: &Source, span: Span) -> Problem {
    let help = "write the path of a bench, as `bench: ./bench.yaml`";
    Problem::at(source, Fault::WrongShape, span, "this names no bench", help)
}

/// Problems of a bench that has no places of its own, at the name of the bench.
fn placed(source: &Source, span: Span, found: SetAside, problems: ProblemList) -> ProblemList {
    let mut all = Problems::resumed(source, found);
    let (with, without): (Vec<_>, Vec<_>) = problems
        .into_iter()
        .partition(|problem| problem.place.is_some());
    for problem in without {
        all.add(
            problem.fault,
            span,
            problem.message,
            problem.help.unwrap_or_default(),
        );
    }
    let mut all = all.finish().into_vec();
    all.extend(with);
    all.into()
}

/// Whether the usual rules take no part. Where no shipped ones do, every report says it by itself.
fn leaves_out_usual(rules: &Rules) -> bool {
    let layers = rules.layers();
    shipped_left_out(layers, Shipped::versions()).is_empty()
        && layers.iter().all(|layer| layer.ruleset != USUAL_RULESET)
}

/// A proposal with further notes.
fn noted(tree: &Node<'static>, notes: Vec<String>) -> Node<'static> {
    let mut entries = tree.entries().to_vec();
    let more = notes.into_iter().map(|note| Node::of_text(&note));
    match entries.iter_mut().find(|entry| entry.key == "notes") {
        Some(known) => {
            if let rules_core::document::Content::List(all) = &mut known.node.content {
                all.extend(more);
            }
        }
        None => entries.push(entry(
            "notes",
            Span::default(),
            list(more.collect(), Span::default()),
        )),
    }
    map(entries, tree.span)
}
