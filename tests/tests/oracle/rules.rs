//! Rules: what the rulesets of a check define, and what their layers make of it, by LANGUAGE.md
//! sections 4, 6 and 7.

use std::collections::{BTreeMap, BTreeSet};

use rules_core::quantity::Kind;

use super::facts::{Assumed, Defs, catalogue, declared};
use super::grammar::{Tree, read};
use super::number::Number;
use super::quantity::{Said, Taking, Tolerance, said};
use crate::generate::document::Doc;

/// A figure.
#[derive(Debug, Clone)]
pub(crate) struct Figure {
    pub(crate) about: String,
    pub(crate) is: Tree,
}

/// A caution.
#[derive(Debug, Clone)]
pub(crate) struct Caution {
    pub(crate) id: String,
    pub(crate) about: String,
    /// None for every stage.
    pub(crate) stage: Option<String>,
    pub(crate) applies_when: Option<Tree>,
    pub(crate) refuse_unless: Option<Tree>,
    pub(crate) warn_unless: Option<Tree>,
    /// Whether what is unmeasured only warns.
    pub(crate) unmeasured_warns: bool,
}

/// All that a check goes by.
#[derive(Debug, Clone)]
pub(crate) struct Rules {
    pub(crate) defs: Defs,
    pub(crate) limits: BTreeMap<String, Said>,
    /// The meters that are assumed where none is stated; the widest counts.
    pub(crate) meters: Assumed,
    /// By their whole names.
    pub(crate) figures: BTreeMap<String, Figure>,
    pub(crate) cautions: Vec<Caution>,
    /// In order.
    pub(crate) stages: Vec<String>,
    pub(crate) simple: bool,
}

impl Rules {
    /// The cautions that rest on a library figure other than `build.current`, which are not worked
    /// out here.
    pub(crate) fn beyond(&self) -> Vec<&str> {
        let formulas = |caution: &Caution| {
            [
                &caution.applies_when,
                &caution.refuse_unless,
                &caution.warn_unless,
            ]
            .map(Option::clone)
        };
        let beyond = |caution: &&Caution| {
            formulas(caution)
                .into_iter()
                .flatten()
                .any(|tree| !self.reaches(&tree))
        };
        self.cautions
            .iter()
            .filter(beyond)
            .map(|caution| caution.id.as_str())
            .collect()
    }

    fn reaches(&self, tree: &Tree) -> bool {
        tree.names().into_iter().all(|(subject, word)| {
            let name = format!("{subject}.{word}");
            match self.figures.get(&name) {
                _ if subject == "limit" || name == "build.current" => true,
                Some(figure) => self.reaches(&figure.is),
                None => self.defs.contains_key(&name),
            }
        })
    }
}

/// Documents by file name.
pub(crate) type Shelf = BTreeMap<String, Doc>;

/// What one ruleset sees.
struct View {
    limits: BTreeMap<String, Said>,
    meters: Assumed,
    /// The cautions that it has.
    cautions: BTreeMap<String, Seen>,
    simple: bool,
}

/// What a ruleset sees of a caution.
#[derive(Clone, PartialEq)]
struct Seen {
    dropped: bool,
    stage: Option<String>,
}

/// The rules of rulesets named together.
pub(crate) fn load(shelf: &Shelf, names: &[&str]) -> Rules {
    let names: BTreeSet<&str> = names.iter().map(|name| bare_path(name)).collect();
    let mut reached = BTreeSet::new();
    names
        .iter()
        .for_each(|name| reach(shelf, name, &mut reached));
    let docs: Vec<&Doc> = reached.iter().map(|name| &shelf[name]).collect();
    let top = joined(
        names.iter().map(|name| view(shelf, name)).collect(),
        &directions(&docs),
    );
    let mut defs = catalogue();
    docs.iter().for_each(|doc| defs.extend(declared(doc)));
    let kept = |caution: Caution| {
        let seen = &top.cautions[&caution.id];
        let stage = seen.stage.clone();
        (!seen.dropped).then_some(Caution { stage, ..caution })
    };
    let cautions = docs
        .iter()
        .flat_map(|doc| list(doc, "cautions"))
        .map(caution)
        .filter_map(kept)
        .collect();
    let mut stages = Vec::new();
    in_order(
        shelf,
        &names.iter().copied().collect::<Vec<_>>(),
        &mut stages,
    );
    let figures = docs
        .iter()
        .flat_map(|doc| map(doc, "figures"))
        .map(|(name, doc)| figure(name, doc))
        .collect();
    Rules {
        defs,
        limits: top.limits,
        meters: top.meters,
        figures,
        cautions,
        stages,
        simple: top.simple,
    }
}

