//! A reason or a remedy, of one subject or of each.

use serde::Serialize;

use super::each::Each;
use crate::check::{FilledText, ReportedValue, Subject};

/// A text: whole where it is the same for all subjects of an entry, else in pieces to be joined.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Text"))]
#[serde(untagged)]
pub(super) enum Told {
    /// The same for all.
    Whole(String),
    /// In pieces.
    Pieces(Vec<Piece>),
}

/// A piece of a text.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub(super) enum Piece {
    /// The same for all subjects.
    Same(String),
    /// One for each subject, in their order.
    Each(Vec<String>),
    /// `null`: the subject's own `name`, or what it is `called`, without its kind.
    Name,
}

impl Told {
    /// A text filled in for each of these subjects.
    pub(super) fn of(texts: &[&FilledText], subjects: &[&Subject]) -> Self {
        let shown = |text: &&FilledText| text.0.iter().map(ReportedValue::text).collect();
        let mut joined: Vec<Piece> = Vec::new();
        for piece in pieces(texts.iter().map(shown).collect(), subjects) {
            match (piece, joined.last_mut()) {
                (Piece::Same(text), Some(Piece::Same(before))) => before.push_str(&text),
                (piece, _) => joined.push(piece),
            }
        }
        match joined.as_mut_slice() {
            [] => Self::Whole(String::new()),
            [Piece::Same(whole)] => Self::Whole(std::mem::take(whole)),
            _ => Self::Pieces(joined),
        }
    }
}

/// The pieces of the texts of each, none joined.
pub(super) fn pieces(texts: Vec<Vec<String>>, subjects: &[&Subject]) -> Vec<Piece> {
    let most = texts.iter().map(Vec::len).max().unwrap_or(0);
    let mut texts: Vec<_> = texts.into_iter().map(Vec::into_iter).collect();
    let mut next = || {
        let of_each = texts.iter_mut().map(|pieces| pieces.next());
        piece(of_each.map(Option::unwrap_or_default), subjects)
    };
    (0..most).map(|_| next()).collect()
}

fn piece(shown: impl Iterator<Item = String>, subjects: &[&Subject]) -> Piece {
    match Each::of(shown) {
        None => Piece::Each(Vec::new()),
        Some(Each::Same(text)) => Piece::Same(text),
        Some(Each::List(texts)) => {
            let mut each = texts.iter().zip(subjects);
            match each.all(|(text, of)| text == name(of)) {
                true => Piece::Name,
                false => Piece::Each(texts),
            }
        }
    }
}

/// What tells a subject from others of its kind.
fn name(subject: &Subject) -> &str {
    subject.own().unwrap_or(subject.kind())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(texts: &[[&str; 3]], subjects: &[&str]) -> Told {
        let filled: Vec<FilledText> = texts
            .iter()
            .map(|pieces| FilledText(pieces.map(|piece| ReportedValue::Text(piece.into())).into()))
            .collect();
        let subjects: Vec<Subject> = subjects
            .iter()
            .map(|name| Subject::named("cable", name))
            .collect();
        Told::of(
            &filled.iter().collect::<Vec<_>>(),
            &subjects.iter().collect::<Vec<_>>(),
        )
    }

    #[test]
    fn what_all_have_in_common_is_one_piece() {
        let (same, each) = (
            |text: &str| Piece::Same(text.to_owned()),
            |texts: [&str; 2]| Piece::Each(texts.map(str::to_owned).into()),
        );
        let subjects = ["K4", "K7"];
        assert_eq!(
            told(&[["K4", " rests at ", "2.1 V"]], &["K4"]),
            Told::Whole("K4 rests at 2.1 V".to_owned())
        );
        assert_eq!(
            told(
                &[["K4", " rests at ", "2.1 V"], ["K7", " rests at ", "2.1 V"]],
                &subjects
            ),
            Told::Pieces(vec![Piece::Name, same(" rests at 2.1 V")])
        );
        assert_eq!(
            told(
                &[["K4", " rests at ", "2.1 V"], ["K7", " rests at ", "2.2 V"]],
                &subjects
            ),
            Told::Pieces(vec![
                Piece::Name,
                same(" rests at "),
                each(["2.1 V", "2.2 V"])
            ])
        );
        assert_eq!(
            told(&[["a", "b", "c"], ["a", "b", "c"]], &subjects),
            Told::Whole("abc".to_owned())
        );
    }
}
