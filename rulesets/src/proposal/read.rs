//! A document to a proposal, collecting every problem.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::build::PlacedArrangement;
use super::extras::{Extra, fill_extras};
use super::marks::entry;
use super::sections::SectionReader;
use super::whole::whole;
use crate::bounds::MOST_CELLS;
use crate::facts::{CELL, CHARGING, CONDITIONS, LIGHT, PACK, PROTECTION, catalogue};
use rules_core::check::faults;
use rules_core::document::{
    Fault, Fields, Listing, Node, ProblemList, Problems, SetAside, Source, Span, Syntax, read_on,
    source, texts,
};
use rules_core::facts::{Catalogue, Instance, Proposed, Sheet, StatedMeters, SubjectId, Value};
use rules_core::ruleset::Rules;

/// One proposed use of cells in a light.
#[derive(Debug, Clone)]
pub struct Proposal {
    title: Arc<str>,
    source: Arc<Source>,
    sheet: Sheet,
    extras: Vec<Extra>,
    notes: Vec<Arc<str>>,
}

impl Proposal {
    /// Reads a proposal from a text; `name` is what messages call it. It is JSON if that ends in
    /// `.json`, and YAML if not.
    ///
    /// # Errors
    ///
    /// Every problem found, each with its place.
    pub fn from_text(name: &str, text: &str) -> Result<Self, ProblemList> {
        Self::read(name, text.into(), Syntax::of_name(name))
    }

    /// Reads a proposal from YAML or JSON; `name` is what messages call it.
    ///
    /// # Errors
    ///
    /// Every problem found, each with its place.
    pub fn read(name: &str, bytes: Vec<u8>, syntax: Syntax) -> Result<Self, ProblemList> {
        Self::read_or(name, bytes, syntax, None)
    }

    /// Reads a proposal that is to be checked by rules. If it has faults, those that the check
    /// would find are reported with them.
    ///
    /// # Errors
    ///
    /// Every problem found, each with its place.
    pub fn read_for(
        rules: &Rules,
        name: &str,
        bytes: Vec<u8>,
        syntax: Syntax,
    ) -> Result<Self, ProblemList> {
        Self::read_or(name, bytes, syntax, Some(rules))
    }

    /// Reads a proposal, or reports its faults together with those that a check by rules would find
    /// in the part that could be read.
    fn read_or(
        name: &str,
        bytes: Vec<u8>,
        syntax: Syntax,
        rules: Option<&Rules>,
    ) -> Result<Self, ProblemList> {
        Self::of_source(&Arc::new(source(name, bytes)?), syntax, rules)
    }

    /// Reads a proposal from the text of a source.
    pub(crate) fn of_source(
        source: &Arc<Source>,
        syntax: Syntax,
        rules: Option<&Rules>,
    ) -> Result<Self, ProblemList> {
        let (tree, found) = read_on(source, syntax)?;
        Self::of_tree(source, &tree, found, rules)
    }

    /// Takes a value of JSON in memory for a proposal; `name` is what messages call it. Places of facts
    /// and problems are in a listing of the value: `cells[K4].rest.voltage: "3.71 V"`.
    ///
    /// # Errors
    ///
    /// Every problem found, each with its place.
    pub fn from_value(name: &str, value: &serde_json::Value) -> Result<Self, ProblemList> {
        Self::from_value_or(name, value, None)
    }

    /// Takes a value for a proposal that is to be checked by rules: where it has faults, those that
    /// the check would find are told with them.
    ///
    /// # Errors
    ///
    /// Every problem found, each with its place.
    pub fn from_value_for(
        rules: &Rules,
        name: &str,
        value: &serde_json::Value,
    ) -> Result<Self, ProblemList> {
        Self::from_value_or(name, value, Some(rules))
    }

    fn from_value_or(
        name: &str,
        value: &serde_json::Value,
        rules: Option<&Rules>,
    ) -> Result<Self, ProblemList> {
        let listing = Listing::of(name, value)?;
        let (tree, found) = listing.tree()?;
        Self::of_tree(listing.source(), &tree, found, rules)
    }

