//! Lines of a stream, worked on all cores and given back in their order.
//!
//! One thread reads lines in batches and deals each to the worker with the least to do; the caller
//! collects from the workers in the same turn. So order needs no sorting.
//!
//! Memory is bounded in bytes, not by the stream. Lines that are read and not done weigh no more
//! than [`MOST_UNDER_WAY`] together, or are one batch alone, beside the batch in the reader's
//! hands; a batch is no more than [`MOST_BATCH`] and its last line. What a worker writes is handed
//! over in pieces while it writes, of which [`MOST_WAITING`] wait for its turn. So a long record is
//! never held as a text, and a heavy line, whose report may take two hundred times its bytes, is
//! worked alone.

mod ahead;
mod output;

use std::io::{self, BufRead, BufReader, Read};
use std::num::NonZero;
use std::sync::mpsc::{Receiver, Sender, SyncSender, channel, sync_channel};
use std::thread;

use rules_core::bounds::MOST_BYTES;

use self::ahead::{Ahead, MOST_BATCHES};
pub(crate) use self::output::Output;

/// Bytes read at once. A batch ends where they do, so that a slow stream is answered line by line.
const READ: usize = 128 * 1024;
/// The most lines of a batch.
const MOST_LINES: usize = 64;
/// A batch ends with the line that makes it weigh so many bytes.
const MOST_BATCH: usize = 16 * 1024;
/// The most bytes of lines that are read and not done, unless it is one batch: enough for some
/// hundred plans at once, and less than the longest line costs alone.
const MOST_UNDER_WAY: usize = 1024 * 1024;
/// Pieces of a worker's output that wait for its turn: 4 MiB.
const MOST_WAITING: usize = 64;

/// A line of a stream.
pub(crate) struct Line {
    /// Its number, from 1.
    pub(crate) number: usize,
    /// Its bytes without the ending; none if there are more than a document may have.
    pub(crate) bytes: Option<Vec<u8>>,
}

/// Lines that follow each other.
pub(crate) type Batch = Vec<Line>;

/// What ended a stream before its end.
#[derive(Debug)]
pub(crate) enum Broken {
    /// It cannot be read any further. What was read before has been worked.
    Input(io::Error),
    /// A result could not be written or was not taken.
    Output(io::Error),
}

/// A piece of what a worker wrote about a batch.
struct Piece<T> {
    text: Vec<u8>,
    /// The batch's bytes and what came of it, with its last piece.
    done: Option<(usize, io::Result<T>)>,
}

/// Works on the lines of a stream in batches. Hands what is written about them to `put` in the
/// order of the lines, and with the last of each batch what came of it, until one is not taken.
pub(crate) fn in_order<T: Send>(
    input: impl Read + Send,
    work: impl Fn(Batch, &mut Output<'_>) -> io::Result<T> + Sync,
    mut put: impl FnMut(Vec<u8>, Option<T>) -> io::Result<()>,
) -> Result<(), Broken> {
    let workers = thread::available_parallelism().map_or(1, NonZero::get);
    let ahead = &Ahead::of(MOST_UNDER_WAY, workers);
    thread::scope(|scope| {
        let (mut inlets, mut outlets) = (Vec::new(), Vec::new());
        for _ in 0..workers {
            let (inlet, batches) = sync_channel(MOST_BATCHES);
            let (results, outlet) = sync_channel(MOST_WAITING);
            let work = &work;
            scope.spawn(move || serve(&batches, &results, work));
            inlets.push(inlet);
            outlets.push(outlet);
        }
        let (dealt, turns) = channel();
        let reader = scope.spawn(move || deal(input, &inlets, &dealt, ahead));
        let collected = collect(&turns, &outlets, ahead, &mut put);
        // Workers see that nobody collects any more, and the reader that nobody works.
        ahead.end();
        drop(outlets);
        let read = reader
            .join()
            .unwrap_or_else(|_| Err(io::Error::other("the reader stopped")));
        collected
            .map_err(Broken::Output)
            .and(read.map_err(Broken::Input))
    })
}

fn serve<T>(
    batches: &Receiver<Batch>,
    results: &SyncSender<Piece<T>>,
    work: &impl Fn(Batch, &mut Output<'_>) -> io::Result<T>,
) {
    let send = |text, done| {
        results
            .send(Piece { text, done })
            .map_err(|_| io::Error::from(io::ErrorKind::BrokenPipe))
    };
    for batch in batches {
        let bytes = weight(&batch);
        let mut hand_over = |text| send(text, None);
        let mut output = Output::into(&mut hand_over);
        let came = work(batch, &mut output);
        if send(output.rest(), Some((bytes, came))).is_err() {
            return;
        }
    }
}

/// The bytes of the lines of a batch.
fn weight(batch: &Batch) -> usize {
    let kept = |line: &Line| line.bytes.as_ref().map_or(0, Vec::len);
    batch.iter().map(kept).sum()
}

/// Collects from the workers whose turn it is, one after the other.
fn collect<T>(
    turns: &Receiver<usize>,
    outlets: &[Receiver<Piece<T>>],
    ahead: &Ahead,
    put: &mut impl FnMut(Vec<u8>, Option<T>) -> io::Result<()>,
) -> io::Result<()> {
    for worker in turns {
        // One that stopped took its batch along: nothing after it is in order.
        let Some(bytes) = collect_batch(outlets.get(worker), put)? else {
            break;
        };
        ahead.give_back(worker, bytes);
    }
    Ok(())
}

/// Collects what a worker wrote about a batch; its bytes, once it is done.
fn collect_batch<T>(
    outlet: Option<&Receiver<Piece<T>>>,
    put: &mut impl FnMut(Vec<u8>, Option<T>) -> io::Result<()>,
) -> io::Result<Option<usize>> {
    for piece in outlet.into_iter().flatten() {
        match piece.done {
            None => put(piece.text, None)?,
            Some((bytes, came)) => {
                put(piece.text, Some(came?))?;
                return Ok(Some(bytes));
            }
        }
    }
    Ok(None)
}

/// Reads batches and deals them, saying to whom.
fn deal(
    input: impl Read,
    inlets: &[SyncSender<Batch>],
    dealt: &Sender<usize>,
    ahead: &Ahead,
) -> io::Result<()> {
    let mut lines = Lines {
        input: BufReader::with_capacity(READ, input),
        number: 0,
        failed: None,
    };
    loop {
        let batch = lines.batch();
        if batch.is_empty() {
            break;
        }
        let Some(worker) = ahead.take(weight(&batch)) else {
            break;
        };
        let sent = inlets.get(worker).map(|inlet| inlet.send(batch));
        if !matches!(sent, Some(Ok(()))) || dealt.send(worker).is_err() {
            break;
        }
    }
    lines.failed.map_or(Ok(()), Err)
}

struct Lines<R: Read> {
    input: BufReader<R>,
    number: usize,
    /// Why nothing more can be read.
    failed: Option<io::Error>,
}

impl<R: Read> Lines<R> {
    /// The next lines; none at the end, or once reading has failed.
    fn batch(&mut self) -> Batch {
        let mut batch = Batch::new();
        let mut bytes = 0;
        while batch.len() < MOST_LINES && bytes < MOST_BATCH && self.failed.is_none() {
            match self.line() {
                Ok(Some(line)) => {
                    bytes += line.bytes.as_ref().map_or(0, Vec::len);
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
        // It grew by doubling, and what it weighs is its length.
        bytes.shrink_to_fit();
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
mod tests;
