//! What one tool at a time would show on a network that stands still, from what was worked out once.
//!
//! A network of straight elements is, seen from two of its nodes, one source behind one resistance. What is
//! curved is kept apart: each curved element is its tangent at the point without tools, which is of the
//! network, and an excess that is found together with the tool's current. Nothing is as large as the network
//! then: a tool costs a few dozen products instead of a solve.
//!
//! Knows one tool at a time. Where the way is not soon found it says so, and the solver must go the long one.

use super::balance::{Point, Still, ToolRow, across};
use super::dense::Dense;
use super::device::{Law, Tangent};
use super::factor::{Factor, Island};
use super::newton::ERROR_V;
use super::pattern::Pattern;
use super::ports::PortEnds;
use super::tables::ContactRow;
use std::sync::OnceLock;

/// Rounds of a search before the long way is taken; three are the rule.
const ROUNDS: usize = 12;
/// Volts within which a tool's own voltage is found, far within [`ERROR_V`].
const TOOL_CLOSE_V: f64 = 1e-12;
/// Rounds to find a tool's voltage on one source behind one resistance.
const TOOL_ROUNDS: usize = 40;
/// A curved element whose slope has changed by more than this share of what lies around it is followed by
/// Newton's method, a lesser one by repetition.
const STEEP: f64 = 0.02;
/// A resistance that is the difference of others is not used below this share of them: too few digits are left.
const FEWEST_DIGITS: f64 = 1e-6;

/// What a tool shows between two nodes.
#[derive(Copy, Clone, Debug, PartialEq)]
pub struct Tried {
    /// Voltage from its end `a` to its end `b`.
    pub volts: f64,
    /// Current through it, counted from `a` to `b`.
    pub amps: f64,
}

/// An element that is watched: a curved one, or the coil of a contact.
#[derive(Clone, Debug)]
struct Watched {
    law: Law,
    /// Voltage, current and slope without the tool.
    volts: f64,
    at: Tangent,
}

/// A network at its point without tools, seen from everywhere.
#[derive(Clone, Debug)]
pub(super) struct Outlook {
    /// The curved elements first.
    watched: Vec<Watched>,
    curved: usize,
    /// For each contact, which of `watched` is its coil; none where that conducts nothing.
    coils: Vec<Option<usize>>,
    /// For each place, what one ampere through each of `watched` makes of its voltage.
    seen: Vec<f64>,
    /// For each of `watched`, what one ampere through each curved one makes of the voltage across it.
    mutual: Vec<f64>,
    /// What one ampere into each place makes of its own voltage.
    own_ohms: Vec<f64>,
    /// By place; 0 has a path to ground.
    islands: Vec<Island>,
    factor: Factor,
    /// Where one lead mostly stays: what one ampere into that place makes of all voltages.
    parked: [OnceLock<(u32, Vec<f64>)>; 2],
}

/// Buffers of [`Outlook::try_on`]; nothing in them is carried over.
#[derive(Clone, Debug, Default)]
pub(super) struct Trial {
    /// What one ampere through the tool makes of the voltage across each of the watched.
    from_tool: Vec<f64>,
    /// What each curved element carries beyond its tangent.
    excess: Vec<f64>,
    /// By how much that is wrong.
    missing: Vec<f64>,
    /// How much its slope has changed.
    bends: Vec<f64>,
    steep: Vec<usize>,
    dense: Dense,
}

impl Outlook {
    /// Looks out from a network's point without tools.
    pub(super) fn new(still: Still, point: &Point) -> Outlook {
        let (pattern, tables) = (still.pattern, still.tables);
        let mut elements: Vec<usize> = Vec::new();
        let mut watched: Vec<Watched> = Vec::new();
        let mut watch = |element: usize, law: Law| {
            // One coil moves several contacts.
            if let Some(known) = elements.iter().position(|&known| known == element) {
                return known;
            }
            let volts = across(&point.volts, pattern.ends[element]);
            elements.push(element);
            watched.push(Watched {
                law,
                volts,
                at: law.tangent(volts),
            });
            watched.len() - 1
        };
        for (element, device) in &tables.curved {
            watch(*element as usize, Law::Curve(*device));
        }
        let coils = tables.contacts.iter().map(|row| {
            let coil = row.coil.0 as usize;
            let (siemens, emf_v) = (still.siemens[coil], tables.emf_v[coil]);
            let curved = tables.curved.iter().any(|(e, _)| *e as usize == coil);
            let conducts = curved || siemens != 0.0;
            conducts.then(|| watch(coil, Law::Line { siemens, emf_v }))
        });
        let coils: Vec<Option<usize>> = coils.collect();

        let mut factor = Factor::default();
        let slopes = watched.iter().map(|one| one.at.siemens);
        factor.take(still, slopes.take(tables.curved.len()));
        let mut islands = Vec::new();
        factor.label(pattern, &mut islands);
        let mut outlook = Outlook {
            curved: tables.curved.len(),
            coils,
            seen: vec![0.0; (pattern.n + 1) * watched.len()],
            mutual: Vec::with_capacity(watched.len() * tables.curved.len()),
            own_ohms: factor.resistances(pattern),
            watched,
            factor,
            islands,
            parked: Default::default(),
        };
        outlook.own_ohms.push(0.0);
        let ends: Vec<PortEnds> = elements.iter().map(|&at| pattern.ends[at]).collect();
        outlook.look_from(&ends, pattern);
        outlook
    }

