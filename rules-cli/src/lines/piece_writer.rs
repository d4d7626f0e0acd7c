//! A writer that hands over what is written in pieces.

use std::io::{self, Write};

/// The most bytes of a piece, unless more are written at once.
pub(super) const PIECE: usize = 64 * 1024;

/// Where a worker writes.
pub(crate) struct PieceWriter<'s> {
    /// What has not been sent yet.
    unsent: Vec<u8>,
    send: &'s mut dyn FnMut(Vec<u8>) -> io::Result<()>,
}

impl<'s> PieceWriter<'s> {
    pub(super) const fn new(send: &'s mut dyn FnMut(Vec<u8>) -> io::Result<()>) -> Self {
        Self {
            unsent: Vec::new(),
            send,
        }
    }

    /// What has not been sent, at the end.
    pub(super) fn unsent(self) -> Vec<u8> {
        self.unsent
    }
}

impl Write for PieceWriter<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if !self.unsent.is_empty() && self.unsent.len() + bytes.len() > PIECE {
            self.flush()?;
        }
        if self.unsent.is_empty() {
            self.unsent.reserve_exact(PIECE);
        }
        self.unsent.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        (self.send)(std::mem::take(&mut self.unsent))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The sizes of the pieces in which stretches of these sizes are handed over, the rest last.
    fn pieces(written: &[usize]) -> Vec<usize> {
        let mut sizes = Vec::new();
        let mut send = |piece: Vec<u8>| {
            sizes.push(piece.len());
            Ok(())
        };
        let mut output = PieceWriter::new(&mut send);
        for size in written {
            output.write_all(&vec![b'x'; *size]).unwrap();
        }
        let rest = output.unsent().len();
        sizes.push(rest);
        sizes
    }

    #[test]
    fn pieces_are_handed_over_before_they_grow_too_large() {
        assert_eq!(pieces(&[]), [0]);
        assert_eq!(pieces(&[PIECE]), [PIECE]);
        assert_eq!(pieces(&[PIECE - 1, 1]), [PIECE]);
        assert_eq!(pieces(&[PIECE, 1]), [PIECE, 1]);
        assert_eq!(pieces(&[1, PIECE, 2]), [1, PIECE, 2]);
        assert_eq!(pieces(&[3 * PIECE, 1]), [3 * PIECE, 1]);
    }
}
