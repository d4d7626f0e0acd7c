//! Declared facts, limits and figures.

use super::basis::basis;
use super::values::{about, formerly, formula};
use crate::document::{Entry, Fault, Fields, Node, Problems, is_word, option, text, word};
use crate::facts::{FactDefinition, FactsOf, add_quantity_problem, fact_definition, read_stated};
use crate::quantity::{Kind, Quantity, Unit};
use crate::ruleset::layer::{FigureText, written};
use crate::ruleset::limit::{LimitText, WrittenLimit, kind_to_write};
use crate::ruleset::model::Stricter;

pub(super) fn fact(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<FactDefinition> {
    dotted(entry, problems);
    let mut fields = Fields::of(&entry.node, "a fact", problems)?;
    let definition = fact_definition(&mut fields, FactsOf::Ruleset, problems);
    fields.finish(problems);
    definition
}

fn dotted(entry: &Entry<'_>, problems: &mut Problems<'_>) {
    let parts = entry.key.split_once('.');
    match parts {
        Some((_, name)) => word(name, entry.key_span, problems),
        None => problems.add(
            Fault::BadName,
            entry.key_span,
            format!("`{}` names no subject", entry.key),
            "write `subject.name`, with the name of a subject first",
        ),
    }
}

/// What may be in `stricter`, and what it means.
const WAYS: &str = "add `stricter: higher` if a higher value lets fewer pass, as of a floor, or `stricter: lower` if a lower one does, as of a ceiling";

pub(super) fn limit(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<LimitText> {
    word(&entry.key, entry.key_span, problems);
    let mut fields = Fields::of(&entry.node, "a limit", problems)?;
    let value = fields.must("value", problems);
    let kind_node = fields.may("kind");
    let ways = [("higher", Stricter::Higher), ("lower", Stricter::Lower)];
    let stricter_node = fields.may("stricter");
    if stricter_node.is_none() {
        let message = "a limit needs `stricter`";
        problems.add(Fault::MissingKey, entry.node.span, message, WAYS);
    }
    let stricter = stricter_node.and_then(|node| option(node, &ways, problems));
    let meaning = fields
        .must_text("meaning", problems)
        .unwrap_or_default()
        .to_owned();
    let fixed = fields.may_yes_no("fixed", problems).unwrap_or(false);
    let basis = basis(fields.may("basis"), problems);
    let formerly = formerly(&mut fields, is_word, problems);
    fields.finish(problems);
    let value = value?;
    let kind = match kind_node {
        Some(node) => quantity_kind(node, problems)?,
        None => kind_shown(value, problems)?,
    };
    let measure = read_stated(value, kind, problems)?;
    let (basis, basis_at) = basis.into_iter().unzip();
    let value = written(value.scalar().unwrap_or_default());
    Some(LimitText {
        unit: unit_of(&value),
        written: WrittenLimit {
            kind: kind_to_write(&value, kind),
            value: value.into(),
            stricter: stricter?,
            meaning: meaning.into(),
            fixed,
            basis,
            formerly,
        },
        value: measure,
        kind,
        basis_at,
    })
}

/// The kind of a limit that says none: that of its unit, or a ratio.
fn kind_shown(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<Kind> {
    let written = match node.scalar() {
        // What is wrong with a number is reported as such.
        Some(written) if node.is_split() => written,
        _ => text(node, problems)?,
    };
    let quantity = Quantity::parse(written);
    match quantity.map(|quantity| quantity.kind_shown()) {
        Ok(Some(kind)) => Some(kind),
        Ok(None) => {
            problems.add(
                Fault::UnknownUnit,
                node.span,
                format!("no limit can have the unit of `{written}`"),
                "use a unit of the table in the language's section 2",
            );
            None
        }
        Err(error) => {
            add_quantity_problem(node, &error, problems);
            None
        }
    }
}

fn quantity_kind(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<Kind> {
    let kinds: Vec<(&str, Kind)> = Kind::ALL.iter().map(|kind| (kind.name(), *kind)).collect();
    option(node, &kinds, problems)
}

fn unit_of(written: &str) -> Option<Unit> {
    Quantity::parse(written).ok()?.unit()
}

pub(super) fn figure(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<FigureText> {
    word(&entry.key, entry.key_span, problems);
    let mut fields = Fields::of(&entry.node, "a figure", problems)?;
    let about = fields
        .must("about", problems)
        .and_then(|node| about(node, problems));
    let is = fields
        .must("is", problems)
        .and_then(|node| formula(node, problems));
    let meaning = fields
        .must_text("meaning", problems)
        .unwrap_or_default()
        .to_owned();
    fields.finish(problems);
    Some(FigureText { about, is, meaning })
}
