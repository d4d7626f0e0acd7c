//! Saving a plan: into its file where it is written, or into a new one.

use std::path::Path;

use rules_core::document::{Fault, Problem, ProblemList, Syntax, json_text};
use rulesets::bench::{Benches, Plan};
use rulesets::pages::html::Html;
use rulesets::pages::parts;
use rulesets::proposal::Draft;

use super::answer::Answer;
use super::answer::Kind;
use super::desk::Desk;
use super::in_place;
use super::kept::{Kept, digest_of};
use super::plan::Sent;
use crate::commands::written_file::{not_written, replace, write_new};

/// Why a plan was not saved.
enum NotSaved {
    /// Its file is another one than that which it was begun from.
    Changed,
    Faulty(ProblemList),
}

impl<P: Into<ProblemList>> From<P> for NotSaved {
    fn from(problems: P) -> Self {
        Self::Faulty(problems.into())
    }
}

/// Saves a plan under its name, or under another one that is new, and forgets what was kept of it.
pub(super) fn save(sent: &Sent, desk: &Desk) -> Answer {
    let saved = match sent.about.as_str() {
        "" => over(sent, desk),
        name => beside(name, sent, desk),
    };
    match saved {
        Ok((name, digest)) => {
            Kept::forget(&sent.name, &desk.folder);
            Answer::of(Kind::Html, done(&name, &digest).part())
        }
        Err(NotSaved::Changed) => Answer::not_done(409, both(&sent.name).part()),
        Err(NotSaved::Faulty(problems)) => {
            let mut html = parts::problems("Nothing was written", &problems);
            another_name(&sent.name, &mut html);
            Answer::not_done(422, html.part())
        }
    }
}

/// Writes into the file that the plan was begun from.
fn over(sent: &Sent, desk: &Desk) -> Result<(String, String), NotSaved> {
    let name = &sent.name;
    let Some(path) = desk.folder.known(name) else {
        return match sent.digest.is_empty() {
            true => beside(name, sent, desk),
            // It was there, and somebody took it away.
            false => Err(NotSaved::Changed),
        };
    };
    let bytes = desk.folder.read(name)?;
    if digest_of(&bytes) != sent.digest {
        return Err(NotSaved::Changed);
    }
    let text = String::from_utf8(bytes).map_err(|_| no_text(name))?;
    // A mark of the order of bytes stays what it is.
    let (mark, said) = match text.strip_prefix('\u{feff}') {
        Some(said) => ("\u{feff}", said),
        None => ("", text.as_str()),
    };
    let changed = in_place::changed(said, Syntax::of_name(name), &sent.plan)?;
    written(name, &path, &format!("{mark}{changed}"), replace)
}

/// Writes a new file.
fn beside(name: &str, sent: &Sent, desk: &Desk) -> Result<(String, String), NotSaved> {
    let path = desk.folder.new_path(name, &[".yaml", ".yml", ".json"])?;
    let text = match Syntax::of_name(name) {
        Syntax::Json => json_text(&sent.plan).map_err(|error| not_written(&path, &error.into()))?,
        Syntax::Yaml => {
            let draft = Draft::of(&desk.folder.called(name), sent.plan.clone());
            let mut benches = Benches::of(desk.folder.library());
            Plan::of_draft(&draft, &mut benches)?.yaml()?
        }
    };
    written(name, &path, &text, write_new)
}

fn written(
    name: &str,
    path: &Path,
    text: &str,
    write: fn(&Path, &str) -> std::io::Result<()>,
) -> Result<(String, String), NotSaved> {
    write(path, text).map_err(|error| not_written(path, &error))?;
    Ok((name.to_owned(), digest_of(text.as_bytes())))
}

fn done(name: &str, digest: &str) -> Html {
    let mut html = Html::default();
    let all = [("data-saved", name), ("data-digest", digest)];
    html.said("p", &all, &format!("Saved: {name}"));
    html
}

/// Both ways on: nothing of either is lost.
fn both(name: &str) -> Html {
    let mut html = Html::default();
    html.element("div", &[("class", "problems")], |html| {
        let says = format!("{name} was changed by somebody else since you opened it.");
        html.said("p", &[("class", "outcome")], &says);
        html.said(
            "p",
            &[],
            "Nothing was written over. Take what the file says now, or save yours beside it.",
        );
        let button = [("type", "button"), ("data-do", "forget")];
        html.said("button", &button, "Take what the file says now");
    });
    another_name(name, &mut html);
    html
}

fn another_name(name: &str, html: &mut Html) {
    let stem = name.split('.').next().unwrap_or(name);
    let offered = format!("{stem}-2.yaml");
    html.element("div", &[("class", "field")], |html| {
        html.said(
            "label",
            &[("for", "other-name")],
            "Save it under another name",
        );
        html.element("div", &[("class", "control")], |html| {
            let all = [
                ("id", "other-name"),
                ("type", "text"),
                ("value", &*offered),
                ("autocomplete", "off"),
                ("spellcheck", "false"),
            ];
            html.empty("input", &all);
            let button = [("type", "button"), ("data-do", "save-as")];
            html.said("button", &button, "Save as");
        });
    });
}

fn no_text(name: &str) -> Problem {
    let message = format!("`{name}` is not UTF-8");
    Problem::of_file(Fault::Unreadable, message, "save the file as UTF-8 text")
}
