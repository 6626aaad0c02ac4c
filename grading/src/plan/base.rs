//! A problem made ready for search: hypotheses that no test can tell apart
//! merged, outcomes as bit sets, dominated tests dropped, separation distances.
//!
//! Works on numbers only and must not know what they stand for, nor how the
//! search uses them.

use std::collections::BTreeMap;

use super::problem::Problem;

/// A set of atoms, one bit each.
pub(crate) type Set = u128;

/// The atoms of a set, lowest first.
pub(crate) fn atoms_of(mut set: Set) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        if set == 0 {
            return None;
        }
        let a = set.trailing_zeros() as usize;
        set &= set - 1;
        Some(a)
    })
}

/// The bits of a word, lowest first.
pub(crate) fn bits_of(mut word: u64) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        let bit = (word != 0).then(|| word.trailing_zeros() as usize);
        word &= word.wrapping_sub(1);
        bit
    })
}

/// A test that can still tell something, in the terms of the atoms.
pub(crate) struct BaseTest {
    /// Index in the problem.
    pub index: usize,
    pub state: usize,
    pub minutes: f64,
    /// The atoms of each outcome class, in the order of the class numbers.
    pub classes: Vec<Set>,
    /// Outcome class number of each entry of `classes`.
    pub labels: Vec<u8>,
    /// Which entry of `classes` each atom is in.
    pub class_of: Vec<u8>,
}

/// See the module's text.
pub(crate) struct Base {
    /// The hypotheses of each atom.
    pub members: Vec<Vec<usize>>,
    /// The weight of each member hypothesis, as the belief gave it (others 0).
    pub raw_weights: Vec<f64>,
    /// Weight of each atom; they sum to 1.
    pub weights: Vec<f64>,
    /// What each atom would lead to: one number for each repair group, and one of
    /// its own for each atom in which several groups can never be told apart.
    pub kinds: Vec<u16>,
    pub kind_count: usize,
    /// Tests in order of minutes, then of index. Dominated ones are left out.
    pub tests: Vec<BaseTest>,
    /// `same[a * tests + t]`: the atoms with the same outcome of test t as atom a.
    pub same: Vec<Set>,
    /// For each test, those before it that take no longer wherever one stands, a bit
    /// for each position: what else could do as well as it.
    pub no_longer: Vec<Vec<u64>>,
    /// Atoms of each kind that has several.
    pub shared_kinds: Vec<Set>,
    /// Positions in `tests`, most classes first.
    pub by_classes: Vec<u32>,
    /// (minutes for each bit the test could at most give, position in `tests`),
    /// smallest first.
    pub by_rate: Vec<(f64, u32)>,
    /// Quickest change between states.
    pub change: Vec<Vec<f64>>,
    /// `apart[state][i * atoms + j]`: least minutes from `state` to the outcome of a
    /// test that tells atoms i and j apart.
    pub apart: Vec<Vec<f64>>,
    /// `farthest[state][i]`: the atoms of another kind than i, hardest to tell from
    /// i first.
    pub farthest: Vec<Vec<Vec<u8>>>,
}

