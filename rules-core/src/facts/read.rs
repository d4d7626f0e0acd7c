//! Reading a fact's value from a document.

use std::borrow::Cow;
use std::sync::Arc;

use super::fact::{FactDef, FactKind};
use super::names::{self, TextFault};
use super::options::OptionSet;
use super::sheet::{Given, Value};
use crate::bounds::MOST_TEXT;
use crate::document::{Fault, Node, Problems, tell_split};
use crate::quantity::{self, Kind, Measure, Meter, Nature, Quantity, QuantityError, Unit};

/// Reads the value of a fact. Problems are added; none is returned for what cannot be used.
pub fn read_value(
    node: &Node<'_>,
    name: &str,
    def: &FactDef,
    meter: Option<&Meter>,
    problems: &mut Problems<'_>,
) -> Option<Given> {
    let Some(written) = node.scalar() else {
        let message = format!("`{name}` cannot be {}", node.what());
        problems.add(Fault::WrongShape, node.span, message, value_help(&def.kind));
        return None;
    };
    let mut unit = None;
    let value = match &def.kind {
        FactKind::Number(_) if def.none_is_zero && written == "none" => {
            Value::Number(Measure::exact(0.0))
        }
        FactKind::Number(kind) => {
            let (measure, written_in) = read_number(node, name, *kind, def, meter, problems)?;
            unit = written_in;
            Value::Number(measure)
        }
        FactKind::Choice(options) => Value::Choice(read_choice(node, name, options, problems)?),
        FactKind::YesNo => Value::YesNo(crate::document::yes_no(node, problems)?),
        FactKind::Id => Value::Text(read_text(node, name, names::id, problems)?),
        FactKind::Text => Value::Text(read_text(node, name, names::text, problems)?),
    };
    let written = match &value {
        Value::Text(text) => Arc::clone(text).into(),
        _ => written.into(),
    };
    Some(Given {
        value,
        written,
        unit,
        at: Some(node.span.start),
        meter_assumed: false,
    })
}

/// How a value of a kind is written, for messages.
#[must_use]
pub fn value_help(kind: &FactKind) -> String {
    match kind {
        FactKind::Number(kind) => kind.how_to_write(),
        FactKind::Choice(options) => format!("the options are {}", listed(options)),
        FactKind::YesNo => "write `yes` or `no`".to_owned(),
        FactKind::Id => OF_IDS.to_owned(),
        FactKind::Text => "write a text".to_owned(),
    }
}

fn read_number(
    node: &Node<'_>,
    name: &str,
    kind: Kind,
    def: &FactDef,
    meter: Option<&Meter>,
    problems: &mut Problems<'_>,
) -> Option<(Measure, Option<Unit>)> {
    let text = node.scalar().unwrap_or_default();
    let read = Quantity::read_with_unit(text, kind, def.nature, meter);
    let (measure, unit) = match read {
        Ok(read) => read,
        Err(error) => {
            add_quantity_problem(node, &error, problems);
            return None;
        }
    };
    let inside = measure.clipped_to(def.domain);
    if inside.is_none() {
        let domain = Measure::of(def.domain).shown(kind).as_range();
        let message = format!("`{text}` is not possible for `{name}`");
        problems.add(
            Fault::OutOfDomain,
            node.span,
            message,
            format!("the possible values are {domain}: check the unit and the decimal point"),
        );
    }
    inside.map(|measure| (measure, unit))
}

/// Reads the exact or ranged value of a limit or domain: stated, without a meter.
pub(crate) fn read_stated(
    node: &Node<'_>,
    kind: Kind,
    problems: &mut Problems<'_>,
) -> Option<Measure> {
    let Some(text) = node.scalar() else {
        problems.add(
            Fault::WrongShape,
            node.span,
            format!("this is {}", node.what()),
            kind.how_to_write(),
        );
        return None;
    };
    match Quantity::read(text, kind, Nature::Stated, None) {
        Ok(measure) => Some(measure),
        Err(error) => {
            add_quantity_problem(node, &error, problems);
            None
        }
    }
}