    fn look_from(&mut self, ends: &[PortEnds], pattern: &Pattern) {
        let mut volts = Vec::new();
        for (one, &[a, b]) in ends.iter().enumerate() {
            volts.clear();
            volts.resize(pattern.n + 1, 0.0);
            if a == b {
                continue;
            }
            volts[a as usize] = 1.0;
            volts[b as usize] = -1.0;
            volts[pattern.n] = 0.0;
            self.factor.solve(pattern, &mut volts);
            for (row, volts) in self.seen.chunks_exact_mut(ends.len()).zip(&volts) {
                row[one] = *volts;
            }
        }
        for &[a, b] in ends {
            let (a, b) = (self.seen_from(a), self.seen_from(b));
            let ohms = a.iter().zip(b).map(|(a, b)| a - b);
            let ohms: Vec<f64> = ohms.take(self.curved).collect();
            self.mutual.extend(ohms);
        }
    }

    fn seen_from(&self, place: u32) -> &[f64] {
        let count = self.watched.len();
        &self.seen[place as usize * count..][..count]
    }

    fn mutual(&self, one: usize) -> &[f64] {
        &self.mutual[one * self.curved..][..self.curved]
    }

    /// What one ampere into `place` makes of the voltage of `other`.
    fn ohms_between(&self, pattern: &Pattern, place: u32, other: u32) -> f64 {
        if place as usize == pattern.n {
            return 0.0;
        }
        let work_out = || {
            let mut volts = vec![0.0; pattern.n + 1];
            volts[place as usize] = 1.0;
            self.factor.solve(pattern, &mut volts);
            volts
        };
        for kept in &self.parked {
            let (at, volts) = kept.get_or_init(|| (place, work_out()));
            if *at == place {
                return volts[other as usize];
            }
        }
        work_out()[other as usize]
    }

    /// What a tool shows, with the contacts in `positions`. `None` where it takes the long way to tell.
    pub(super) fn try_on(
        &self,
        still: Still,
        tool: ToolRow,
        point: &Point,
        positions: &[bool],
        trial: &mut Trial,
    ) -> Option<Tried> {
        let [a, b] = tool.ends;
        let tied = |place: u32| self.islands[place as usize] == 0;
        if a == b || !tied(a) || !tied(b) {
            return None;
        }
        let (at_a, at_b) = (self.own_ohms[a as usize], self.own_ohms[b as usize]);
        let ohms = at_a + at_b - 2.0 * self.ohms_between(still.pattern, b, a);
        if ohms.is_nan() || ohms < FEWEST_DIGITS * at_a.max(at_b) {
            return None;
        }
        let seen = self.seen_from(a).iter().zip(self.seen_from(b));
        trial.from_tool.clear();
        trial.from_tool.extend(seen.map(|(a, b)| a - b));
        trial.excess.clear();
        trial.excess.resize(self.curved, 0.0);
        let open_v = across(&point.volts, tool.ends);
        for _ in 0..ROUNDS {
            let pulled_down_v = dot(&trial.from_tool, &trial.excess);
            let found = alone(&tool.law, open_v - pulled_down_v, ohms)?;
            self.bend(found.amps, trial);
            let moved_v = self.correct(&found, ohms, &tool.law, trial)?;
            if moved_v <= ERROR_V {
                return self
                    .contacts_stay(&still.tables.contacts, positions, &found, trial)
                    .then_some(found);
            }
        }
        None
    }

