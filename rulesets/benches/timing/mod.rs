//! Medians of tasks that run in turns, so that what else the machine does falls on all of them
//! alike.

use std::time::{Duration, Instant};

/// Something timed, with its name.
pub(crate) struct Task<'t> {
    name: &'t str,
    run: Box<dyn FnMut() + 't>,
}

impl<'t> Task<'t> {
    /// A task whose result is thrown away, but not before it is there.
    pub(crate) fn new<T>(name: &'t str, mut run: impl FnMut() -> T + 't) -> Self {
        Self {
            name,
            run: Box::new(move || drop(std::hint::black_box(run()))),
        }
    }

    fn time(&mut self, times: u32) -> Duration {
        let (worked, started) = (processor_time(), Instant::now());
        for _ in 0..times {
            (self.run)();
        }
        let all = started.elapsed();
        let worked = processor_time()
            .zip(worked)
            .map(|(after, before)| after.saturating_sub(before));
        worked.filter(|_| all > LONG_TASK).unwrap_or(all) / times
    }
}

/// A task that takes longer than this is interrupted by other tasks; then its time on the processor
/// counts, where it can be had.
const LONG_TASK: Duration = Duration::from_millis(20);

/// How long this thread has been on a processor, to some milliseconds, if the system says (Linux).
fn processor_time() -> Option<Duration> {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    told.split(' ')
        .next()?
        .parse()
        .ok()
        .map(Duration::from_nanos)
}

/// The median time of a task, in seconds.
#[derive(Debug, Clone)]
pub(crate) struct Timed {
    pub(crate) name: String,
    pub(crate) seconds: f64,
}

/// A batch is about this long: longer than the clock is coarse, shorter than what the scheduler
/// gives in one piece.
const BATCH: Duration = Duration::from_micros(400);

/// Fewer turns than this make no median.
const LEAST_TURNS: usize = 3;

/// Runs the tasks in turns for about the given time, and some turns at least.
pub(crate) fn in_turns(mut tasks: Vec<Task<'_>>, all: Duration) -> Vec<Timed> {
    let batches: Vec<u32> = tasks.iter_mut().map(batch).collect();
    let mut times = vec![Vec::new(); tasks.len()];
    let started = Instant::now();
    while times[0].len() < LEAST_TURNS || started.elapsed() < all {
        for ((task, batch), times) in tasks.iter_mut().zip(&batches).zip(&mut times) {
            times.push(task.time(*batch));
        }
    }
    tasks
        .iter()
        .zip(times)
        .map(|(task, times)| Timed {
            name: task.name.to_owned(),
            seconds: median(times),
        })
        .collect()
}

/// How many runs make a batch. It warms the task up as well.
fn batch(task: &mut Task<'_>) -> u32 {
    let first = task.time(1);
    let once = if first > BATCH { first } else { task.time(100) }.max(Duration::from_nanos(1));
    u32::try_from(BATCH.as_nanos() / once.as_nanos())
        .unwrap_or(1)
        .clamp(1, 100_000)
}

fn median(mut times: Vec<Duration>) -> f64 {
    times.sort_unstable();
    times[times.len() / 2].as_secs_f64()
}

/// A time in the unit that suits its size.
pub(crate) fn shown(seconds: f64) -> String {
    let (times, unit) = match seconds {
        s if s < 1e-6 => (1e9, "ns"),
        s if s < 1e-3 => (1e6, "µs"),
        s if s < 1.0 => (1e3, "ms"),
        _ => (1.0, "s"),
    };
    let value = seconds * times;
    let places = if value < 10.0 {
        2
    } else {
        usize::from(value < 100.0)
    };
    format!("{value:.places$} {unit}")
}
