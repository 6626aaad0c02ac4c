//! The solver: keeps what can be used again, and moves the contacts until they agree with their coils.
//!
//! Kept are the elimination pattern (as long as the structure stays), the values' tables and, for the last
//! few positions of the contacts, the operating point without tools and its factor (as long as no value
//! changes). A tool put on or moved starts from such a point; it never changes what is kept, so that the
//! result does not depend on the order of questions.

use super::balance::{Point, Still, ToolRow};
use super::error::SolveError;
use super::factor::{Factor, Island};
use super::network::{Attachment, Element, ElementId, Network, Structure};
use super::newton::{Failure, Work};
use super::pattern::Pattern;
use super::solution::Solution;
use super::state::{Pace, State, answer};
use super::tables::Tables;
use super::{device::Law, values};
use std::sync::Arc;

/// Operating points without tools that are kept.
const KEPT: usize = 4;

/// Finds operating points. Make one for a network's structure and use it for all copies of the network:
/// one whose structure differs is noticed and the solver then serves that.
#[derive(Clone, Debug)]
pub struct Solver {
    structure: Arc<Structure>,
    pattern: Arc<Pattern>,
    /// The values that `tables` and `bases` belong to, once some were accepted.
    elements: Option<Arc<Vec<Element>>>,
    tables: Tables,
    bases: Vec<Base>,
    work: Work,
    tools: Vec<ToolRow>,
    /// Begins each search at the point found before it.
    follows: bool,
    /// That point's voltages, after the values changed.
    left_at: Option<Vec<f64>>,
}

/// The operating point without tools, for one set of contact positions.
#[derive(Clone, Debug, Default)]
struct Base {
    positions: Vec<bool>,
    siemens: Vec<f64>,
    factor: Factor,
    labels: Vec<Island>,
    point: Point,
}

impl Solver {
    /// Chooses the order of elimination for a network's structure.
    pub fn new(net: &Network) -> Solver {
        Solver {
            structure: net.structure().clone(),
            pattern: Arc::new(Pattern::new(net.structure())),
            elements: None,
            tables: Tables::default(),
            bases: Vec::new(),
            work: Work::default(),
            tools: Vec::new(),
            follows: false,
            left_at: None,
        }
    }

    /// The same, for one network followed through time: each search begins where the last one ended, which is
    /// several times as fast. The answers keep Kirchhoff's law as closely, but their last bits depend on the
    /// order of questions; whoever wants the same bits must ask the same questions in the same order.
    #[must_use]
    pub fn following(mut self) -> Solver {
        self.follows = true;
        self
    }

    /// Finds the operating point, moving contacts from where `state` has them until all agree with their
    /// coils. `state` is changed only if that succeeds.
    ///
    /// # Errors
    /// [`SolveError`] says which.
    pub fn solve(
        &mut self,
        net: &Network,
        tools: &[Attachment],
        state: &mut State,
    ) -> Result<Solution, SolveError> {
        self.follow(net)?;
        self.take_tools(net, tools)?;
        let start = state.positions(&self.tables.contacts);
        let settled = match self.settle_contacts(net, tools, &start, Pace::Together)? {
            Some(positions) => positions,
            // All moving at once may swap two relays for ever that in truth race, and one of them wins.
            None => match self.settle_contacts(net, tools, &start, Pace::OneCoil)? {
                Some(positions) => positions,
                None => return Err(self.unsettled(net, tools, &start)),
            },
        };
        state.store(&self.tables.contacts, &settled, net.element_count());
        Ok(self.solution(tools, &start, &settled))
    }

    /// Finds the operating point with every contact held where `state` has it, whatever its coil says: one
    /// moment of a circuit that [`Solver::solve`] found [`SolveError::Unsettled`].
    ///
    /// # Errors
    /// [`SolveError`] says which; never that the contacts do not settle.
    pub fn solve_held(
        &mut self,
        net: &Network,
        tools: &[Attachment],
        state: &State,
    ) -> Result<Solution, SolveError> {
        self.follow(net)?;
        self.take_tools(net, tools)?;
        let positions = state.positions(&self.tables.contacts);
        self.settle_point(net, tools, &positions)?;
        Ok(self.solution(tools, &positions, &positions))
    }

