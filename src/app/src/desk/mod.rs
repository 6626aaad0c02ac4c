//! A session on the desk: the car in front of the learner, the tool in their hand, what they
//! turned to, and the lines they have seen.
//!
//! Draws nothing and reads no clock: time comes in as seconds that have passed.

pub mod choice;
pub mod first_steps;
#[cfg(feature = "sound")]
pub mod heard;
pub mod job_steps;
pub mod judged;
pub mod keys;
pub mod line;
pub mod order;
pub mod socket;
pub mod thing;

use tracebay_core::session::{Action, MAX_WAIT_TICKS, Observation, Refusal, Session, View};
use tracebay_core::tools::ToolKind;
use tracebay_diagram::Notes;
use tracebay_grading::assign::Terms;

pub use line::{Line, Lines};
pub use order::{Order, Screen};
pub use thing::Thing;

/// Ticks of car time in a second.
const TICKS_PER_SECOND: f64 = 10.0;
/// Who does nothing for so long has gone away, and finds the car as it was then.
const ALONE_S: f64 = 120.0;
/// Time that has run is written at the latest after this long, though nothing was perceived in it: a
/// minute, in ticks.
const WRITTEN_TICKS: u32 = 600;

/// Who does the actions and keeps them. Keeping comes before showing.
pub trait Book: Send + Sync {
    /// Does one thing and keeps it; says what it showed only once it is kept.
    fn perform(&mut self, action: &Action) -> Result<Vec<Observation>, Trouble>;
    /// The session as far as it is kept.
    fn session(&self) -> &Session;
    /// Terms of the assignment it is work for, if it is.
    fn terms(&self) -> Option<&Terms> {
        None
    }
    /// Name by which the attempt can be opened again; empty, if it is not kept.
    fn name(&self) -> String;
    /// Where it is held instead, if it goes on without being kept.
    fn held_in(&self) -> Option<String> {
        None
    }
    /// The whole attempt as its file would say it, if there is one.
    fn text(&self) -> Option<String> {
        None
    }
    /// Tries again to keep what could not be kept.
    fn retry(&mut self) -> Result<Vec<Observation>, Trouble>;
    /// Goes on without keeping anything.
    fn go_on_unkept(&mut self) -> Vec<Observation>;
}

/// Why an action showed nothing.
#[derive(Clone, Debug, PartialEq)]
pub enum Trouble {
    /// It cannot be done.
    Refused(Refusal),
    /// It was done but could not be kept; in words.
    NotKept(String),
}

/// Keeps nothing; for pictures and tests.
pub struct Unkept(pub Session);

impl Book for Unkept {
    fn perform(&mut self, action: &Action) -> Result<Vec<Observation>, Trouble> {
        self.0.perform(action).map_err(Trouble::Refused)
    }

    fn session(&self) -> &Session {
        &self.0
    }

    fn name(&self) -> String {
        String::new()
    }

    fn retry(&mut self) -> Result<Vec<Observation>, Trouble> {
        Ok(Vec::new())
    }

    fn go_on_unkept(&mut self) -> Vec<Observation> {
        Vec::new()
    }
}

/// The session in work with everything about it that is not recorded.
///
/// Time runs in a copy of the session, so that the car can be watched; the record gets the time
/// that has passed as one wait before the next action. Both come to the same state, since waits
/// add up exactly.
pub struct Desk {
    book: Box<dyn Book>,
    live: Session,
    view: View,
    /// Ticks that the copy is ahead of the record.
    ahead_ticks: u32,
    /// What was asked for when the time before it could not be kept.
    held: Option<Action>,
    /// Part of a tick that has not yet run, seconds.
    rest_s: f64,
    /// How long nobody has been there, seconds.
    alone_s: f64,
    /// Tool in the hand.
    pub hand: Option<ToolKind>,
    /// Thing turned to.
    pub focus: Option<String>,
    /// Which of its points the keyboard is on.
    pub point: usize,
    /// Time stands still.
    pub paused: bool,
    /// What was said lately.
    pub lines: Lines,
    /// What the tool in hand showed last: it stays to be read until the next move.
    pub shown: Vec<Observation>,
    /// The last action could not be kept: why.
    pub not_kept: Option<String>,
    /// Raised with every change that a picture could show.
    pub revision: u64,
    /// What the grader said so far.
    pub judged: judged::Judged,
    /// The learner's notes on the wiring diagram: no actions, and judged by nobody.
    pub notes: Notes,
    /// Notes were changed and are to be kept.
    pub notes_changed: bool,
    /// The notes could not be kept: why.
    pub notes_not_kept: Option<String>,
}

impl Desk {
    /// A session on the desk.
    pub fn new(book: Box<dyn Book>) -> Desk {
        let mut live = book.session().clone();
        let view = live.view();
        let judged = judged::Judged::under(book.terms().cloned());
        Desk {
            book,
            live,
            view,
            ahead_ticks: 0,
            held: None,
            rest_s: 0.0,
            alone_s: 0.0,
            hand: None,
            focus: None,
            point: 0,
            paused: false,
            lines: Lines::default(),
            shown: Vec::new(),
            not_kept: None,
            revision: 0,
            judged,
            notes: Notes::default(),
            notes_changed: false,
            notes_not_kept: None,
        }
    }

