//! The batches under way: how many bytes of lines are read and not finished, and who works on them.

use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};

/// The most batches that a worker has under way: one whose output waits for its turn, one that it
/// works on, and the next one.
pub(super) const MOST_BATCHES: usize = 3;

/// The batches under way, up to so many bytes together.
pub(super) struct Backlog {
    most: usize,
    state: Mutex<State>,
    changed: Condvar,
}

struct State {
    /// The bytes of all batches under way.
    bytes: usize,
    /// How many batches each worker has under way.
    batches: Vec<usize>,
    /// Whether nobody wants results any more.
    closed: bool,
}

impl Backlog {
    pub(super) fn new(most: usize, workers: usize) -> Self {
        let state = State {
            bytes: 0,
            batches: vec![0; workers],
            closed: false,
        };
        Self {
            most,
            state: Mutex::new(state),
            changed: Condvar::new(),
        }
    }

    /// Waits until there is room for a batch of so many bytes. One that is larger than all the room
    /// waits until nothing else is under way. Gives the worker who is to take it; none once the
    /// backlog is closed.
    pub(super) fn admit(&self, bytes: usize) -> Option<usize> {
        let has_to_wait = |state: &mut State| {
            let full = state.bytes > 0 && state.bytes.saturating_add(bytes) > self.most;
            !state.closed && (full || state.free_worker().is_none())
        };
        let mut state = self
            .changed
            .wait_while(self.state(), has_to_wait)
            .unwrap_or_else(PoisonError::into_inner);
        let worker = state.free_worker().filter(|_| !state.closed)?;
        state.bytes = state.bytes.saturating_add(bytes);
        state.count(worker, |batches| batches + 1);
        Some(worker)
    }

    /// A worker's batch of so many bytes is finished.
    pub(super) fn finish(&self, worker: usize, bytes: usize) {
        let mut state = self.state();
        state.bytes = state.bytes.saturating_sub(bytes);
        state.count(worker, |batches| batches.saturating_sub(1));
        self.changed.notify_all();
    }

    /// Nobody wants results any more: nothing is admitted, and nobody waits for room.
    pub(super) fn close(&self) {
        self.state().closed = true;
        self.changed.notify_all();
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl State {
    /// The worker with the fewest batches, if it may take another; of several the first. So large
    /// lines, of which few are under way at once, go to the same few workers: a thread keeps the
    /// memory that it once needed.
    fn free_worker(&self) -> Option<usize> {
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

    /// Whether a batch of so many bytes has to wait until those under way are finished.
    fn waits(most: usize, under_way: usize, asked: usize) -> bool {
        let backlog = Backlog::new(most, 2);
        assert_eq!(backlog.admit(under_way), Some(0));
        let (admitted, was_admitted) = channel();
        thread::scope(|scope| {
            scope.spawn(|| admitted.send(backlog.admit(asked)));
            let waited = was_admitted
                .recv_timeout(Duration::from_millis(50))
                .is_err();
            backlog.finish(0, under_way);
            assert!(!waited || was_admitted.recv().unwrap().is_some());
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
    fn nobody_waits_once_it_is_closed() {
        let backlog = Backlog::new(10, 2);
        assert_eq!(backlog.admit(10), Some(0));
        thread::scope(|scope| {
            let waiting = scope.spawn(|| backlog.admit(1));
            backlog.close();
            assert_eq!(waiting.join().unwrap(), None);
        });
        assert_eq!(backlog.admit(1), None);
    }

    #[test]
    fn work_is_shared_and_large_batches_stay_with_the_first() {
        let backlog = Backlog::new(100, 3);
        let taken: Vec<_> = (0..9).map(|_| backlog.admit(1)).collect();
        assert_eq!(taken, [0, 1, 2, 0, 1, 2, 0, 1, 2].map(Some));
        backlog.finish(1, 1);
        assert_eq!(backlog.admit(1), Some(1));
        let backlog = Backlog::new(100, 3);
        for _ in 0..5 {
            assert_eq!(backlog.admit(100), Some(0));
            backlog.finish(0, 100);
        }
    }

    /// Whatever the sizes, a worker has no more batches than its channel holds.
    #[test]
    fn no_worker_has_more_than_is_stated() {
        let backlog = Backlog::new(100, 1);
        for _ in 0..MOST_BATCHES {
            assert_eq!(backlog.admit(0), Some(0));
        }
        thread::scope(|scope| {
            let waiting = scope.spawn(|| backlog.admit(0));
            thread::sleep(Duration::from_millis(50));
            assert!(!waiting.is_finished());
            backlog.finish(0, 0);
            assert_eq!(waiting.join().unwrap(), Some(0));
        });
    }
}
