//! The same work for many, on all cores.

use std::num::NonZero;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// So many are taken at a time: few enough that nobody waits for the last, many enough that taking costs
/// nothing.
const AT_A_TIME: usize = 8;

/// More threads than this no machine has use for.
const MOST_THREADS: usize = 1024;

/// How many threads work: as many as are asked for, or one for each core.
pub(crate) fn threads(asked: Option<usize>) -> usize {
    let cores = || thread::available_parallelism().map_or(1, NonZero::get);
    asked.map_or_else(cores, |asked| asked.clamp(1, MOST_THREADS))
}

/// What becomes of each of so many, in order, on so many threads.
pub(crate) fn in_parallel<T: Send>(
    count: usize,
    threads: usize,
    work: impl Fn(usize) -> T + Sync,
) -> Vec<T> {
    let workers = threads.min(count.div_ceil(AT_A_TIME));
    if workers <= 1 {
        return (0..count).map(work).collect();
    }
    let next = AtomicUsize::new(0);
    let worker = || {
        let mut done = Vec::new();
        loop {
            let first = next.fetch_add(AT_A_TIME, Ordering::Relaxed);
            if first >= count {
                return done;
            }
            let some = first..count.min(first.saturating_add(AT_A_TIME));
            done.push((first, some.map(&work).collect::<Vec<T>>()));
        }
    };
    let mut all = thread::scope(|scope| {
        let started: Vec<_> = (0..workers).map(|_| scope.spawn(worker)).collect();
        let joined = started.into_iter().map(|one| match one.join() {
            Ok(done) => done,
            Err(panicked) => std::panic::resume_unwind(panicked),
        });
        joined.flatten().collect::<Vec<_>>()
    });
    all.sort_by_key(|(first, _)| *first);
    all.into_iter().flat_map(|(_, some)| some).collect()
}
