//! JSON to a tree, in one pass over the text.
//!
//! The reader keeps to the grammar of RFC 8259 and knows nothing else of JSON. Where it stops, for
//! whatever reason, `serde_json` is asked what is wrong with the text, and has the first word. It
//! builds the same tree, under the same bounds, as the reader of YAML does.

use std::borrow::Cow;

use serde::de::IgnoredAny;

use super::fault::Fault;
use super::growing::Growing;
use super::node::{Content, Node};
use super::problem::Problem;
use super::problem_list::ProblemList;
use super::problems::SetAside;
use super::source::{Source, Span};
use super::syntax::Syntax;
use super::units::Quotes;

/// Reads the value of a source, with the repeated keys found.
///
/// # Errors
///
/// Every problem found, where the text is no JSON, exceeds the bounds or has a text that is no
/// Unicode.
pub(super) fn tree(source: &Source) -> Result<(Node<'_>, SetAside), ProblemList> {
    let mut reader = Reader::new(source);
    match reader.document() {
        Ok(tree) => Ok(reader.growing.finish(tree)),
        Err(stop) => Err(reader.problems(stop)),
    }
}

/// Why the reader cannot go on.
enum Stop {
    /// What comes next is not of the grammar.
    NotJson,
    /// The tree has no room for what comes next, or no text can hold it.
    Refused(Box<Problem>),
}

impl From<Problem> for Stop {
    fn from(problem: Problem) -> Self {
        Self::Refused(problem.into())
    }
}

/// Builds the tree while it reads from left to right. It is never deeper in its own calls than
/// maps and lists may be in each other.
struct Reader<'s> {
    source: &'s Source,
    text: &'s str,
    at: usize,
    growing: Growing<'s>,
}

impl<'s> Reader<'s> {
    fn new(source: &'s Source) -> Self {
        Self {
            source,
            text: source.text(),
            at: 0,
            growing: Growing::new(source),
        }
    }

