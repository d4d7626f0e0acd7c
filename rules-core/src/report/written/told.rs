//! A reason or a remedy, of one subject or of each.

use serde::Serialize;

use super::each::Each;
use super::texts::{Text, Texts};
use crate::check::{FilledText, Subject};

/// A text: whole where it is the same for all subjects of an entry, else in pieces to be joined.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Text"))]
#[serde(untagged)]
pub(super) enum Told<'w> {
    /// The same for all.
    Whole(Text<'w>),
    /// In pieces.
    Pieces(Vec<Piece<'w>>),
}

/// A piece of a text.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub(super) enum Piece<'w> {
    /// The same for all subjects.
    Same(Text<'w>),
    /// One for each subject, in their order.
    Each(Vec<Text<'w>>),
    /// `null`: the subject's own `name`, or what it is `called`, without its kind.
    Name,
}

impl<'w> Told<'w> {
    /// A text filled in for each of these subjects; nothing where there is none.
    pub(super) fn of<'s>(
        filled: impl Iterator<Item = &'w FilledText> + Clone,
        subjects: impl Iterator<Item = &'s Subject> + Clone,
        texts: &mut Texts,
    ) -> Option<Self> {
        let first = filled.clone().next()?;
        if !filled.clone().all(|text| text.words == first.words) {
            let each = filled.map(|text| text.to_string().into());
            return Some(joined(std::iter::once(piece(each, subjects))));
        }
        let mut values = values(filled, subjects, texts);
        Some(joined(first.words.iter().map(|words| match words {
            Some(words) => Piece::Same(Text::Told(words)),
            None => values.next().unwrap_or(Piece::Same(Text::Told(""))),
        })))
    }
}

/// Pieces as a text: what stands together for all subjects becomes one.
fn joined<'w>(pieces: impl Iterator<Item = Piece<'w>>) -> Told<'w> {
    let mut joined: Vec<Piece<'w>> = Vec::new();
    let mut together: Vec<Text<'w>> = Vec::new();
    for piece in pieces {
        match piece {
            Piece::Same(text) => together.push(text),
            piece => {
                joined.extend(one(&mut together).map(Piece::Same));
                joined.push(piece);
            }
        }
    }
    let last = one(&mut together);
    if joined.is_empty() {
        return Told::Whole(last.unwrap_or(Text::Told("")));
    }
    joined.extend(last.map(Piece::Same));
    Told::Pieces(joined)
}

/// Texts that stand together as one; nothing of none.
fn one<'w>(together: &mut Vec<Text<'w>>) -> Option<Text<'w>> {
    if together.len() > 1 {
        let length = together.iter().map(|text| text.len()).sum();
        let mut whole = String::with_capacity(length);
        together.drain(..).for_each(|text| whole.push_str(&text));
        return Some(whole.into());
    }
    together.pop()
}

/// What is put into the texts of each, whose words are alike.
pub(super) fn values<'w, 's>(
    filled: impl Iterator<Item = &'w FilledText> + Clone,
    subjects: impl Iterator<Item = &'s Subject> + Clone,
    texts: &mut Texts,
) -> impl Iterator<Item = Piece<'w>> {
    let count = filled.clone().next().map_or(0, |text| text.values.len());
    (0..count).map(move |at| {
        let of_each = filled.clone().map(|text| match text.values.get(at) {
            Some(value) => texts.of_value(value),
            None => Text::Told(""),
        });
        piece(of_each, subjects.clone())
    })
}

fn piece<'w, 's>(
    shown: impl Iterator<Item = Text<'w>>,
    subjects: impl Iterator<Item = &'s Subject>,
) -> Piece<'w> {
    match Each::of(shown) {
        None => Piece::Each(Vec::new()),
        Some(Each::Same(text)) => Piece::Same(text),
        Some(Each::List(texts)) => {
            let mut each = texts.iter().zip(subjects);
            match each.all(|(text, of)| **text == *name(of)) {
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
    use crate::check::ReportedValue;

    fn told(texts: &[[&str; 3]], subjects: &[&str]) -> String {
        let value = |text: &str| ReportedValue::Text(text.into());
        let filled: Vec<FilledText> = texts
            .iter()
            .map(|[first, words, last]| FilledText {
                words: [None, Some((*words).into()), None].into(),
                values: vec![value(first), value(last)],
            })
            .collect();
        let subjects: Vec<Subject> = subjects
            .iter()
            .map(|name| Subject::named("cable", name))
            .collect();
        let told = Told::of(filled.iter(), subjects.iter(), &mut Texts::default());
        serde_json::to_string(&told).expect("it is JSON")
    }

    #[test]
    fn what_all_have_in_common_is_one_piece() {
        let subjects = ["K4", "K7"];
        assert_eq!(
            told(&[["K4", " rests at ", "2.1 V"]], &["K4"]),
            r#""K4 rests at 2.1 V""#
        );
        assert_eq!(
            told(
                &[["K4", " rests at ", "2.1 V"], ["K7", " rests at ", "2.1 V"]],
                &subjects
            ),
            r#"[null," rests at 2.1 V"]"#
        );
        assert_eq!(
            told(
                &[["K4", " rests at ", "2.1 V"], ["K7", " rests at ", "2.2 V"]],
                &subjects
            ),
            r#"[null," rests at ",["2.1 V","2.2 V"]]"#
        );
        assert_eq!(
            told(&[["a", "b", "c"], ["a", "b", "c"]], &subjects),
            r#""abc""#
        );
    }

    #[test]
    fn texts_with_words_of_their_own_stand_side_by_side() {
        assert_eq!(
            told(&[["a", "b", "c"], ["a", "d", "c"]], &["K4", "K7"]),
            r#"[["abc","adc"]]"#
        );
    }
}
