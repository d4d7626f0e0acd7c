//! Writing results to standard output and messages to standard error. If nobody reads them any
//! more, that is no error.

use std::fs::File;
use std::io::{self, BufWriter, ErrorKind, StderrLock, Write};
use std::path::Path;

use rules_core::document::{Fault, Problem, json_text};
use rules_core::report::ProblemRecord;
use rules_core::report::text::{Page, Plain, Style};
use serde::Serialize;

use crate::args::{Colours, Format};
use crate::colours::style_for;
use crate::problems::problems_as_text;

/// Standard output for results, standard error for messages, each with its style.
pub(crate) struct Terminal {
    results: BufWriter<Box<dyn Write>>,
    results_style: &'static (dyn Style + Sync),
    messages: StderrLock<'static>,
    messages_style: &'static (dyn Style + Sync),
    width: usize,
    /// Whether the reader of the results has gone.
    closed: bool,
}

impl Terminal {
    pub(crate) fn new(colours: Colours, width: usize) -> Self {
        let (stdout, stderr) = (io::stdout(), io::stderr());
        Self {
            results_style: style_for(&stdout, colours),
            messages_style: style_for(&stderr, colours),
            results: BufWriter::new(Box::new(stdout.lock())),
            messages: stderr.lock(),
            width,
            closed: false,
        }
    }

    /// Writes results to a file from now on, without colours.
    pub(crate) fn write_to(&mut self, path: &Path) -> Result<(), Problem> {
        let file = File::create(path).map_err(|error| {
            let message = format!("`{}` cannot be written: {error}", path.display());
            Problem::of_file(Fault::Unreadable, message, "name another file with `-o`")
        })?;
        self.results = BufWriter::new(Box::new(file));
        self.results_style = &Plain;
        Ok(())
    }

    /// The width to wrap text to, in columns.
    pub(crate) const fn width(&self) -> usize {
        self.width
    }

    /// The style of results.
    pub(crate) const fn style(&self) -> &'static (dyn Style + Sync) {
        self.results_style
    }

    /// An empty page for results.
    pub(crate) fn page(&self) -> Page<'static> {
        Page::new(self.width, self.results_style)
    }

    /// Writes a result.
    pub(crate) fn write(&mut self, text: &str) -> io::Result<()> {
        self.write_bytes(text.as_bytes())
    }

    fn write_bytes(&mut self, bytes: &[u8]) -> io::Result<()> {
        if self.closed {
            return Ok(());
        }
        let written = self.results.write_all(bytes);
        self.unless_closed(written)
    }

    /// Writes a result and hands it over at once. Here a reader who has gone is an error, so that
    /// the caller can stop working. The user need not hear of it.
    pub(crate) fn write_now(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.write_bytes(bytes)?;
        self.finish()?;
        if self.closed {
            Err(ErrorKind::BrokenPipe.into())
        } else {
            Ok(())
        }
    }

    /// Writes a result as JSON.
    pub(crate) fn write_json(&mut self, value: &impl Serialize) -> io::Result<()> {
        self.write(&json_text(value)?)
    }

    /// Tells programs why there is no answer. People are told by messages.
    pub(crate) fn write_record(
        &mut self,
        record: &ProblemRecord,
        format: Format,
    ) -> io::Result<()> {
        match format {
            Format::Json => self.write_json(record),
            Format::Text => Ok(()),
        }
    }

    /// Writes a page of results.
    pub(crate) fn write_page(&mut self, page: Page<'_>) -> io::Result<()> {
        self.write(&page.finish())
    }

    /// Writes problems as a result.
    pub(crate) fn write_problems(&mut self, problems: &[Problem]) -> io::Result<()> {
        self.write(&problems_as_text(problems, self.width, self.results_style))
    }

    /// Writes problems as messages.
    pub(crate) fn report_problems(&mut self, problems: &[Problem]) {
        let text = problems_as_text(problems, self.width, self.messages_style);
        self.message(&text);
    }

    /// Writes a message. If it cannot be written there is nobody to tell.
    pub(crate) fn message(&mut self, text: &str) {
        drop(self.messages.write_all(text.as_bytes()));
    }

    /// Hands over the results that are still held back.
    pub(crate) fn finish(&mut self) -> io::Result<()> {
        if self.closed {
            return Ok(());
        }
        let flushed = self.results.flush();
        self.unless_closed(flushed)
    }

    fn unless_closed(&mut self, result: io::Result<()>) -> io::Result<()> {
        match result {
            Err(error) if error.kind() == ErrorKind::BrokenPipe => {
                self.closed = true;
                Ok(())
            }
            other => other,
        }
    }
}