    /// Reads a proposal from a tree, or reports its faults together with what was found before.
    pub(crate) fn of_tree(
        source: &Arc<Source>,
        tree: &Node<'_>,
        found: SetAside,
        rules: Option<&Rules>,
    ) -> Result<Self, ProblemList> {
        let mut problems = Problems::resumed(source, found);
        let declared = rules.map(Rules::catalogue);
        let reading = ProposalReader::new(catalogue(), declared, source);
        match (reading.proposal(tree, &mut problems), rules) {
            (Some(proposal), _) if problems.is_empty() => Ok(proposal),
            (Some(part), Some(rules)) => Err(faults(rules, &part, problems.set_aside())),
            _ => Err(problems.finish()),
        }
    }
}

impl Proposed for Proposal {
    fn title(&self) -> &str {
        &self.title
    }

    fn name(&self) -> &str {
        self.source.name()
    }

    fn source(&self) -> Option<&Source> {
        Some(&self.source)
    }

    fn notes(&self) -> &[Arc<str>] {
        &self.notes
    }

    fn facts_and_faults(
        &self,
        catalogue: &Catalogue,
        problems: &mut Problems<'_>,
    ) -> Cow<'_, Sheet> {
        if self.extras.is_empty() {
            Cow::Borrowed(&self.sheet)
        } else {
            let mut sheet = self.sheet.clone();
            fill_extras(&mut sheet, &self.extras, catalogue, problems);
            Cow::Owned(sheet)
        }
    }
}

/// The keys at the top of a proposal, besides `format` and `title`.
const SECTIONS: [(&str, SubjectId); 4] = [
    ("light", LIGHT),
    ("protection", PROTECTION),
    ("charging", CHARGING),
    ("conditions", CONDITIONS),
];

/// Other documents, by a key that only they have; and a proposal that takes from a bench where none
/// is at hand.
const OTHERS: [(&str, &str, &str); 4] = [
    (
        "ruleset",
        "this is a ruleset; a proposal belongs here",
        "name rulesets with `--rules`",
    ),
    ("lights", IS_BENCH, NAME_BENCH),
    ("chargers", IS_BENCH, NAME_BENCH),
    (
        "bench",
        "no bench is at hand here, so that nothing can be taken from one",
        "write the proposal out with `cellrules plain` and give that; a stream is given a bench with `--bench`",
    ),
];
const IS_BENCH: &str = "this is a bench; a proposal belongs here";
const NAME_BENCH: &str = "name it in a proposal, as `bench: ./bench.yaml`";

struct ProposalReader<'c> {
    catalogue: &'c Catalogue,
    declared: Option<&'c Catalogue>,
    source: Arc<Source>,
    sheet: Sheet,
}

impl<'c> ProposalReader<'c> {
    fn new(
        catalogue: &'c Catalogue,
        declared: Option<&'c Catalogue>,
        source: &Arc<Source>,
    ) -> Self {
        Self {
            catalogue,
            declared,
            source: Arc::clone(source),
            sheet: Sheet::new(catalogue).written_in(Arc::clone(source)),
        }
    }

    /// The proposal, or what could be read of one that has problems; none if this is something else.
    fn proposal(mut self, tree: &Node<'_>, problems: &mut Problems<'_>) -> Option<Proposal> {
        let mut fields = Fields::of(tree, "a proposal", problems)?;
        if fields.refuse_others(&OTHERS, problems) {
            return None;
        }
        fields.need_format(problems);
        let title = fields
            .may_text("title", problems)
            .map_or_else(|| self.source.name().into(), Arc::from);
        let notes = fields.may("notes");
        let notes = notes.map(|node| texts(node, problems)).unwrap_or_default();
        let meters = fields
            .may("meters")
            .map(|node| StatedMeters::read(node, problems))
            .unwrap_or_default();
        let mut sections = SectionReader {
            catalogue: self.catalogue,
            declared: self.declared,
            meters: &meters,
            extras: Vec::new(),
        };
        for (key, subject) in SECTIONS {
            if let Some(node) = fields.may(key) {
                self.section(node, key, subject, &mut sections, problems);
            }
        }
        let arrangement = fields
            .must("arrangement", problems)
            .and_then(|node| PlacedArrangement::read(node, problems));
        let cells = fields.may_list("cells", problems);
        self.cells(cells, &mut sections, problems);
        let packs = fields.may_list("packs", problems);
        self.packs(packs, &mut sections, problems);
        fields.finish(problems);
        if let Some(arrangement) = arrangement {
            arrangement.complete(&mut self.sheet, self.catalogue, cells.len(), problems);
        }
        let extras = sections.extras;
        Some(Proposal {
            title,
            source: self.source,
            sheet: self.sheet.read_with(meters),
            extras,
            notes: notes.into_iter().map(|(note, _)| note.into()).collect(),
        })
    }

