//! Work spread over the processor's cores where the platform has threads.
//!
//! Knows nothing of cars; results come in the order asked for, whatever the number of cores.

/// Works out something for each index, on so many threads (or one for each core) where the platform has
/// threads; results come in the order of the indices.
pub(super) fn in_parallel<T: Send>(
    count: usize,
    threads: Option<usize>,
    work: impl Fn(usize) -> T + Sync,
) -> Vec<T> {
    #[cfg(not(target_arch = "wasm32"))]
    {
        let threads = threads
            .unwrap_or_else(|| std::thread::available_parallelism().map_or(1, usize::from))
            .clamp(1, count.max(1));
        if threads == 1 {
            return (0..count).map(work).collect();
        }
        let mut results: Vec<(usize, T)> = std::thread::scope(|scope| {
            let handles: Vec<_> = (0..threads)
                .map(|first| {
                    let work = &work;
                    scope.spawn(move || {
                        (first..count)
                            .step_by(threads)
                            .map(|i| (i, work(i)))
                            .collect::<Vec<_>>()
                    })
                })
                .collect();
            handles
                .into_iter()
                // A worker that panicked would leave a world out unseen; it must not.
                .flat_map(|h| h.join().unwrap_or_else(|p| std::panic::resume_unwind(p)))
                .collect()
        });
        results.sort_by_key(|(i, _)| *i);
        results.into_iter().map(|(_, r)| r).collect()
    }
    #[cfg(target_arch = "wasm32")]
    {
        let _ = threads;
        (0..count).map(work).collect()
    }
}
