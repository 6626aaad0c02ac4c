//! The solver: keeps what can be used again, and moves the contacts until they agree with their coils.
//!
//! Kept are the elimination pattern (as long as the structure stays), the values' tables and, for the last
//! few positions of the contacts, the operating point without tools and its factor (as long as no value
//! changes). A tool put on or moved starts from such a point; it never changes what is kept, so that the
//! result does not depend on the order of questions. Buffers are the thread's, and carry nothing over.

use super::balance::{Point, Still, ToolRow};
use super::error::SolveError;
use super::factor::{Factor, Island};
use super::network::{Attachment, Element, ElementId, Network, Structure};
use super::newton::{Failure, Work};
use super::outlook::{Outlook, Tried};
use super::pattern::Pattern;
use super::solution::Solution;
use super::state::{Pace, State, answer};
use super::tables::Tables;
use super::values;
use std::cell::Cell;
use std::sync::{Arc, OnceLock};

/// Operating points without tools that are kept.
const KEPT: usize = 4;

thread_local! {
    /// Buffers of the solve that is going on in this thread. Copies of solvers are made by the thousand; none
    /// needs buffers of its own.
    static WORK: Cell<Work> = Cell::default();
    /// A point that nobody keeps any more, for its memory.
    static SPARE: Cell<Base> = Cell::default();
}

/// Finds operating points. Make one for a network's structure and use it for all copies of the network:
/// one whose structure differs is noticed and the solver then serves that.
#[derive(Clone, Debug)]
pub struct Solver {
    structure: Arc<Structure>,
    pattern: Arc<Pattern>,
    /// The values that `tables` and `bases` belong to, once some were accepted.
    elements: Option<Arc<Vec<Element>>>,
    tables: Arc<Tables>,
    bases: Vec<Arc<Base>>,
    /// Borrowed from the thread for the time of a solve, and empty else.
    work: Work,
    tools: Vec<ToolRow>,
    /// Begins each search at the point found before it.
    follows: bool,
    /// That point, after the values changed.
    left_at: Option<Arc<Base>>,
}

/// The operating point without tools, for one set of contact positions.
#[derive(Clone, Debug, Default)]
struct Base {
    positions: Vec<bool>,
    siemens: Vec<f64>,
    factor: Factor,
    labels: Vec<Island>,
    point: Point,
    /// Worked out where tools are only tried on.
    outlook: OnceLock<Outlook>,
}