    fn section(
        &mut self,
        node: &Node<'_>,
        key: &str,
        subject: SubjectId,
        sections: &mut SectionReader<'_, '_>,
        problems: &mut Problems<'_>,
    ) {
        let read = whole(
            sections,
            node,
            (subject, 0),
            format_args!("`{key}`"),
            problems,
        );
        if let Some(instance) = self.sheet.instance_mut(subject, 0) {
            *instance = read;
        }
    }

    fn cells(
        &mut self,
        nodes: &[Node<'_>],
        sections: &mut SectionReader<'_, '_>,
        problems: &mut Problems<'_>,
    ) {
        let mut names = BTreeMap::new();
        for (position, node) in bounded(nodes, "cells", problems).iter().enumerate() {
            let mut cell = whole(
                sections,
                node,
                (CELL, position),
                format_args!("a cell"),
                problems,
            );
            self.name(node, (CELL, "cell"), &mut cell, &mut names, problems);
            self.add(CELL, cell);
        }
    }

    fn packs(
        &mut self,
        nodes: &[Node<'_>],
        sections: &mut SectionReader<'_, '_>,
        problems: &mut Problems<'_>,
    ) {
        let mut names = BTreeMap::new();
        for (position, node) in bounded(nodes, "packs", problems).iter().enumerate() {
            let mut pack = whole(
                sections,
                node,
                (PACK, position),
                format_args!("a pack"),
                problems,
            );
            self.name(node, (PACK, "pack"), &mut pack, &mut names, problems);
            self.add(PACK, pack);
        }
    }

    /// Names an entry of a list by its `id`, which no other may have.
    fn name(
        &self,
        node: &Node<'_>,
        (subject, what): (SubjectId, &str),
        instance: &mut Instance,
        names: &mut BTreeMap<Arc<str>, usize>,
        problems: &mut Problems<'_>,
    ) {
        let Some(at) = entry(node, "id").map(|id| id.span) else {
            return nameless(node, what, problems);
        };
        let slot = self
            .catalogue
            .id_of(subject)
            .map(|id| self.catalogue.slot(id));
        let Some(Value::Text(id)) = slot.and_then(|slot| Some(&instance.given(slot)?.value)) else {
            return;
        };
        if let Some(first) = names.insert(Arc::clone(id), at.start) {
            let line = problems.source().line_of(first);
            let message =
                format!("the {what} `{id}` is listed again; it is already on line {line}");
            let help = format!("give each {what} a name of its own");
            problems.add(Fault::DefinedTwice, at, message, help);
        }
        instance.name = id.to_string();
    }

    fn add(&mut self, subject: SubjectId, instance: Instance) {
        if let Some(roster) = self.sheet.roster_mut(subject) {
            roster.instances.push(instance);
        }
    }
}

/// The nodes of a list, none if there are too many.
fn bounded<'n>(nodes: &'n [Node<'n>], what: &str, problems: &mut Problems<'_>) -> &'n [Node<'n>] {
    if nodes.len() <= MOST_CELLS {
        return nodes;
    }
    let span = nodes.first().map_or(Span::default(), |node| node.span);
    let message = format!(
        "{} {what} are listed; the most is {MOST_CELLS}",
        nodes.len()
    );
    problems.add(Fault::TooLarge, span, message, "split the proposal");
    &[]
}

fn nameless(node: &Node<'_>, what: &str, problems: &mut Problems<'_>) {
    if matches!(node.content, rules_core::document::Content::Map(_)) {
        let help = format!("add `id: ...`, the name written on the {what}");
        problems.add(
            Fault::MissingKey,
            node.span,
            format!("a {what} needs `id`"),
            help,
        );
    }
}
