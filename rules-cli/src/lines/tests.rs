use std::io::{self, Read, Write};
use std::num::NonZero;
use std::sync::atomic::{AtomicUsize, Ordering::SeqCst};
use std::thread;

use rules_core::bounds::MOST_BYTES;

use super::in_order::{MOST_UNDER_WAY, MOST_WAITING};
use super::piece_writer::PIECE;
use super::reader::{MOST_BATCH, READ, bytes_of};
use super::{Batch, PieceWriter, StreamError, in_order};

const MIB: usize = 1024 * 1024;

fn all(input: impl Read + Send) -> Vec<(usize, Option<usize>)> {
    let mut found = Vec::new();
    let sizes = |lines: Batch, _: &mut PieceWriter<'_>| {
        Ok(lines
            .iter()
            .map(|line| (line.number, line.bytes.as_ref().map(Vec::len)))
            .collect::<Vec<_>>())
    };
    in_order(input, sizes, |_, batch| {
        found.extend(batch.into_iter().flatten());
        Ok(())
    })
    .unwrap();
    found
}

/// Lines of one size, as many as it takes for so many bytes; what has been read is counted.
struct Lines<'c> {
    line: usize,
    left: usize,
    read: &'c AtomicUsize,
}

impl Read for Lines<'_> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let many = self.left.min(into.len());
        for byte in into.iter_mut().take(many) {
            *byte = if self.left % self.line == 1 {
                b'\n'
            } else {
                b'x'
            };
            self.left -= 1;
        }
        self.read.fetch_add(many, SeqCst);
        Ok(many)
    }
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

/// However large lines are, and however long the stream, no more of it is held than is stated.
#[test]
fn no_more_is_read_ahead_than_is_stated() {
    for line in [100, 10_000, MIB, 5 * MIB] {
        let (read, mut done, mut most) = (AtomicUsize::new(0), 0, 0);
        let lines = Lines {
            line,
            left: 64 * MIB / line * line,
            read: &read,
        };
        let count = |batch: Batch, _: &mut PieceWriter<'_>| Ok(bytes_of(&batch) + batch.len());
        in_order(lines, count, |_, batch| {
            most = most.max(read.load(SeqCst) - done);
            done += batch.unwrap_or_default();
            Ok(())
        })
        .unwrap();
        assert_eq!(done, 64 * MIB / line * line);
        // The reader has one batch in hand, and in its buffer what comes after it. Line ends
        // count for nothing.
        let batch = MOST_BATCH + line;
        let stated = MOST_UNDER_WAY.max(batch) + batch + READ + most / line;
        assert!(most <= stated, "{line}: {most} of {stated}");
    }
}

/// However much is written about a line, no more of it waits for its turn than is stated.
#[test]
fn no_more_waits_for_its_turn_than_is_stated() {
    let workers = thread::available_parallelism().map_or(1, NonZero::get);
    let (read, written) = (AtomicUsize::new(0), AtomicUsize::new(0));
    let lines = Lines {
        line: 2 * READ,
        left: 16 * 2 * READ,
        read: &read,
    };
    let much = |_: Batch, output: &mut PieceWriter<'_>| {
        for _ in 0..16 * MIB / 1000 {
            written.fetch_add(1000, SeqCst);
            output.write_all(&[b'y'; 1000])?;
        }
        Ok(())
    };
    let (mut taken, mut most) = (0, 0);
    in_order(lines, much, |text, _| {
        most = most.max(written.load(SeqCst) - taken);
        taken += text.len();
        assert!(text.len() <= PIECE);
        Ok(())
    })
    .unwrap();
    assert_eq!(taken, 16 * (16 * MIB / 1000 * 1000));
    // One more is in the hands of each worker, one in ours.
    let stated = (MOST_WAITING + 1) * PIECE * workers + PIECE + 1000 * workers;
    assert!(most <= stated, "{most} of {stated}");
}

#[test]
fn what_is_not_taken_ends_it() {
    let read = AtomicUsize::new(0);
    let large = Lines {
        line: MIB,
        left: 1000 * MIB,
        read: &read,
    };
    let inputs: [Box<dyn Read + Send>; 2] = [Box::new(io::repeat(b'\n')), Box::new(large)];
    for endless in inputs {
        let ended = in_order(
            endless,
            |lines, _| Ok(lines.len()),
            |_, _| Err(io::Error::other("enough")),
        );
        assert!(matches!(ended, Err(StreamError::Output(why)) if why.to_string() == "enough"));
    }
    assert!(read.load(SeqCst) < 100 * MIB);
}

#[test]
fn what_cannot_be_written_down_ends_it() {
    let ended = in_order(
        io::repeat(b'\n'),
        |_, _| Err::<(), _>(io::Error::other("no JSON")),
        |_, _| Ok(()),
    );
    assert!(matches!(ended, Err(StreamError::Output(why)) if why.to_string() == "no JSON"));
}

/// What was read before it failed is worked, and then it is said that it was the input.
#[test]
fn an_input_that_fails_is_told_from_an_output_that_does() {
    struct Fails;
    impl Read for Fails {
        fn read(&mut self, _: &mut [u8]) -> io::Result<usize> {
            Err(io::Error::other("unplugged"))
        }
    }
    let mut lines = 0;
    let ended = in_order(
        "a\nb\nc".as_bytes().chain(Fails),
        |lines, _| Ok(lines.len()),
        |_, batch| {
            lines += batch.unwrap_or_default();
            Ok(())
        },
    );
    assert!(matches!(ended, Err(StreamError::Input(why)) if why.to_string() == "unplugged"));
    // Of the third nobody knows how it went on.
    assert_eq!(lines, 2);
}
