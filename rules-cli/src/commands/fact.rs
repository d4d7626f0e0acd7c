//! A fact as `facts` lists it and `explain` shows it.

use rules_core::check::Subject;
use rules_core::facts::{FactDef, FactId, FactKind};
use rules_core::report::text::{Page, Part, Role};
use rules_core::ruleset::Rules;
use serde::Serialize;

#[derive(Serialize)]
pub(super) struct Fact<'a> {
    name: String,
    kind: &'static str,
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    options: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    domain: Option<Domain>,
    nature: &'static str,
    meaning: &'a str,
    /// Where it is written in a proposal.
    in_proposal: String,
}

/// The values that it can have, in `unit`. An end that is left out is open.
#[derive(Serialize)]
struct Domain {
    text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    low: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    high: Option<f64>,
    unit: String,
}

impl<'a> Fact<'a> {
    pub(super) fn of((id, def): (FactId, &'a FactDef), rules: &Rules) -> Self {
        let name = rules.catalogue().full_name(def.subject, &def.name);
        let options = match &def.kind {
            FactKind::Choice(options) => options.as_slice(),
            _ => &[],
        };
        let in_proposal = in_proposal((id, def), rules);
        Self {
            name,
            kind: def.kind.name(),
            options,
            domain: Domain::of(def),
            nature: def.nature.word(),
            meaning: &def.meaning,
            in_proposal,
        }
    }

    pub(super) fn write(&self, page: &mut Page<'_>) {
        let name = Part::new(Role::Label, self.name.as_str());
        let text = format!(" ({}): {}.", self.properties(), self.meaning);
        page.item(2, 6, &[name, Part::text(text)]);
        let place = format!("In a proposal: {}", self.in_proposal);
        page.paragraph(6, &[Part::new(Role::Quiet, place)]);
    }

    /// Its kind, what it can be, and whether it is measured or stated.
    fn properties(&self) -> String {
        let options = match self.options {
            [] => String::new(),
            options => format!(": {}", options.join(", ")),
        };
        let domain = self.domain.as_ref();
        let domain = domain.map(|domain| format!(", {}", domain.text));
        let domain = domain.unwrap_or_default();
        format!("{}{options}{domain}, {}", self.kind, self.nature)
    }
}

/// Where a fact is written in a proposal, by the keys that lead to it.
fn in_proposal((id, def): (FactId, &FactDef), rules: &Rules) -> String {
    let any = Subject::only("");
    match (&def.from, rules.place_of(id)) {
        (Some(from), _) => format!("worked out from `{from}`"),
        (None, Some(place)) => place.path(&any),
        (None, None) => "nowhere".to_owned(),
    }
}

impl Domain {
    fn of(def: &FactDef) -> Option<Self> {
        let FactKind::Number(kind) = &def.kind else {
            return None;
        };
        let finite = |end: f64| end.is_finite().then_some(end);
        let unit = kind.base_unit().to_owned();
        let (low, high) = (finite(def.domain.lo()), finite(def.domain.hi()));
        let text = match (low, high) {
            (Some(low), Some(high)) => format!("{low}..{high} {unit}"),
            (Some(low), None) => format!("from {low} {unit}"),
            (None, Some(high)) => format!("up to {high} {unit}"),
            (None, None) => return None,
        };
        let text = text.trim_end().to_owned();
        Some(Self {
            text,
            low,
            high,
            unit,
        })
    }
}