/// The stages in the order in which they are met: of rulesets by their own names, first those of what
/// they extend.
fn in_order(shelf: &Shelf, files: &[&str], met: &mut Vec<String>) {
    let mut docs: Vec<&Doc> = files.iter().map(|file| &shelf[*file]).collect();
    docs.sort_by_key(|doc| doc.text_of("ruleset"));
    for doc in docs {
        in_order(shelf, &extended(doc).collect::<Vec<_>>(), met);
        for (id, _) in map(doc, "stages") {
            if !met.contains(id) {
                met.push(id.clone());
            }
        }
    }
}

fn reach(shelf: &Shelf, name: &str, reached: &mut BTreeSet<String>) {
    if reached.insert(name.to_owned()) {
        extended(&shelf[name]).for_each(|name| reach(shelf, name, reached));
    }
}

fn extended(doc: &Doc) -> impl Iterator<Item = &str> {
    list(doc, "extends")
        .iter()
        .map(|name| bare_path(name.text()))
}

/// All files of a case are in one folder.
fn bare_path(path: &str) -> &str {
    path.trim_start_matches("./")
}

fn list<'d>(doc: &'d Doc, key: &str) -> &'d [Doc] {
    doc.get(key).map(Doc::items).unwrap_or_default()
}

fn map<'d>(doc: &'d Doc, key: &str) -> &'d [(String, Doc)] {
    doc.get(key).map(Doc::entries).unwrap_or_default()
}

fn subject(about: &str) -> String {
    about.strip_prefix("each ").unwrap_or(about).to_owned()
}

fn figure(name: &str, doc: &Doc) -> (String, Figure) {
    let about = subject(doc.text_of("about").unwrap());
    (
        format!("{about}.{name}"),
        Figure {
            is: read(doc.text_of("is").unwrap()),
            about,
        },
    )
}

fn caution(doc: &Doc) -> Caution {
    let formula = |key: &str| doc.text_of(key).map(read);
    Caution {
        id: doc.text_of("id").unwrap().to_owned(),
        about: subject(doc.text_of("about").unwrap()),
        stage: doc.text_of("stage").map(str::to_owned),
        applies_when: formula("applies_when"),
        refuse_unless: formula("refuse_unless"),
        warn_unless: formula("warn_unless"),
        unmeasured_warns: doc.text_of("if_unmeasured") == Some("warn"),
    }
}

/// Whether the higher is the stricter, by limit.
fn directions(docs: &[&Doc]) -> BTreeMap<String, bool> {
    let all = docs.iter().flat_map(|doc| map(doc, "limits"));
    all.map(|(name, doc)| (name.clone(), doc.text_of("stricter") == Some("higher")))
        .collect()
}

/// What a ruleset sees: what those it extends see, together, then its own.
fn view(shelf: &Shelf, name: &str) -> View {
    let doc = &shelf[name];
    let bases: Vec<&str> = extended(doc).collect();
    let mut reached = BTreeSet::new();
    reach(shelf, name, &mut reached);
    let docs: Vec<&Doc> = reached.iter().map(|name| &shelf[name]).collect();
    let mut seen = joined(
        bases.iter().map(|base| view(shelf, base)).collect(),
        &directions(&docs),
    );
    if let Some(acceptance) = doc.text_of("acceptance") {
        seen.simple = acceptance == "simple";
    }
    for (name, limit) in map(doc, "limits") {
        let kind = limit.text_of("kind").and_then(Kind::from_name);
        seen.limits
            .insert(name.clone(), limit_value(limit, "value", kind));
    }
    for (kind, meters) in assumed(doc, "is") {
        seen.meters.entry(kind).or_default().extend(meters);
    }
    for caution in list(doc, "cautions") {
        let own = Seen {
            dropped: false,
            stage: caution.text_of("stage").map(str::to_owned),
        };
        let id = caution.text_of("id").unwrap().to_owned();
        seen.cautions.insert(id, own);
    }
    if let Some(adjust) = doc.get("adjust") {
        adjusted(&mut seen, adjust);
    }
    seen
}

