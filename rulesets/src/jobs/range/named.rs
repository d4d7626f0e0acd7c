//! Which fact of a plan is varied: by its path in the plan, or by its dotted name.

use rules_core::check::{FactPlace, Subject};
use rules_core::document::{Fault, Problem, near_miss, quoted};
use rules_core::facts::{FactDef, FactId, FactKind, FactOrFigure, Sheet, names};
use rules_core::quantity::Kind;
use rules_core::ruleset::Rules;

/// So many names are listed in a help.
const MOST_NAMED: usize = 8;

/// What there is instead of a range over counts of cells.
const COUNTS: &str = "check the plan with each `arrangement`: of one that is refused a check tries one \
     cell more and one less in parallel, and `cellrules choose` finds the cells for any";

/// A fact of one subject of a plan.
#[derive(Debug, Clone)]
pub(super) struct Varied<'r> {
    pub id: FactId,
    pub def: &'r FactDef,
    /// Which one of its subject it is of.
    pub position: usize,
    /// The slot of the fact among those of its subject.
    pub slot: usize,
    /// Where it is written: `cells[K4].capacity.value`.
    pub path: String,
}

/// The facts that a name can mean in a plan: two, where one place takes either of two kinds.
pub(super) fn named<'r>(
    asked: &str,
    rules: &'r Rules,
    sheet: &Sheet,
) -> Result<Vec<Varied<'r>>, Problem> {
    let search = Search {
        asked,
        entry: entry(asked),
        rules,
        sheet,
    };
    let mut found = Vec::new();
    for (id, def) in rules.catalogue().facts() {
        let by_name = rules.catalogue().fact_name(id) == asked;
        let Some(place) = rules.place_of(id) else {
            continue;
        };
        let path = place.path(&Subject::named("", search.entry.unwrap_or_default()));
        if by_name || path == asked || without_entry(&path) == asked {
            found.push(search.varied(id, def, place)?);
        }
    }
    if found.is_empty() {
        return Err(search.unknown());
    }
    Ok(found)
}

/// The name in brackets, of a path with one.
fn entry(path: &str) -> Option<&str> {
    let (_, rest) = path.split_once('[')?;
    Some(rest.split_once(']')?.0)
}

fn without_entry(path: &str) -> String {
    match (path.split_once('['), path.split_once(']')) {
        (Some((before, _)), Some((_, after))) => format!("{before}{after}"),
        _ => path.to_owned(),
    }
}

struct Search<'s, 'r> {
    asked: &'s str,
    entry: Option<&'s str>,
    rules: &'r Rules,
    sheet: &'s Sheet,
}

impl<'r> Search<'_, 'r> {
    fn varied(
        &self,
        id: FactId,
        def: &'r FactDef,
        place: &FactPlace,
    ) -> Result<Varied<'r>, Problem> {
        if let Some(from) = def.from.as_deref().filter(|from| *from != "draw") {
            let message = format!(
                "`{}` is worked out from `{from}`, which has no range",
                self.asked
            );
            let help = match from {
                "arrangement" => COUNTS,
                _ => "vary a fact that is a number or a choice of its own",
            };
            return Err(Problem::of_file(Fault::WrongKind, message, help));
        }
        let position = self.position(def, place)?;
        let instance = self.sheet.instance(def.subject, position);
        let name = instance.map_or("", |instance| &*instance.name);
        Ok(Varied {
            id,
            def,
            position,
            slot: self.rules.catalogue().slot(id),
            path: place.path(&Subject::named("", name)),
        })
    }

    /// Which one of its subject is meant.
    fn position(&self, def: &FactDef, place: &FactPlace) -> Result<usize, Problem> {
        let listed = self.listed(def);
        if !place.is_list {
            return Ok(0);
        }
        let wanted = self.entry.and_then(|entry| names::id(entry).ok());
        let found = match wanted {
            Some(wanted) => listed.iter().find(|(_, name)| *name == wanted),
            None if listed.len() == 1 && self.entry.is_none() => listed.first(),
            None => None,
        };
        found
            .map(|(at, _)| *at)
            .ok_or_else(|| self.whose(&listed, place))
    }

    fn listed(&self, def: &FactDef) -> Vec<(usize, &str)> {
        let roster = self.sheet.roster(def.subject);
        let all = roster.map_or(&[][..], |roster| &roster.instances);
        let all = all.iter().enumerate();
        all.filter(|(_, one)| one.is_listed() && !one.name.is_empty())
            .map(|(at, one)| (at, one.name.as_str()))
            .collect()
    }

    /// That it is not known whose fact is meant.
    fn whose(&self, listed: &[(usize, &str)], place: &FactPlace) -> Problem {
        let path = |name: &str| place.path(&Subject::named("", name));
        let names: Vec<&str> = listed.iter().map(|(_, name)| *name).collect();
        let near = self
            .entry
            .and_then(|entry| near_miss(entry, names.iter().copied()));
        let (first, help) = match (near, names.as_slice()) {
            (Some(near), _) => (near, format!("did you mean `{}`?", path(near))),
            (None, []) => ("", format!("the plan lists no {}", place.section)),
            (None, [first, ..]) => {
                let shown = names.iter().take(MOST_NAMED).copied().collect::<Vec<_>>();
                let help = format!(
                    "name one, as `{}`; the plan has {}",
                    path(first),
                    quoted(&shown)
                );
                (*first, help)
            }
        };
        let message = match self.entry {
            Some(entry) if !first.is_empty() || names.is_empty() => {
                format!("the plan has no `{entry}` in `{}`", place.section)
            }
            _ => format!("`{}` does not say whose it is", self.asked),
        };
        Problem::of_file(Fault::UnknownName, message, help)
    }

    /// That there is no such fact.
    fn unknown(&self) -> Problem {
        let catalogue = self.rules.catalogue();
        let is_figure = matches!(catalogue.find(self.asked), Some(FactOrFigure::Worked(_)))
            || self
                .rules
                .figures()
                .iter()
                .any(|one| one.name == self.asked);
        if is_figure {
            let message = format!("`{}` is a figure, which is worked out", self.asked);
            let help = format!(
                "vary a fact that it is worked out from; `cellrules facts` lists them beside `{}`",
                self.asked
            );
            return Problem::of_file(Fault::WrongKind, message, help);
        }
        let mut known: Vec<String> = Vec::new();
        for (id, def) in catalogue.facts() {
            let places = self.rules.place_of(id);
            let first = self.listed(def).first().map_or("", |(_, name)| *name);
            let whose = Subject::named("", self.entry.unwrap_or(first));
            known.extend(places.map(|place| place.path(&whose)));
            known.push(catalogue.fact_name(id).to_owned());
        }
        let help = match near_miss(self.asked, known.iter().map(String::as_str)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => {
                "write it as `light.draw` or `cells[K4].capacity.value`; `cellrules facts` lists all"
                    .to_owned()
            }
        };
        let message = format!("no fact is written at `{}`", self.asked);
        Problem::of_file(Fault::UnknownName, message, help)
    }
}

/// The kind of number that a fact is, if it is one.
pub(super) const fn number_kind(def: &FactDef) -> Option<Kind> {
    match &def.kind {
        FactKind::Number(kind) => Some(*kind),
        _ => None,
    }
}
