//! The page of a bench: its tables to be corrected, a place for a spreadsheet, and what follows.

use rules_core::document::ProblemList;
use rulesets::bench::Bench;
use rulesets::pages::html::Html;
use rulesets::pages::parts;

use super::tables::{File, Shown, named, of_csv, of_list};
use crate::commands::page::answer::{Answer, Kind, Refusal};
use crate::commands::page::desk::Desk;
use crate::commands::page::shell;

/// The tables that a bench can have, with what each is called.
const TABLES: [(&str, &str); 2] = [("cells", "Cells"), ("readings", "What was read of them")];

/// The page of a bench of the folder.
pub(in crate::commands::page) fn shown(name: &str, desk: &Desk) -> Result<Answer, Refusal> {
    if !desk.folder.benches().iter().any(|bench| bench == name) {
        return Err(Refusal::NOTHING);
    }
    let page = match tables(name, desk) {
        Ok(tables) => shell::bench(name, tables),
        Err(problems) => {
            let says = parts::problems("This bench cannot be shown", &problems);
            shell::cannot(name, says)
        }
    };
    Ok(Answer::of(Kind::Html, page))
}

fn tables(name: &str, desk: &Desk) -> Result<Html, ProblemList> {
    let mut html = Html::default();
    let file = File::read(name, &desk.folder)?;
    let bench = file.value()?;
    match desk.bench(&desk.folder.called(name)) {
        Ok(bench) => lights(&bench, &mut html),
        Err(problems) => html.add(parts::problems(
            "Something is wrong with this bench",
            &problems,
        )),
    }
    let listed = of_list(&bench);
    if !listed.rows.is_empty() {
        let inline = ("list", "Cells that the bench lists itself");
        table(inline, (&file, &listed), true, &mut html);
    }
    for (key, heading) in TABLES {
        if let Some(path) = named(&bench, key) {
            let file = File::read(&path, &desk.folder)?;
            let shown = of_csv(&file)?;
            table((key, heading), (&file, &shown), key == "cells", &mut html);
        }
    }
    Ok(html)
}

/// The lights, for each of which cells can be chosen.
fn lights(bench: &Bench, html: &mut Html) {
    let names: Vec<&str> = bench.lights().collect();
    if names.is_empty() {
        return;
    }
    html.said("p", &[], "Choose the cells of a light:");
    html.element("div", &[("class", "buttons")], |html| {
        for name in names {
            let all = [
                ("type", "button"),
                ("data-do", "choose"),
                ("data-light", name),
            ];
            html.said("button", &all, name);
        }
    });
    let region = [("id", "more"), ("tabindex", "-1")];
    html.said("div", &region, "");
}

/// A table whose values can be edited; of many rows that are rarely looked at, folded.
fn table(
    (key, heading): (&str, &str),
    (file, shown): (&File, &Shown),
    is_open: bool,
    html: &mut Html,
) {
    let open = [("open", "open")];
    html.element("details", if is_open { &open } else { &[] }, |html| {
        let rows = shown.rows.len();
        html.said(
            "summary",
            &[],
            &format!("{heading}: {rows}, in {}", file.name),
        );
        let all = [
            ("class", "wide sheet"),
            ("tabindex", "0"),
            ("role", "region"),
            ("aria-label", heading),
            ("data-table", key),
            ("data-file", &*file.name),
            ("data-digest", &*file.digest),
        ];
        html.element("div", &all, |html| {
            html.element("table", &[], |html| {
                html.said("caption", &[("class", "unseen")], heading);
                html.element("thead", &[], |html| {
                    html.element("tr", &[], |html| {
                        for heading in &shown.headings {
                            html.said("th", &[("scope", "col")], heading);
                        }
                    });
                });
                html.element("tbody", &[], |html| {
                    for (at, row) in shown.rows.iter().enumerate() {
                        html.element("tr", &[], |html| one_row(at, row, &shown.headings, html));
                    }
                });
                if key != "list" {
                    html.element("tfoot", &[], |html| new_row(&shown.headings, html));
                }
            });
        });
    });
}

fn one_row(at: usize, row: &[String], headings: &[String], html: &mut Html) {
    let called = row.first().map_or("", String::as_str);
    for (column, (text, heading)) in row.iter().zip(headings).enumerate() {
        if column == 0 {
            html.said("th", &[("scope", "row")], text);
            continue;
        }
        let label = format!("{called}, {heading}");
        let (at, column) = (at.to_string(), column.to_string());
        let width = text.chars().count().clamp(4, 18).to_string();
        let all = [
            ("type", "text"),
            ("aria-label", &*label),
            ("value", text),
            ("size", &*width),
            ("data-row", &*at),
            ("data-column", &*column),
            ("autocomplete", "off"),
            ("spellcheck", "false"),
        ];
        html.element("td", &[], |html| html.empty("input", &all));
    }
}

/// A row to be filled in: a further cell, or a re-test of one.
fn new_row(headings: &[String], html: &mut Html) {
    html.element("tr", &[], |html| {
        for heading in headings {
            let label = format!("new row, {heading}");
            let all = [
                ("type", "text"),
                ("aria-label", &*label),
                ("size", "8"),
                ("data-new", heading),
                ("autocomplete", "off"),
                ("spellcheck", "false"),
            ];
            html.element("td", &[], |html| html.empty("input", &all));
        }
    });
    html.element("tr", &[], |html| {
        html.element("td", &[("colspan", &headings.len().to_string())], |html| {
            let button = [("type", "button"), ("data-do", "add")];
            html.said("button", &button, "Add the row");
        });
    });
}
