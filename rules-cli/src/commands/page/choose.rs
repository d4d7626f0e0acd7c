//! The cells of a light, chosen from its bench, each set to be taken with one press.

use rules_core::document::ProblemList;
use rulesets::jobs::choose::{Choice, ChosenSet, Wish, choose};
use rulesets::pages::html::Html;
use rulesets::pages::parts::{cells, row_head, table, verdict};

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
    let says = "Against: findings against a set; open: those that wait for an answer.";
    html.said("p", &[("class", "quiet")], says);
    let heads = ["Cells", "Take", "Comes to", "Against", "Open", "Margin"];
    table(
        "Sets of cells",
        &heads,
        &mut html,
        &choice.sets,
        |set, html| {
            row(set, &choice, html);
        },
    );
    html.said("p", &[("class", "quiet")], &searched(&choice));
    Ok(html)
}

fn row(set: &ChosenSet, choice: &Choice, html: &mut Html) {
    let groups: Vec<String> = set.groups.iter().map(|group| group.join("+")).collect();
    let names = groups.join(" ");
    row_head(&names, html);
    html.element("td", &[], |html| {
        let entries = set.entries(choice).to_string();
        let all = [
            ("type", "button"),
            ("data-do", "take"),
            ("data-cells", &*entries),
        ];
        html.element("button", &all, |html| {
            html.text("Take");
            html.said("span", &[("class", "unseen")], &format!(" {names}"));
        });
    });
    html.element("td", &[], |html| verdict(set.outcome.verdict, html));
    let margin = set.margins.first();
    let margin = margin.map_or_else(|| "-".to_owned(), |one| format!("{} %", one.percent));
    let against = (set.refused + set.warned).to_string();
    cells(&[&against, &set.open.to_string(), &margin], html);
}

fn searched(choice: &Choice) -> String {
    match choice.searched.unsearched {
        0 => "All other sets are no better: proved.".to_owned(),
        _ => "Not all was searched; `cellrules choose` goes on.".to_owned(),
    }
}
