//! Cautions, and kinds of fault, as rules of SARIF.

use std::collections::BTreeMap;

use super::super::said::{self, stage_of};
use super::message::message;
use super::model::{Configuration, Level, ReportingDescriptor, RuleProperties};
use crate::document::Fault;
use crate::report::text::basis;
use crate::ruleset::{Basis, Caution, Rules, WrittenSource};

/// A caution with its title, its remedy, and what it rests on.
pub(super) fn of_caution(caution: &Caution, rules: &Rules) -> ReportingDescriptor {
    let sources = rules.sources();
    let remedy = caution.remedy.as_ref().map(|remedy| said::template(remedy));
    let rests = caution.basis.iter().map(|one| basis(one, sources));
    let help: Vec<String> = remedy.into_iter().chain(rests).collect();
    let level = match caution.refuse_unless {
        Some(_) => Level::Error,
        None => Level::Warning,
    };
    ReportingDescriptor {
        id: caution.id.to_string(),
        short_description: message(&caution.title),
        full_description: Some(message(&said::template(&caution.reason))),
        help_uri: caution.basis.iter().find_map(|one| link(one, sources)),
        help: (!help.is_empty()).then(|| message(&help.join(" "))),
        default_configuration: Configuration { level },
        properties: Some(RuleProperties {
            stage: stage_of(caution, rules),
            fixed: caution.fixed,
        }),
    }
}

/// The address of a source, where it is one of the web and has no sign that no address may have.
fn link(basis: &Basis, sources: &BTreeMap<String, WrittenSource>) -> Option<String> {
    let Basis::Source { source, .. } = basis else {
        return None;
    };
    let link = sources.get(&**source)?.link.as_deref()?;
    let of_web = link.starts_with("https://") || link.starts_with("http://");
    let is_whole = |link: &&str| {
        let signs = link.bytes();
        signs
            .into_iter()
            .all(|sign| sign.is_ascii_graphic() && !b"\"<>\\^`{|}".contains(&sign))
    };
    Some(link)
        .filter(|_| of_web)
        .filter(is_whole)
        .map(str::to_owned)
}

/// A kind of fault of a ruleset.
pub(super) fn of_fault(fault: Fault, level: Level) -> ReportingDescriptor {
    ReportingDescriptor {
        id: fault.code().to_owned(),
        short_description: message(&fault.code().replace('-', " ")),
        full_description: None,
        help_uri: None,
        help: None,
        default_configuration: Configuration { level },
        properties: None,
    }
}
