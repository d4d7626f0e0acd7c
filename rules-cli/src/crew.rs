//! Work on one thing after the other with all cores, with the results in the order of the things.
//!
//! No more than some things are under way, so that memory does not grow with their number: what is
//! read ahead, and the results that wait for their turn.

use std::collections::VecDeque;
use std::io;
use std::num::NonZero;
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::{self, Scope};

/// The most things under way for each core: one that is worked on, one that is next, and some whose
/// results wait for an earlier one.
const MOST_EACH: usize = 4;
/// The most bytes under way, unless they are of a single thing: a report may take some hundred times
/// the bytes that it is of.
const MOST_BYTES: usize = 1024 * 1024;

/// A thing to work on, and where its result goes.
type Job<T, R> = (T, Sender<R>);

/// A thing under way: its bytes, and where its result will come from.
struct Turn<R> {
    bytes: usize,
    result: Receiver<R>,
}

/// Threads that work, one for each core. They end when this goes.
pub(crate) struct Crew<T, R> {
    jobs: Sender<Job<T, R>>,
    /// Where the results of what is under way will come from, in order.
    turns: VecDeque<Turn<R>>,
    /// The bytes of what is under way.
    bytes: usize,
    most: usize,
}

impl<T: Send, R: Send> Crew<T, R> {
    /// Threads that do this work.
    pub(crate) fn of<'s, 'e>(
        scope: &'s Scope<'s, 'e>,
        work: impl Fn(T) -> R + Clone + Send + 's,
    ) -> Self
    where
        T: 's,
        R: 's,
    {
        let workers = thread::available_parallelism().map_or(1, NonZero::get);
        let (jobs, waiting) = channel::<Job<T, R>>();
        let waiting = Arc::new(Mutex::new(waiting));
        for _ in 0..workers {
            let (waiting, work) = (Arc::clone(&waiting), work.clone());
            scope.spawn(move || {
                while let Some((thing, result)) = next(&waiting) {
                    // If nobody waits for it any more, there is nobody to tell.
                    drop(result.send(work(thing)));
                }
            });
        }
        Self {
            jobs,
            turns: VecDeque::new(),
            bytes: 0,
            most: workers * MOST_EACH,
        }
    }

    /// Whether there is room for a thing of so many bytes. One that is larger than all the room waits
    /// until nothing else is under way.
    pub(crate) fn has_room(&self, bytes: usize) -> bool {
        let fits = self.bytes.saturating_add(bytes) <= MOST_BYTES;
        self.turns.is_empty() || (fits && self.turns.len() < self.most)
    }

    /// Gives work on a thing of so many bytes.
    pub(crate) fn give(&mut self, thing: T, bytes: usize) {
        let (sender, result) = channel();
        // If all have stopped, the result says so.
        drop(self.jobs.send((thing, sender)));
        self.bytes = self.bytes.saturating_add(bytes);
        self.turns.push_back(Turn { bytes, result });
    }

    /// Waits for the next result; none, if nothing is under way.
    pub(crate) fn wait(&mut self) -> Option<io::Result<R>> {
        let turn = self.turns.pop_front()?;
        self.bytes = self.bytes.saturating_sub(turn.bytes);
        Some(turn.result.recv().map_err(|_| stopped()))
    }

    /// The next result, if it is there.
    pub(crate) fn ready(&mut self) -> Option<io::Result<R>> {
        let turn = self.turns.front()?;
        let result = match turn.result.try_recv() {
            Ok(result) => Ok(result),
            Err(TryRecvError::Empty) => return None,
            Err(TryRecvError::Disconnected) => Err(stopped()),
        };
        self.bytes = self.bytes.saturating_sub(turn.bytes);
        self.turns.pop_front();
        Some(result)
    }
}

/// What comes of each thing, in their order: of several, worked on by all cores.
pub(crate) fn each<T: Send, R: Send>(
    things: impl ExactSizeIterator<Item = T>,
    work: impl Fn(T) -> R + Clone + Send,
) -> io::Result<Vec<R>> {
    if things.len() < 2 {
        return Ok(things.map(work).collect());
    }
    thread::scope(|scope| {
        let mut crew = Crew::of(scope, work);
        let mut results = Vec::with_capacity(things.len());
        for thing in things {
            if !crew.has_room(0) {
                results.extend(crew.wait());
            }
            crew.give(thing, 0);
        }
        results.extend(std::iter::from_fn(|| crew.wait()));
        results.into_iter().collect()
    })
}

fn next<J>(waiting: &Mutex<Receiver<J>>) -> Option<J> {
    let waiting = waiting.lock().unwrap_or_else(PoisonError::into_inner);
    waiting.recv().ok()
}

fn stopped() -> io::Error {
    io::Error::other("a worker stopped")
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::*;

    /// The first take longest, so that later results wait for them.
    fn doubled(number: u64) -> u64 {
        thread::sleep(Duration::from_micros(3_000 / (number + 1)));
        2 * number
    }

    #[test]
    fn results_come_in_the_order_of_the_work() {
        let mut results = Vec::new();
        thread::scope(|scope| {
            let mut crew = Crew::of(scope, doubled);
            for number in 0..200 {
                while !crew.has_room(8) {
                    results.extend(crew.wait());
                }
                crew.give(number, 8);
                results.extend(crew.ready());
            }
            results.extend(std::iter::from_fn(|| crew.wait()));
        });
        let results: Vec<u64> = results.into_iter().map(Result::unwrap).collect();
        assert_eq!(
            results,
            (0..200).map(|number| 2 * number).collect::<Vec<_>>()
        );
    }

    #[test]
    fn of_any_number_each_is_worked_on() {
        for many in [0, 1, 2, 40] {
            let wanted: Vec<u64> = (0..many).map(|number| 2 * number).collect();
            let things: Vec<u64> = (0..many).collect();
            assert_eq!(each(things.into_iter(), doubled).unwrap(), wanted);
        }
    }

    #[test]
    fn no_more_is_under_way_than_there_is_room_for() {
        thread::scope(|scope| {
            let mut crew = Crew::of(scope, doubled);
            let cores = thread::available_parallelism().unwrap().get();
            for _ in 0..MOST_EACH * cores {
                assert!(crew.has_room(1));
                crew.give(1, 1);
            }
            assert!(!crew.has_room(1));
            assert!(crew.wait().is_some() && crew.has_room(1));
            // What is left is dropped, and the threads end.
        });
    }

    #[test]
    fn what_is_large_is_worked_on_alone() {
        thread::scope(|scope| {
            let mut crew = Crew::of(scope, doubled);
            assert!(crew.has_room(MOST_BYTES + 1));
            crew.give(1, MOST_BYTES - 1);
            assert!(crew.has_room(1) && !crew.has_room(2));
            assert!(crew.wait().is_some() && crew.has_room(MOST_BYTES + 1));
        });
    }
}
