//! A document to a proposal, collecting every problem.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::arrangement::Arrangement;
use super::groups::{Group, GroupedCell, Grouping, group};
use super::marks::{self, Marks, entry, fill};
use super::meters::Meters;
use super::packs;
use super::sections::{Extra, SectionReader};
use crate::bounds::MOST_CELLS;
use crate::facts::{BUILD, CELL, CHARGING, CONDITIONS, GROUP, LIGHT, PACK, PROTECTION, catalogue};
use rules_core::check::faults;
use rules_core::document::{
    Fault, Fields, Listing, Node, ProblemList, Problems, SetAside, Source, Span, Syntax, read_on,
    source,
};
use rules_core::facts::{
    Catalogue, Given, Instance, Proposed, Roster, Sheet, SubjectId, Value, read_value,
};
use rules_core::quantity::{Kind, Measure, Quantity};
use rules_core::ruleset::Rules;

/// One proposed use of cells in a light.
#[derive(Debug, Clone)]
pub struct Proposal {
    title: Arc<str>,
    source: Arc<Source>,
    sheet: Sheet,
    extras: Vec<Extra>,
    meters: Meters,
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

    /// Reads a proposal that is to be checked by rules: where it has faults, those that the check
    /// would find are told with them.
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

    /// Reads a proposal, or tells its faults, with those that a check by rules would find in what
    /// could be read of it.
    fn read_or(
        name: &str,
        bytes: Vec<u8>,
        syntax: Syntax,
        rules: Option<&Rules>,
    ) -> Result<Self, ProblemList> {
        let source = Arc::new(source(name, bytes)?);
        let (tree, found) = read_on(&source, syntax)?;
        Self::of_tree(&source, &tree, found, rules)
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

    fn of_tree(
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

    fn facts_and_faults(
        &self,
        catalogue: &Catalogue,
        problems: &mut Problems<'_>,
    ) -> Cow<'_, Sheet> {
        if self.extras.is_empty() {
            Cow::Borrowed(&self.sheet)
        } else {
            Cow::Owned(self.with_extras(catalogue, problems))
        }
    }
}

impl Proposal {
    /// The sheet with what stands under `extra`.
    fn with_extras(&self, catalogue: &Catalogue, problems: &mut Problems<'_>) -> Sheet {
        let mut sheet = self.sheet.clone();
        // What the loader itself knows or works out is not for `extra` to say.
        let own = crate::facts::catalogue();
        for extra in &self.extras {
            let name = catalogue.full_name(extra.subject, &extra.entry.key);
            let declared = catalogue
                .fact_named(&name)
                .filter(|_| own.fact_named(&name).is_none());
            let Some((id, def)) = declared else {
                undeclared(extra, &name, catalogue, own, problems);
                continue;
            };
            let given = read_value(
                &extra.entry.node,
                &name,
                def,
                self.meters.serving(def),
                problems,
            );
            if let (Some(given), Some(instance)) =
                (given, sheet.instance_mut(extra.subject, extra.position))
            {
                instance.set(catalogue.slot(id), given);
            }
        }
        sheet
    }
}

fn undeclared(
    extra: &Extra,
    name: &str,
    catalogue: &Catalogue,
    own: &Catalogue,
    problems: &mut Problems<'_>,
) {
    let names = catalogue.facts().map(|(id, _)| catalogue.fact_name(id));
    let declared: Vec<&str> = names
        .filter(|known| own.fact_named(known).is_none())
        .collect();
    let help = match problems.near(name, declared.iter().copied()) {
        Some(near) => format!(
            "did you mean `{}`?",
            near.split_once('.').map_or(near, |(_, name)| name)
        ),
        None => "a ruleset that declares it under `facts` must take part in the check".to_owned(),
    };
    problems.add(
        Fault::UnknownKey,
        extra.entry.key_span,
        format!("no ruleset in use declares a fact `{name}`"),
        help,
    );
}

/// The keys at the top of a proposal, besides `format` and `title`.
const SECTIONS: [(&str, SubjectId); 4] = [
    ("light", LIGHT),
    ("protection", PROTECTION),
    ("charging", CHARGING),
    ("conditions", CONDITIONS),
];

/// What reports call cells that are called for and not listed, and the groups that they form.
const NOT_LISTED: &str = "(not listed)";

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
        if fields.refuse_other(
            "ruleset",
            "this is a ruleset; a proposal belongs here",
            "name rulesets with `--rules`",
            problems,
        ) {
            return None;
        }
        fields.need_format(problems);
        let title = fields
            .may_text("title", problems)
            .map_or_else(|| self.source.name().into(), Arc::from);
        let meters = fields
            .may("meters")
            .map(|node| Meters::read(node, problems))
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
            .and_then(|node| Some((arrangement(node, problems)?, node)));
        let cells = fields.may_list("cells", problems);
        self.cells(cells, &mut sections, problems);
        let packs = fields.may_list("packs", problems);
        self.packs(packs, &mut sections, problems);
        fields.finish(problems);
        if let Some((arrangement, node)) = arrangement {
            self.build(arrangement, node.span, cells.len(), problems);
        }
        let extras = sections.extras;
        Some(Proposal {
            title,
            source: self.source,
            sheet: self.sheet,
            extras,
            meters,
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
        let special: &[&str] = if subject == LIGHT { &["draw"] } else { &[] };
        if let Some(instance) = self.sheet.instance_mut(subject, 0) {
            sections.read(
                node,
                (subject, 0),
                &format!("`{key}`"),
                special,
                instance,
                problems,
            );
        }
        if let Some(draw) = entry(node, "draw").filter(|_| subject == LIGHT) {
            self.draw(draw, problems);
        }
    }

    /// `draw` is a current or a power; it fills the fact of its kind.
    fn draw(&mut self, node: &Node<'_>, problems: &mut Problems<'_>) {
        let quantity = node.scalar().map(Quantity::parse);
        let unit = quantity
            .and_then(Result::ok)
            .map(|quantity| quantity.unit());
        let name = match unit {
            Some(Some(unit)) if unit.suits(Kind::Power) => "light.draw_power",
            Some(Some(unit)) if !unit.suits(Kind::Current) => {
                return neither_current_nor_power(node, Fault::WrongKind, problems);
            }
            Some(None) => return neither_current_nor_power(node, Fault::NoUnit, problems),
            _ => "light.draw_current",
        };
        let Some((id, def)) = self.catalogue.fact_named(name) else {
            return;
        };
        let given = read_value(node, "light.draw", def, None, problems);
        if let (Some(given), Some(light)) = (given, self.sheet.instance_mut(LIGHT, 0)) {
            light.set(self.catalogue.slot(id), given);
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
            let mut cell = Instance::default();
            sections.read(
                node,
                (CELL, position),
                "a cell",
                &["designation"],
                &mut cell,
                problems,
            );
            self.name(node, (CELL, "cell"), &mut cell, &mut names, problems);
            Marks {
                catalogue: self.catalogue,
                cell: &mut cell,
                problems,
            }
            .read(node);
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
            let mut pack = Instance::default();
            sections.read(node, (PACK, position), "a pack", &[], &mut pack, problems);
            self.name(node, (PACK, "pack"), &mut pack, &mut names, problems);
            if let Some(designation) = entry(node, "designation") {
                marks::of_pack(designation, problems);
            }
            self.add(PACK, pack);
        }
    }

    /// Names one of a list by its `id`, which no other may have.
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

    /// The facts of the build, cells that are called for and not listed, and the groups.
    fn build(
        &mut self,
        arrangement: Arrangement,
        span: Span,
        listed: usize,
        problems: &mut Problems<'_>,
    ) {
        let mut build = Instance::default();
        for (name, number) in [
            ("build.series", arrangement.series),
            ("build.parallel", arrangement.parallel),
            ("build.cells", arrangement.cells()),
            ("build.listed", listed),
        ] {
            let exact = Measure::exact(f64::from(u32::try_from(number).unwrap_or(u32::MAX)));
            fill(
                self.catalogue,
                &mut build,
                name,
                Value::Number(exact),
                &number.to_string(),
                span.start,
            );
        }
        if let Some(instance) = self.sheet.instance_mut(BUILD, 0) {
            *instance = build;
        }
        if let Some(roster) = self.sheet.roster_mut(CELL) {
            let missing = arrangement.cells().saturating_sub(roster.instances.len());
            let unlisted = (missing > 0).then(|| unlisted(missing));
            roster.instances.extend(unlisted);
        }
        packs::complete(&mut self.sheet, self.catalogue);
        self.groups(arrangement, span, listed, problems);
    }

    fn groups(
        &mut self,
        arrangement: Arrangement,
        span: Span,
        listed: usize,
        problems: &mut Problems<'_>,
    ) {
        let slot = self
            .catalogue
            .fact_named("cell.group")
            .map_or(usize::MAX, |(id, _)| self.catalogue.slot(id));
        let label = |cell: &Instance| match cell.given(slot).map(|given| &given.value) {
            Some(Value::Text(text)) => Some(text.to_string()),
            _ => None,
        };
        let cells = self
            .sheet
            .roster(CELL)
            .map(|roster| roster.instances.as_slice())
            .unwrap_or_default();
        let members: Vec<GroupedCell> = cells
            .iter()
            .map(|cell| GroupedCell {
                name: cell.name.clone(),
                label: label(cell),
                count: cell.stands_for(),
            })
            .collect();
        let settled = match group(arrangement, &members, listed) {
            Grouping::Settled(groups) => groups,
            Grouping::Unsettled => Vec::new(),
            Grouping::Wrong(message) => {
                problems.add(
                    Fault::PartsDisagree,
                    span,
                    message,
                    "correct `arrangement`, or `group` of the cells",
                );
                Vec::new()
            }
        };
        let unsettled = settled.is_empty();
        let mut instances = if unsettled {
            vec![Instance::named("(not stated)")]
        } else {
            Vec::new()
        };
        for (position, group) in settled.into_iter().enumerate() {
            instances.push(self.group_instance(position, group));
        }
        if let Some(roster) = self.sheet.roster_mut(GROUP) {
            *roster = Roster {
                instances,
                unsettled,
                open: false,
            };
        }
    }

    fn none_listed(&self, cells: &[usize]) -> bool {
        let is_listed = |at: &usize| {
            let cell = self.sheet.instance(CELL, *at);
            cell.is_some_and(Instance::is_listed)
        };
        !cells.iter().any(is_listed)
    }

    fn group_instance(&mut self, position: usize, settled: Group) -> Instance {
        for at in &settled.members {
            if let Some(cell) = self.sheet.instance_mut(CELL, *at) {
                cell.container = Some(position);
            }
        }
        let name = settled.name.as_str();
        // A group has the name of its only cell, where it has no other.
        let of_unlisted = name == NOT_LISTED && self.none_listed(&settled.members);
        let mut group = Instance::named(name)
            .holding(settled.members)
            .standing_for(settled.count);
        if of_unlisted {
            group = group.not_listed();
        }
        // A name that nobody gave it is for reports, and no fact.
        if let Some((id, _)) = self
            .catalogue
            .fact_named("group.id")
            .filter(|_| settled.stated)
        {
            group.set(
                self.catalogue.slot(id),
                Given {
                    value: Value::Text(name.into()),
                    written: name.into(),
                    at: None,
                },
            );
        }
        group
    }
}

/// So many cells that are called for and not listed.
fn unlisted(count: usize) -> Instance {
    Instance::named(NOT_LISTED).standing_for(count).not_listed()
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

fn neither_current_nor_power(node: &Node<'_>, fault: Fault, problems: &mut Problems<'_>) {
    let written = node.scalar().unwrap_or_default();
    let message = format!("`{written}` is neither a current nor a power");
    problems.add(
        fault,
        node.span,
        message,
        "write it in A or mA, as `2.1 A`, or in W or mW, as `7.5 W`",
    );
}

fn arrangement(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<Arrangement> {
    let text = rules_core::document::text(node, problems)?;
    let arrangement = Arrangement::parse(text);
    if arrangement.is_none() {
        let help = format!(
            "write groups in series and cells in parallel, such as `2S1P`; at most {MOST_CELLS} cells"
        );
        problems.add(
            Fault::Syntax,
            node.span,
            format!("`{text}` is no arrangement"),
            help,
        );
    }
    arrangement
}
