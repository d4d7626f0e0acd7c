//! The lines of a tag: what matters most is on every label, and the rest as far as it finds room.

use unicode_width::UnicodeWidthStr;

use super::report::{CellTag, NO_RELEASE, TagReport, TagSize};
use crate::jobs::sort::{Grade, SortedCell, reason};

/// Tags as lines, each tag with as many as its label has.
#[must_use]
pub fn text(report: &TagReport) -> String {
    let lines = report.tags.iter().flat_map(|tag| &tag.lines);
    lines.map(|line| format!("{line}\n")).collect()
}

/// The lines of a tag; none if the label is too small for what every tag says.
pub(super) fn lines(tag: &CellTag, cell: &SortedCell, size: TagSize) -> Option<Vec<String>> {
    let head = wrapped(&head(tag, size.columns), size.columns)?;
    let end = wrapped(NO_RELEASE, size.columns)?;
    let mut room = size.lines.checked_sub(head.len() + end.len())?;
    let mut lines = head;
    for entry in entries(tag, cell, size.columns) {
        let mut part = wrapped(&entry, size.columns).unwrap_or_default();
        if part.len() > room {
            part.truncate(room);
            if let Some(last) = part.last_mut() {
                *last = cut(last, size.columns);
            }
        }
        room -= part.len();
        lines.extend(part);
    }
    // The end stands on the last line, so that every tag has as many.
    lines.extend(std::iter::repeat_n(String::new(), room));
    lines.extend(end);
    Some(lines)
}

/// The name and the grade, with the date of the readings if it finds room beside them.
fn head(tag: &CellTag, columns: usize) -> String {
    let head = format!("{} {}", tag.id, tag.grade.words());
    match date(tag) {
        Some(date) if head.width() + 2 + date.width() <= columns => format!("{head}, {date}"),
        _ => head,
    }
}

fn date(tag: &CellTag) -> Option<String> {
    Some(format!("read {}", tag.known.read_on.as_ref()?))
}

/// What a tag says besides, what matters most first.
fn entries(tag: &CellTag, cell: &SortedCell, columns: usize) -> Vec<String> {
    let known = &tag.known;
    let read = [&known.capacity, &known.resistance, &known.rest_voltage];
    let read: Vec<&str> = read
        .into_iter()
        .filter_map(|text| text.as_deref())
        .collect();
    let found = known.found_voltage.as_ref().filter(|_| read.is_empty());
    let goes = |how: &str, lights: &[String]| {
        (!lights.is_empty()).then(|| format!("{how}: {}", lights.join(", ")))
    };
    let asked = (!tag.questions.is_empty()).then(|| format!("open: {}", tag.questions.join(", ")));
    let why = reason(cell).filter(|_| tag.grade != Grade::Sound);
    let date = date(tag).filter(|date| !head(tag, columns).ends_with(date.as_str()));
    let readings = (!read.is_empty()).then(|| read.join(", "));
    let readings = readings.or_else(|| Some(format!("found at {}", found?)));
    let meaning = match tag.grade {
        Grade::Retire => Some("not to be used or charged".to_owned()),
        Grade::SetAside => Some("not to be used as it is".to_owned()),
        _ => None,
    };
    let alone = goes("alone", &tag.alone);
    let with_others = goes("with others", &tag.with_others);
    let all = [meaning, readings, date, alone, why, with_others, asked];
    all.into_iter().flatten().collect()
}

/// Words on lines of a width; a longer word is broken. None where a letter is wider than a line.
fn wrapped(text: &str, columns: usize) -> Option<Vec<String>> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let mut word = word;
        loop {
            let line = lines.last_mut()?;
            let space = usize::from(!line.is_empty());
            if line.width() + space + word.width() <= columns {
                line.push_str(&" ".repeat(space));
                line.push_str(word);
                break;
            }
            if !line.is_empty() {
                lines.push(String::new());
                continue;
            }
            let (first, rest) = word.split_at(fitting(word, columns)?);
            line.push_str(first);
            lines.push(String::new());
            word = rest;
        }
    }
    Some(lines)
}

/// How many bytes of a word fit on a line; none if not one letter does.
fn fitting(word: &str, columns: usize) -> Option<usize> {
    let ends = word
        .char_indices()
        .map(|(at, letter)| at + letter.len_utf8());
    ends.take_while(|end| word.get(..*end).is_some_and(|part| part.width() <= columns))
        .last()
}

/// A line that goes on, which shows it.
fn cut(line: &str, columns: usize) -> String {
    const MORE: char = '…';
    let room = columns.saturating_sub(1);
    let end = fitting(line, room).unwrap_or_default();
    let kept = line.get(..end).unwrap_or_default();
    format!("{}{MORE}", kept.trim_end_matches([' ', ',']))
}