/// Adds what is wrong with the text of a quantity.
pub fn add_quantity_problem(node: &Node<'_>, error: &QuantityError, problems: &mut Problems<'_>) {
    let help = match error.suggestion() {
        Some(near) => format!("did you mean `{near}`? {}", error.help()),
        None => error.help(),
    };
    problems.add_within(
        fault_of(error.fault()),
        node,
        error.span(),
        error.message(),
        help,
    );
}

fn fault_of(fault: &quantity::QuantityFault) -> Fault {
    use quantity::QuantityFault as Q;
    match fault {
        Q::NotFinite { .. } => Fault::NotFinite,
        Q::MissingUnit { .. } => Fault::NoUnit,
        Q::UnknownUnit { .. } => Fault::UnknownUnit,
        Q::WrongKind { .. } => Fault::WrongKind,
        Q::NegativeTolerance { .. }
        | Q::NotATolerance { .. }
        | Q::ToleranceOnCount
        | Q::RelativeTemperature => Fault::BadTolerance,
        Q::LowAboveHigh { .. } => Fault::LowAboveHigh,
        _ => Fault::BadNumber,
    }
}

fn read_choice(
    node: &Node<'_>,
    name: &str,
    options: &[String],
    problems: &mut Problems<'_>,
) -> Option<OptionSet> {
    let word = node.scalar().unwrap_or_default();
    if let Some(position) = options.iter().position(|option| option == word) {
        return Some(OptionSet::one(position));
    }
    let help = match problems.near(word, options.iter().map(String::as_str)) {
        Some(near) => format!("did you mean `{near}`? The options are {}", listed(options)),
        None => format!("the options are {}", listed(options)),
    };
    problems.add(
        Fault::UnknownOption,
        node.span,
        format!("`{word}` is no option of `{name}`"),
        help,
    );
    None
}

/// What ids are made of, for messages.
pub(crate) const OF_IDS: &str = "an id is made of letters, digits, spaces and `- _ . / # +`";

fn read_text(
    node: &Node<'_>,
    name: &str,
    read: fn(&str) -> Result<Cow<'_, str>, TextFault>,
    problems: &mut Problems<'_>,
) -> Option<Arc<str>> {
    if node.is_split() {
        tell_split(node, problems);
        return None;
    }
    let written = node.scalar().unwrap_or_default();
    match read(written) {
        Ok(text) => Some(text.into()),
        Err(fault) => {
            add_text_problem(node, name, fault, problems);
            None
        }
    }
}

fn add_text_problem(node: &Node<'_>, name: &str, fault: TextFault, problems: &mut Problems<'_>) {
    let whole = 0..node.scalar().unwrap_or_default().len();
    let length = || format!("write 1 to {MOST_TEXT} characters on one line");
    let point = |letter: char| format!("U+{:04X}", u32::from(letter));
    let (at, message, help) = match fault {
        TextFault::Empty => (whole, format!("`{name}` is empty"), length()),
        TextFault::TooLong => (whole, format!("`{name}` is too long"), length()),
        TextFault::Unseen(letter, at) => (
            at,
            format!(
                "`{name}` has a character that cannot be seen, {}",
                point(letter)
            ),
            "write it again by hand, on one line and with ordinary spaces".to_owned(),
        ),
        TextFault::NotOfIds(letter, at) => (
            at,
            format!("`{letter}`, {}, cannot be in `{name}`", point(letter)),
            OF_IDS.to_owned(),
        ),
        TextFault::LoneMark(letter, at) => (
            at,
            format!("`{name}` has a mark without a letter, {}", point(letter)),
            OF_IDS.to_owned(),
        ),
        TextFault::OtherScript(letter, at) => (
            at,
            format!(
                "`{name}` mixes two scripts: `{letter}`, {}, is of another script than the letters before it",
                point(letter)
            ),
            "letters of two scripts can look the same: use those of one script".to_owned(),
        ),
        TextFault::NotComposed(composed) => (
            whole,
            format!("`{name}` has a letter and a mark as two characters that are one"),
            format!("write `{composed}` in Unicode's form NFC"),
        ),
    };
    problems.add_within(Fault::BadName, node, at, message, help);
}

fn listed(options: &[String]) -> String {
    options
        .iter()
        .map(|option| format!("`{option}`"))
        .collect::<Vec<_>>()
        .join(", ")
}
