//! All parts of a plan, folded: what is in them is made when one is opened.

use rulesets::pages::html::Html;
use serde_json::Value;

use super::meters::METERS;
use super::part::page_id;
use super::places::sections;
use super::top::names_in;
use crate::commands::page::plan::AtHand;

/// The folds.
pub(in crate::commands::page) fn parts(at_hand: &AtHand, plan: &Value) -> Html {
    let mut html = Html::default();
    for section in sections(&at_hand.rules) {
        let meaning = &section.subject.meaning;
        if section.is_list {
            for name in names_in(plan, section.key) {
                let about = format!("{}[{name}]", section.key);
                fold(&about, &format!("{meaning}: {name}"), &mut html);
            }
        } else {
            fold(section.key, meaning, &mut html);
        }
    }
    if at_hand.bench.is_none() {
        fold(
            METERS,
            "The meters that readings were taken with",
            &mut html,
        );
    }
    html
}

fn fold(about: &str, says: &str, html: &mut Html) {
    html.element("details", &[("data-part", about)], |html| {
        html.said("summary", &[], says);
        let all = [("class", "fields"), ("id", &*page_id(about))];
        html.said("div", &all, "");
    });
}
