//! A page: its main part and what ends it, as a document or as a part of another document.

use super::html::Html;

/// How pages look, and parts of pages: no rule of it reaches anything outside of its class.
pub const STYLE: &str = include_str!("style.css");

/// The class of what the style reaches.
pub const CLASS: &str = "cellrules";

/// What a document of its own says of the screen and of the sheet of paper.
pub const SHEET: &str = include_str!("sheet.css");

/// Nothing is loaded and nothing runs, whatever should come to stand in the page.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'";

/// A page. It loads nothing and runs nothing.
#[derive(Debug)]
pub struct Page {
    title: String,
    main: Html,
    end: Html,
}

/// A page of a title, of its main part and of what ends it.
pub(super) fn page(title: &str, main: impl FnOnce(&mut Html), end: impl FnOnce(&mut Html)) -> Page {
    Page {
        title: title.to_owned(),
        main: Html::written(main),
        end: Html::written(end),
    }
}

impl Page {
    /// The page as a document of its own.
    #[must_use]
    pub fn document(self) -> String {
        let whole = Html::written(|html| {
            html.element("html", &[("lang", "en")], |html| {
                html.element("head", &[], |html| head(&self.title, html));
                html.element("body", &[("class", CLASS)], |html| {
                    html.element("main", &[], |html| html.add(self.main));
                    html.add(self.end);
                });
            });
        });
        whole.document()
    }

    /// The page as a part of another document, such as a notebook. It brings its style along, and has
    /// ids of its own: those of equal parts are equal.
    #[must_use]
    pub fn part(self) -> String {
        let body = Html::written(|html| {
            // A document has one main part, and this is not the document.
            html.element("div", &[], |html| html.add(self.main));
            html.add(self.end);
        });
        let before = format!("{CLASS}-{:08x}-", body.number());
        let whole = Html::written(|html| {
            html.element("div", &[("class", CLASS), ("lang", "en")], |html| {
                html.style(STYLE);
                html.add(body.with_ids_after(&before));
            });
        });
        whole.part()
    }
}

fn head(title: &str, html: &mut Html) {
    html.empty("meta", &[("charset", "utf-8")]);
    let viewport = "width=device-width, initial-scale=1";
    html.empty("meta", &[("name", "viewport"), ("content", viewport)]);
    let policy = "Content-Security-Policy";
    html.empty("meta", &[("http-equiv", policy), ("content", POLICY)]);
    html.said("title", &[], title);
    html.style(SHEET);
    html.style(STYLE);
}
