//! Small problems for the planner's tests, and a second opinion on their optimum.
#![allow(dead_code)] // each test file uses a part

use std::collections::BTreeMap;

use tracebay_grading::plan::{Problem, StateInfo, TestInfo};

/// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014; constants from memory): enough
/// chance for test cases, the same everywhere.
pub struct Chance(pub u64);

impl Chance {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// 0 .. n, n excluded.
    pub fn below(&mut self, n: u64) -> u64 {
        self.next() % n
    }

    /// 0 .. 1.
    pub fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// One state, every hypothesis its own group, tests of one minute.
pub fn unit_problem(priors: &[f64], outcomes: Vec<Vec<u8>>) -> Problem {
    Problem {
        priors: priors.to_vec(),
        groups: (0..priors.len() as u32).collect(),
        states: vec![StateInfo {
            name: "as found".into(),
        }],
        change_minutes: vec![vec![0.0]],
        tests: outcomes
            .into_iter()
            .enumerate()
            .map(|(i, outcomes)| TestInfo {
                id: i as u32,
                probe: i as u32,
                state: 0,
                minutes: 1.0,
                outcomes,
            })
            .collect(),
    }
}

/// Sections in series, one of them faulty, a probe at each junction: it shows
/// whether the fault lies before or after.
pub fn chain(priors: &[f64]) -> Problem {
    let n = priors.len();
    let tests = (1..n)
        .map(|cut| (0..n).map(|h| u8::from(h >= cut)).collect())
        .collect();
    unit_problem(priors, tests)
}

/// A small problem with random outcomes, groups, costs and states.
pub fn random_problem(seed: u64) -> Problem {
    let mut c = Chance(seed);
    let n = 1 + c.below(8) as usize;
    let states = 1 + c.below(3) as usize;
    let groups = 1 + c.below(2 * n as u64);
    let classes = 2 + c.below(3);
    let dull = 0.8 * c.unit();
    Problem {
        priors: (0..n).map(|_| 0.01 + c.unit()).collect(),
        groups: (0..n).map(|_| c.below(groups) as u32).collect(),
        states: (0..states)
            .map(|s| StateInfo {
                name: format!("s{s}"),
            })
            .collect(),
        change_minutes: (0..states)
            .map(|_| {
                (0..states)
                    .map(|_| (c.unit() * 8.0).floor() / 2.0)
                    .collect()
            })
            .collect(),
        tests: (0..c.below(12))
            .map(|i| TestInfo {
                id: i as u32,
                probe: c.below(4) as u32,
                state: c.below(states as u64) as usize,
                minutes: if c.below(10) == 0 {
                    0.0
                } else {
                    c.unit() * 5.0
                },
                outcomes: (0..n)
                    .map(|_| {
                        if c.unit() < dull {
                            0
                        } else {
                            c.below(classes) as u8
                        }
                    })
                    .collect(),
            })
            .collect(),
    }
}

/// Faults on a few branches in series, probed along them in several states:
/// each state shows some of the branches, and some probes grade the drop.
pub fn branches(seed: u64, hypotheses: usize, tests: usize, states: usize, noisy: f64) -> Problem {
    let mut c = Chance(seed);
    let branch_count = 4;
    let place: Vec<(u64, u64)> = (0..hypotheses)
        .map(|_| (c.below(branch_count), c.below(12)))
        .collect();
    let severe: Vec<bool> = (0..hypotheses).map(|_| c.unit() < 0.6).collect();
    let shows: Vec<Vec<bool>> = (0..states)
        .map(|_| (0..branch_count).map(|_| c.unit() < 0.6).collect())
        .collect();
    let tests = (0..tests)
        .map(|i| {
            let state = c.below(states as u64) as usize;
            let (branch, cut) = (c.below(branch_count), 1 + c.below(11));
            let meter = c.unit() < 0.4;
            let outcomes = (0..hypotheses)
                .map(|h| {
                    if c.unit() < noisy {
                        return c.below(3) as u8;
                    }
                    let (b, at) = place[h];
                    let dead = !shows[state][branch as usize];
                    if dead || b != branch || at >= cut {
                        u8::from(!dead) * 2
                    } else if severe[h] || !meter {
                        0
                    } else {
                        1
                    }
                })
                .collect();
            TestInfo {
                id: i as u32,
                probe: (branch * 12 + cut) as u32,
                state,
                minutes: [0.5, 1.0, 1.0, 2.0, 3.0][c.below(5) as usize],
                outcomes,
            }
        })
        .collect();
    Problem {
        priors: (0..hypotheses)
            .map(|_| 1.0 + (c.unit() * 9.0).floor())
            .collect(),
        groups: (0..hypotheses).map(|h| h as u32 * 3 / 4).collect(),
        states: (0..states)
            .map(|s| StateInfo {
                name: format!("s{s}"),
            })
            .collect(),
        change_minutes: (0..states)
            .map(|_| {
                (0..states)
                    .map(|_| [0.2, 0.5, 1.0, 2.0][c.below(4) as usize])
                    .collect()
            })
            .collect(),
        tests,
    }
}

/// Plain dynamic programming over every set of hypotheses: all states at once,
/// changes of state as moves of their own, no merging, no bounds, no pruning.
/// Shares no code with the planner. Minutes times weight.
pub struct SecondOpinion<'a> {
    problem: &'a Problem,
    memo: BTreeMap<u32, Vec<f64>>,
}