    fn document(&mut self) -> Result<Node<'s>, Stop> {
        let node = self.value()?;
        self.skip_space();
        match self.next() {
            None => Ok(node),
            Some(_) => Err(Stop::NotJson),
        }
    }

    fn value(&mut self) -> Result<Node<'s>, Stop> {
        self.skip_space();
        match self.next() {
            Some(b'"') => {
                let (text, span) = self.quoted()?;
                self.growing.count_one(span)?;
                Ok(Node::scalar_at(text, Quotes::Double, span))
            }
            Some(b'{') => self.map(),
            Some(b'[') => self.list(),
            Some(_) => self.word(),
            None => Err(Stop::NotJson),
        }
    }

    fn map(&mut self) -> Result<Node<'s>, Stop> {
        let span = self.taken(1);
        let begun = self.growing.begin_map(span)?;
        if !self.takes(b'}') {
            self.entry()?;
            while self.takes(b',') {
                self.entry()?;
            }
            self.needs(b'}')?;
        }
        // A comma splits no value of JSON.
        Ok(self.growing.end_map(begun, |entries| entries))
    }

    fn entry(&mut self) -> Result<(), Stop> {
        self.skip_space();
        if self.next() != Some(b'"') {
            return Err(Stop::NotJson);
        }
        let (key, key_span) = self.quoted()?;
        self.growing.count_key(&key, key_span)?;
        self.needs(b':')?;
        let node = self.value()?;
        self.growing.add_entry(key, key_span, node);
        Ok(())
    }

    fn list(&mut self) -> Result<Node<'s>, Stop> {
        let span = self.taken(1);
        let begun = self.growing.begin_list(span)?;
        if !self.takes(b']') {
            self.item()?;
            while self.takes(b',') {
                self.item()?;
            }
            self.needs(b']')?;
        }
        Ok(self.growing.end_list(begun))
    }

    fn item(&mut self) -> Result<(), Stop> {
        let node = self.value()?;
        self.growing.add_item(node);
        Ok(())
    }

    /// A text that begins with the quote that comes next.
    #[inline(always)]
    fn quoted(&mut self) -> Result<(Cow<'s, str>, Span), Stop> {
        let rest = self.rest().get(1..).unwrap_or_default();
        let inside = plain_length(rest);
        if rest.get(inside) != Some(&b'"') {
            return self.with_escapes(inside);
        }
        let span = self.taken(inside + 2);
        let text = self.text.get(span.start + 1..span.end - 1);
        Ok((Cow::Borrowed(text.unwrap_or_default()), span))
    }

    /// The same where so many bytes come before the first escape.
    #[cold]
    fn with_escapes(&mut self, before: usize) -> Result<(Cow<'s, str>, Span), Stop> {
        let inside = escaped_length(self.rest().get(1..).unwrap_or_default(), before)?;
        let span = self.taken(inside + 2);
        Ok((unescaped(self.source, span)?.into(), span))
    }

    /// A number, `true`, `false` or `null`.
    fn word(&mut self) -> Result<Node<'s>, Stop> {
        let length = ["true", "false", "null"]
            .into_iter()
            .find(|word| self.rest().starts_with(word.as_bytes()))
            .map_or_else(|| number_length(self.rest()), |word| Some(word.len()));
        let span = self.taken(length.ok_or(Stop::NotJson)?);
        self.growing.count_one(span)?;
        let text = self.text.get(span.start..span.end).unwrap_or_default();
        Ok(match text {
            "null" => Node {
                content: Content::Nothing,
                span,
            },
            _ => Node::scalar_at(text.into(), Quotes::None, span),
        })
    }

    fn rest(&self) -> &'s [u8] {
        self.text.as_bytes().get(self.at..).unwrap_or_default()
    }

    fn next(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    /// Goes past so many bytes.
    fn taken(&mut self, bytes: usize) -> Span {
        let start = self.at;
        self.at += bytes;
        Span {
            start,
            end: self.at,
        }
    }

    fn skip_space(&mut self) {
        loop {
            self.at += match self.next() {
                None | Some(b'!'..) => return,
                Some(b' ') => spaces_first(self.rest()),
                Some(b'\n' | b'\t' | b'\r') => 1,
                Some(_) => return,
            };
        }
    }

    /// Takes a mark if it comes next.
    fn takes(&mut self, mark: u8) -> bool {
        self.skip_space();
        let comes = self.next() == Some(mark);
        self.at += usize::from(comes);
        comes
    }

    fn needs(&mut self, mark: u8) -> Result<(), Stop> {
        if self.takes(mark) {
            Ok(())
        } else {
            Err(Stop::NotJson)
        }
    }

    fn problems(self, stop: Stop) -> ProblemList {
        match (not_json(self.source), stop) {
            (Some(problem), _) => problem.into(),
            (None, Stop::Refused(problem)) => self.growing.give_up(*problem),
            // Both know one grammar, so that this comes of no text.
            (None, Stop::NotJson) => {
                let span = Span {
                    start: self.at,
                    end: self.at,
                };
                let message = "not JSON";
                Problem::at(
                    self.source,
                    Fault::Syntax,
                    span,
                    message,
                    "correct it there",
                )
                .into()
            }
        }
    }
}

/// The bytes of a text up to the quote that ends it, where so many come before the first escape.
fn escaped_length(bytes: &[u8], before: usize) -> Result<usize, Stop> {
    let mut at = before;
    loop {
        match bytes.get(at) {
            Some(b'"') => return Ok(at),
            // What follows is part of the text, whatever it is.
            Some(b'\\') => at += 2,
            _ => return Err(Stop::NotJson),
        }
        at += plain_length(bytes.get(at..).ok_or(Stop::NotJson)?);
    }
}

/// How many of the next eight bytes are spaces before any other, so that an indentation is passed at
/// once. The first is one, and counts alone where fewer are left.
fn spaces_first(bytes: &[u8]) -> usize {
    const SPACES: u64 = u64::from_le_bytes([b' '; 8]);
    bytes.first_chunk().map_or(1, |eight| {
        (u64::from_le_bytes(*eight) ^ SPACES).trailing_zeros() as usize / 8
    })
}

/// How many bytes come before a quote, a backslash or a control character.
#[inline(never)]
fn plain_length(bytes: &[u8]) -> usize {
    let mut rest = bytes;
    while let Some((eight, after)) = rest.split_first_chunk() {
        let marked = marked(u64::from_le_bytes(*eight));
        if marked != 0 {
            return bytes.len() - rest.len() + marked.trailing_zeros() as usize / 8;
        }
        rest = after;
    }
    bytes.len() - rest.len() + plain_one_by_one(rest)
}