/// The meters of a map, by kind; each is one or a list of several.
fn assumed(doc: &Doc, key: &str) -> Assumed {
    let of_kind = |(name, doc): &(String, Doc)| {
        let kind = Kind::from_name(name).unwrap();
        let texts = match doc.get(key).unwrap() {
            Doc::List(several) => several.iter().map(Doc::text).collect(),
            only => vec![only.text()],
        };
        let meter = |text: &str| Tolerance::of_meter(text, kind);
        (kind, texts.into_iter().map(meter).collect())
    };
    map(doc, "meters").iter().map(of_kind).collect()
}

/// The value of a limit, which keeps the kind that it has; without one it has that of its unit, or is
/// a ratio.
fn limit_value(doc: &Doc, key: &str, kind: Option<Kind>) -> Said {
    let value = said(doc.text_of(key).unwrap(), kind, Taking::Stated);
    Said {
        kind: kind.or(value.kind).or(Some(Kind::Ratio)),
        ..value
    }
}

fn adjusted(seen: &mut View, adjust: &Doc) {
    for (name, change) in map(adjust, "limits") {
        let kind = seen.limits[name].kind;
        seen.limits
            .insert(name.clone(), limit_value(change, "to", kind));
    }
    seen.meters.extend(assumed(adjust, "to"));
    for (id, change) in map(adjust, "cautions") {
        let caution = seen.cautions.get_mut(id).unwrap();
        caution.dropped |= matches!(change.text_of("drop"), Some("yes" | "true"));
        if let Some(stage) = change.text_of("stage") {
            caution.stage = Some(stage.to_owned());
        }
    }
    if let Some(to) = adjust
        .get("acceptance")
        .and_then(|change| change.text_of("to"))
    {
        seen.simple = to == "simple";
    }
}

/// The strictest of each limit and all meters; a caution is dropped if all that have it drop it, and of the stage in
/// which all see it, or of every stage; simple if all are.
fn joined(views: Vec<View>, higher: &BTreeMap<String, bool>) -> View {
    let simple = !views.is_empty() && views.iter().all(|view| view.simple);
    let mut made = View {
        limits: BTreeMap::new(),
        meters: Assumed::new(),
        cautions: BTreeMap::new(),
        simple,
    };
    for view in views {
        for (name, limit) in view.limits {
            let kept = made
                .limits
                .get(&name)
                .map_or(limit, |other| stricter(limit, *other, higher[&name]));
            made.limits.insert(name, kept);
        }
        for (kind, meters) in view.meters {
            made.meters.entry(kind).or_default().extend(meters);
        }
        for (id, new) in view.cautions {
            let both = match made.cautions.get(&id) {
                None => new,
                Some(before) => Seen {
                    dropped: before.dropped && new.dropped,
                    stage: new
                        .stage
                        .filter(|stage| before.stage.as_ref() == Some(stage)),
                },
            };
            made.cautions.insert(id, both);
        }
    }
    made
}

/// End by end, so that two ranges of which neither is the stricter give a third. The nominal value
/// of a limit is its middle.
fn stricter(one: Said, other: Said, higher: bool) -> Said {
    let span = if higher {
        one.number.span.greatest(other.number.span)
    } else {
        one.number.span.least(other.number.span)
    };
    Said {
        number: Number::plain(span),
        nominal: Number::plain(span.middle()),
        ..one
    }
}
