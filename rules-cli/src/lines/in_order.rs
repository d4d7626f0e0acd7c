//! Dealing batches to workers and collecting what they write, in the order of the lines.

use std::io::{self, Read};
use std::num::NonZero;
use std::sync::mpsc::{Receiver, Sender, SyncSender, channel, sync_channel};
use std::thread;

use super::backlog::{Backlog, MOST_BATCHES};
use super::piece_writer::PieceWriter;
use super::reader::{Batch, LineReader, bytes_of};

/// The most bytes of lines under way, unless they are a single batch: enough for some hundred plans
/// at once, and less than the longest line costs alone.
pub(super) const MOST_UNDER_WAY: usize = 1024 * 1024;
/// The most pieces of a worker's output that wait for their turn: 4 MiB.
pub(super) const MOST_WAITING: usize = 64;

/// Why a stream ended too early.
#[derive(Debug)]
pub(crate) enum StreamError {
    /// It cannot be read any further. What was read before has been answered.
    Input(io::Error),
    /// A result could not be written or was not taken.
    Output(io::Error),
}

/// A piece of what a worker writes about a batch.
struct Piece<T> {
    text: Vec<u8>,
    /// With the last piece of a batch, how the work on it ended.
    end: Option<BatchEnd<T>>,
}

struct BatchEnd<T> {
    /// The bytes of the batch.
    bytes: usize,
    result: io::Result<T>,
}

/// Works on the lines of a stream in batches. Hands what is written about them to `take` in the
/// order of the lines, and the result of each batch with the last text about it. Stops once `take`
/// fails.
pub(crate) fn in_order<T: Send>(
    input: impl Read + Send,
    work: impl Fn(Batch, &mut PieceWriter<'_>) -> io::Result<T> + Sync,
    mut take: impl FnMut(Vec<u8>, Option<T>) -> io::Result<()>,
) -> Result<(), StreamError> {
    let workers = thread::available_parallelism().map_or(1, NonZero::get);
    let backlog = &Backlog::new(MOST_UNDER_WAY, workers);
    thread::scope(|scope| {
        let (mut inlets, mut outlets) = (Vec::new(), Vec::new());
        for _ in 0..workers {
            let (inlet, batches) = sync_channel(MOST_BATCHES);
            let (pieces, outlet) = sync_channel(MOST_WAITING);
            let work = &work;
            scope.spawn(move || work_on(&batches, &pieces, work));
            inlets.push(inlet);
            outlets.push(outlet);
        }
        let (dealt, turns) = channel();
        let reader = scope.spawn(move || deal(input, &inlets, &dealt, backlog));
        let collected = collect(&turns, &outlets, backlog, &mut take);
        // This shows the workers that nobody collects any more, and the reader that nobody works.
        backlog.close();
        drop(outlets);
        let read = reader
            .join()
            .unwrap_or_else(|_| Err(io::Error::other("the reader stopped")));
        collected
            .map_err(StreamError::Output)
            .and(read.map_err(StreamError::Input))
    })
}

/// What a worker does: works on batches and sends what it writes.
fn work_on<T>(
    batches: &Receiver<Batch>,
    pieces: &SyncSender<Piece<T>>,
    work: &impl Fn(Batch, &mut PieceWriter<'_>) -> io::Result<T>,
) {
    let send = |text, end| {
        pieces
            .send(Piece { text, end })
            .map_err(|_| io::Error::from(io::ErrorKind::BrokenPipe))
    };
    for batch in batches {
        let bytes = bytes_of(&batch);
        let mut send_piece = |text| send(text, None);
        let mut output = PieceWriter::new(&mut send_piece);
        let result = work(batch, &mut output);
        let end = BatchEnd { bytes, result };
        if send(output.unsent(), Some(end)).is_err() {
            return;
        }
    }
}

/// What the reader does: reads batches, deals them to workers, and says to whom.
fn deal(
    input: impl Read,
    inlets: &[SyncSender<Batch>],
    dealt: &Sender<usize>,
    backlog: &Backlog,
) -> io::Result<()> {
    let mut lines = LineReader::new(input);
    loop {
        let batch = lines.batch();
        if batch.is_empty() {
            break;
        }
        let Some(worker) = backlog.admit(bytes_of(&batch)) else {
            break;
        };
        let sent = inlets.get(worker).map(|inlet| inlet.send(batch));
        if !matches!(sent, Some(Ok(()))) || dealt.send(worker).is_err() {
            break;
        }
    }
    lines.finish()
}

/// What the caller does: collects from the worker whose turn it is, batch by batch.
fn collect<T>(
    turns: &Receiver<usize>,
    outlets: &[Receiver<Piece<T>>],
    backlog: &Backlog,
    take: &mut impl FnMut(Vec<u8>, Option<T>) -> io::Result<()>,
) -> io::Result<()> {
    for worker in turns {
        // A worker that stopped took its batch along: nothing after that is in order.
        let Some(bytes) = collect_batch(outlets.get(worker), take)? else {
            break;
        };
        backlog.finish(worker, bytes);
    }
    Ok(())
}

/// Collects what a worker writes about a batch. Gives the bytes of the batch at its end, nothing if
/// the worker stopped before.
fn collect_batch<T>(
    outlet: Option<&Receiver<Piece<T>>>,
    take: &mut impl FnMut(Vec<u8>, Option<T>) -> io::Result<()>,
) -> io::Result<Option<usize>> {
    for piece in outlet.into_iter().flatten() {
        match piece.end {
            None => take(piece.text, None)?,
            Some(end) => {
                take(piece.text, Some(end.result?))?;
                return Ok(Some(end.bytes));
            }
        }
    }
    Ok(None)
}
