//! The rules of a shipped ruleset as they are kept in a program: compiled when that was built. They
//! are taken as they are where nothing else could come of the texts, and added to where other
//! rulesets extend them.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::fact_place::LatePlaces;
use super::layer::Examples;
use super::library::Library;
use super::limit::LimitInfo;
use super::made_of::MadeOf;
use super::reserved::Reserved;
use super::rules::{Caution, FigureInfo, Rules};
use super::stack::Stack;
use super::view::View;
use crate::facts::{Catalogue, ShippedVersion, SubjectId};
use crate::formula::{Program, Relations};
use crate::quantity::Kind;
use crate::snapshot::{Late, Reader, Snapshot, Stored};

/// The layers of a stack: of each its name, and the name of one that extends it, if one does.
type Names = Vec<(&'static str, Option<&'static str>)>;

/// What is kept of rules, up to what is compiled.
struct Opened {
    names: Names,
    /// The limits, by number.
    limits: Vec<&'static str>,
    rest: Reader,
}

/// The part of a stack that was compiled when the program was built: its first layers.
#[derive(Default)]
pub(super) struct Done {
    /// How many layers.
    pub layers: usize,
    pub program: Program,
    pub cautions: Vec<Caution>,
    pub relations: Option<Relations>,
    pub limits: Late<Vec<LimitInfo>>,
    pub figures: Late<Vec<FigureInfo>>,
    /// Of each figure on how many levels of others it rests.
    pub levels: Vec<usize>,
}

impl Rules {
    /// The rules by one name, if that is a shipped ruleset whose rules are kept for this catalogue,
    /// and if the library finds what it extends among the shipped ones too.
    pub(super) fn kept(
        names: &[&str],
        library: &dyn Library,
        catalogue: &Catalogue,
    ) -> Option<Self> {
        let [name] = names else { return None };
        let shipped = Reserved(catalogue.shipped());
        let (version, snapshot) = shipped.kept(name)?;
        let mut opened = open(snapshot, catalogue)?;
        let is_shipped = |(ruleset, from): &(&str, Option<&str>)| {
            let found = library.find(ruleset, *from).ok()?;
            let is_text = |one: &ShippedVersion| {
                one.ruleset == *ruleset && one.text.is_some_and(|text| text.is_of(&found.bytes))
            };
            let named = found.name == *ruleset && library.identity(&found) == *ruleset;
            (named && shipped.0.iter().any(is_text)).then_some(())
        };
        opened.names.iter().try_for_each(is_shipped)?;
        let done = done(&mut opened)?;
        let made_of = MadeOf::kept(version.ruleset, shipped);
        rest(done, catalogue.clone(), made_of, &mut opened.rest)
    }
}

impl Done {
    /// The first layers of a stack, if they are those of a shipped ruleset whose rules are kept for
    /// this catalogue: of the most that there is.
    pub(super) fn of(stack: &Stack, view: &View, catalogue: &Catalogue) -> Option<Self> {
        let layers = stack.layers.iter();
        let compiled = layers.take_while(|layer| layer.examples == Examples::Compiled);
        let names: Vec<&str> = compiled.map(|layer| layer.name.as_str()).collect();
        let (_, snapshot) = stack.reserved.kept(names.last()?)?;
        let mut opened = open(snapshot, catalogue)?;
        let same = opened.names.iter().map(|(name, _)| *name).eq(names);
        let numbers: BTreeMap<&str, usize> =
            view.limits.keys().map(String::as_str).zip(0..).collect();
        let limits = opened.limits.iter().map(|name| numbers.get(name).copied());
        opened.rest.set_limits(limits.collect::<Option<_>>()?);
        let done = done(&mut opened)?;
        // In formulas a limit has the kind that its value shows.
        let mut limits = done.program.limits.iter();
        let same_kinds =
            limits.all(|limit| Some(limit.kind) == kind_seen(stack, view, &limit.name));
        (same && same_kinds).then_some(done)
    }
}

/// The kind in which a limit is shown with the value that is seen.
fn kind_seen(stack: &Stack, view: &View, limit: &str) -> Option<Kind> {
    let seen = view.limits.get(limit)?;
    let defined = stack.layers.get(seen.layer)?.limits.get(seen.index)?;
    Some(defined.body.kind_to_show(&seen.written))
}

/// Opens what is kept, if it is of the facts and figures, by number, of this catalogue.
fn open(snapshot: Snapshot, catalogue: &Catalogue) -> Option<Opened> {
    let mut from = Reader::of(snapshot);
    from.part()?; // the layer
    let same_facts = catalogue.digest() == from.text()?;
    let as_many = catalogue.facts().len() == from.number()?;
    let mut same_figures = catalogue.worked().len() == from.number()?;
    for def in catalogue.worked() {
        let kept = (
            SubjectId::read(&mut from)?,
            from.text()?,
            Kind::read(&mut from)?,
        );
        same_figures &= kept == (def.subject, def.name, def.kind);
    }
    let names: Names = Stored::read(&mut from)?;
    from.set_files(names.iter().map(|(file, _)| Arc::from(*file)).collect());
    let opened = Opened {
        names,
        limits: Stored::read(&mut from)?,
        rest: from,
    };
    (same_facts && as_many && same_figures).then_some(opened)
}

fn done(opened: &mut Opened) -> Option<Done> {
    let from = &mut opened.rest;
    Some(Done {
        layers: opened.names.len(),
        program: Stored::read(from)?,
        cautions: Stored::read(from)?,
        relations: Stored::read(from).map(Some)?,
        limits: Stored::read(from)?,
        figures: Stored::read(from)?,
        levels: Stored::read(from)?,
    })
}

fn rest(done: Done, catalogue: Catalogue, made_of: MadeOf, from: &mut Reader) -> Option<Rules> {
    let rules = Rules {
        catalogue,
        program: done.program,
        cautions: done.cautions,
        relations: done.relations?,
        limits: done.limits,
        figures: done.figures,
        stages: Stored::read(from)?,
        meters: Stored::read(from)?,
        layers: Stored::read(from)?,
        loosened: Stored::read(from)?,
        notice: Stored::read(from)?,
        acceptance: Stored::read(from)?,
        sources: Stored::read(from)?,
        digests: Stored::read(from)?,
        made_of: Arc::new(made_of),
        places: LatePlaces::default(),
    };
    from.is_done().then_some(rules)
}
