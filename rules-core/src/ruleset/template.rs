//! Reasons and remedies: text with the names of facts, figures and limits in braces.

use std::ops::Range;
use std::sync::Arc;

use super::names::{tell, told};
use crate::document::{Fault, Node, Problems};
use crate::facts::SubjectId;
use crate::formula::{self, Condition, FactRef, FigureCode, FormulaFault, Number, Vocabulary};
use crate::snapshot::stored;

/// A text with placeholders.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Template {
    /// Its words in order, and none where a value is put in. All texts that are filled in share them.
    pub words: Arc<[Option<Arc<str>>]>,
    /// What is put in, in order.
    pub values: Vec<Placeholder>,
}

/// What a placeholder stands for.
#[derive(Debug, Clone, PartialEq)]
pub enum Placeholder {
    /// A fact.
    Fact(FactRef),
    /// A limit or figure that is a number.
    Number(Number, crate::formula::Sort),
    /// A figure that is a condition.
    Condition(Condition),
}

/// Reads a template; every fault is added.
pub(super) fn template(
    node: &Node<'_>,
    about: Option<SubjectId>,
    vocabulary: &Vocabulary<'_>,
    problems: &mut Problems<'_>,
) -> Template {
    let written = node.scalar().unwrap_or_default();
    let (mut words, mut values) = (Vec::new(), Vec::new());
    for part in parts(written) {
        match part {
            Part::Text(text) => words.push(Some(text.into())),
            Part::Name(range) => {
                let value = placeholder(written, range, about, vocabulary);
                if let Some(value) = told(value, node, problems) {
                    words.push(None);
                    values.push(value);
                }
            }
            Part::Unclosed(at) => {
                tell(
                    bad(
                        at..at + 1,
                        "a brace has no partner",
                        "write `{{` or `}}` for a brace in the text",
                    ),
                    node,
                    problems,
                );
            }
        }
    }
    Template {
        words: words.into(),
        values,
    }
}

fn placeholder(
    written: &str,
    range: Range<usize>,
    about: Option<SubjectId>,
    vocabulary: &Vocabulary<'_>,
) -> Result<Placeholder, Vec<FormulaFault>> {
    let name = written.get(range.clone()).unwrap_or_default();
    let dotted = name
        .split_once('.')
        .is_some_and(|(subject, word)| is_word(subject) && is_word(word));
    if !dotted {
        let help = "a placeholder is a name with a dot, such as `{subject.fact}`";
        return Err(vec![bad(
            range,
            format!("`{name}` is not the name of a fact, figure or limit"),
            help,
        )]);
    }
    let here = |fault: FormulaFault| bad(range.clone(), fault.message, fault.help);
    let tree = formula::parse(name).map_err(|fault| vec![here(fault)])?;
    let shown = formula::resolve_placeholder(&tree, about, vocabulary);
    Ok(
        match shown.map_err(|faults| faults.into_iter().map(here).collect::<Vec<_>>())? {
            formula::PlaceholderCode::Fact(fact) => Placeholder::Fact(fact),
            formula::PlaceholderCode::Code(FigureCode::Number(number, sort)) => {
                Placeholder::Number(number, sort)
            }
            formula::PlaceholderCode::Code(FigureCode::Condition(condition)) => {
                Placeholder::Condition(condition)
            }
        },
    )
}

fn bad(span: Range<usize>, message: impl Into<String>, help: impl Into<String>) -> FormulaFault {
    FormulaFault {
        fault: Fault::BadPlaceholder,
        span,
        message: message.into(),
        help: help.into(),
    }
}

fn is_word(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_alphabetic())
        && text
            .chars()
            .all(|c| c.is_ascii_alphanumeric() || c == '_' || c == '-')
}

enum Part {
    Text(String),
    Name(Range<usize>),
    Unclosed(usize),
}

fn parts(written: &str) -> Vec<Part> {
    let last = written.rfind('}');
    let mut found = Vec::new();
    let mut text = String::new();
    let mut at = 0;
    let rest = |at: usize| written.get(at..).unwrap_or_default();
    while let Some(length) = rest(at).find(['{', '}']) {
        let brace = at + length;
        text.push_str(written.get(at..brace).unwrap_or_default());
        let (this, after) = rest(brace).split_at_checked(1).unwrap_or_default();
        at = brace + 1;
        if after.starts_with(this) {
            text.push_str(this);
            at += 1;
        } else if this == "}" {
            found.push(Part::Unclosed(brace));
        } else {
            // After the last one there is none to look for, and each search would go on to the end
            // of the text.
            let closed = Some(after).filter(|_| last > Some(brace));
            let Some(length) = closed.and_then(|after| after.find('}')) else {
                found.push(Part::Unclosed(brace));
                continue;
            };
            found.push(Part::Text(std::mem::take(&mut text)));
            found.push(Part::Name(at..at + length));
            at += length + 1;
        }
    }
    text.push_str(rest(at));
    found.push(Part::Text(text));
    found.retain(|part| !matches!(part, Part::Text(text) if text.is_empty()));
    found
}

stored!(struct Template { words, values });
stored!(
    enum Placeholder {
        Fact(fact),
        Number(number, sort),
        Condition(condition),
    }
);

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(written: &str) -> String {
        let one = |part: Part| match part {
            Part::Text(text) => format!("'{text}'"),
            Part::Name(range) => format!("<{}>", written.get(range).expect("a name")),
            Part::Unclosed(at) => format!("!{at}"),
        };
        parts(written).into_iter().map(one).collect()
    }

    #[test]
    fn braces() {
        assert_eq!(
            shown("{cable.id} rests at {cable.v}."),
            "<cable.id>' rests at '<cable.v>'.'"
        );
        assert_eq!(shown("a {{b}} c"), "'a {b} c'");
        assert_eq!(shown("a {b"), "!2'a b'");
        assert_eq!(shown("a } b"), "!2'a  b'");
        assert_eq!(shown(""), "");
        assert_eq!(shown("{a}{{}}{b} \u{2265} }}"), "<a>'{}'<b>' \u{2265} }'");
    }
}
