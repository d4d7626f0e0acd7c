//! One section of a plan as fields: all that can be said of the light, or of one of its cells.

use rules_core::ruleset::Rules;
use rulesets::pages::html::Html;
use serde_json::Value;

use super::field::Field;
use super::meters::{METERS, meters};
use super::places::{Place, Section, places, sections};
use crate::commands::page::plan::{AtHand, value_at, written};

/// The fields of a part: `light`, or `cells[K4]`. None of one that there is not.
pub(in crate::commands::page) fn part(about: &str, at_hand: &AtHand) -> Option<Html> {
    if about == METERS {
        return Some(meters(at_hand));
    }
    let key = about.split('[').next().unwrap_or(about);
    let section = sections(&at_hand.rules).find(|section| section.key == key)?;
    if section.is_list != about.ends_with(']') {
        return None;
    }
    let mut html = Html::default();
    Fields {
        about,
        plan: at_hand.draft.value(),
        plain: &at_hand.plain(),
        rules: &at_hand.rules,
    }
    .write(&section, &mut html);
    Some(html)
}

struct Fields<'a> {
    about: &'a str,
    plan: &'a Value,
    plain: &'a Value,
    rules: &'a Rules,
}

impl Fields<'_> {
    fn write(&self, section: &Section<'_>, html: &mut Html) {
        let all = places(section, self.rules);
        let mut number = 0;
        let groups = all.chunk_by(|one, other| one.stage == other.stage);
        for group in groups {
            html.element("fieldset", &[], |html| {
                html.said("legend", &[], &self.heading(group));
                for place in group {
                    number += 1;
                    self.field(number, place).write(html);
                }
            });
        }
    }

    fn heading(&self, group: &[Place]) -> String {
        let stage = group.first().and_then(|place| place.stage);
        let stage = stage.and_then(|at| self.rules.stages().get(at));
        match stage {
            Some(stage) => stage.title.to_string(),
            None => "No caution looks at it".to_owned(),
        }
    }

    fn field(&self, number: usize, place: &Place) -> Field {
        let path = format!("{}.{}", self.about, place.key);
        let said = |plan| value_at(plan, &path).and_then(written);
        let own = said(self.plan);
        let of_bench = match own {
            Some(_) => None,
            None => said(self.plain),
        };
        Field {
            id: format!("{}-{number}", page_id(self.about)),
            called: place.key.clone(),
            meaning: place.meaning.clone(),
            writes: place.writes.clone(),
            own,
            of_bench,
            places: vec![path],
        }
    }
}

/// A part as an id of the page: its signs and spaces as numbers, so that no two become the same.
pub(super) fn page_id(about: &str) -> String {
    let letters = about.chars().map(|letter| match letter {
        letter if letter.is_ascii_alphanumeric() => letter.to_string(),
        letter => format!("-{:x}-", u32::from(letter)),
    });
    format!("part-{}", letters.collect::<String>())
}
