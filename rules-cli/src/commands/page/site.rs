//! What is asked for, and who answers it.

use rules_core::document::{Fault, Problem, ProblemList};
use rulesets::jobs::tried;
use rulesets::pages::html::Html;
use rulesets::pages::parts;
use serde::de::DeserializeOwned;

use super::answer::{Answer, Kind, Refusal};
use super::bench;
use super::choose::chosen;
use super::desk::Desk;
use super::form;
use super::kept::Kept;
use super::opened::opened;
use super::plan::{AtHand, Sent};
use super::range::range;
use super::report::report;
use super::request::{Method, Request};
use super::saving::save;
use super::server::Site;
use super::shell::{self, decoded};

/// The page of a folder.
pub(super) struct FormSite {
    pub(super) desk: Desk,
}

/// What could not be done, as a part of a page.
const CANNOT_CHECK: &str = "It cannot be checked yet";

impl Site for FormSite {
    fn answer(&self, request: &Request) -> Answer {
        let path = request.path.as_str();
        let answered = match request.method {
            Method::Get => self.shown(path),
            Method::Post => self.done(path, &request.body),
        };
        answered.unwrap_or_else(Answer::from)
    }
}

impl FormSite {
    fn shown(&self, path: &str) -> Result<Answer, Refusal> {
        let (what, name) = path.split_once('/').unwrap_or((path, ""));
        let name = decoded(name).ok_or(Refusal::NOTHING)?;
        match (what, name.as_str()) {
            ("", "") => Ok(self.list()),
            ("page.css", "") => Ok(Answer::of(Kind::Style, style())),
            ("renew.js", "") => Ok(script(include_str!("renew.js"))),
            ("plan.js", "") => Ok(script(include_str!("plan.js"))),
            ("list.js", "") => Ok(script(include_str!("list.js"))),
            ("plan", name) => opened(name, &self.desk),
            ("bench", name) => bench::shown(name, &self.desk),
            ("sorted", name) => bench::sorted(name, &self.desk),
            ("bench.js", "") => Ok(script(include_str!("bench.js"))),
            ("report", name) => report(name, &self.desk),
            _ => Err(Refusal::NOTHING),
        }
    }

    fn list(&self) -> Answer {
        let folder = &self.desk.folder;
        let page = shell::list(&folder.shown(), &folder.sorted());
        Answer::of(Kind::Html, page)
    }

    fn done(&self, path: &str, body: &[u8]) -> Result<Answer, Refusal> {
        let answered = match path {
            "do/check" => self.check(&sent(body)?),
            "do/begin" => self.begin(&sent(body)?),
            "do/form" => self.form(&sent(body)?),
            "do/next" => self.next(&sent(body)?),
            "do/tried" => self.tried(&sent(body)?),
            "do/range" => self.range(&sent(body)?),
            "do/choose" => self.choose(&sent(body)?),
            "do/correct" => return Ok(bench::correct(&sent(body)?, &self.desk.folder)),
            "do/add" => return Ok(bench::add(&sent(body)?, &self.desk.folder)),
            "do/import" => return Ok(bench::import(&sent(body)?, &self.desk.folder)),
            "do/save" => return Ok(save(&sent(body)?, &self.desk)),
            "do/part" => self.part(&sent(body)?),
            "do/forget" => {
                let sent: Sent = sent(body)?;
                Kept::forget(&sent.name, &self.desk.folder);
                Ok(Html::default())
            }
            _ => return Err(Refusal::NOTHING),
        };
        Ok(match answered {
            Ok(html) => Answer::of(Kind::Html, html.part()),
            Err(problems) => Answer::not_done(422, parts::problems(CANNOT_CHECK, &problems).part()),
        })
    }

    /// The first page, after what was changed is kept.
    fn check(&self, sent: &Sent) -> Result<Html, ProblemList> {
        if sent.about == "changed" {
            self.keep(sent)?;
        }
        let report = self.at_hand(sent)?.report()?;
        Ok(parts::first_page(&report))
    }

    fn keep(&self, sent: &Sent) -> Result<(), Problem> {
        let kept = Kept {
            digest: sent.digest.clone(),
            plan: sent.plan.clone(),
        };
        let kept = kept.keep(&sent.name, &self.desk.folder);
        kept.map_err(|error| not_kept(&sent.name, &error))
    }

    /// Begins a plan that is nowhere yet.
    fn begin(&self, sent: &Sent) -> Result<Html, ProblemList> {
        let folder = &self.desk.folder;
        if folder.known(&sent.name).is_some() || Kept::of(&sent.name, folder).is_some() {
            let message = format!("the plan `{}` is there already", sent.name);
            let help = "open it, and choose there";
            return Err(Problem::of_file(Fault::DefinedTwice, message, help).into());
        }
        self.keep(sent)?;
        Ok(Html::default())
    }

    fn form(&self, sent: &Sent) -> Result<Html, ProblemList> {
        let at_hand = self.at_hand(sent)?;
        Ok(match sent.about.as_str() {
            "parts" => form::parts(&at_hand, &sent.plan),
            _ => form::top(&at_hand, &sent.plan, &self.desk.folder.benches()),
        })
    }

    fn next(&self, sent: &Sent) -> Result<Html, ProblemList> {
        let at_hand = self.at_hand(sent)?;
        let report = at_hand.asking(&sent.not_known)?;
        Ok(form::next(&report, &sent.not_known, &at_hand.rules))
    }

    fn part(&self, sent: &Sent) -> Result<Html, ProblemList> {
        let at_hand = self.at_hand(sent)?;
        Ok(form::part(&sent.about, &at_hand).unwrap_or_default())
    }

    fn tried(&self, sent: &Sent) -> Result<Html, ProblemList> {
        let at_hand = self.at_hand(sent)?;
        let report = at_hand.report()?;
        let report = tried(report, || Ok::<_, ProblemList>(at_hand.trial()))?;
        Ok(parts::would_change(&report))
    }

    fn range(&self, sent: &Sent) -> Result<Html, ProblemList> {
        range(&sent.about, &self.at_hand(sent)?)
    }

    fn choose(&self, sent: &Sent) -> Result<Html, ProblemList> {
        chosen(&self.at_hand(sent)?)
    }

    fn at_hand(&self, sent: &Sent) -> Result<AtHand, ProblemList> {
        AtHand::of(&sent.name, &sent.plan, &self.desk)
    }
}

/// What the browser sent, if it is what is asked for.
fn sent<T: DeserializeOwned>(body: &[u8]) -> Result<T, Refusal> {
    serde_json::from_slice(body)
        .map_err(|error| Refusal::bad(&format!("no such question: {error}")))
}

fn style() -> String {
    [parts::SHEET, parts::STYLE, include_str!("page.css")].concat()
}

fn script(text: &'static str) -> Answer {
    Answer::of(Kind::Script, text)
}

fn not_kept(name: &str, error: &std::io::Error) -> Problem {
    let message = format!("what you fill in of `{name}` cannot be kept: {error}");
    Problem::of_file(
        Fault::Unreadable,
        message,
        "look whether the folder can be written",
    )
}
