//! Definitions of facts as files write them: of a ruleset, or of a whole catalogue.

use super::fact::FactKind;
use super::read::read_stated;
use crate::bounds::MOST_OPTIONS;
use crate::document::{
    Content, Fault, Fields, Node, Problems, option, quoted, text, texts, wrong_shape,
};
use crate::quantity::{Kind, Measure, Nature};

/// What a file says of a fact, besides its name.
#[derive(Debug, Clone)]
pub struct FactDefinition {
    /// What values it can have.
    pub kind: FactKind,
    /// What it means.
    pub meaning: String,
    /// How values come about.
    pub nature: Nature,
    /// The values that can be at all, as written and read; none if nothing was written.
    pub domain: Option<(String, Measure)>,
}

/// Whose facts are defined.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FactsOf {
    /// Those of a whole catalogue.
    Catalogue,
    /// Those that a ruleset declares: none is printed on a label, and none tells things apart.
    Ruleset,
}

impl FactsOf {
    fn natures(self) -> Vec<(&'static str, Nature)> {
        let all = [Nature::Measured, Nature::Printed, Nature::Stated].into_iter();
        all.filter(|one| self == Self::Catalogue || *one != Nature::Printed)
            .map(|one| (one.word(), one))
            .collect()
    }
}

/// Reads a definition: `kind`, `meaning`, and where they are written `nature`, `options` and
/// `domain`.
pub fn fact_definition(
    fields: &mut Fields<'_>,
    of: FactsOf,
    problems: &mut Problems<'_>,
) -> Option<FactDefinition> {
    let kind_node = fields.must("kind", problems);
    let meaning = fields
        .must_text("meaning", problems)
        .unwrap_or_default()
        .to_owned();
    let nature = fields
        .may("nature")
        .and_then(|node| option(node, &of.natures(), problems))
        .unwrap_or(Nature::Stated);
    let (options, domain) = (fields.may("options"), fields.may("domain"));
    let kind = fact_kind(kind_node?, options, of, problems)?;
    let domain = domain.and_then(|node| read_domain(node, &kind, problems));
    Some(FactDefinition {
        kind,
        meaning,
        nature,
        domain,
    })
}

fn read_domain(
    node: &Node<'_>,
    kind: &FactKind,
    problems: &mut Problems<'_>,
) -> Option<(String, Measure)> {
    let FactKind::Number(kind) = kind else {
        let message = "only a number has a domain";
        problems.add(Fault::WrongShape, node.span, message, "leave `domain` out");
        return None;
    };
    let written = node.scalar().unwrap_or_default();
    if node.scalar().is_some_and(|text| !text.contains("..")) {
        let help = "write its ends, as `0..50 K`";
        problems.add(Fault::WrongShape, node.span, "a domain is a range", help);
        return None;
    }
    read_stated(node, *kind, problems).map(|value| (written.to_owned(), value))
}

fn fact_kind(
    node: &Node<'_>,
    options: Option<&Node<'_>>,
    of: FactsOf,
    problems: &mut Problems<'_>,
) -> Option<FactKind> {
    let word = text(node, problems)?;
    if word == "choice" {
        return choice(node, options, problems);
    }
    let kind = match word {
        "yes-no" => Some(FactKind::YesNo),
        "id" if of == FactsOf::Catalogue => Some(FactKind::Id),
        "text" => Some(FactKind::Text),
        _ => Kind::from_name(word).map(FactKind::Number).or_else(|| {
            let known: Vec<&str> = Kind::ALL
                .iter()
                .map(|kind| kind.name())
                .chain(["choice", "yes-no", "text"])
                .collect();
            let help = problems.near(word, known.iter().copied()).map_or_else(
                || format!("the kinds are {}", quoted(&known)),
                |near| format!("did you mean `{near}`?"),
            );
            problems.add(
                Fault::UnknownOption,
                node.span,
                format!("`{word}` is no kind of fact"),
                help,
            );
            None
        }),
    };
    // A kind that nobody knows may be meant for a choice.
    if let (Some(options), Some(_)) = (options, &kind) {
        problems.add(
            Fault::WrongShape,
            options.span,
            "only a choice has options",
            "leave `options` out",
        );
    }
    kind
}

fn choice(
    node: &Node<'_>,
    options: Option<&Node<'_>>,
    problems: &mut Problems<'_>,
) -> Option<FactKind> {
    let Some(options) = options else {
        problems.add(
            Fault::MissingKey,
            node.span,
            "a choice needs `options`",
            "add `options: [a, b]`",
        );
        return None;
    };
    let Content::List(items) = &options.content else {
        wrong_shape(options, "a list belongs here", problems);
        return None;
    };
    let words = texts(options, problems);
    let well = |word: &str| {
        word.starts_with(|c: char| c.is_ascii_alphabetic())
            && word
                .chars()
                .all(|c| c.is_ascii_alphanumeric() || c == '_' || c == '-')
    };
    for (word, span) in words.iter().filter(|(word, _)| !well(word)) {
        problems.add(
            Fault::BadName,
            *span,
            format!("`{word}` cannot be an option"),
            "use letters, digits, hyphens and underscores, starting with a letter",
        );
    }
    for (at, (word, span)) in words.iter().enumerate() {
        if words.iter().take(at).any(|(earlier, _)| earlier == word) {
            problems.add(
                Fault::DefinedTwice,
                *span,
                format!("the option `{word}` is listed twice"),
                "keep one of the two",
            );
        }
    }
    if items.is_empty() || items.len() > MOST_OPTIONS {
        problems.add(
            Fault::TooLarge,
            options.span,
            format!("a choice has 1 to {MOST_OPTIONS} options"),
            "split it into several facts",
        );
        return None;
    }
    // Of one that could not be read it is not known whether it is what a formula names.
    (words.len() == items.len())
        .then(|| FactKind::Choice(words.into_iter().map(|(word, _)| word).collect()))
}