impl Solver {
    /// Chooses the order of elimination for a network's structure.
    pub fn new(net: &Network) -> Solver {
        Solver {
            structure: net.structure().clone(),
            pattern: Arc::new(Pattern::new(net.structure())),
            elements: None,
            tables: Arc::default(),
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

    /// Whether the network is wired as the one it was made for: another makes it choose the order anew.
    pub(crate) fn serves(&self, net: &Network) -> bool {
        let (kept, new) = (&self.structure, net.structure());
        Arc::ptr_eq(kept, new) || kept.ends == new.ends && kept.node_count() == new.node_count()
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
        self.with_buffers(|solver| solver.find(net, tools, state))
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
        self.with_buffers(|solver| {
            solver.follow(net)?;
            solver.take_tools(net, tools)?;
            let positions = state.positions(&solver.tables.contacts);
            solver.settle_point(net, tools, &positions)?;
            Ok(solver.solution(tools, &positions, &positions))
        })
    }

    fn with_buffers<T>(&mut self, solve: impl FnOnce(&mut Solver) -> T) -> T {
        self.work = WORK.take();
        let found = solve(self);
        WORK.set(std::mem::take(&mut self.work));
        found
    }

    fn find(
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

    /// What one tool would show between two nodes, with the contacts as they are, without working out what
    /// the rest of the network does. `None` where that takes a whole solve: for a network that was not the
    /// last one solved, where the tool ties islands together or moves a contact, and where the way there is
    /// not soon found.
    ///
    /// Sooner than [`Solver::solve`] where many tools are tried on the same network, and as exact, but not to
    /// the same last bits.
    pub fn try_on(&self, net: &Network, tool: &Attachment, state: &State) -> Option<Tried> {
        let known = self.elements.as_ref()?;
        if !self.serves(net) || !Arc::ptr_eq(known, net.elements()) && known != net.elements() {
            return None;
        }
        values::check_tools(std::slice::from_ref(tool), net.node_count()).ok()?;
        let tool = ToolRow::of(tool, &self.pattern)?;
        let positions = state.positions(&self.tables.contacts);
        let base = self.bases.iter().find(|base| base.positions == positions)?;
        let still = Still {
            pattern: &self.pattern,
            tables: &self.tables,
            siemens: &base.siemens,
        };
        let outlook = base
            .outlook
            .get_or_init(|| Outlook::new(still, &base.point));
        let mut work = WORK.take();
        let tried = outlook.try_on(still, tool, &base.point, &positions, &mut work.trial);
        WORK.set(work);
        tried
    }

    /// Brings what is kept in line with the network.
    fn follow(&mut self, net: &Network) -> Result<(), SolveError> {
        if !self.serves(net) {
            self.pattern = Arc::new(Pattern::new(net.structure()));
            self.elements = None;
            self.bases.clear();
            self.left_at = None;
        }
        self.structure.clone_from(net.structure());
        let elements = net.elements();
        let changes = match &self.elements {
            Some(kept) if Arc::ptr_eq(kept, elements) => return Ok(()),
            Some(kept) => changes(kept, net),
            None => Vec::new(),
        };
        if self.elements.is_none() || !changes.is_empty() {
            let kept = self.elements.take();
            let mut left: Vec<Arc<Base>> = std::mem::take(&mut self.bases);
            if self.follows && !left.is_empty() {
                let before = self.left_at.replace(left.swap_remove(0));
                left.extend(before);
            }
            left.into_iter()
                .filter_map(Arc::into_inner)
                .for_each(|base| SPARE.set(base));
            match kept {
                Some(kept) => self.take_changes(&kept, net, &changes)?,
                None => {
                    values::check_network(net)?;
                    self.tables = Arc::new(Tables::of(elements));
                }
            }
        }
        self.elements = Some(elements.clone());
        Ok(())
    }

    /// Checks and takes over the values that changed.
    fn take_changes(
        &mut self,
        kept: &[Element],
        net: &Network,
        changes: &[u32],
    ) -> Result<(), SolveError> {
        let tables = Arc::make_mut(&mut self.tables);
        let mut fits = true;
        for index in changes.iter().map(|&index| index as usize) {
            values::check_one(net, index)?;
            fits = fits && tables.change(index, &kept[index], &net.elements()[index]);
        }
        if !fits {
            *tables = Tables::of(net.elements());
        }
        Ok(())
    }

    fn take_tools(&mut self, net: &Network, tools: &[Attachment]) -> Result<(), SolveError> {
        values::check_tools(tools, net.node_count())?;
        self.tools.clear();
        let rows = tools
            .iter()
            .filter_map(|tool| ToolRow::of(tool, &self.pattern));
        self.tools.extend(rows);
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
        self.bring_up(net, positions)?;
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

    /// Finds the operating point without tools, or finds it again, and puts it first.
    fn bring_up(&mut self, net: &Network, positions: &[bool]) -> Result<(), SolveError> {
        let found = self
            .bases
            .iter()
            .position(|base| base.positions == positions);
        let base = match found {
            Some(at) => self.bases.remove(at),
            None => Arc::new(self.base(net, positions)?),
        };
        self.bases.insert(0, base);
        self.bases.truncate(KEPT);
        Ok(())
    }

    fn base(&mut self, net: &Network, positions: &[bool]) -> Result<Base, SolveError> {
        let mut base = SPARE.take();
        base.positions.clear();
        base.positions.extend_from_slice(positions);
        base.siemens.clone_from(&self.tables.siemens);
        base.outlook.take();
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
            .or(self.left_at.as_ref())
            .filter(|_| self.follows);
        let found = near.is_some_and(|near| {
            self.work
                .settle_near(still, &near.point.volts, &mut base.factor, &mut base.labels)
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

/// The elements that are not as they were kept, rising.
fn changes(kept: &Arc<Vec<Element>>, net: &Network) -> Vec<u32> {
    let now = net.elements();
    let differs = |index: &u32| kept[*index as usize] != now[*index as usize];
    match net.set_since(kept) {
        Some(set) => {
            let mut changes: Vec<u32> = set.iter().copied().filter(differs).collect();
            changes.sort_unstable();
            changes.dedup();
            changes
        }
        None => (0..now.len() as u32).filter(differs).collect(),
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
