//! What comes first: the title, the bench, which of its light, cells, charger and place, or their names.

use std::collections::BTreeSet;

use rulesets::bench::Bench;
use rulesets::pages::html::Html;
use serde_json::Value;

use super::field::{Field, Word, Writes};
use super::part::page_id;
use crate::commands::page::plan::{AtHand, id_of, value_at, written};

/// The first fields of a plan; `benches` are those of the folder.
pub(in crate::commands::page) fn top(at_hand: &AtHand, plan: &Value, benches: &[String]) -> Html {
    let mut html = Html::default();
    let top = Top { plan };
    top.field("title", "What you will know this use by", Writes::Text)
        .write(&mut html);
    if !benches.is_empty() || plan.get("bench").is_some() {
        let names = benches.iter().map(|name| format!("./{name}")).collect();
        let meaning = "The bench that it takes from";
        top.redrawn("bench", meaning, names, &mut html);
    }
    match at_hand.bench.as_deref() {
        Some(bench) => top.of_bench(bench, &mut html),
        None => top.by_hand(&mut html),
    }
    html
}

struct Top<'a> {
    plan: &'a Value,
}

impl Top<'_> {
    fn field(&self, place: &str, meaning: &str, writes: Writes) -> Field {
        let value = value_at(self.plan, place);
        Field {
            id: format!("top-{}", place.replace('.', "-")),
            places: vec![place.to_owned()],
            called: place.to_owned(),
            meaning: meaning.to_owned(),
            writes,
            own: value.and_then(written),
            of_bench: None,
        }
    }

    /// A choice after which other fields are asked.
    fn redrawn(&self, place: &str, meaning: &str, names: Vec<String>, html: &mut Html) {
        html.element("div", &[("data-redraw", "yes")], |html| {
            self.field(place, meaning, Writes::Words(Word::plain(names)))
                .write(html);
        });
    }

    fn by_hand(&self, html: &mut Html) {
        let meaning = "How many cells in series, and how many in parallel";
        let writes = Writes::Like("1S1P for a single cell, 2S1P for two in series".to_owned());
        self.field("arrangement", meaning, writes).write(html);
        let meaning = "The names of the cells, as they stand on them or on their tags";
        self.names("cells", meaning, html);
        let meaning = "The names of the packs that they come out of, if you have these";
        self.names("packs", meaning, html);
    }

    /// Names of entries of a list, with a space between.
    fn names(&self, list: &str, meaning: &str, html: &mut Html) {
        let names = names_in(self.plan, list).join(" ");
        html.element("div", &[("data-list", list)], |html| {
            let writes = Writes::Like("K4 K7, with a space between".to_owned());
            let own = (!names.is_empty()).then_some(names);
            Field {
                own,
                places: Vec::new(),
                ..self.field(list, meaning, writes)
            }
            .write(html);
        });
    }

    fn of_bench(&self, bench: &Bench, html: &mut Html) {
        let named = |names: Vec<&str>| names.into_iter().map(str::to_owned).collect::<Vec<_>>();
        let lights = named(bench.lights().collect());
        self.taken(
            "light",
            "of",
            "Which light of the bench it is",
            lights,
            html,
        );
        let arrangement = "How many cells in series, and how many in parallel";
        let light = self.name("light", "of");
        let of_light = light.and_then(|light| bench.written_arrangement(&light).map(str::to_owned));
        Field {
            of_bench: of_light,
            ..self.field("arrangement", arrangement, Writes::Like("2S1P".to_owned()))
        }
        .write(html);
        self.cells(bench, html);
        let meaning = "The day on which readings count; without it, that of the newest";
        let writes = Writes::Like("2026-10-01".to_owned());
        self.field("as_of", meaning, writes).write(html);
        let chargers = named(bench.chargers().collect());
        let meaning = "Which charger of the bench charges the cells";
        self.taken("charging", "of", meaning, chargers, html);
        for (section, meaning) in [
            ("charging", "At which place of the bench they are charged"),
            (
                "conditions",
                "At which place of the bench they are kept and taken out from",
            ),
        ] {
            let places: Vec<&str> = bench.places_of(section).map(|(name, _)| name).collect();
            if !places.is_empty() {
                self.taken(section, "at", meaning, named(places), html);
            }
        }
    }

    /// The name that a section takes under a key, or is: a charger or a light by `of`, conditions by
    /// `at`.
    fn name(&self, section: &str, key: &str) -> Option<String> {
        let value = self.plan.get(section)?;
        match value.as_str() {
            Some(name) => (key == alone(section)).then(|| name.to_owned()),
            None => value.get(key)?.as_str().map(str::to_owned),
        }
    }

    fn taken(&self, section: &str, key: &str, meaning: &str, names: Vec<String>, html: &mut Html) {
        let place = format!("{section}.{key}");
        html.element("div", &[("data-redraw", "yes")], |html| {
            let own = self.name(section, key);
            Field {
                own,
                ..self.field(&place, meaning, Writes::Words(Word::plain(names)))
            }
            .write(html);
        });
    }

    /// The cells of the bench, to be ticked: those in the light first, those in other lights last.
    fn cells(&self, bench: &Bench, html: &mut Html) {
        let taken: BTreeSet<String> = names_in(self.plan, "cells").into_iter().collect();
        let light = self.name("light", "of");
        let mut all: Vec<(usize, &str, Option<&str>)> = bench
            .cells()
            .map(|cell| {
                let place = bench.light_of(cell);
                let rank = match place {
                    Some(place) if light.as_deref() == Some(place) => 0,
                    None => 1,
                    Some(_) => 2,
                };
                (rank, cell, place)
            })
            .collect();
        all.sort();
        html.element(
            "fieldset",
            &[("class", "ticks"), ("data-list", "cells")],
            |html| {
                html.said("legend", &[], "Which cells of the bench are in it");
                for (_, cell, place) in all {
                    tick(cell, place, taken.contains(cell), html);
                }
            },
        );
    }
}

fn tick(cell: &str, place: Option<&str>, is_taken: bool, html: &mut Html) {
    let id = format!("tick-{}", page_id(cell));
    html.element("span", &[("class", "tick")], |html| {
        let all = [("type", "checkbox"), ("id", &*id), ("value", cell)];
        let checked = [("checked", "checked")];
        let more = if is_taken { &checked[..] } else { &[] };
        html.empty("input", &[&all[..], more].concat());
        html.element("label", &[("for", &*id)], |html| {
            html.text(cell);
            if let Some(place) = place {
                html.said("span", &[("class", "quiet")], &format!(" in {place}"));
            }
        });
    });
}

/// The key by which a section takes what is named in its place.
fn alone(section: &str) -> &'static str {
    match section {
        "conditions" => "at",
        _ => "of",
    }
}

/// The names of the entries of a list.
pub(super) fn names_in(plan: &Value, list: &str) -> Vec<String> {
    let entries = plan.get(list).and_then(Value::as_array);
    let names = entries.into_iter().flatten().filter_map(id_of);
    names.map(str::to_owned).collect()
}
