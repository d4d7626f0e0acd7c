//! JSON to a tree.
//!
//! `serde_json` has accepted the text before, so the scanner only finds where things are. It needs
//! no grammar of its own. The only fault that it can meet is half a surrogate pair, which
//! `serde_json` looks for only where it makes a text. It builds the same tree, under the same
//! bounds, as the reader of YAML does.

use std::borrow::Cow;

use super::fault::Fault;
use super::node::Node;
use super::problem::Problem;
use super::problem_list::ProblemList;
use super::problems::SetAside;
use super::source::{Source, Span};
use super::tree::Builder;
use super::units::Quotes;

/// Reads the value of a source that is known to be JSON, with the repeated keys found.
///
/// # Errors
///
/// Every problem found, where one exceeds the bounds or a text is no Unicode.
pub(super) fn tree(source: &Source) -> Result<(Node<'_>, SetAside), ProblemList> {
    let mut builder = Builder::new(source);
    let mut scanner = Scanner {
        text: source.text(),
        at: 0,
    };
    while let Some(token) = scanner.next() {
        let added = match token {
            JsonToken::Map(span) => builder.enter_map(span),
            JsonToken::List(span) => builder.enter_list(span),
            JsonToken::End => builder.leave(),
            JsonToken::Quoted(span) => {
                builder.text(Cow::Borrowed(inner(source, span)), Quotes::Double, span)
            }
            JsonToken::Escaped(span) => {
                unescaped(source, span).and_then(|text| builder.text(text, Quotes::Double, span))
            }
            JsonToken::Word(span) => builder.plain(source.slice(span).into(), span),
        };
        if let Err(problem) = added {
            return Err(builder.give_up(problem));
        }
    }
    Ok(builder.finish())
}

enum JsonToken {
    Map(Span),
    List(Span),
    End,
    /// A text with its quotes.
    Quoted(Span),
    /// One with escapes.
    Escaped(Span),
    /// A number, `true`, `false` or `null`.
    Word(Span),
}

struct Scanner<'t> {
    text: &'t str,
    at: usize,
}

impl Scanner<'_> {
    fn next(&mut self) -> Option<JsonToken> {
        let rest = self.text.as_bytes().get(self.at..)?;
        let between = rest
            .iter()
            .take_while(|byte| matches!(byte, b' ' | b'\t' | b'\r' | b'\n' | b',' | b':'))
            .count();
        let start = self.at + between;
        let rest = rest.get(between..)?;
        let (token, length): (fn(Span) -> JsonToken, usize) = match rest.first()? {
            b'{' => (JsonToken::Map, 1),
            b'[' => (JsonToken::List, 1),
            b'}' | b']' => (|_| JsonToken::End, 1),
            b'"' => quoted(rest),
            _ => (JsonToken::Word, word_length(rest)),
        };
        self.at = start + length;
        Some(token(Span {
            start,
            end: self.at,
        }))
    }
}

/// The bytes of a number or word.
fn word_length(bytes: &[u8]) -> usize {
    bytes
        .iter()
        .take_while(|byte| {
            !matches!(
                byte,
                b' ' | b'\t' | b'\r' | b'\n' | b',' | b':' | b']' | b'}'
            )
        })
        .count()
        .max(1)
}

/// The bytes of a text with both its quotes, and what token it is.
fn quoted(bytes: &[u8]) -> (fn(Span) -> JsonToken, usize) {
    let (mut token, mut length): (fn(Span) -> JsonToken, usize) = (JsonToken::Quoted, 1);
    while let Some(at) = bytes
        .get(length..)
        .and_then(|rest| rest.iter().position(|byte| matches!(byte, b'"' | b'\\')))
    {
        length += at + 1;
        if bytes.get(length - 1) == Some(&b'"') {
            return (token, length);
        }
        // What follows a backslash is part of the text.
        token = JsonToken::Escaped;
        length += 1;
    }
    (token, bytes.len())
}

/// A text without its quotes.
fn inner(source: &Source, quoted: Span) -> &str {
    source.slice(Span {
        start: quoted.start + 1,
        end: quoted.end.saturating_sub(1),
    })
}

