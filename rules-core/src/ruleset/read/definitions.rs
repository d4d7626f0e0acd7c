//! Declared facts, limits and figures.

use crate::bounds::MOST_OPTIONS;
use crate::document::{Content, Entry, Fault, Fields, Node, Problems, quoted, text, wrong_shape};
use crate::facts::{FactKind, add_quantity_problem, read_stated};
use crate::quantity::{Kind, Nature, Quantity, Unit};
use crate::ruleset::layer::{FactText, FigureText, LimitText, written};
use crate::ruleset::model::Stricter;

pub(super) fn fact(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<FactText> {
    dotted(entry, problems);
    let mut fields = Fields::of(&entry.node, "a fact", problems)?;
    let kind_node = fields.must("kind", problems);
    let meaning = fields
        .must_text("meaning", problems)
        .unwrap_or_default()
        .to_owned();
    let natures = [("measured", true), ("stated", false)];
    let measured = fields
        .may("nature")
        .and_then(|node| super::option(node, &natures, problems))
        .unwrap_or(false);
    let options = fields.may("options");
    let domain = fields.may("domain");
    fields.finish(problems);
    let kind = fact_kind(kind_node?, options, problems)?;
    let domain = match (&kind, domain) {
        (FactKind::Number(_), Some(node))
            if node.scalar().is_some_and(|text| !text.contains("..")) =>
        {
            problems.add(
                Fault::WrongShape,
                node.span,
                "a domain is a range",
                "write its ends, as `0..50 K`",
            );
            None
        }
        (FactKind::Number(kind), Some(node)) => read_stated(node, *kind, problems)
            .map(|value| (node.scalar().unwrap_or_default().to_owned(), value)),
        (_, Some(node)) => {
            problems.add(
                Fault::WrongShape,
                node.span,
                "only a number has a domain",
                "leave `domain` out",
            );
            None
        }
        (_, None) => None,
    };
    Some(FactText {
        kind,
        meaning,
        measured,
        domain,
    })
}

fn dotted(entry: &Entry<'_>, problems: &mut Problems<'_>) {
    let parts = entry.key.split_once('.');
    match parts {
        Some((_, name)) => super::word(name, entry.key_span, problems),
        None => problems.add(
            Fault::BadName,
            entry.key_span,
            format!("`{}` names no subject", entry.key),
            "write `subject.name`, such as `cell.club_tag`",
        ),
    }
}

fn fact_kind(
    node: &Node<'_>,
    options: Option<&Node<'_>>,
    problems: &mut Problems<'_>,
) -> Option<FactKind> {
    let word = text(node, problems)?;
    if word == "choice" {
        return choice(node, options, problems);
    }
    if let Some(options) = options {
        problems.add(
            Fault::WrongShape,
            options.span,
            "only a choice has options",
            "leave `options` out",
        );
    }
    match word {
        "yes-no" => Some(FactKind::YesNo),
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
    }
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
    let words = super::texts(options, problems);
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
                format!("the option `{word}` stands twice"),
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

pub(super) fn limit(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<LimitText> {
    super::word(&entry.key, entry.key_span, problems);
    let mut fields = Fields::of(&entry.node, "a limit", problems)?;
    let value = fields.must("value", problems);
    let ways = [("higher", Stricter::Higher), ("lower", Stricter::Lower)];
    let stricter = fields
        .must("stricter", problems)
        .and_then(|node| super::option(node, &ways, problems));
    let meaning = fields
        .must_text("meaning", problems)
        .unwrap_or_default()
        .to_owned();
    let fixed = fields.may_yes_no("fixed", problems).unwrap_or(false);
    let basis = super::basis::basis(fields.may("basis"), problems);
    fields.finish(problems);
    let value = value?;
    let (kind, unit) = limit_kind(value, problems)?;
    let measure = read_stated(value, kind, problems)?;
    let written = written(value.scalar().unwrap_or_default());
    Some(LimitText {
        written,
        value: measure,
        kind,
        unit,
        stricter: stricter?,
        meaning,
        fixed,
        basis,
    })
}

/// The kind of a limit is that of its unit; a plain number is a count if it is whole, else a ratio.
fn limit_kind(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<(Kind, Option<Unit>)> {
    let written = text(node, problems)?;
    let quantity = match Quantity::parse(written) {
        Ok(quantity) => quantity,
        Err(error) => {
            add_quantity_problem(node, &error, problems);
            return None;
        }
    };
    let Some(unit) = quantity.unit() else {
        let whole = quantity.measure(Kind::Count, Nature::Stated, None).is_ok();
        return Some((if whole { Kind::Count } else { Kind::Ratio }, None));
    };
    match unit.dimension().kind() {
        Some(kind) => Some((kind, Some(unit))),
        None => {
            problems.add(
                Fault::UnknownUnit,
                node.span,
                format!("`{written}` is of no kind that limits have"),
                "use a unit of the table in the language's section 2",
            );
            None
        }
    }
}

pub(super) fn figure(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<FigureText> {
    super::word(&entry.key, entry.key_span, problems);
    let mut fields = Fields::of(&entry.node, "a figure", problems)?;
    let about = fields
        .must("about", problems)
        .and_then(|node| super::about(node, problems));
    let is = fields
        .must("is", problems)
        .and_then(|node| super::formula(node, problems));
    let meaning = fields
        .must_text("meaning", problems)
        .unwrap_or_default()
        .to_owned();
    fields.finish(problems);
    Some(FigureText { about, is, meaning })
}
