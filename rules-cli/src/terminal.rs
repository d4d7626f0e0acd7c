//! Writing results and complaints. What nobody reads any more is not an error.

use std::io::{self, BufWriter, ErrorKind, StderrLock, StdoutLock, Write};

use rules_core::document::{Problem, json_text};
use rules_core::report::text::{Page, Style};
use serde::Serialize;

use crate::args::When;
use crate::dress::dress;
use crate::problems;

/// Standard output for results, standard error for complaints, each with its dress.
pub(crate) struct Terminal {
    out: BufWriter<StdoutLock<'static>>,
    err: StderrLock<'static>,
    out_dress: &'static dyn Style,
    err_dress: &'static dyn Style,
    width: usize,
    /// Whether the reader of the results has gone.
    closed: bool,
}

impl Terminal {
    pub(crate) fn new(color: When, width: usize) -> Self {
        let (out, err) = (io::stdout(), io::stderr());
        let (out_dress, err_dress) = (dress(color, &out), dress(color, &err));
        Self {
            out: BufWriter::new(out.lock()),
            err: err.lock(),
            out_dress,
            err_dress,
            width,
            closed: false,
        }
    }

    /// The width to wrap text to, in columns.
    pub(crate) const fn width(&self) -> usize {
        self.width
    }

    /// The dress of results.
    pub(crate) const fn dress(&self) -> &'static dyn Style {
        self.out_dress
    }

    /// An empty page for results.
    pub(crate) fn page(&self) -> Page<'static> {
        Page::new(self.width, self.out_dress)
    }

    /// Writes a result.
    pub(crate) fn put(&mut self, text: &str) -> io::Result<()> {
        self.put_bytes(text.as_bytes())
    }

    fn put_bytes(&mut self, bytes: &[u8]) -> io::Result<()> {
        if self.closed {
            return Ok(());
        }
        let written = self.out.write_all(bytes);
        self.unless_closed(written)
    }

    /// Writes a result and hands it over at once. An error of which nobody is to hear ends what is
    /// being done: the reader has gone.
    pub(crate) fn put_now(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.put_bytes(bytes)?;
        self.finish()?;
        if self.closed {
            Err(ErrorKind::BrokenPipe.into())
        } else {
            Ok(())
        }
    }

    /// Writes a result as JSON.
    pub(crate) fn put_json(&mut self, value: &impl Serialize) -> io::Result<()> {
        self.put(&json_text(value)?)
    }

    /// Writes problems as a result.
    pub(crate) fn put_problems(&mut self, found: &[Problem]) -> io::Result<()> {
        self.put(&problems::show(found, self.width, self.out_dress))
    }

    /// Complains of problems.
    pub(crate) fn complain_of(&mut self, found: &[Problem]) {
        let text = problems::show(found, self.width, self.err_dress);
        self.complain(&text);
    }

    /// Complains. If that cannot be heard there is nobody to tell.
    pub(crate) fn complain(&mut self, text: &str) {
        drop(self.err.write_all(text.as_bytes()));
    }

    /// Hands over what is still held back.
    pub(crate) fn finish(&mut self) -> io::Result<()> {
        if self.closed {
            return Ok(());
        }
        let flushed = self.out.flush();
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
