//! The page of a map of two facts.

use std::collections::{BTreeMap, BTreeSet};

use super::html::Html;
use super::page::{Page, page};
use super::paper::{cells, loosened, notice, row_head, section, table, verdict};
use super::plots;
use crate::jobs::range::{
    Class, MapReport, RangeFound, RangeSearch, all_else, apart_said, how_searched, meaning,
    read_by_none,
};

/// What the two facts are called together.
const EITHER: &str = "either of them";

/// A map of two facts as a page.
#[must_use]
pub fn map(report: &MapReport) -> Page {
    let search = &report.search;
    let title = format!("Map: {}", search.title);
    page(
        &title,
        |html| {
            html.element("header", &[], |html| {
                html.said("h1", &[], &search.title);
                let (across, up) = (&report.across.path, &report.up.path);
                let said = format!("{across} across, {up} up, {}", all_else(search));
                html.said("p", &[], &said);
            });
            match read_by_none(report) {
                Some(says) => html.said("p", &[], &says),
                None => drawn(report, html),
            }
            let how = how_searched(search, &[&report.across, &report.up]);
            html.said("p", &[("class", "quiet")], &how);
            loosened(&search.loosened, html);
        },
        |html| notice(&search.notice, html),
    )
}

fn drawn(report: &MapReport, html: &mut Html) {
    apart(&report.search, EITHER, html);
    section(("map-heading", "Map"), html, |html| {
        plots::map::write(report, html);
    });
    section(("decides", "What decides"), html, |html| {
        decides(report, html);
    });
}

/// What is the same whatever `it` is.
pub(super) fn apart(search: &RangeSearch, it: &str, html: &mut Html) {
    let Some(said) = apart_said(search, it) else {
        return;
    };
    html.element("p", &[], |html| {
        html.text(&said.whatever);
        if let Some(one) = said.verdict {
            verdict(one, html);
        }
        html.text(&said.then);
    });
    html.said("p", &[], &said.reading);
}

/// Of each kind of area, the cautions that do not pass in it and what leaves them open.
fn decides(report: &MapReport, html: &mut Html) {
    let mut by_class: BTreeMap<Class, Deciding<'_>> = BTreeMap::new();
    for area in &report.areas {
        let found = &area.found;
        by_class.entry(found.alone).or_default().add(found);
    }
    let heads = ["Comes to", "Cautions", "Left open by"];
    let caption = "The cautions that read what is varied and do not pass";
    table(caption, &heads, html, by_class, |(class, all), html| {
        row_head(meaning(class), html);
        cells(&[&joined(&all.cautions), &joined(&all.open)], html);
    });
}

/// What decides in areas of a kind.
#[derive(Default)]
struct Deciding<'r> {
    cautions: BTreeSet<&'r str>,
    open: BTreeSet<&'r str>,
}

impl<'r> Deciding<'r> {
    fn add(&mut self, found: &'r RangeFound) {
        let cautions = found.cautions.iter();
        self.cautions.extend(cautions.map(|one| &*one.title));
        let open = found.open.iter();
        self.open.extend(open.map(|one| one.place.as_str()));
    }
}

fn joined(all: &BTreeSet<&str>) -> String {
    match all.is_empty() {
        true => "-".to_owned(),
        false => all.iter().copied().collect::<Vec<_>>().join("; "),
    }
}
