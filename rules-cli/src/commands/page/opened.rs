//! A plan that is opened: what is kept of it, else what its file says, else a new one.

use rules_core::document::ProblemList;
use rulesets::pages::parts;
use serde_json::{Value, json};

use super::answer::{Answer, Kind, Refusal};
use super::desk::Desk;
use super::folder::Folder;
use super::form;
use super::kept::{Kept, digest_of};
use super::plan::AtHand;
use super::shell::{self, Form};

/// The form of a plan of this name, which is there or may be made.
pub(super) fn opened(name: &str, desk: &Desk) -> Result<Answer, Refusal> {
    if desk.folder.plan_path(name).is_err() {
        return Err(Refusal::NOTHING);
    }
    let unsaved = Kept::of(name, &desk.folder);
    let is_unsaved = unsaved.is_some();
    let kept = match unsaved {
        Some(kept) => Ok(kept),
        None => begun(name, &desk.folder),
    };
    let page = kept.and_then(|kept| page(name, &kept, is_unsaved, desk));
    Ok(match page {
        Ok(page) => Answer::of(Kind::Html, page),
        Err(problems) => {
            let says = parts::problems("This file cannot be filled in", &problems);
            Answer::of(Kind::Html, shell::cannot(name, says))
        }
    })
}

/// What a file says; where there is none, a plan of the only bench.
pub(super) fn begun(name: &str, folder: &Folder) -> Result<Kept, ProblemList> {
    if folder.known(name).is_some() {
        let bytes = folder.read(name)?;
        return Ok(Kept {
            digest: digest_of(&bytes),
            plan: folder.plan(name)?.draft()?.value().clone(),
        });
    }
    let mut plan = json!({ "format": 1 });
    if let [only] = folder.benches().as_slice()
        && let Value::Object(entries) = &mut plan
    {
        entries.insert("bench".to_owned(), format!("./{only}").into());
    }
    Ok(Kept {
        digest: String::new(),
        plan,
    })
}

fn page(name: &str, kept: &Kept, is_unsaved: bool, desk: &Desk) -> Result<String, ProblemList> {
    let at_hand = AtHand::of(name, &kept.plan, desk)?;
    Ok(shell::form(Form {
        name,
        kept,
        is_unsaved,
        top: form::top(&at_hand, &kept.plan, &desk.folder.benches()),
        parts: form::parts(&at_hand, &kept.plan),
    }))
}