    /// Brings what is kept in line with the network.
    fn follow(&mut self, net: &Network) -> Result<(), SolveError> {
        if !Arc::ptr_eq(&self.structure, net.structure()) {
            let (kept, new) = (&self.structure, net.structure());
            if kept.ends != new.ends || kept.node_count() != new.node_count() {
                self.pattern = Arc::new(Pattern::new(new));
                self.elements = None;
                self.bases.clear();
                self.left_at = None;
            }
            self.structure = new.clone();
        }
        let same = self
            .elements
            .as_ref()
            .is_some_and(|kept| Arc::ptr_eq(kept, net.elements()) || kept == net.elements());
        if !same {
            let kept = self.elements.take();
            if self.follows && !self.bases.is_empty() {
                self.left_at = Some(std::mem::take(&mut self.bases[0].point.volts));
            }
            self.bases.clear();
            match kept {
                Some(kept) => self.take_changes(&kept, net)?,
                None => {
                    values::check_network(net)?;
                    self.tables.fill(net.elements());
                }
            }
        }
        self.elements = Some(net.elements().clone());
        Ok(())
    }

    /// Checks and takes over the values that changed.
    fn take_changes(&mut self, kept: &[Element], net: &Network) -> Result<(), SolveError> {
        let mut fits = true;
        for (index, (from, to)) in kept.iter().zip(net.elements().iter()).enumerate() {
            if from != to {
                values::check_one(net, index)?;
                fits = fits && self.tables.change(index, from, to);
            }
        }
        if !fits {
            self.tables.fill(net.elements());
        }
        Ok(())
    }

    fn take_tools(&mut self, net: &Network, tools: &[Attachment]) -> Result<(), SolveError> {
        values::check_tools(tools, net.node_count())?;
        self.tools.clear();
        for tool in tools.iter().filter(|tool| tool.element != Element::Open) {
            let ends = [tool.a, tool.b].map(|end| self.pattern.place[end.0 as usize]);
            self.tools.push(ToolRow {
                ends,
                law: Law::of(&tool.element),
            });
        }
        Ok(())
    }

    /// The positions in which the contacts come to rest, with their operating point in `work`; `None` if
    /// they never do.
    fn settle_contacts(
        &mut self,
        net: &Network,
        tools: &[Attachment],
        start: &[bool],
        pace: Pace,
    ) -> Result<Option<Vec<bool>>, SolveError> {
        let mut seen = vec![start.to_vec()];
        // Each armature moves at most once on the way to rest, in all but contrived circuits.
        let most = 64 + 4 * start.len();
        loop {
            let positions = seen.last().expect("begins with one");
            self.settle_point(net, tools, positions)?;
            let next = answer(
                &self.tables.contacts,
                positions,
                &self.work.point.amps,
                pace,
            );
            if next == *positions {
                return Ok(seen.pop());
            }
            if seen.contains(&next) || seen.len() > most {
                return Ok(None);
            }
            seen.push(next);
        }
    }

    /// Goes round the cycle once more and notes who moves.
    fn unsettled(&mut self, net: &Network, tools: &[Attachment], start: &[bool]) -> SolveError {
        let contacts = &self.tables.contacts;
        let mut moves = vec![false; contacts.len()];
        let mut seen = vec![start.to_vec()];
        let most = 64 + 4 * start.len();
        loop {
            let positions = seen.last().expect("begins with one").clone();
            if let Err(error) = self.settle_point(net, tools, &positions) {
                return error;
            }
            let next = answer(
                &self.tables.contacts,
                &positions,
                &self.work.point.amps,
                Pace::OneCoil,
            );
            let again = seen.iter().position(|one| *one == next);
            seen.push(next);
            if again.is_none() && seen.len() <= most {
                continue;
            }
            for pair in seen[again.unwrap_or(most / 2)..].windows(2) {
                for (at, moved) in moves.iter_mut().enumerate() {
                    *moved |= pair[0][at] != pair[1][at];
                }
            }
            break;
        }
        let names = self
            .tables
            .contacts
            .iter()
            .zip(&moves)
            .filter(|(_, moved)| **moved);
        SolveError::Unsettled {
            contacts: names
                .map(|(row, _)| net.element_name(row.element).to_owned())
                .collect(),
        }
    }

