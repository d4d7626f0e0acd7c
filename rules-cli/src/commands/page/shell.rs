//! The documents that the browser opens: what is in the folder, and the form of one plan.

use rulesets::pages::html::Html;
use rulesets::pages::parts::{CLASS, section};

use super::folder::Sort;
use super::kept::Kept;

const ALL: &str = "All plans and benches";

/// A document with its style and its scripts, which are files of this server.
/// `base` is the way from its address to theirs.
fn document(
    title: &str,
    (base, scripts): (&str, &[&str]),
    inside: impl FnOnce(&mut Html),
) -> String {
    let mut html = Html::default();
    html.element("html", &[("lang", "en")], |html| {
        html.element("head", &[], |html| {
            html.empty("meta", &[("charset", "utf-8")]);
            let viewport = "width=device-width, initial-scale=1";
            html.empty("meta", &[("name", "viewport"), ("content", viewport)]);
            html.said("title", &[], title);
            let style = format!("{base}page.css");
            html.empty("link", &[("rel", "stylesheet"), ("href", &style)]);
            for script in scripts {
                let source = format!("{base}{script}");
                html.said("script", &[("src", &source), ("defer", "defer")], "");
            }
        });
        let class = format!("{CLASS} form");
        html.element("body", &[("class", &class)], inside);
    });
    html.document()
}

/// What is in the folder, and a name for something new.
pub(super) fn list(folder: &str, files: &[(String, Sort)]) -> String {
    document("Plans", ("", &["list.js"]), |html| {
        html.element("main", &[], |html| {
            html.said("h1", &[], "Plans and benches");
            html.said("p", &[("class", "quiet")], &format!("In {folder}"));
            named(
                html,
                ("plans-heading", "Plans"),
                (files, Sort::Plan),
                "plan",
            );
            named(
                html,
                ("benches-heading", "Benches"),
                (files, Sort::Bench),
                "bench",
            );
            begin(html);
        });
        without_script(html);
    })
}

fn named(
    html: &mut Html,
    (id, heading): (&'static str, &str),
    (files, sort): (&[(String, Sort)], Sort),
    way: &str,
) {
    let all: Vec<&String> = files
        .iter()
        .filter(|(_, known)| *known == sort)
        .map(|(name, _)| name)
        .collect();
    section((id, heading), html, |html| {
        if all.is_empty() {
            html.said("p", &[], "None yet.");
            return;
        }
        html.element("ul", &[], |html| {
            for name in all {
                let href = format!("{way}/{}", encoded(name));
                html.element("li", &[], |html| html.said("a", &[("href", &href)], name));
            }
        });
    });
}

fn begin(html: &mut Html) {
    section(("begin-heading", "Begin a plan"), html, |html| {
        html.element("div", &[("class", "field")], |html| {
            html.said("label", &[("for", "new-name")], "Name of its file");
            html.element("div", &[("class", "control")], |html| {
                let all = [
                    ("id", "new-name"),
                    ("type", "text"),
                    ("value", "my-lamp.yaml"),
                    ("autocomplete", "off"),
                    ("spellcheck", "false"),
                ];
                html.empty("input", &all);
                button("begin", "Begin", html);
            });
            let hint = "letters, digits and hyphens, and .yaml; it is made when you save";
            html.said("p", &[("class", "hint")], hint);
        });
    });
}

/// The form of a plan.
pub(super) struct Form<'a> {
    pub(super) name: &'a str,
    pub(super) kept: &'a Kept,
    /// Whether it was filled in before, and is not saved yet.
    pub(super) is_unsaved: bool,
    pub(super) top: Html,
    pub(super) parts: Html,
}

/// The document of a form. What it holds is made by the same functions that make it anew.
pub(super) fn form(form: Form<'_>) -> String {
    let plan = form.kept.plan.to_string();
    document(
        &format!("Plan: {}", form.name),
        ("../", &["renew.js", "plan.js"]),
        |html| {
            html.element("header", &[], |html| {
                html.element("p", &[], |html| {
                    html.said("a", &[("href", "../")], ALL);
                });
                html.said("h1", &[], &format!("Plan: {}", form.name));
            });
            html.said("div", &[("role", "status"), ("id", "said")], "");
            let unsaved = if form.is_unsaved { "yes" } else { "no" };
            let of_plan = [
                ("id", "plan"),
                ("data-name", form.name),
                ("data-plan", &*plan),
                ("data-digest", &*form.kept.digest),
                ("data-unsaved", unsaved),
            ];
            html.element("main", &of_plan, |html| {
                html.element("div", &[("id", "answers")], |html| answers(form, html));
                html.element("div", &[("id", "outcome")], outcome);
            });
            without_script(html);
        },
    )
}

