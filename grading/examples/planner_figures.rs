//! How long planning takes and how much it holds, on problems as large as a
//! scenario may be. Prints its figures:
//! `cargo run --release -p tracebay-grading --example planner_figures`.

#[path = "../tests/common/mod.rs"]
mod common;

use std::time::{Duration, Instant};

use common::branches;
use tracebay_grading::belief::Belief;
use tracebay_grading::plan::{Limits, Planner};

fn main() {
    let only: Option<usize> = std::env::args().nth(1).and_then(|a| a.parse().ok());
    let sizes = [
        (12, 40, 4, 0.0),
        (20, 80, 8, 0.0),
        (40, 150, 6, 0.0),
        (40, 150, 24, 0.0),
        (40, 150, 24, 0.02),
        (40, 150, 24, 0.2),
        (64, 300, 24, 0.0),
        (128, 600, 24, 0.02),
    ];
    for (_, (h, t, s, noisy)) in sizes
        .into_iter()
        .enumerate()
        .filter(|(i, _)| only.is_none_or(|o| o == *i))
    {
        for seed in 0..3 {
            let problem = branches(seed, h, t, s, noisy);
            let belief = Belief::of(&problem).unwrap();
            let start = Spent::now();
            let mut planner = Planner::new(&problem, Limits::default()).unwrap();
            let made = start.elapsed();
            let start = Spent::now();
            let greedy = planner.greedy_minutes(&belief, 0).unwrap();
            let first = planner.bounds(&belief, 0).unwrap();
            let bounds = start.elapsed();
            let start = Spent::now();
            let found = planner.expected_minutes(&belief, 0).unwrap();
            let solved = start.elapsed();
            let start = Spent::now();
            let best = planner.best_tests(&belief, 0, 5).unwrap();
            let ranked = start.elapsed();
            let start = Spent::now();
            let regret = planner.regret(0, &belief, 0).unwrap();
            let judged = start.elapsed();
            println!(
                "{h:3} hyp {t:3} tests {s:2} states noise {noisy}: made {made:.1?}, bounds {bounds:.1?}, \
                 plan {solved:.1?}, rank {ranked:.1?}, regret {judged:.1?} | huffman {:.2} entropy {:.2} first {:.3} \
                 lower {:.3} upper {:.3} greedy {greedy:.3} exact {} best {} regret {:.2}..{:.2}; peak {}",
                first.huffman,
                first.entropy,
                first.search,
                found.lower,
                found.upper,
                found.exact,
                best.len(),
                regret.lower,
                regret.upper,
                peak(),
            );
        }
    }
}

/// Peak memory of the process, where the system tells it.
fn peak() -> String {
    std::fs::read_to_string("/proc/self/status")
        .ok()
        .and_then(|s| {
            s.lines()
                .find(|l| l.starts_with("VmHWM"))
                .map(|l| l[6..].trim().to_owned())
        })
        .unwrap_or_else(|| "not known".into())
}

/// Time on a processor, where the system tells it, so that other work on the
/// machine does not count; else time by the clock.
enum Spent {
    Processor(Duration),
    Clock(Instant),
}

impl Spent {
    fn now() -> Self {
        on_processor().map_or_else(|| Self::Clock(Instant::now()), Self::Processor)
    }

    fn elapsed(&self) -> Duration {
        match self {
            Self::Processor(from) => on_processor().unwrap_or(*from).saturating_sub(*from),
            Self::Clock(from) => from.elapsed(),
        }
    }
}

fn on_processor() -> Option<Duration> {
    let stat = std::fs::read_to_string("/proc/self/schedstat").ok()?;
    Some(Duration::from_nanos(
        stat.split_whitespace().next()?.parse().ok()?,
    ))
}
