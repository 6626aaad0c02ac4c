//! Work spread over threads, with results in the order of the work, whatever the thread count.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

/// Tells on the error output how far long work is.
pub struct Progress {
    what: &'static str,
    shown: bool,
    last: Mutex<Instant>,
}

/// How often progress is told.
const EVERY: Duration = Duration::from_secs(2);

impl Progress {
    /// Progress of something, told if asked for.
    pub fn new(what: &'static str, shown: bool) -> Progress {
        Progress {
            what,
            shown,
            last: Mutex::new(Instant::now()),
        }
    }

    fn done(&self, done: usize, of: usize) {
        if !self.shown {
            return;
        }
        // Whoever finds another telling goes on working.
        let Ok(mut last) = self.last.try_lock() else {
            return;
        };
        if last.elapsed() >= EVERY {
            *last = Instant::now();
            eprintln!("{}: {done} of {of}", self.what);
        }
    }
}

/// Number of threads: what was asked for, or one for each core.
pub fn threads(asked: Option<usize>) -> usize {
    asked
        .unwrap_or_else(|| std::thread::available_parallelism().map_or(1, usize::from))
        .max(1)
}

/// Works out something for each index. `None` stands where the work panicked, so that one file
/// nobody foresaw does not lose the rest.
pub fn in_order<T: Send>(
    count: usize,
    threads: usize,
    progress: &Progress,
    work: impl Fn(usize) -> T + Sync,
) -> Vec<Option<T>> {
    let next = AtomicUsize::new(0);
    let finished = AtomicUsize::new(0);
    let run = || {
        let mut mine = Vec::new();
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            if index >= count {
                return mine;
            }
            mine.push((index, catch_unwind(AssertUnwindSafe(|| work(index))).ok()));
            progress.done(finished.fetch_add(1, Ordering::Relaxed) + 1, count);
        }
    };
    let mut all: Vec<(usize, Option<T>)> = std::thread::scope(|scope| {
        let handles: Vec<_> = (0..threads.min(count.max(1)))
            .map(|_| scope.spawn(run))
            .collect();
        handles
            .into_iter()
            .flat_map(|handle| handle.join().unwrap_or_default())
            .collect()
    });
    all.sort_by_key(|(index, _)| *index);
    all.into_iter().map(|(_, result)| result).collect()
}
