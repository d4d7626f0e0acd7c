//! Lines of a stream, worked on all cores and given back in their order.
//!
//! One thread reads lines in batches and deals them to the workers in turn; the caller collects
//! from the workers in the same turn. So order needs no sorting, and since every channel holds one
//! batch, memory is bounded by the workers, not by the stream.

use std::io::{self, BufRead, BufReader, Read};
use std::num::NonZero;
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::thread;

use rules_core::bounds::MOST_BYTES;

/// Bytes read ahead. A batch ends where they do, so that a slow stream is answered line by line.
const AHEAD: usize = 128 * 1024;
/// The most lines of a batch.
const MOST_LINES: usize = 64;

/// A line of a stream.
pub(crate) struct Line {
    /// Its number, from 1.
    pub(crate) number: usize,
    /// Its bytes without the ending; none if there are more than a document may have.
    pub(crate) bytes: Option<Vec<u8>>,
}

/// Lines that follow each other.
pub(crate) type Batch = Vec<Line>;

/// Works on the lines of a stream in batches and hands the results to `put` in the order of the
/// lines, until one is not taken.
pub(crate) fn in_order<T: Send>(
    input: impl Read + Send,
    work: impl Fn(Batch) -> T + Sync,
    mut put: impl FnMut(T) -> io::Result<()>,
) -> io::Result<()> {
    let workers = thread::available_parallelism().map_or(1, NonZero::get);
    thread::scope(|scope| {
        let (mut inlets, mut outlets) = (Vec::new(), Vec::new());
        for _ in 0..workers {
            let (inlet, batches) = sync_channel(1);
            let (results, outlet) = sync_channel(1);
            let work = &work;
            scope.spawn(move || serve(&batches, &results, work));
            inlets.push(inlet);
            outlets.push(outlet);
        }
        let reader = scope.spawn(move || deal(input, &inlets));
        let collected = collect(&outlets, &mut put);
        // Workers see that nobody collects any more, and the reader that nobody works.
        drop(outlets);
        let read = reader
            .join()
            .unwrap_or_else(|_| Err(io::Error::other("the reader stopped")));
        collected.and(read)
    })
}

fn serve<T>(batches: &Receiver<Batch>, results: &SyncSender<T>, work: &impl Fn(Batch) -> T) {
    for batch in batches {
        if results.send(work(batch)).is_err() {
            return;
        }
    }
}

fn collect<T>(
    outlets: &[Receiver<T>],
    put: &mut impl FnMut(T) -> io::Result<()>,
) -> io::Result<()> {
    for outlet in outlets.iter().cycle() {
        match outlet.recv() {
            Ok(result) => put(result)?,
            Err(_) => return Ok(()),
        }
    }
    Ok(())
}

fn deal(input: impl Read, inlets: &[SyncSender<Batch>]) -> io::Result<()> {
    let mut lines = Lines {
        input: BufReader::with_capacity(AHEAD, input),
        number: 0,
    };
    for inlet in inlets.iter().cycle() {
        let batch = lines.batch()?;
        if batch.is_empty() || inlet.send(batch).is_err() {
            break;
        }
    }
    Ok(())
}

struct Lines<R: Read> {
    input: BufReader<R>,
    number: usize,
}

impl<R: Read> Lines<R> {
    fn batch(&mut self) -> io::Result<Batch> {
        let mut batch = Batch::new();
        while batch.len() < MOST_LINES {
            let Some(line) = self.line()? else { break };
            batch.push(line);
            if self.input.buffer().is_empty() {
                break;
            }
        }
        Ok(batch)
    }

    fn line(&mut self) -> io::Result<Option<Line>> {
        let most = u64::try_from(MOST_BYTES)
            .unwrap_or(u64::MAX)
            .saturating_add(2);
        let mut bytes = Vec::new();
        if self
            .input
            .by_ref()
            .take(most)
            .read_until(b'\n', &mut bytes)?
            == 0
        {
            return Ok(None);
        }
        self.number += 1;
        let whole =
            bytes.ends_with(b"\n") || u64::try_from(bytes.len()).is_ok_and(|read| read < most);
        if !whole {
            self.input.skip_until(b'\n')?;
        }
        let kept = bytes.len() - ending(&bytes);
        bytes.truncate(kept);
        Ok(Some(Line {
            number: self.number,
            bytes: (whole && kept <= MOST_BYTES).then_some(bytes),
        }))
    }
}

fn ending(bytes: &[u8]) -> usize {
    match bytes {
        [.., b'\r', b'\n'] => 2,
        [.., b'\n'] => 1,
        _ => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(input: impl Read + Send) -> Vec<(usize, Option<usize>)> {
        let mut found = Vec::new();
        let sizes = |lines: Batch| {
            lines
                .iter()
                .map(|line| (line.number, line.bytes.as_ref().map(Vec::len)))
                .collect::<Vec<_>>()
        };
        in_order(input, sizes, |batch| {
            found.extend(batch);
            Ok(())
        })
        .unwrap();
        found
    }

    #[test]
    fn lines_come_back_in_order_whatever_their_endings() {
        assert_eq!(
            all("a\nbb\r\n\nccc".as_bytes()),
            [(1, Some(1)), (2, Some(2)), (3, Some(0)), (4, Some(3))]
        );
        assert_eq!(all("".as_bytes()), []);
        let many = "x\n".repeat(10_000);
        assert!(
            all(many.as_bytes())
                .into_iter()
                .map(|(number, _)| number)
                .eq(1..=10_000)
        );
    }

    #[test]
    fn a_line_may_be_as_long_as_a_document() {
        for (extra, kept) in [(0, Some(MOST_BYTES)), (1, None), (2, None), (5000, None)] {
            let text = format!("{}\nb", "a".repeat(MOST_BYTES + extra));
            assert_eq!(all(text.as_bytes()), [(1, kept), (2, Some(1))], "{extra}");
        }
    }

    #[test]
    fn what_is_not_taken_ends_it() {
        let endless = io::repeat(b'\n');
        let ended = in_order(
            endless,
            |lines| lines.len(),
            |_| Err(io::Error::other("enough")),
        );
        assert_eq!(ended.unwrap_err().to_string(), "enough");
    }
}