    /// The session as it is at this moment, to ask it.
    pub fn session(&self) -> &Session {
        &self.live
    }

    /// What has been done and shown so far, as it is kept.
    pub fn log(&self) -> &[(Action, Vec<Observation>)] {
        let log = self.book.session().log();
        // The last thing done waits to be kept, and is not shown before.
        let waiting = usize::from(self.not_kept.is_some());
        &log[..log.len().saturating_sub(waiting)]
    }

    /// The car as it can be perceived now.
    pub fn view(&self) -> &View {
        &self.view
    }

    /// Terms of the assignment this is work for, if it is.
    pub fn terms(&self) -> Option<&Terms> {
        self.book.terms()
    }

    /// Name of the attempt in the save folder.
    pub fn attempt(&self) -> String {
        self.book.name()
    }

    /// Where the attempt is held, if it goes on without being kept.
    pub fn held_in(&self) -> Option<String> {
        self.book.held_in()
    }

    /// The whole attempt as its file would say it, kept or not.
    pub fn attempt_text(&self) -> Option<String> {
        self.book.text()
    }

    /// Does an action: first the time that has passed is recorded, then the action, then what it
    /// showed is put up.
    pub fn perform(&mut self, action: &Action) -> bool {
        self.attend();
        // Asked of the copy, so that a refusal leaves no wait in the record.
        if let Err(refusal) = self.live.check(action) {
            self.lines.push(Line::Refused(refusal));
            self.revision += 1;
            return false;
        }
        if !self.settle() {
            self.held = Some(action.clone());
            return false;
        }
        let done = self.book.perform(action);
        self.put_up(action, done)
    }

    fn put_up(&mut self, action: &Action, done: Result<Vec<Observation>, Trouble>) -> bool {
        let ok = match done {
            Ok(seen) => {
                self.shown = seen.iter().filter(|o| is_reading(o)).cloned().collect();
                self.lines.push(Line::Done(action.clone(), seen));
                true
            }
            Err(Trouble::Refused(refusal)) => {
                self.lines.push(Line::Refused(refusal));
                false
            }
            Err(Trouble::NotKept(why)) => {
                // The car is not followed: what was done is not shown before it is kept.
                self.not_kept = Some(why);
                self.revision += 1;
                return false;
            }
        };
        self.follow_book();
        if ok && matches!(action, Action::Go(_)) {
            self.turn_from_afar();
        }
        ok
    }

    /// Who walks away from a thing has turned away from it.
    fn turn_from_afar(&mut self) {
        let here = self.view.station;
        let left = self
            .thing()
            .is_some_and(|t| t.station(&self.live.case().vehicle) != Some(here));
        if left {
            self.turn_to(None);
        }
    }

    fn follow_book(&mut self) {
        self.live = self.book.session().clone();
        self.ahead_ticks = 0;
        self.look_again();
    }

    /// Writes the time that has run as one wait. False, if it could not be kept.
    pub fn settle(&mut self) -> bool {
        while self.ahead_ticks > 0 {
            let ticks = self.ahead_ticks.min(MAX_WAIT_TICKS);
            self.ahead_ticks -= ticks;
            match self.book.perform(&Action::Wait(ticks)) {
                Ok(_) => {}
                Err(Trouble::Refused(refusal)) => self.lines.push(Line::Refused(refusal)),
                Err(Trouble::NotKept(why)) => {
                    self.not_kept = Some(why);
                    return false;
                }
            }
        }
        true
    }

    /// Tries again to keep what could not be kept.
    pub fn retry(&mut self) {
        match self.book.retry() {
            Ok(seen) => {
                self.not_kept = None;
                self.lines.push(Line::Happened(seen));
                self.follow_book();
                self.do_held();
            }
            Err(Trouble::NotKept(why)) => self.not_kept = Some(why),
            Err(Trouble::Refused(refusal)) => self.lines.push(Line::Refused(refusal)),
        }
    }

    /// Goes on without keeping anything.
    pub fn go_on_unkept(&mut self) {
        let seen = self.book.go_on_unkept();
        self.not_kept = None;
        self.lines.push(Line::Happened(seen));
        self.follow_book();
        self.do_held();
    }

    /// Does what was asked for before something could not be kept.
    fn do_held(&mut self) {
        if let Some(action) = self.held.take() {
            self.perform(&action);
        }
    }

    /// Somebody is there.
    pub fn attend(&mut self) {
        self.alone_s = 0.0;
    }

    /// Lets real seconds pass at the car. True if something one can perceive changed. Pauses where nobody
    /// has been there for long.
    pub fn pass(&mut self, seconds: f64) -> bool {
        let still = self.paused || self.view.handed_back || self.not_kept.is_some();
        if still || !seconds.is_finite() || seconds <= 0.0 {
            return false;
        }
        let left_s = ALONE_S - self.alone_s;
        self.alone_s += seconds;
        self.rest_s += seconds.min(left_s);
        let mut changed = false;
        let ticks = (self.rest_s * TICKS_PER_SECOND) as u32;
        if ticks > 0 {
            self.rest_s -= f64::from(ticks) / TICKS_PER_SECOND;
            changed = self.run(ticks);
        }
        if self.alone_s >= ALONE_S {
            self.settle();
            self.paused = true;
            self.revision += 1;
        }
        changed
    }

