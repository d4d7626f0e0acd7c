//! The page of chosen cells: the best set, what is against it and in the way, and the sets after it.

use super::html::Html;
use super::page::{Page, page};
use super::paper::{cells, list, notice, openly, row_head, section, table, verdict};
use super::plots::bench;
use super::sort::limits_table;
use crate::jobs::choose::said::{
    self, against_said, in_short, margin_said, no_set_said, plan_said, refused_said, searched_said,
    set_said,
};
use crate::jobs::choose::{Choice, ChosenSet, Stands};
use crate::jobs::sort::{CellLimit, SortReport};
use crate::jobs::without_shipped;

/// Chosen cells as a page, with the sorted cells of the bench and their limits for the plot; without a
/// bench there is none.
#[must_use]
pub fn choose(choice: &Choice, sorted: Option<(&SortReport, &[CellLimit])>) -> Page {
    let best = choice.sets.first();
    page(
        &format!("Chosen: {}", choice.title),
        |html| {
            html.element("header", &[], |html| opening(choice, html));
            best.into_iter().for_each(|set| against(set, html));
            if best.is_none_or(|set| set.stands != Stands::Passes) {
                in_the_way(choice, html);
            }
            best.into_iter().for_each(|set| margins(set, html));
            sets(choice, html);
            if let Some((report, limits)) = sorted {
                section(("cells", "The cells"), html, |html| {
                    let chosen = best.map_or(&[][..], |set| &set.groups);
                    bench::write(report, limits, chosen, html);
                    known(report, html);
                    limits_table(limits, html);
                });
            }
            left_out(choice, html);
            openly(choice.acceptance, &choice.loosened, html);
        },
        |html| notice(&choice.notice, html),
    )
}

fn opening(choice: &Choice, html: &mut Html) {
    html.said("h1", &[], &choice.title);
    html.element("p", &[("class", "outcome")], |html| {
        match choice.sets.first() {
            Some(set) => {
                verdict(set.outcome.verdict, html);
                html.text(&set_said(set));
            }
            None => html.text(&no_set_said(choice)),
        }
    });
    html.told("p", &[], &plan_said(choice));
    html.said("p", &[("class", "quiet")], &searched_said(choice));
    if let Some(said) = without_shipped(&choice.rules) {
        html.told("p", &[], &said);
    }
}

fn against(set: &ChosenSet, html: &mut Html) {
    if set.against.is_empty() {
        return;
    }
    section(("against", "Against it"), html, |html| {
        html.element("ul", &[("class", "spoken")], |html| {
            for one in &set.against {
                html.element("li", &[], |html| {
                    verdict(one.verdict, html);
                    html.text(" ");
                    html.text(&against_said(one));
                });
            }
        });
    });
}

fn in_the_way(choice: &Choice, html: &mut Html) {
    let way = &choice.in_the_way;
    if way.any_cells.is_empty() && way.by.is_empty() {
        return;
    }
    section(("in-the-way", "In the way"), html, |html| {
        let any = way.any_cells.iter();
        list(
            any.map(|one| format!("{}, with any cells", one.title)),
            html,
        );
        let Some(refused) = refused_said(choice) else {
            return;
        };
        html.told("p", &[], &refused);
        let heads = ["Caution", "How many", "Cells"];
        let caption = "The cautions that keep cells out of any set";
        table(caption, &heads, html, &way.by, |one, html| {
            row_head(&one.title, html);
            cells(&[&one.cells.len().to_string(), &one.cells.join(" ")], html);
        });
    });
}

fn margins(set: &ChosenSet, html: &mut Html) {
    if set.margins.is_empty() {
        return;
    }
    section(("margins", "Its narrowest margins"), html, |html| {
        let said = set.margins.iter();
        list(
            said.map(|one| format!("{} %: {}", one.percent, margin_said(one))),
            html,
        );
    });
}

fn sets(choice: &Choice, html: &mut Html) {
    if choice.sets.is_empty() {
        return;
    }
    section(("sets", "The sets, the best first"), html, |html| {
        let heads = ["Cells", "Verdict", "What comes of it"];
        let caption = "Cells of a parallel group are joined by +; groups are in series";
        table(caption, &heads, html, &choice.sets, |set, html| {
            row_head(&said::cells(set), html);
            html.element("td", &[], |html| verdict(set.outcome.verdict, html));
            cells(&[&in_short(set)], html);
        });
    });
}

/// The numbers of the plot.
fn known(report: &SortReport, html: &mut Html) {
    let heads = ["Cell", "Grade", "Capacity", "Resistance"];
    let caption = "The cells of the bench";
    table(caption, &heads, html, &report.cells, |cell, html| {
        let known = [&cell.known.capacity, &cell.known.resistance];
        let [capacity, resistance] = known.map(|text| text.as_deref().unwrap_or("-"));
        row_head(&cell.id, html);
        cells(&[cell.grade.words(), capacity, resistance], html);
    });
}

fn left_out(choice: &Choice, html: &mut Html) {
    if choice.in_other_lights.is_empty() && choice.unreadable.is_empty() {
        return;
    }
    section(("left-out", "Not offered"), html, |html| {
        let elsewhere = choice.in_other_lights.iter();
        let elsewhere = elsewhere.map(|one| format!("{} (in {})", one.cell, one.light));
        let unreadable = choice.unreadable.iter();
        let unreadable = unreadable.map(|one| format!("{}: {}", one.cell, one.says.join("; ")));
        list(elsewhere.chain(unreadable), html);
    });
}