impl Base {
    /// Builds the base for the hypotheses with a weight above zero.
    pub fn new(problem: &Problem, raw_weights: Vec<f64>) -> Self {
        let (members, weights) = merge(problem, &raw_weights);
        let (kinds, kind_count) = kinds_of(problem, &members);
        let change = problem.quickest_changes();
        let detour = detours(&change);
        let tests = keep_best(collect_tests(problem, &members), &detour);

        let mut by_classes: Vec<u32> = (0..tests.len() as u32).collect();
        by_classes.sort_by_key(|&t| std::cmp::Reverse(tests[t as usize].classes.len()));
        let mut by_rate: Vec<(f64, u32)> = (0..tests.len())
            .map(|t| {
                (
                    tests[t].minutes / libm::log2(tests[t].classes.len() as f64),
                    t as u32,
                )
            })
            .collect();
        by_rate.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));

        let no_longer = no_longer(&tests, &detour);
        let same = (0..members.len())
            .flat_map(|a| tests.iter().map(move |t| t.classes[t.class_of[a] as usize]))
            .collect();
        let mut by_kind: Vec<Set> = vec![0; kind_count];
        for (a, &k) in kinds.iter().enumerate() {
            by_kind[k as usize] |= 1 << a;
        }
        let shared_kinds = by_kind.into_iter().filter(|k| k.count_ones() > 1).collect();
        let apart = separations(members.len(), &tests, &change);
        let farthest = apart
            .iter()
            .map(|row| farthest_first(row, &kinds))
            .collect();
        Self {
            members,
            raw_weights,
            weights,
            kinds,
            kind_count,
            tests,
            same,
            no_longer,
            shared_kinds,
            by_classes,
            by_rate,
            change,
            apart,
            farthest,
        }
    }

    /// The set of atoms that these weights leave, or `None` if they are not this
    /// base's weights with some atoms ruled out, bit for bit: then a new base is
    /// needed.
    pub fn set_for(&self, raw_weights: &[f64]) -> Option<Set> {
        let mut set = 0;
        let mut counted = 0;
        for (a, members) in self.members.iter().enumerate() {
            let same = members
                .iter()
                .filter(|&&h| raw_weights[h] == self.raw_weights[h])
                .count();
            if same == members.len() {
                set |= 1 << a;
                counted += same;
            } else if members.iter().any(|&h| raw_weights[h] > 0.0) {
                return None;
            }
        }
        let live = raw_weights.iter().filter(|&&w| w > 0.0).count();
        (live == counted).then_some(set)
    }

    pub fn all(&self) -> Set {
        let n = self.members.len();
        if n == Set::BITS as usize {
            Set::MAX
        } else {
            (1 << n) - 1
        }
    }

    /// The positions of the tests whose outcome is uncertain while `set` is left.
    pub fn splitting(&self, set: Set) -> impl Iterator<Item = usize> + '_ {
        let same = self.same_row(set);
        (0..same.len()).filter(move |&t| set & !same[t] != 0)
    }

    /// For each test, the atoms that share the outcome of the first atom of a set.
    pub fn same_row(&self, set: Set) -> &[Set] {
        if set == 0 {
            return &[];
        }
        let first = set.trailing_zeros() as usize * self.tests.len();
        &self.same[first..first + self.tests.len()]
    }

    pub fn weight_of(&self, set: Set) -> f64 {
        atoms_of(set).map(|a| self.weights[a]).sum()
    }
}

/// Joins hypotheses with the same outcome of every test: they stay together
/// whatever is done.
fn merge(problem: &Problem, raw: &[f64]) -> (Vec<Vec<usize>>, Vec<f64>) {
    let mut atom_by_column: BTreeMap<Vec<u8>, usize> = BTreeMap::new();
    let mut members: Vec<Vec<usize>> = Vec::new();
    for h in (0..raw.len()).filter(|&h| raw[h] > 0.0) {
        let column = problem.tests.iter().map(|t| t.outcomes[h]).collect();
        let atom = *atom_by_column.entry(column).or_insert(members.len());
        if atom == members.len() {
            members.push(Vec::new());
        }
        members[atom].push(h);
    }
    let total: f64 = raw.iter().sum();
    let weights = members
        .iter()
        .map(|m| m.iter().map(|&h| raw[h]).sum::<f64>() / total)
        .collect();
    (members, weights)
}

fn kinds_of(problem: &Problem, members: &[Vec<usize>]) -> (Vec<u16>, usize) {
    let mut by_group: BTreeMap<u32, u16> = BTreeMap::new();
    let mut count = 0_u16;
    let kinds = members
        .iter()
        .map(|m| {
            let group = problem.groups[m[0]];
            let pure = m.iter().all(|&h| problem.groups[h] == group);
            let known = if pure {
                by_group.get(&group).copied()
            } else {
                None
            };
            known.unwrap_or_else(|| {
                let kind = count;
                count += 1;
                if pure {
                    by_group.insert(group, kind);
                }
                kind
            })
        })
        .collect();
    (kinds, count as usize)
}