/// The same where the document has fewer than eight bytes left.
#[cold]
fn plain_one_by_one(bytes: &[u8]) -> usize {
    let plain = |byte: &&u8| !matches!(byte, b'"' | b'\\' | 0..0x20);
    bytes.iter().take_while(plain).count()
}

/// Of eight bytes at once, the lowest first: the high bit of the first that is a quote, a backslash or
/// a control character is set, and none before it. Those after it may be set wrongly: a byte that is
/// taken off borrows from the next (Warren, Hacker's Delight, 2nd edition, chapter 6; from memory).
const fn marked(eight: u64) -> u64 {
    const ONES: u64 = u64::from_le_bytes([1; 8]);
    const fn below(eight: u64, bound: u8) -> u64 {
        eight.wrapping_sub(ONES * bound as u64) & !eight
    }
    let quote = below(eight ^ (ONES * b'"' as u64), 1);
    let backslash = below(eight ^ (ONES * b'\\' as u64), 1);
    (quote | backslash | below(eight, 0x20)) & (ONES << 7)
}

/// The bytes of a number: a sign, a whole part without zeros before it, decimals, an exponent.
fn number_length(bytes: &[u8]) -> Option<usize> {
    let digits = |from: usize| {
        let rest = bytes.get(from..).unwrap_or_default();
        rest.iter().take_while(|byte| byte.is_ascii_digit()).count()
    };
    let one_of = |at: usize, marks: &[u8]| bytes.get(at).is_some_and(|byte| marks.contains(byte));
    let mut end = usize::from(one_of(0, b"-"));
    end += match digits(end) {
        0 => return None,
        more if more > 1 && one_of(end, b"0") => return None,
        whole => whole,
    };
    if one_of(end, b".") {
        end += 1 + Some(digits(end + 1)).filter(|decimals| *decimals > 0)?;
    }
    if one_of(end, b"eE") {
        end += 1 + usize::from(one_of(end + 1, b"+-"));
        end += Some(digits(end)).filter(|power| *power > 0)?;
    }
    Some(end)
}

/// What `serde_json` says of a text that is no JSON.
fn not_json(source: &Source) -> Option<Problem> {
    let error = serde_json::from_str::<IgnoredAny>(source.text()).err()?;
    let at = byte_of(source.text(), error.line(), error.column());
    let text = error.to_string();
    let said = text.split(" at line ").next().unwrap_or(&text);
    let fault = if source.text().trim().is_empty() {
        Fault::Empty
    } else {
        json_fault(said)
    };
    // What is JSON by the name of its file may be YAML all the same; a line of a stream cannot.
    let help = if Syntax::of_name(source.name()) == Syntax::Json {
        "correct it there; if it is YAML, give the file a name that ends in `.yaml`"
    } else {
        "correct it there"
    };
    let span = Span { start: at, end: at };
    let message = format!("not JSON: {said}");
    Some(Problem::at(source, fault, span, message, help))
}

/// The byte at a line and a column as `serde_json` counts them: lines by LF alone, columns in bytes.
fn byte_of(text: &str, line: usize, column: usize) -> usize {
    let start: usize = text
        .split_inclusive('\n')
        .take(line.saturating_sub(1))
        .map(str::len)
        .sum();
    let at = (start + column.saturating_sub(1)).min(text.len());
    (0..=at)
        .rev()
        .find(|at| text.is_char_boundary(*at))
        .unwrap_or(0)
}

fn json_fault(said: &str) -> Fault {
    if said.contains("recursion limit") {
        Fault::TooDeep
    } else if said.contains("number out of range") {
        Fault::NotFinite
    } else {
        Fault::Syntax
    }
}

/// A text without quotes and with escapes resolved. JSON allows an escape to be half a surrogate
/// pair, but no text can hold one (RFC 8259, section 8.2).
fn unescaped(source: &Source, span: Span) -> Result<String, Problem> {
    serde_json::from_str(source.slice(span)).map_err(|_| {
        let message = "an escape in this text is half of a surrogate pair and is no character";
        Problem::at(
            source,
            Fault::Syntax,
            span,
            message,
            "write both halves, as `\\ud83d\\udd0b`, or the character itself",
        )
    })
}

#[cfg(test)]
mod tests;
