//! The same work for many, on all cores.

use std::num::NonZero;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// So many are taken at a time: few enough that nobody waits for the last, many enough that taking costs
/// nothing.
const AT_A_TIME: usize = 8;

/// How many threads work.
pub(crate) fn threads() -> usize {
    thread::available_parallelism().map_or(1, NonZero::get)
}

/// What becomes of each of so many, in order.
pub(crate) fn in_parallel<T: Send>(count: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let workers = threads().min(count.div_ceil(AT_A_TIME));
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