fn collect_tests(problem: &Problem, members: &[Vec<usize>]) -> Vec<BaseTest> {
    let mut tests = Vec::new();
    for (index, test) in problem.tests.iter().enumerate() {
        let mut classes: BTreeMap<u8, Set> = BTreeMap::new();
        for (a, m) in members.iter().enumerate() {
            *classes.entry(test.outcomes[m[0]]).or_insert(0) |= 1 << a;
        }
        if classes.len() < 2 {
            continue;
        }
        let labels: Vec<u8> = classes.keys().copied().collect();
        let class_of = members
            .iter()
            .map(|m| labels.partition_point(|&l| l < test.outcomes[m[0]]) as u8)
            .collect();
        tests.push(BaseTest {
            index,
            state: test.state,
            minutes: test.minutes,
            classes: classes.into_values().collect(),
            labels,
            class_of,
        });
    }
    tests.sort_by(|a, b| a.minutes.total_cmp(&b.minutes).then(a.index.cmp(&b.index)));
    tests
}

/// Drops each test that another does at least as well from wherever one stands.
///
/// If test A tells all that B tells, then doing A and going on to B's state is at
/// least as good as doing B, provided it takes no longer: whatever would be done
/// after B can be done after A, skipping what A has already told.
fn keep_best(tests: Vec<BaseTest>, detour: &[Vec<f64>]) -> Vec<BaseTest> {
    let mut kept: Vec<BaseTest> = Vec::new();
    for test in tests {
        let dominated = kept.iter().any(|k| {
            takes_no_longer(k, &test, detour) && refines(&k.classes, &test.classes, &test.class_of)
        });
        if !dominated {
            kept.push(test);
        }
    }
    kept
}

/// Whether making test `a` and going on to where `b` is made takes no longer than `b`.
fn takes_no_longer(a: &BaseTest, b: &BaseTest, detour: &[Vec<f64>]) -> bool {
    a.minutes + detour[a.state][b.state] <= b.minutes
}

fn no_longer(tests: &[BaseTest], detour: &[Vec<f64>]) -> Vec<Vec<u64>> {
    let words = tests.len().div_ceil(64);
    let row = |(position, test): (usize, &BaseTest)| {
        let mut row = vec![0; words];
        for (earlier, other) in tests[..position].iter().enumerate() {
            row[earlier / 64] |= u64::from(takes_no_longer(other, test, detour)) << (earlier % 64);
        }
        row
    };
    tests.iter().enumerate().map(row).collect()
}

/// Whether every part of `fine` lies within one class of the other test.
pub(crate) fn refines(fine: &[Set], classes: &[Set], class_of: &[u8]) -> bool {
    fine.iter().all(|&part| {
        let first = part.trailing_zeros() as usize;
        part & !classes[class_of[first] as usize] == 0
    })
}

/// `[a][b]`: the most that going to `a` first can add to a way to `b`.
fn detours(change: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let n = change.len();
    let mut out = vec![vec![0.0; n]; n];
    for a in 0..n {
        for b in 0..n {
            if a != b {
                out[a][b] = (0..n)
                    .map(|s| change[s][a] + change[a][b] - change[s][b])
                    .fold(0.0, f64::max);
            }
        }
    }
    out
}

fn separations(atoms: usize, tests: &[BaseTest], change: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let states = change.len();
    let mut here = vec![vec![f64::INFINITY; atoms * atoms]; states];
    for test in tests {
        let row = &mut here[test.state];
        for i in 0..atoms {
            for j in 0..atoms {
                if test.class_of[i] != test.class_of[j] && test.minutes < row[i * atoms + j] {
                    row[i * atoms + j] = test.minutes;
                }
            }
        }
    }
    (0..states)
        .map(|s| {
            (0..atoms * atoms)
                .map(|p| {
                    (0..states)
                        .map(|x| change[s][x] + here[x][p])
                        .fold(f64::INFINITY, f64::min)
                })
                .collect()
        })
        .collect()
}

fn farthest_first(apart: &[f64], kinds: &[u16]) -> Vec<Vec<u8>> {
    let n = kinds.len();
    (0..n)
        .map(|i| {
            let mut others: Vec<u8> = (0..n)
                .filter(|&j| kinds[j] != kinds[i])
                .map(|j| j as u8)
                .collect();
            others.sort_by(|&a, &b| {
                apart[i * n + b as usize]
                    .total_cmp(&apart[i * n + a as usize])
                    .then(a.cmp(&b))
            });
            others
        })
        .collect()
}
