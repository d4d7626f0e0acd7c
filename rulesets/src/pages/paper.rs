//! What every page is made of: headings, marks of verdicts, tables, the standing notice.

use rules_core::check::Verdict;
use rules_core::facts::Notice;
use rules_core::report::text::{loosened_entry, simple_acceptance};
use rules_core::ruleset::{Acceptance, Loosening};

use super::html::Html;

/// A section with a heading that names it. Ids are words of this program, each once in a page.
pub fn section(
    (id, heading): (&'static str, &str),
    html: &mut Html,
    inside: impl FnOnce(&mut Html),
) {
    html.element("section", &[("aria-labelledby", id)], |html| {
        html.said("h2", &[("id", id)], heading);
        inside(html);
    });
}

/// Something that is folded until somebody opens it; on paper it is open.
pub(super) fn fold(summary: &str, html: &mut Html, inside: impl FnOnce(&mut Html)) {
    html.element("details", &[], |html| {
        html.said("summary", &[], summary);
        inside(html);
    });
}

/// The word of a verdict with its mark: each has a shape and an outline of its own.
pub fn verdict(verdict: Verdict, html: &mut Html) {
    let class = match verdict {
        Verdict::Pass => "verdict pass",
        Verdict::Warn => "verdict warn",
        Verdict::Refuse => "verdict refuse",
    };
    html.element("span", &[("class", class)], |html| {
        html.said("span", &[("class", "mark"), ("aria-hidden", "true")], "");
        html.text(verdict.word());
    });
}

/// What is wider than a narrow screen goes over its edge by itself; who has no mouse moves it by keys.
pub(super) const fn wide(called: &str) -> [(&'static str, &str); 4] {
    [
        ("class", "wide"),
        ("tabindex", "0"),
        ("role", "group"),
        ("aria-label", called),
    ]
}

/// A table with a caption and a header for each column; the first cell of a row is its header.
pub fn table<R>(
    caption: &str,
    heads: &[&str],
    html: &mut Html,
    rows: impl IntoIterator<Item = R>,
    mut row: impl FnMut(R, &mut Html),
) {
    html.element("div", &wide(caption), |html| {
        html.element("table", &[], |html| {
            html.said("caption", &[], caption);
            html.element("thead", &[], |html| {
                html.element("tr", &[], |html| {
                    for head in heads {
                        html.said("th", &[("scope", "col")], head);
                    }
                });
            });
            html.element("tbody", &[], |html| {
                for one in rows {
                    html.element("tr", &[], |html| row(one, html));
                }
            });
        });
    });
}

/// The header of a row.
pub fn row_head(text: &str, html: &mut Html) {
    html.said("th", &[("scope", "row")], text);
}

/// The cells of a row after its header.
pub fn cells(texts: &[&str], html: &mut Html) {
    for text in texts {
        html.said("td", &[], text);
    }
}

/// Texts, one below the other.
pub(super) fn list(texts: impl Iterator<Item = String>, html: &mut Html) {
    html.element("ul", &[], |html| {
        for text in texts {
            html.told("li", &[], &text);
        }
    });
}

/// Simple acceptance, where it was used, and what local practice loosened.
pub(super) fn openly(acceptance: Acceptance, all: &[Loosening], html: &mut Html) {
    if let Some(says) = simple_acceptance(acceptance) {
        html.said("p", &[], says);
    }
    loosened(all, html);
}

/// What local practice loosened, with its reason, if it did.
pub(super) fn loosened(all: &[Loosening], html: &mut Html) {
    if all.is_empty() {
        return;
    }
    let said = all.iter().map(loosened_entry);
    let named = ("loosened", "Loosened by local practice");
    section(named, html, |html| list(said, html));
}

/// The standing notice in full, with its sources: it ends every page.
pub(super) fn notice(points: &[Notice], html: &mut Html) {
    html.element("footer", &[], |html| {
        section(("notice", "Whatever the verdict"), html, |html| {
            html.element("ul", &[], |html| {
                for point in points {
                    html.element("li", &[], |html| {
                        html.text(&point.says);
                        html.text(" ");
                        let source = format!("({})", point.source);
                        html.said("span", &[("class", "quiet")], &source);
                    });
                }
            });
        });
    });
}
