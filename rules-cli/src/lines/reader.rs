//! Reading the lines of a stream in batches.

use std::io::{self, BufRead, BufReader, Read};

use rules_core::bounds::MOST_BYTES;

/// Bytes read at once. A batch ends where they end, so that a slow stream is answered line by line.
pub(super) const READ: usize = 128 * 1024;
/// The most lines of a batch.
const MOST_LINES: usize = 64;
/// A batch ends with the line that brings it to so many bytes.
pub(super) const MOST_BATCH: usize = 16 * 1024;

/// A line of a stream.
pub(crate) struct Line {
    /// Its number, from 1.
    pub(crate) number: usize,
    /// Its bytes without the ending; none if there are more than a document may have.
    pub(crate) bytes: Option<Vec<u8>>,
}

/// Lines that follow each other.
pub(crate) type Batch = Vec<Line>;

/// The bytes of the lines of a batch, without their endings.
pub(super) fn bytes_of(batch: &Batch) -> usize {
    batch.iter().map(Line::len).sum()
}

impl Line {
    fn len(&self) -> usize {
        self.bytes.as_ref().map_or(0, Vec::len)
    }
}

pub(super) struct LineReader<R: Read> {
    input: BufReader<R>,
    /// The number of the last line.
    number: usize,
    /// Why nothing more can be read.
    failed: Option<io::Error>,
}

impl<R: Read> LineReader<R> {
    pub(super) fn new(input: R) -> Self {
        Self {
            input: BufReader::with_capacity(READ, input),
            number: 0,
            failed: None,
        }
    }

    /// The next lines; none at the end, or once reading has failed.
    pub(super) fn batch(&mut self) -> Batch {
        let mut batch = Batch::new();
        let mut bytes = 0;
        while batch.len() < MOST_LINES && bytes < MOST_BATCH && self.failed.is_none() {
            match self.line() {
                Ok(Some(line)) => {
                    bytes += line.len();
                    batch.push(line);
                }
                Ok(None) => break,
                Err(error) => self.failed = Some(error),
            }
            if self.input.buffer().is_empty() {
                break;
            }
        }
        batch
    }

    /// An error if reading has failed.
    pub(super) fn finish(self) -> io::Result<()> {
        self.failed.map_or(Ok(()), Err)
    }

    fn line(&mut self) -> io::Result<Option<Line>> {
        // Enough for the longest line with its ending.
        let most = u64::try_from(MOST_BYTES)
            .unwrap_or(u64::MAX)
            .saturating_add(2);
        let mut bytes = Vec::new();
        let mut input = self.input.by_ref().take(most);
        if input.read_until(b'\n', &mut bytes)? == 0 {
            return Ok(None);
        }
        self.number += 1;
        let is_whole = bytes.ends_with(b"\n") || input.limit() > 0;
        if !is_whole {
            self.input.skip_until(b'\n')?;
        }
        bytes.truncate(bytes.len() - ending(&bytes));
        // It grew by doubling. Its memory is to be as large as it counts for.
        bytes.shrink_to_fit();
        Ok(Some(Line {
            number: self.number,
            bytes: (is_whole && bytes.len() <= MOST_BYTES).then_some(bytes),
        }))
    }
}

/// The bytes of the line ending.
fn ending(bytes: &[u8]) -> usize {
    match bytes {
        [.., b'\r', b'\n'] => 2,
        [.., b'\n'] => 1,
        _ => 0,
    }
}
