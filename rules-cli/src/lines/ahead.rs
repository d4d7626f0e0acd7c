//! How far reading may run ahead of what is done, and who works on what is read.

use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};

/// The most batches that one worker has under way: one that waits for its turn, one that is worked,
/// one that comes next.
pub(super) const MOST_BATCHES: usize = 3;

/// Room for so many bytes of lines that are read and not done yet.
pub(super) struct Ahead {
    most: usize,
    state: Mutex<State>,
    changed: Condvar,
}

struct State {
    /// The bytes of all that is under way.
    under_way: usize,
    /// The batches that each worker has under way.
    batches: Vec<usize>,
    /// Whether nobody asks for results any more.
    over: bool,
}

impl Ahead {
    pub(super) fn of(most: usize, workers: usize) -> Self {
        let state = State {
            under_way: 0,
            batches: vec![0; workers],
            over: false,
        };
        Self {
            most,
            state: Mutex::new(state),
            changed: Condvar::new(),
        }
    }

    /// Waits until there is room for a batch of so many bytes, or nothing else is under way: what
    /// is larger than all the room goes alone. Gives the worker who is to take it; none if it is
    /// over before that.
    pub(super) fn take(&self, bytes: usize) -> Option<usize> {
        let wait = |state: &mut State| {
            let full = state.under_way > 0 && state.under_way.saturating_add(bytes) > self.most;
            !state.over && (full || state.free().is_none())
        };
        let mut state = self
            .changed
            .wait_while(self.state(), wait)
            .unwrap_or_else(PoisonError::into_inner);
        let worker = state.free().filter(|_| !state.over)?;
        state.under_way = state.under_way.saturating_add(bytes);
        state.count(worker, |batches| batches + 1);
        Some(worker)
    }

    /// A worker's batch of so many bytes is done.
    pub(super) fn give_back(&self, worker: usize, bytes: usize) {
        let mut state = self.state();
        state.under_way = state.under_way.saturating_sub(bytes);
        state.count(worker, |batches| batches.saturating_sub(1));
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

impl State {
    /// The worker with the least under way, if one may take more; of several the first. So heavy
    /// lines, of which few are under way at once, go to the same few workers: a thread keeps the
    /// memory it once needed.
    fn free(&self) -> Option<usize> {
        let (worker, batches) = self
            .batches
            .iter()
            .enumerate()
            .min_by_key(|(_, batches)| **batches)?;
        (*batches < MOST_BATCHES).then_some(worker)
    }

    fn count(&mut self, worker: usize, change: impl Fn(usize) -> usize) {
        if let Some(batches) = self.batches.get_mut(worker) {
            *batches = change(*batches);
        }
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
        let ahead = Ahead::of(most, 2);
        assert_eq!(ahead.take(under_way), Some(0));
        let (taken, was_taken) = channel();
        thread::scope(|scope| {
            scope.spawn(|| taken.send(ahead.take(asked)));
            let waited = was_taken.recv_timeout(Duration::from_millis(50)).is_err();
            ahead.give_back(0, under_way);
            assert!(!waited || was_taken.recv().unwrap().is_some());
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
        let ahead = Ahead::of(10, 2);
        assert_eq!(ahead.take(10), Some(0));
        thread::scope(|scope| {
            let waiting = scope.spawn(|| ahead.take(1));
            ahead.end();
            assert_eq!(waiting.join().unwrap(), None);
        });
        assert_eq!(ahead.take(1), None);
    }

    #[test]
    fn work_is_shared_and_heavy_work_stays_with_the_first() {
        let ahead = Ahead::of(100, 3);
        let taken: Vec<_> = (0..9).map(|_| ahead.take(1)).collect();
        assert_eq!(taken, [0, 1, 2, 0, 1, 2, 0, 1, 2].map(Some));
        ahead.give_back(1, 1);
        assert_eq!(ahead.take(1), Some(1));
        let ahead = Ahead::of(100, 3);
        for _ in 0..5 {
            assert_eq!(ahead.take(100), Some(0));
            ahead.give_back(0, 100);
        }
    }

    /// Nobody may have more than fits the way to him, whatever it weighs.
    #[test]
    fn no_worker_has_more_than_is_stated() {
        let ahead = Ahead::of(100, 1);
        for _ in 0..MOST_BATCHES {
            assert_eq!(ahead.take(0), Some(0));
        }
        thread::scope(|scope| {
            let waiting = scope.spawn(|| ahead.take(0));
            thread::sleep(Duration::from_millis(50));
            assert!(!waiting.is_finished());
            ahead.give_back(0, 0);
            assert_eq!(waiting.join().unwrap(), Some(0));
        });
    }
}
