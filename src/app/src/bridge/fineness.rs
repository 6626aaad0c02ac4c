//! How finely the scene is drawn while it changes: as finely as this machine can in time. What rests
//! is drawn in full. Arithmetic only: knows neither cameras nor pictures.

/// Seconds a picture may take before the next is drawn coarser.
const SLOW_S: f32 = 1.0 / 15.0;
/// Seconds below which the next may be drawn finer: a finer step takes at most twice as long.
const FAST_S: f32 = 1.0 / 38.0;
/// Weight of the latest picture in the mean.
const FRESH: f32 = 0.25;
/// Pictures after a step before another may follow.
const SETTLE: u32 = 5;
/// What takes longer than this was held up by something else.
const HELD_UP_S: f32 = 0.6;
/// Pixels along each side as a share of all there are, coarser and coarser; with the first, edges are
/// smoothed too.
const STEPS: [f32; 6] = [1.0, 1.0, 0.8, 0.65, 0.5, 0.4];
/// Where an unknown machine begins.
const FIRST: usize = 3;

/// What is known of the machine's pace.
#[derive(Clone, Debug)]
pub struct Fineness {
    step: usize,
    mean_s: f32,
    since_step: u32,
}

impl Default for Fineness {
    fn default() -> Self {
        Fineness {
            step: FIRST,
            mean_s: 0.0,
            since_step: 0,
        }
    }
}

impl Fineness {
    /// Share of the pixels along each side that a changing scene is drawn with.
    pub fn share(&self) -> f32 {
        STEPS[self.step]
    }

    /// Whether edges are smoothed while it changes.
    pub fn smooth(&self) -> bool {
        self.step == 0
    }

    /// Takes in how long it took from one picture of a changing scene to the next.
    pub fn took(&mut self, seconds: f32) {
        let seconds = seconds.clamp(0.0, HELD_UP_S);
        self.mean_s = if self.since_step == 0 {
            seconds
        } else {
            self.mean_s + FRESH * (seconds - self.mean_s)
        };
        self.since_step += 1;
        if self.since_step < SETTLE {
            return;
        }
        let to = if self.mean_s > SLOW_S {
            (self.step + 1).min(STEPS.len() - 1)
        } else if self.mean_s < FAST_S {
            self.step.saturating_sub(1)
        } else {
            self.step
        };
        if to != self.step {
            self.step = to;
            self.since_step = 0;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A machine that takes so long for its panels and so long for a full picture.
    fn settled(panels_s: f32, full_s: f32) -> (Fineness, usize) {
        let mut fineness = Fineness::default();
        let mut steps = 0;
        for at in 0..400 {
            let before = fineness.step;
            let share = fineness.share();
            let edges = if fineness.smooth() { 1.4 } else { 1.0 };
            fineness.took(panels_s + full_s * share * share * edges);
            if at > 200 && fineness.step != before {
                steps += 1;
            }
        }
        (fineness, steps)
    }

    #[test]
    fn a_fast_machine_draws_everything_and_a_slow_one_what_it_can() {
        let (fast, _) = settled(0.002, 0.005);
        assert!(fast.smooth() && fast.share() == 1.0);
        let (slow, _) = settled(0.03, 0.15);
        assert!(slow.share() < 0.7 && !slow.smooth());
        let (hopeless, _) = settled(0.2, 2.0);
        assert_eq!(hopeless.share(), STEPS[STEPS.len() - 1]);
    }

    #[test]
    fn it_does_not_swing_to_and_fro() {
        for panels_ms in [2, 5, 10, 20, 30, 40, 60] {
            for full_ms in [2, 5, 10, 20, 30, 50, 80, 120, 200, 400] {
                let (_, steps) = settled(panels_ms as f32 * 1e-3, full_ms as f32 * 1e-3);
                assert_eq!(steps, 0, "panels {panels_ms} ms, scene {full_ms} ms");
            }
        }
    }

    #[test]
    fn one_long_pause_says_nothing_of_the_machine() {
        let (mut fast, _) = settled(0.002, 0.005);
        fast.took(30.0);
        for _ in 0..20 {
            fast.took(0.007);
        }
        assert!(fast.smooth());
    }
}
