//! JSON to a tree.
//!
//! `serde_json` has accepted the text before, so that what is left to do is to find where things stand: the walk needs no grammar of its own and cannot meet
//! anything malformed. It builds the same tree, under the same bounds, as the reader of YAML does.

use super::node::Node;
use super::problem::Problem;
use super::source::{Source, Span};
use super::tree::Builder;

/// Reads the value of a source that is known to be JSON.
///
/// # Errors
///
/// Every problem found: repeated keys, and what exceeds the bounds.
pub(super) fn tree(source: &Source) -> Result<Node<'_>, Vec<Problem>> {
    let mut builder = Builder::new(source);
    let mut walk = Walk { text: source.text(), at: 0 };
    while let Some(token) = walk.next() {
        let added = match token {
            Token::Map(span) => builder.enter_map(span),
            Token::List(span) => builder.enter_list(span),
            Token::End => builder.leave(),
            Token::Quoted(span) => builder.quoted(unescaped(source.slice(span)), span),
            Token::Word(span) => builder.plain(source.slice(span).into(), span),
        };
        if let Err(problem) = added {
            return Err(builder.give_up(problem));
        }
    }
    builder.finish()
}

enum Token {
    Map(Span),
    List(Span),
    End,
    /// A text with its quotes.
    Quoted(Span),
    /// A number, `true`, `false` or `null`.
    Word(Span),
}

struct Walk<'t> {
    text: &'t str,
    at: usize,
}

impl Walk<'_> {
    fn next(&mut self) -> Option<Token> {
        let rest = self.text.as_bytes().get(self.at..)?;
        self.at += rest.iter().take_while(|byte| matches!(byte, b' ' | b'\t' | b'\r' | b'\n' | b',' | b':')).count();
        let start = self.at;
        let rest = self.text.as_bytes().get(start..)?;
        let length = match rest.first()? {
            b'{' | b'[' | b'}' | b']' => 1,
            b'"' => quoted_length(rest),
            _ => rest.iter().take_while(|byte| !matches!(byte, b' ' | b'\t' | b'\r' | b'\n' | b',' | b':' | b']' | b'}')).count().max(1),
        };
        self.at = start + length;
        let span = Span { start, end: self.at };
        Some(match rest.first()? {
            b'{' => Token::Map(span),
            b'[' => Token::List(span),
            b'}' | b']' => Token::End,
            b'"' => Token::Quoted(span),
            _ => Token::Word(span),
        })
    }
}

/// The bytes of a text with both its quotes.
fn quoted_length(bytes: &[u8]) -> usize {
    let mut length = 1;
    while let Some(rest) = bytes.get(length..).filter(|rest| !rest.is_empty()) {
        match rest.iter().position(|byte| matches!(byte, b'"' | b'\\')) {
            Some(at) if rest.get(at) == Some(&b'"') => return length + at + 1,
            // What follows a backslash is part of the text.
            Some(at) => length += at + 2,
            None => break,
        }
    }
    bytes.len()
}

/// A text without quotes and with escapes resolved.
fn unescaped(quoted: &str) -> std::borrow::Cow<'_, str> {
    let inner = quoted.get(1..quoted.len().saturating_sub(1)).unwrap_or("");
    if inner.contains('\\') { serde_json::from_str(quoted).map_or(inner.into(), std::borrow::Cow::Owned) } else { inner.into() }
}

#[cfg(test)]
mod tests {
    use crate::document::{Content, Node, Syntax, read, source};

    /// A tree without its places.
    fn plain(node: &Node<'_>) -> String {
        match &node.content {
            Content::Nothing => "-".to_owned(),
            Content::Scalar(scalar) => format!("{:?}", scalar.text),
            Content::List(items) => format!("[{}]", items.iter().map(plain).collect::<Vec<_>>().join(",")),
            Content::Map(entries) => {
                format!(
                    "{{{}}}",
                    entries.iter().map(|entry| format!("{:?}:{}", entry.key, plain(&entry.node))).collect::<Vec<_>>().join(",")
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
}