/// The document of a file that cannot be filled in.
pub(super) fn cannot(name: &str, says: Html) -> String {
    document(&format!("Plan: {name}"), ("../", &[]), |html| {
        html.element("main", &[], |html| {
            html.element("p", &[], |html| html.said("a", &[("href", "../")], ALL));
            html.said("h1", &[], &format!("Plan: {name}"));
            html.add(says);
        });
    })
}

/// The document of a bench, with its tables.
pub(super) fn bench(name: &str, tables: Html) -> String {
    document(&format!("Bench: {name}"), ("../", &["bench.js"]), |html| {
        html.element("main", &[("id", "bench"), ("data-name", name)], |html| {
            html.element("p", &[], |html| html.said("a", &[("href", "../")], ALL));
            html.said("h1", &[], &format!("Bench: {name}"));
            html.element("p", &[("class", "buttons")], |html| {
                let href = format!("../sorted/{}", encoded(name));
                let all = [("href", &*href), ("target", "_blank"), ("rel", "noopener")];
                html.said("a", &all, "Sort the cells");
            });
            let says = "A value that you correct is written into its file at once.";
            html.said("p", &[("class", "quiet")], says);
            let region = [("id", "told"), ("role", "status"), ("tabindex", "-1")];
            html.said("div", &region, "");
            html.add(tables);
            drop_place(html);
        });
        without_script(html);
    })
}

fn drop_place(html: &mut Html) {
    section(
        ("import-heading", "Add cells from a spreadsheet"),
        html,
        |html| {
            html.element("div", &[("class", "field"), ("id", "drop")], |html| {
                let says = "A file of CSV; its first row names keys of a cell, as rest.voltage [V]";
                html.said("label", &[("for", "sheet")], says);
                let all = [
                    ("type", "file"),
                    ("id", "sheet"),
                    ("accept", ".csv,text/csv"),
                ];
                html.empty("input", &all);
                html.said("p", &[("class", "hint")], "Choose it, or drop it here.");
            });
        },
    );
}

fn answers(form: Form<'_>, html: &mut Html) {
    section(("of-what-heading", "What it is"), html, |html| {
        html.element("div", &[("id", "top")], |html| html.add(form.top));
    });
    section(("next-heading", "Answer next"), html, |html| {
        html.said("div", &[("id", "next")], "");
    });
    section(("all-heading", "All that can be said"), html, |html| {
        html.element("div", &[("id", "parts")], |html| html.add(form.parts));
    });
}

fn outcome(html: &mut Html) {
    section(("saving-heading", "Save and print"), html, |html| {
        html.said("p", &[("id", "unsaved")], "");
        html.element("div", &[("class", "buttons")], |html| {
            button("save", "Save the file", html);
            button("forget", "Take what the file says", html);
            let all = [
                ("href", "#"),
                ("id", "report"),
                ("target", "_blank"),
                ("rel", "noopener"),
            ];
            html.said("a", &all, "Report to print");
        });
        html.said("div", &[("id", "saved"), ("tabindex", "-1")], "");
    });
    section(("further-heading", "Try further"), html, |html| {
        html.element("div", &[("class", "buttons")], |html| {
            button("tried", "What would change it", html);
            button("range-draw", "How far the draw can go", html);
            button("range-ambient", "How cold or warm it can be", html);
            button("choose", "Choose the cells", html);
        });
        html.said("div", &[("id", "more"), ("tabindex", "-1")], "");
    });
    section(("standing-heading", "Where it stands"), html, |html| {
        html.said("div", &[("id", "standing")], "");
    });
}

fn button(what: &str, says: &str, html: &mut Html) {
    html.said("button", &[("type", "button"), ("data-do", what)], says);
}

fn without_script(html: &mut Html) {
    html.element("noscript", &[], |html| {
        let says = "The form needs JavaScript, of which this machine alone serves a little. Without it \
                    use the command: `cellrules interview FILE` asks the same in a terminal, and \
                    `cellrules check FILE` answers.";
        html.told("p", &[("class", "problems")], says);
    });
}

/// A name as a part of an address.
pub(super) fn encoded(name: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-_.~".contains(&byte);
    let pieces = name.bytes().map(|byte| match plain(byte) {
        true => char::from(byte).to_string(),
        false => format!("%{byte:02X}"),
    });
    pieces.collect()
}

/// What a part of an address means; none of what is no text.
pub(super) fn decoded(part: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(part.len());
    let mut rest = part.bytes();
    while let Some(byte) = rest.next() {
        let byte = match byte {
            b'%' => {
                let digits = [rest.next()?, rest.next()?];
                let digits = std::str::from_utf8(&digits).ok()?;
                u8::from_str_radix(digits, 16).ok()?
            }
            byte => byte,
        };
        bytes.push(byte);
    }
    String::from_utf8(bytes).ok()
}