impl<'a> SecondOpinion<'a> {
    pub fn new(problem: &'a Problem) -> Self {
        Self {
            problem,
            memo: BTreeMap::new(),
        }
    }

    /// Expected minutes from a set of hypotheses (bits) in a state.
    pub fn minutes(&mut self, set: u32, state: usize) -> f64 {
        let weight = self.weight(set);
        self.value(set)[state] / weight
    }

    /// Expected minutes when a test is made next.
    pub fn minutes_through(&mut self, test: usize, set: u32, state: usize) -> f64 {
        let weight = self.weight(set);
        let t = &self.problem.tests[test];
        let to = t.state;
        let mut total = weight * (self.quickest(state)[to] + t.minutes);
        for part in self.parts(test, set) {
            total += self.value(part)[to];
        }
        total / weight
    }

    fn weight(&self, set: u32) -> f64 {
        (0..self.problem.priors.len())
            .filter(|h| set >> h & 1 == 1)
            .map(|h| self.problem.priors[h])
            .sum()
    }

    fn quickest(&self, from: usize) -> Vec<f64> {
        let n = self.problem.states.len();
        let mut d = vec![f64::INFINITY; n];
        d[from] = 0.0;
        for _ in 0..n {
            for a in 0..n {
                for b in 0..n {
                    d[b] = d[b].min(d[a] + self.problem.change_minutes[a][b]);
                }
            }
        }
        d
    }

    fn parts(&self, test: usize, set: u32) -> Vec<u32> {
        let mut parts = BTreeMap::new();
        for h in 0..self.problem.priors.len() {
            if set >> h & 1 == 1 {
                *parts
                    .entry(self.problem.tests[test].outcomes[h])
                    .or_insert(0) |= 1 << h;
            }
        }
        parts.into_values().collect()
    }

    /// Some two that are left need different repairs and some test tells them apart.
    fn unfinished(&self, set: u32) -> bool {
        let p = self.problem;
        let left: Vec<usize> = (0..p.priors.len()).filter(|h| set >> h & 1 == 1).collect();
        left.iter().any(|&a| {
            left.iter().any(|&b| {
                p.groups[a] != p.groups[b] && p.tests.iter().any(|t| t.outcomes[a] != t.outcomes[b])
            })
        })
    }

    fn value(&mut self, set: u32) -> Vec<f64> {
        let n = self.problem.states.len();
        if !self.unfinished(set) {
            return vec![0.0; n];
        }
        if let Some(v) = self.memo.get(&set) {
            return v.clone();
        }
        let weight = self.weight(set);
        let mut v = vec![f64::INFINITY; n];
        for t in 0..self.problem.tests.len() {
            let parts = self.parts(t, set);
            if parts.len() < 2 {
                continue;
            }
            let state = self.problem.tests[t].state;
            let mut total = weight * self.problem.tests[t].minutes;
            for part in parts {
                total += self.value(part)[state];
            }
            v[state] = v[state].min(total);
        }
        for _ in 0..n {
            for a in 0..n {
                for b in 0..n {
                    v[a] = v[a].min(weight * self.problem.change_minutes[a][b] + v[b]);
                }
            }
        }
        self.memo.insert(set, v.clone());
        v
    }
}
