//! What a worker writes, handed over in pieces while it writes.

use std::io::{self, Write};

/// A piece is handed over before it would be larger, unless what is written at once is.
pub(super) const PIECE: usize = 64 * 1024;

/// Where a worker writes.
pub(crate) struct Output<'s> {
    text: Vec<u8>,
    send: &'s mut dyn FnMut(Vec<u8>) -> io::Result<()>,
}

impl<'s> Output<'s> {
    pub(super) const fn into(send: &'s mut dyn FnMut(Vec<u8>) -> io::Result<()>) -> Self {
        Self {
            text: Vec::new(),
            send,
        }
    }

    /// What has not been handed over.
    pub(super) fn rest(self) -> Vec<u8> {
        self.text
    }
}

impl Write for Output<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if !self.text.is_empty() && self.text.len() + bytes.len() > PIECE {
            self.flush()?;
        }
        if self.text.is_empty() {
            self.text.reserve_exact(PIECE);
        }
        self.text.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        (self.send)(std::mem::take(&mut self.text))
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
        let mut output = Output::into(&mut send);
        for size in written {
            output.write_all(&vec![b'x'; *size]).unwrap();
        }
        let rest = output.rest().len();
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
