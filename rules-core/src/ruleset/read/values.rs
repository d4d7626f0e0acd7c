//! Values that several parts of a ruleset have: names, versions, titles, formulas.

use crate::document::{Content, Fault, Fields, Node, Problems, Quotes, option, text, texts};
use crate::formula::parse;
use crate::ruleset::layer::{AboutText, FormulaText};
use crate::ruleset::model::{Acceptance, Refused};

/// A name of a ruleset or caution: letters, digits and hyphens, starting with a letter. A name with
/// other characters is reported, and is still usable to identify the ruleset.
pub(super) fn identifier(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<String> {
    let name = text(node, problems)?;
    if !is_identifier(name) {
        let help = "use up to 64 letters, digits and hyphens, starting with a letter";
        problems.add(
            Fault::BadName,
            node.span,
            format!("`{name}` cannot be a name here"),
            help,
        );
    }
    Some(name.to_owned())
}

pub(super) fn is_identifier(name: &str) -> bool {
    name.starts_with(|c: char| c.is_ascii_alphabetic())
        && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '-')
        && name.len() <= 64
}

/// The version of a ruleset: letters, digits, dots, hyphens and plus signs, starting with a letter
/// or a digit.
pub(super) fn version(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<String> {
    let version = text(node, problems)?;
    let good = version.starts_with(|c: char| c.is_ascii_alphanumeric())
        && version
            .chars()
            .all(|c| c.is_ascii_alphanumeric() || matches!(c, '.' | '-' | '+'))
        && version.len() <= 64;
    if !good {
        let help = "use up to 64 letters, digits, dots, hyphens and plus signs, as `1.0.0`";
        problems.add(
            Fault::BadName,
            node.span,
            format!("`{version}` is no version"),
            help,
        );
    }
    good.then(|| version.to_owned())
}

/// A text on one line, without the space around it.
pub(super) fn one_line(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<String> {
    let text = text(node, problems)?.trim();
    if text.contains(['\n', '\r', '\t']) {
        let help = "write it on one line, or fold it with `>-`";
        problems.add(
            Fault::WrongShape,
            node.span,
            "this text has several lines, or tabs in it",
            help,
        );
        return None;
    }
    Some(text.to_owned())
}

pub(super) fn acceptance(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<Acceptance> {
    option(
        node,
        &[
            ("guarded", Acceptance::Guarded),
            ("simple", Acceptance::Simple),
        ],
        problems,
    )
}

/// What becomes of the one that is refused.
pub(super) fn refused(fields: &mut Fields<'_>, problems: &mut Problems<'_>) -> Option<Refused> {
    const WAYS: [(&str, Refused); 3] = [
        ("retire", Refused::Retire),
        ("set-aside", Refused::SetAside),
        ("keep-out", Refused::KeepOut),
    ];
    let node = fields.may("refused")?;
    option(node, &WAYS, problems)
}

/// A formula, parsed.
pub(super) fn formula(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<FormulaText> {
    let written = text(node, problems)?;
    let quotes = match &node.content {
        Content::Scalar(scalar) => scalar.quotes,
        _ => Quotes::None,
    };
    match parse(written) {
        Ok(tree) => Some(FormulaText {
            text: written.into(),
            quotes,
            span: node.span,
            tree,
        }),
        Err(fault) => {
            problems.add_within(fault.fault, node, fault.span, fault.message, fault.help);
            None
        }
    }
}

/// `each cable`, `each circuit`, `site`, `heater` and so on.
pub(super) fn about(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<AboutText> {
    let written = text(node, problems)?;
    let (each, subject) = match written.strip_prefix("each ") {
        Some(subject) => (true, subject),
        None => (false, written),
    };
    Some(AboutText {
        each,
        subject: subject.to_owned(),
        span: node.span,
    })
}

/// The names that a limit or a caution had before.
pub(super) fn formerly(
    fields: &mut Fields<'_>,
    is_name: fn(&str) -> bool,
    problems: &mut Problems<'_>,
) -> Vec<String> {
    let Some(node) = fields.may("formerly") else {
        return Vec::new();
    };
    let names = texts(node, problems);
    for (name, span) in names.iter().filter(|(name, _)| !is_name(name)) {
        let help = "write the names that it had before";
        let message = format!("`{name}` cannot be a name here");
        problems.add(Fault::BadName, *span, message, help);
    }
    names.into_iter().map(|(name, _)| name).collect()
}

/// What `because` says, which is asked for last. It is an empty text if it could not be read, or if
/// an unknown key may have been meant for it.
pub(super) fn because(fields: &mut Fields<'_>, problems: &mut Problems<'_>) -> Option<String> {
    match fields.may("because") {
        Some(node) => Some(text(node, problems).unwrap_or_default().to_owned()),
        None => fields.unknown().next().map(|_| String::new()),
    }
}
