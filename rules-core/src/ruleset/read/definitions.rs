//! Declared facts, limits and figures.

use super::basis::basis;
use super::values::{about, formula};
use crate::document::{Entry, Fault, Fields, Node, Problems, option, text, word};
use crate::facts::{FactDefinition, FactsOf, add_quantity_problem, fact_definition, read_stated};
use crate::quantity::{Kind, Nature, Quantity, Unit};
use crate::ruleset::layer::{FigureText, written};
use crate::ruleset::limit::{LimitText, WrittenLimit};
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

pub(super) fn limit(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<LimitText> {
    word(&entry.key, entry.key_span, problems);
    let mut fields = Fields::of(&entry.node, "a limit", problems)?;
    let value = fields.must("value", problems);
    let ways = [("higher", Stricter::Higher), ("lower", Stricter::Lower)];
    let stricter = fields
        .must("stricter", problems)
        .and_then(|node| option(node, &ways, problems));
    let meaning = fields
        .must_text("meaning", problems)
        .unwrap_or_default()
        .to_owned();
    let fixed = fields.may_yes_no("fixed", problems).unwrap_or(false);
    let basis = basis(fields.may("basis"), problems);
    fields.finish(problems);
    let value = value?;
    let (kind, unit) = limit_kind(value, problems)?;
    let measure = read_stated(value, kind, problems)?;
    let (basis, basis_at) = basis.into_iter().unzip();
    let written = WrittenLimit {
        value: written(value.scalar().unwrap_or_default()),
        stricter: stricter?,
        meaning,
        fixed,
        basis,
    };
    Some(LimitText {
        written,
        value: measure,
        kind,
        unit,
        basis_at,
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
