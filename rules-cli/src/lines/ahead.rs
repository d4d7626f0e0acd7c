//! How far reading may run ahead of what is done.

use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};

/// Room for so many bytes of lines that are read and not done yet.
pub(super) struct Ahead {
    most: usize,
    state: Mutex<State>,
    changed: Condvar,
}

#[derive(Default)]
struct State {
    /// The bytes of all that is under way.
    under_way: usize,
    /// Whether nobody asks for results any more.
    over: bool,
}

impl Ahead {
    pub(super) fn of(most: usize) -> Self {
        Self {
            most,
            state: Mutex::default(),
            changed: Condvar::new(),
        }
    }

    /// Waits until there is room for so many bytes, or nothing else is under way: what is larger
    /// than all the room goes alone. False if it is over before that.
    pub(super) fn take(&self, bytes: usize) -> bool {
        let full = |state: &mut State| {
            !state.over && state.under_way > 0 && state.under_way.saturating_add(bytes) > self.most
        };
        let mut state = self
            .changed
            .wait_while(self.state(), full)
            .unwrap_or_else(PoisonError::into_inner);
        state.under_way = state.under_way.saturating_add(bytes);
        !state.over
    }

    /// So many bytes are done.
    pub(super) fn give_back(&self, bytes: usize) {
        let mut state = self.state();
        state.under_way = state.under_way.saturating_sub(bytes);
        self.changed.notify_all();
    }

    /// Nobody asks for results any more: who waits for room need not wait.
    pub(super) fn end(&self) {
        self.state().over = true;
        self.changed.notify_all();
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::mpsc::channel;
    use std::thread;
    use std::time::Duration;

    /// What becomes of bytes asked for while so many are under way: whether they had to wait for
    /// all of those to be done.
    fn waits(most: usize, under_way: usize, asked: usize) -> bool {
        let ahead = Ahead::of(most);
        assert!(ahead.take(under_way));
        let (taken, was_taken) = channel();
        thread::scope(|scope| {
            scope.spawn(|| taken.send(ahead.take(asked)));
            let waited = was_taken.recv_timeout(Duration::from_millis(50)).is_err();
            ahead.give_back(under_way);
            assert!(!waited || was_taken.recv().unwrap());
            waited
        })
    }

    #[test]
    fn there_is_room_up_to_the_most() {
        assert!(!waits(10, 6, 4));
        assert!(waits(10, 6, 5));
        assert!(waits(10, 1, 11));
        // Alone, anything goes, or it would wait for ever.
        assert!(!waits(10, 0, 11));
    }

    #[test]
    fn nobody_waits_once_it_is_over() {
        let ahead = Ahead::of(10);
        assert!(ahead.take(10));
        thread::scope(|scope| {
            let waiting = scope.spawn(|| ahead.take(1));
            ahead.end();
            assert!(!waiting.join().unwrap());
        });
        assert!(!ahead.take(1));
    }
}
