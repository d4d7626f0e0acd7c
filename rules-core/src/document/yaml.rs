//! The events of the YAML parser to a tree.
//!
//! The parser's own events are taken, below its reader of typed values: only they tell `1e400` from
//! infinity and `no` from false, keep a repeated key, and know where everything is.

use std::borrow::Cow;

use serde_yaml::granit_parser::{Event, Options, Parser, ScalarStyle, ScanError, Span as Stretch};

use super::fault::Fault;
use super::node::Node;
use super::problem::Problem;
use super::problem_list::ProblemList;
use super::problems::SetAside;
use super::source::{Source, Span};
use super::tree::{Builder, PLAIN_DATA};
use super::units::Quotes;
use crate::bounds::MOST_LEVELS;

/// Reads the only document of a source, with the problems found on the way. Reading goes on after
/// an anchor, a tag or a repeated key.
///
/// # Errors
///
/// Every problem found (as many as are kept of a document), if the text is no YAML or exceeds a
/// bound.
pub(super) fn tree(source: &Source) -> Result<(Node<'_>, SetAside), ProblemList> {
    let mut options = Options::default();
    options.set_emit_comments(false);
    options.emit_unresolved_aliases = true;
    // One more than is allowed, so that the builder sees what exceeds the bound and says so in its
    // own words.
    options.flow_nesting_limit = MOST_LEVELS + 1;
    options.block_nesting_limit = MOST_LEVELS + 1;
    let mut parser = Parser::new_from_str_with_options(source.text(), options);
    let mut reader = EventReader::new(source);
    while let Some(next) = parser.next_event() {
        let added = match next {
            Ok((event, stretch)) => reader.add(event, &stretch),
            Err(error) => Err(syntax_problem(source, &error)),
        };
        if let Err(problem) = added {
            return Err(reader.builder.give_up(problem));
        }
    }
    Ok(reader.builder.finish())
}

/// Hands each event to the builder, after a look at what the format does not have.
struct EventReader<'s> {
    source: &'s Source,
    builder: Builder<'s>,
    documents: usize,
}

impl<'s> EventReader<'s> {
    fn new(source: &'s Source) -> Self {
        Self {
            source,
            builder: Builder::new(source),
            documents: 0,
        }
    }

    fn add(&mut self, event: Event<'s>, stretch: &Stretch) -> Result<(), Problem> {
        let span = span_of(self.source, stretch);
        match event {
            Event::DocumentStart(..) => self.document(span),
            Event::Alias(_) | Event::UnresolvedAlias(_) => {
                Err(self.problem(Fault::Anchor, span, "this is an alias", PLAIN_DATA))
            }
            Event::Scalar(text, style, anchor, tag) => {
                self.note_marks(span, anchor, tag.is_some(), stretch);
                self.scalar(text, style, span)
            }
            Event::SequenceStart(_, anchor, tag) => {
                self.note_marks(span, anchor, tag.is_some(), stretch);
                self.builder.enter_list(span)
            }
            Event::MappingStart(_, anchor, tag) => {
                self.note_marks(span, anchor, tag.is_some(), stretch);
                self.builder.enter_map(span)
            }
            Event::SequenceEnd | Event::MappingEnd => self.builder.leave(),
            _ => Ok(()),
        }
    }

    fn problem(&self, fault: Fault, span: Span, message: &str, help: &str) -> Problem {
        Problem::at(self.source, fault, span, message, help)
    }

    fn document(&mut self, span: Span) -> Result<(), Problem> {
        self.documents += 1;
        if self.documents > 1 {
            return Err(self.problem(
                Fault::SeveralDocuments,
                span,
                "a second document starts here",
                "keep one document in a file",
            ));
        }
        Ok(())
    }

    /// Notes an anchor or a tag on a node.
    fn note_marks(&mut self, span: Span, anchor: usize, tagged: bool, stretch: &Stretch) {
        if anchor != 0 {
            self.builder
                .note(Fault::Anchor, span, "this is an anchor", PLAIN_DATA);
        }
        if tagged {
            let tag = stretch.tag_span();
            let tag = tag.map_or(span, |tag| span_of(self.source, &tag));
            self.builder
                .note(Fault::Anchor, tag, "this is a tag", PLAIN_DATA);
        }
    }

    fn scalar(
        &mut self,
        text: Cow<'s, str>,
        style: ScalarStyle,
        span: Span,
    ) -> Result<(), Problem> {
        match style {
            ScalarStyle::Plain => self.builder.plain(text, span),
            ScalarStyle::SingleQuoted => self.builder.text(text, Quotes::Single, span),
            ScalarStyle::DoubleQuoted => self.builder.text(text, Quotes::Double, span),
            ScalarStyle::Literal | ScalarStyle::Folded => {
                let span = self.below_header(span);
                self.builder.text(text, Quotes::None, span)
            }
        }
    }

    /// The text of a block scalar begins on the line after its `|` or `>`.
    fn below_header(&self, span: Span) -> Span {
        let raw = self.source.slice(span);
        let header = if raw.starts_with(['|', '>']) {
            after_line_end(raw)
        } else {
            0
        };
        let indent = raw
            .get(header..)
            .map_or(0, |text| text.len() - text.trim_start().len());
        Span {
            start: span.start + header + indent,
            end: span.end,
        }
    }
}

/// Where the second line of a text starts.
fn after_line_end(text: &str) -> usize {
    let end = text.find(['\n', '\r']).unwrap_or(text.len());
    let rest = text.get(end..).unwrap_or_default();
    let width = if rest.starts_with("\r\n") { 2 } else { 1 };
    end + width.min(rest.len())
}

fn span_of(source: &Source, stretch: &Stretch) -> Span {
    match stretch.byte_range() {
        Some(range) => Span {
            start: range.start,
            end: range.end,
        },
        None => {
            let start = source.byte_at(stretch.start.line(), stretch.start.col() + 1);
            Span { start, end: start }
        }
    }
}

fn syntax_problem(source: &Source, error: &ScanError) -> Problem {
    let marker = error.marker();
    let at = marker
        .byte_offset()
        .unwrap_or_else(|| source.byte_at(marker.line(), marker.col() + 1));
    let said = error.info();
    let span = Span { start: at, end: at };
    if said.contains("recursion limit") || said.contains("nesting") {
        return Problem::at(
            source,
            Fault::TooDeep,
            span,
            format!("deeper than {MOST_LEVELS} levels"),
            "the formats need no more than six",
        );
    }
    let help = "indent evenly, with spaces and not tabs; close every quote; quote text that contains `: ` or ` #` or starts with a bracket or brace";
    Problem::at(
        source,
        Fault::Syntax,
        span,
        format!("not YAML: {said}"),
        help,
    )
}