    /// How the voltage across one of the watched changes with the tool's current and the excesses at hand.
    fn change(&self, one: usize, tool_amps: f64, trial: &Trial) -> f64 {
        -trial.from_tool[one] * tool_amps - dot(self.mutual(one), &trial.excess)
    }

    /// What each curved element's excess would be where its voltage now is, against what it is taken to be,
    /// and how much its slope has changed there.
    fn bend(&self, tool_amps: f64, trial: &mut Trial) {
        trial.missing.clear();
        trial.bends.clear();
        for one in 0..self.curved {
            let change_v = self.change(one, tool_amps, trial);
            let Watched { law, volts, at } = &self.watched[one];
            let now = law.tangent(volts + change_v);
            let excess = now.amps - at.amps - at.siemens * change_v;
            trial.missing.push(excess - trial.excess[one]);
            trial.bends.push(now.siemens - at.siemens);
        }
    }

    /// Corrects the excesses; returns a bound of what that changes of any watched voltage and the tool's.
    fn correct(&self, found: &Tried, ohms: f64, law: &Law, trial: &mut Trial) -> Option<f64> {
        let Trial {
            from_tool,
            excess,
            missing,
            bends,
            steep,
            dense,
        } = trial;
        steep.clear();
        steep.extend(
            (0..self.curved).filter(|&one| (bends[one] * self.mutual(one)[one]).abs() > STEEP),
        );
        if !steep.is_empty() {
            // What the tool's current gives way for each volt that its source loses.
            let slope = law.tangent(found.volts).siemens;
            let yields = slope / (1.0 + slope * ohms);
            dense.clear(steep.len());
            for (row, &one) in steep.iter().enumerate() {
                for (column, &other) in steep.iter().enumerate() {
                    let volts =
                        self.mutual(one)[other] - from_tool[one] * yields * from_tool[other];
                    *dense.cell(row, column) = bends[one] * volts;
                }
                *dense.cell(row, row) += 1.0;
                *dense.right(row) = missing[one];
            }
            if !dense.solve() {
                return None;
            }
            for (row, &one) in steep.iter().enumerate() {
                missing[one] = *dense.right(row);
            }
        }
        for (excess, missing) in excess.iter_mut().zip(&*missing) {
            *excess += missing;
        }
        let reach = |ohms: &[f64]| {
            let each = ohms.iter().zip(&*missing);
            each.map(|(ohms, amps)| (ohms * amps).abs()).sum::<f64>()
        };
        let most = (0..self.curved).fold(reach(&from_tool[..self.curved]), |most, one| {
            most.max(reach(self.mutual(one)))
        });
        most.is_finite().then_some(most)
    }

    /// Whether every contact stays where it is with what its coil now carries.
    fn contacts_stay(
        &self,
        contacts: &[ContactRow],
        positions: &[bool],
        found: &Tried,
        trial: &Trial,
    ) -> bool {
        let mut rows = contacts.iter().zip(&self.coils).zip(positions);
        rows.all(|((row, coil), &pulled)| {
            let amps = coil.map_or(0.0, |one| {
                let change_v = self.change(one, found.amps, trial);
                let Watched { law, volts, .. } = &self.watched[one];
                law.amps(volts + change_v).abs()
            });
            row.pulls(pulled, amps) == pulled
        })
    }
}

fn dot(ohms: &[f64], amps: &[f64]) -> f64 {
    ohms.iter().zip(amps).map(|(ohms, amps)| ohms * amps).sum()
}

/// A tool by itself on a source behind a resistance. The current rises with the voltage, so that there is one
/// answer, and Newton's steps lead to it in all but contrived cases.
fn alone(law: &Law, source_v: f64, ohms: f64) -> Option<Tried> {
    if let Law::Line { siemens, emf_v } = *law {
        let volts = (source_v + ohms * siemens * emf_v) / (1.0 + ohms * siemens);
        let amps = siemens * (volts - emf_v);
        return amps.is_finite().then_some(Tried { volts, amps });
    }
    let mut volts = source_v;
    for _ in 0..TOOL_ROUNDS {
        let Tangent { amps, siemens } = law.tangent(volts);
        let step = (source_v - ohms * amps - volts) / (1.0 + ohms * siemens);
        volts += step;
        if step.abs() <= TOOL_CLOSE_V {
            let amps = law.amps(volts);
            return amps.is_finite().then_some(Tried { volts, amps });
        }
    }
    None
}
