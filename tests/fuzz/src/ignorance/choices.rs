//! The bytes of an input as choices.

/// Choices out of bytes. When the bytes have run out, every choice is the first, so that a shorter
/// input is a simpler one.
pub(super) struct Choices<'b>(std::slice::Iter<'b, u8>);

impl<'b> Choices<'b> {
    pub(super) fn of(bytes: &'b [u8]) -> Self {
        Self(bytes.iter())
    }

    fn byte(&mut self) -> usize {
        self.0.next().copied().map_or(0, usize::from)
    }

    /// One of `n`: a byte of the input, or two where there is more to choose from.
    pub(super) fn below(&mut self, n: usize) -> usize {
        let drawn = if n <= 256 {
            self.byte()
        } else {
            256 * self.byte() + self.byte()
        };
        drawn % n.max(1)
    }

    pub(super) fn pick<'t, T>(&mut self, of: &'t [T]) -> Option<&'t T> {
        of.get(self.below(of.len()))
    }

    pub(super) fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            items.swap(last, last - self.below(last + 1));
        }
    }
}
