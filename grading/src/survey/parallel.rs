//! Work spread over the processor's cores where the platform has threads.
//!
//! Knows nothing of cars; results come in the order asked for, whatever the number of cores.

/// Works out something for each index, on all cores where the platform has threads; results come in
/// the order of the indices.
pub(super) fn in_parallel<T: Send, E: Send>(
    count: usize,
    work: impl Fn(usize) -> Result<T, E> + Sync,
) -> Result<Vec<T>, E> {
    #[cfg(not(target_arch = "wasm32"))]
    {
        let cores = std::thread::available_parallelism()
            .map_or(1, usize::from)
            .min(count.max(1));
        let mut results: Vec<(usize, Result<T, E>)> = std::thread::scope(|scope| {
            let handles: Vec<_> = (0..cores)
                .map(|core| {
                    let work = &work;
                    scope.spawn(move || {
                        (core..count)
                            .step_by(cores)
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
        (0..count).map(work).collect()
    }
}