    /// Finds the operating point for given positions, tools included; it is left in `work`.
    fn settle_point(
        &mut self,
        net: &Network,
        tools: &[Attachment],
        positions: &[bool],
    ) -> Result<(), SolveError> {
        let found = self
            .bases
            .iter()
            .position(|base| base.positions == positions);
        let base = match found {
            Some(at) => self.bases.remove(at),
            None => self.base(net, positions)?,
        };
        self.bases.insert(0, base);
        self.bases.truncate(KEPT);
        let base = &self.bases[0];
        let still = Still {
            pattern: &self.pattern,
            tables: &self.tables,
            siemens: &base.siemens,
        };
        if self.tools.is_empty() {
            self.work.point.clone_from(&base.point);
            self.work
                .ports
                .attach(std::iter::empty(), &base.labels, base.factor.floating());
            return Ok(());
        }
        let settled =
            self.work
                .settle_with(still, &self.tools, &base.point, &base.factor, &base.labels);
        settled.map_err(|failure| {
            no_convergence(
                net,
                &self.pattern,
                &base.labels,
                self.work.ports.merged(),
                tools,
                failure,
            )
        })
    }

    fn base(&mut self, net: &Network, positions: &[bool]) -> Result<Base, SolveError> {
        let mut base = if self.bases.len() >= KEPT {
            self.bases.pop().unwrap_or_default()
        } else {
            Base::default()
        };
        base.positions.clear();
        base.positions.extend_from_slice(positions);
        base.siemens.clone_from(&self.tables.siemens);
        for (row, &pulled) in self.tables.contacts.iter().zip(positions) {
            if pulled != row.closed_at_rest {
                base.siemens[row.element.0 as usize] = row.siemens;
            }
        }
        let still = Still {
            pattern: &self.pattern,
            tables: &self.tables,
            siemens: &base.siemens,
        };
        let near = self
            .bases
            .first()
            .map(|base| &base.point.volts)
            .or(self.left_at.as_ref())
            .filter(|_| self.follows);
        let found = near.is_some_and(|volts| {
            self.work
                .settle_near(still, volts, &mut base.factor, &mut base.labels)
                .is_ok()
        });
        let settled = if found {
            Ok(())
        } else {
            self.work.settle(still, &mut base.factor, &mut base.labels)
        };
        settled.map_err(|failure| {
            no_convergence(
                net,
                &self.pattern,
                &base.labels,
                self.work.ports.merged(),
                &[],
                failure,
            )
        })?;
        base.point.clone_from(&self.work.point);
        Ok(base)
    }

    fn solution(&self, tools: &[Attachment], start: &[bool], settled: &[bool]) -> Solution {
        let labels = &self.bases[0].labels;
        let merged = self.work.ports.merged();
        let point = &self.work.point;
        let place = &self.pattern.place;
        let mut tool_amps = point.tool_amps.iter().copied();
        let contacts = self.tables.contacts.iter().zip(start.iter().zip(settled));
        Solution {
            volts: place.iter().map(|&at| point.volts[at as usize]).collect(),
            islands: place
                .iter()
                .map(|&at| merged[labels[at as usize] as usize])
                .collect(),
            amps: point.amps.clone(),
            tool_amps: tools
                .iter()
                .map(|tool| {
                    if tool.element == Element::Open {
                        0.0
                    } else {
                        tool_amps.next().unwrap_or(0.0)
                    }
                })
                .collect(),
            closed: contacts
                .clone()
                .filter(|(row, (_, now))| **now != row.closed_at_rest)
                .map(|(row, _)| row.element)
                .collect(),
            flipped: contacts
                .filter(|(_, (before, now))| before != now)
                .map(|(row, _)| row.element)
                .collect(),
        }
    }
}

/// Names the elements of the island in which the failure lies, and the tools on it.
fn no_convergence(
    net: &Network,
    pattern: &Pattern,
    labels: &[Island],
    merged: &[Island],
    tools: &[Attachment],
    failure: Failure,
) -> SolveError {
    let island = |place: u32| merged[labels[place as usize] as usize];
    let failed = island(failure.place as u32);
    let inside = |end: u32| end as usize != pattern.n && island(end) == failed;
    let elements = pattern
        .ends
        .iter()
        .enumerate()
        .filter(|(_, ends)| ends.iter().any(|&end| inside(end)));
    let elements = elements.map(|(index, _)| net.element_name(ElementId(index as u32)).to_owned());
    let on_it = |tool: &Attachment| {
        [tool.a, tool.b]
            .iter()
            .any(|end| inside(pattern.place[end.0 as usize]))
    };
    let tools = tools.iter().enumerate().filter(|(_, tool)| on_it(tool));
    SolveError::NoConvergence {
        elements: elements
            .chain(tools.map(|(index, _)| values::tool_name(index)))
            .collect(),
    }
}