/// A text without quotes and with escapes resolved. JSON allows an escape to be half a surrogate
/// pair, but no text can hold one (RFC 8259, section 8.2).
fn unescaped(source: &Source, span: Span) -> Result<Cow<'_, str>, Problem> {
    serde_json::from_str(source.slice(span))
        .map(Cow::Owned)
        .map_err(|_| {
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
mod tests {
    use crate::document::{Content, Fault, Node, Syntax, read, source};

    /// A tree without its places.
    fn plain(node: &Node<'_>) -> String {
        match &node.content {
            Content::Nothing => "-".to_owned(),
            Content::Scalar(scalar) => format!("{:?}", scalar.text),
            Content::List(items) => format!(
                "[{}]",
                items.iter().map(plain).collect::<Vec<_>>().join(",")
            ),
            Content::Map(entries) => {
                format!(
                    "{{{}}}",
                    entries
                        .iter()
                        .map(|entry| format!("{:?}:{}", entry.key, plain(&entry.node)))
                        .collect::<Vec<_>>()
                        .join(",")
                )
            }
        }
    }

    fn both(text: &str) -> [(String, Vec<usize>); 2] {
        [Syntax::Json, Syntax::Yaml].map(|syntax| {
            let source = source("t", text.into()).unwrap();
            let tree = read(&source, syntax).unwrap();
            let mut starts = Vec::new();
            places(&tree, &mut starts);
            (plain(&tree), starts)
        })
    }

    fn places(node: &Node<'_>, into: &mut Vec<usize>) {
        into.extend([node.span.start, node.span.end]);
        match &node.content {
            Content::List(items) => items.iter().for_each(|item| places(item, into)),
            Content::Map(entries) => entries.iter().for_each(|entry| {
                into.extend([entry.key_span.start, entry.key_span.end]);
                places(&entry.node, into);
            }),
            _ => {}
        }
    }

    #[test]
    fn the_same_tree_at_the_same_places_as_by_the_reader_of_yaml() {
        let texts = [
            r#"{"a": 1.50, "b": [true, null, "x"], "c": {"d": -2e3, "e": "2S1P"}}"#,
            "{\n  \"a\" : \"\\u00e9 \\\"q\\\" \\\\\",\n  \"b\" : [ ] , \"c\":{ }\n}\n",
            r#"["", "\\", "é", "a:b,c]}", 0]"#,
            r#"["\"", "\\\"\\", "x\\\\", {"\\\"": "\\"}]"#,
        ];
        for text in texts {
            let [json, yaml] = both(text);
            assert_eq!(json, yaml, "{text}");
        }
    }

    /// RFC 8259, section 8.2: what becomes of half a pair is unpredictable. A whole pair, and one
    /// that is itself escaped, are texts.
    #[test]
    fn half_a_surrogate_pair_is_refused_where_it_stands() {
        for text in [
            r#"["x", "\n\ud83d"]"#,
            r#"["x", "\udd0b"]"#,
            r#"["x", "\ud83d\u0041"]"#,
            r#"["x", "\udd0b\ud83d"]"#,
            r#"{"x":1,"\ud83d":2}"#,
        ] {
            for syntax in [Syntax::Json, Syntax::Yaml] {
                let source = source("t", text.into()).unwrap();
                let problems = read(&source, syntax).unwrap_err();
                let at: Vec<_> = problems
                    .iter()
                    .map(|problem| {
                        (
                            problem.fault,
                            problem.place.as_ref().map(|place| place.column),
                        )
                    })
                    .collect();
                assert_eq!(
                    at,
                    [(Fault::Syntax, text.rfind("\"\\").map(|byte| byte + 1))],
                    "{text}"
                );
            }
        }
        let [json, yaml] = both(r#"["\ud83d\udd0b", "\\ud83d"]"#);
        assert_eq!(json, yaml);
        assert_eq!(json.0, r#"["🔋","\\ud83d"]"#);
    }
}
