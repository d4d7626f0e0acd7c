//! The cells of a light, chosen from its bench, each set to be taken with one press.

use rules_core::document::ProblemList;
use rulesets::jobs::choose::{Choice, ChosenSet, Wish, choose};
use rulesets::pages::html::Html;
use rulesets::pages::parts;

use super::plan::AtHand;

/// So much work is done while somebody waits; `cellrules choose` does more.
const WAITED_FOR: usize = 6_000;

/// The sets that pass with the widest margins, or come nearest.
pub(super) fn chosen(at_hand: &AtHand) -> Result<Html, ProblemList> {
    let wish = Wish {
        most_checks: WAITED_FOR,
        ..Wish::default()
    };
    let choice = choose(&at_hand.trial(), &wish)?;
    let mut html = Html::default();
    html.said("h3", &[], "Sets of cells, the best first");
    if choice.sets.is_empty() {
        html.said("p", &[], "There are too few cells for this light.");
        return Ok(html);
    }
    table(&choice, &mut html);
    html.said("p", &[("class", "quiet")], &searched(&choice));
    Ok(html)
}

fn table(choice: &Choice, html: &mut Html) {
    let heads = ["Cells", "Take", "Comes to", "Against", "Open", "Margin"];
    html.element(
        "div",
        &[
            ("class", "wide"),
            ("tabindex", "0"),
            ("role", "group"),
            ("aria-label", "Sets of cells"),
        ],
        |html| {
            html.element("table", &[], |html| {
                let caption =
                    "Findings against each set, those that are open, and its narrowest margin";
                html.said("caption", &[], caption);
                html.element("thead", &[], |html| {
                    html.element("tr", &[], |html| {
                        heads
                            .iter()
                            .for_each(|head| html.said("th", &[("scope", "col")], head));
                    });
                });
                html.element("tbody", &[], |html| {
                    choice.sets.iter().for_each(|set| row(set, choice, html));
                });
            });
        },
    );
}

fn row(set: &ChosenSet, choice: &Choice, html: &mut Html) {
    let groups: Vec<String> = set.groups.iter().map(|group| group.join("+")).collect();
    let cells = groups.join(" ");
    html.element("tr", &[], |html| {
        html.said("th", &[("scope", "row")], &cells);
        html.element("td", &[], |html| {
            let entries = set.entries(choice).to_string();
            let all = [
                ("type", "button"),
                ("data-do", "take"),
                ("data-cells", &*entries),
            ];
            html.element("button", &all, |html| {
                html.text("Take");
                html.said("span", &[("class", "unseen")], &format!(" {cells}"));
            });
        });
        html.element("td", &[], |html| {
            html.add(parts::verdict(set.outcome.verdict))
        });
        html.said("td", &[], &(set.refused + set.warned).to_string());
        html.said("td", &[], &set.open.to_string());
        let margin = set.margins.first();
        let margin = margin.map_or_else(|| "-".to_owned(), |one| format!("{} %", one.percent));
        html.said("td", &[], &margin);
    });
}

fn searched(choice: &Choice) -> String {
    match choice.searched.unsearched {
        0 => "All other sets are no better: proved.".to_owned(),
        _ => "Not all was searched; `cellrules choose` goes on.".to_owned(),
    }
}