    /// Lets the copy run ahead. What is perceived meanwhile is written before it is put up.
    fn run(&mut self, ticks: u32) -> bool {
        let before = self.view.clone();
        match self.live.perform(&Action::Wait(ticks)) {
            Ok(seen) => {
                self.ahead_ticks += ticks;
                let due = !seen.is_empty() || self.ahead_ticks >= WRITTEN_TICKS;
                if due && !self.settle() {
                    self.revision += 1;
                    return true;
                }
                if !seen.is_empty() {
                    self.lines.push(Line::Happened(seen));
                }
            }
            Err(refusal) => self.lines.push(Line::Refused(refusal)),
        }
        self.look_again();
        let mut after = self.view.clone();
        after.ticks = before.ticks;
        after.minutes = before.minutes;
        after != before
    }

    fn look_again(&mut self) {
        self.view = self.live.view();
        self.revision += 1;
    }

    /// Whether the car does something by itself now, so that time must run visibly.
    pub fn lively(&self) -> bool {
        let v = &self.view;
        !self.paused
            && !v.handed_back
            && (v.engine_running
                || v.dash.awake
                || v.dash.rpm > 0
                || !v.readings.is_empty()
                || !v.sounds.is_empty()
                || v.motion.motors.values().any(|share| *share > 0.0))
    }

    /// What the learner has turned to.
    pub fn thing(&self) -> Option<Thing> {
        self.focus
            .as_deref()
            .and_then(|id| Thing::find(&self.live.case().vehicle, id))
    }

    /// Turns to a thing.
    pub fn turn_to(&mut self, id: Option<String>) {
        if self.focus != id {
            self.focus = id;
            self.point = 0;
            self.revision += 1;
        }
    }

    /// Turns to the thing `by` steps along within reach.
    pub fn step_focus(&mut self, by: i32) {
        let things = thing::within_reach(&self.live.case().vehicle, self.view.station);
        if things.is_empty() {
            return;
        }
        let n = things.len() as i32;
        let next = match &self.focus {
            Some(id) => match things.iter().position(|t| t.id() == id) {
                Some(i) => (i as i32 + by).rem_euclid(n),
                None => 0,
            },
            None if by < 0 => n - 1,
            None => 0,
        };
        self.turn_to(Some(things[next as usize].id().to_owned()));
    }

    /// Carries out an order that concerns the desk. False, if it concerns something else.
    pub fn obey(&mut self, order: &Order) -> bool {
        self.attend();
        match order {
            Order::Do(action) => {
                self.perform(action);
            }
            Order::Take(tool) => {
                self.hand = *tool;
                self.shown.clear();
                self.revision += 1;
            }
            Order::Focus(id) => self.turn_to(id.clone()),
            Order::FocusStep(by) => self.step_focus(*by),
            Order::UsePoint(point) => match self.use_of_point(point) {
                Some(action) => {
                    self.perform(&action);
                }
                None => self.turn_to_point(point),
            },
            Order::Pause(on) => {
                self.paused = *on;
                self.revision += 1;
            }
            Order::Tell(sentence) => {
                self.lines.push(Line::Told(sentence.clone()));
                self.revision += 1;
            }
            Order::MarkOnDiagram(of, note) => {
                self.notes_changed |= self.notes.set(of.clone(), note.clone());
            }
            Order::KeepNotes => self.notes_changed = true,
            Order::Retry => self.retry(),
            Order::GoOnUnkept => self.go_on_unkept(),
            _ => return false,
        }
        true
    }

    /// With an empty hand, pointing at a point turns to the thing it belongs to.
    fn turn_to_point(&mut self, point: &str) {
        let found = self.live.points().iter().find(|p| p.id == point);
        let owner = found.map(|p| {
            if p.part.is_empty() {
                p.place.clone()
            } else {
                p.part.clone()
            }
        });
        if owner.is_some() {
            self.turn_to(owner);
        }
    }

    /// What pointing at a point with the tool in hand means: the first lead goes on and stays;
    /// after that the other one touches.
    pub fn use_of_point(&self, point: &str) -> Option<Action> {
        let tool = self.hand?;
        let leads = tool.leads();
        let first = *leads.first()?;
        let placed = self.view.leads.get(&tool).and_then(|l| l.get(&first));
        Some(match placed {
            None => Action::Put {
                tool,
                lead: first,
                point: point.to_owned(),
            },
            Some(_) => Action::Touch {
                tool,
                point: point.to_owned(),
            },
        })
    }
}

/// Whether an observation is what a tool shows.
pub fn is_reading(seen: &Observation) -> bool {
    matches!(
        seen,
        Observation::Light { .. }
            | Observation::Meter { .. }
            | Observation::Gauge { .. }
            | Observation::Temperature { .. }
    )
}
