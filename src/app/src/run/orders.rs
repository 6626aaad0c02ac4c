//! Carries out what was asked for, and lets time pass at the car.

use bevy::prelude::*;
use bevy::window::{RequestRedraw, WindowCloseRequested, WindowEvent};
use bevy_egui::EguiPostUpdateSet;

use super::paint::Open;
use super::{Asked, AtDesk, Frame, InForce, OnShelf, Shown, Spoken};
use crate::assigned::Opened;
use crate::desk::{Book, Desk, Line, Order, Screen};
use crate::platform::{self, Shelf};
use crate::text::Text;

/// Adds the carrying out of orders.
pub struct OrdersPlugin;

impl Plugin for OrdersPlugin {
    fn build(&self, app: &mut App) {
        app.add_systems(Update, let_time_pass.in_set(Frame::Time))
            .add_systems(First, write_at_the_end)
            // In the frame in which it was asked: the next one shows it done.
            .add_systems(PostUpdate, carry_out.after(EguiPostUpdateSet::EndPass));
    }
}

/// Real time runs at the car while one is there and nothing stands in front of it.
fn let_time_pass(
    time: Res<Time<Real>>,
    shown: Res<State<Shown>>,
    open: Res<Open>,
    spoken: Res<Spoken>,
    mut events: MessageReader<WindowEvent>,
    mut at_desk: ResMut<AtDesk>,
) {
    // Not marked as changed by looking: the scene follows changes.
    let desk = at_desk.bypass_change_detection();
    let Some(desk) = &mut desk.0 else { return };
    desk.lines.at(time.elapsed_secs_f64());
    if shown.get().0 != Screen::Work || open.board.menu {
        events.clear();
        return;
    }
    let paused_before = desk.paused;
    if events.read().any(is_a_hand) {
        desk.attend();
    }
    let changed = desk.pass(time.delta_secs_f64());
    if desk.paused && !paused_before {
        desk.lines.push(Line::Told(spoken.0.get("paused-alone")));
    }
    if changed || desk.paused != paused_before {
        at_desk.set_changed();
    }
}

/// Whether this came from somebody who is there.
fn is_a_hand(event: &WindowEvent) -> bool {
    matches!(
        event,
        WindowEvent::CursorMoved(_)
            | WindowEvent::KeyboardInput(_)
            | WindowEvent::MouseButtonInput(_)
            | WindowEvent::MouseWheel(_)
            | WindowEvent::TouchInput(_)
    )
}

/// What has run by then is written when the window is closed.
fn write_at_the_end(mut closing: MessageReader<WindowCloseRequested>, mut at_desk: ResMut<AtDesk>) {
    if closing.read().next().is_some()
        && let Some(desk) = &mut at_desk.0
    {
        desk.settle();
    }
}

fn carry_out(
    mut asked: ResMut<Asked>,
    mut at_desk: ResMut<AtDesk>,
    mut shelf: ResMut<OnShelf>,
    mut settings: ResMut<InForce>,
    mut spoken: ResMut<Spoken>,
    mut open: ResMut<Open>,
    mut next: ResMut<NextState<Shown>>,
    shown: Res<State<Shown>>,
    mut redraw: MessageWriter<RequestRedraw>,
    mut exit: MessageWriter<AppExit>,
) {
    if asked.0.is_empty() {
        return;
    }
    redraw.write(RequestRedraw);
    for order in std::mem::take(&mut asked.0) {
        if let Some(desk) = &mut at_desk.0 {
            let before = desk.view().handed_back;
            if desk.obey(&order) {
                // At once, or when what was asked for could be kept at last.
                if !before && desk.view().handed_back {
                    // A page loaded again must not begin the case anew whose answer is now shown.
                    platform::at_case(None);
                    next.set(Shown(Screen::Debrief));
                }
                // By whatever name somebody pressed who hears the window: what lies under the menu has one too.
                if order == Order::Pause(false) {
                    open.board.menu = false;
                }
                if order == Order::GoOnUnkept && !platform::IN_A_PAGE {
                    desk.lines.push(Line::Told(where_held(&spoken.0, desk)));
                }
                if desk.notes_changed {
                    shelf.0.keep_notes(&spoken.0, desk);
                }
                continue;
            }
        }
        match order {
            Order::Open(screen) => {
                // Not while the slip hides it: what is told stays for seconds only.
                if let (Screen::Slip, Screen::Work, Some(desk), Some(warning)) =
                    (shown.get().0, screen, &mut at_desk.0, &open.warning)
                {
                    desk.obey(&Order::Tell(warning.clone()));
                }
                open.came_from = shown.get().0;
                open.refresh_recent = true;
                next.set(Shown(screen));
            }
            Order::Begin { scenario, seed } => {
                let begun = shelf.0.begin(&spoken.0.words, &scenario, seed);
                settle_in(
                    begun,
                    &shelf.0,
                    "tell-begin-failed",
                    &spoken.0,
                    &mut at_desk,
                    &mut open,
                    &mut next,
                );
            }
            Order::Assignment { name, text } => {
                let words = &spoken.0.words;
                let taken = text
                    .map_err(|why| format!("{name}: {why}"))
                    .and_then(|text| shelf.0.take_assignment(words, &name, &text, None));
                let opened = taken.is_ok();
                open.trouble = taken.err();
                open.refresh_recent = true;
                match &mut at_desk.0 {
                    None => next.set(Shown(Screen::Title)),
                    Some(desk) if opened => {
                        desk.obey(&Order::Tell(spoken.0.get("assigned-opened")));
                    }
                    Some(_) => {}
                }
            }
            Order::ChooseFile => platform::ask_for_file(),
            Order::HandOut(name) => {
                open.trouble = match &at_desk.0 {
                    // Kept nowhere: all there is of it is on the desk.
                    Some(desk) if name.is_empty() => {
                        let text = desk.attempt_text().unwrap_or_default();
                        platform::hand_out("attempt.jsonl", &text);
                        None
                    }
                    _ => shelf.0.hand_out(&spoken.0.words, &name).err(),
                };
            }
            Order::HandOutDiagram { name, svg } => {
                let handed = shelf.0.hand_out_diagram(&spoken.0.words, &name, &svg);
                match (handed, &mut at_desk.0) {
                    (Ok(Some(path)), Some(desk)) => {
                        let gap = [("path", (&path).into())];
                        let told = spoken.0.fill("diagram-handed-out", &gap);
                        desk.obey(&Order::Tell(told));
                    }
                    (Ok(_), _) => {}
                    (Err(why), _) => open.trouble = Some(why),
                }
            }
            Order::Forget(name) => {
                open.trouble = shelf.0.forget(&spoken.0.words, &name).err();
                open.refresh_recent = true;
            }
            Order::Identify(id) => {
                open.trouble = shelf.0.identify(&spoken.0.words, &id).err();
                open.refresh_recent = true;
            }
            Order::Task(index) => {
                put_aside(&mut at_desk, &mut shelf.0, &spoken.0);
                let begun = shelf.0.take_task(&spoken.0.words, index);
                take_up(
                    begun,
                    &shelf.0,
                    "tell-begin-failed",
                    &spoken.0,
                    &mut at_desk,
                    &mut open,
                    &mut next,
                );
            }
            Order::Again { same_seed } => {
                let Some(case) = at_desk.0.as_ref().map(|d| d.session().case().clone()) else {
                    continue;
                };
                if at_desk.0.as_ref().is_some_and(|d| d.terms().is_some()) {
                    // Its attempts are counted: the next one is begun from the first screen.
                    continue;
                }
                put_aside(&mut at_desk, &mut shelf.0, &spoken.0);
                let seed = same_seed.then_some(case.seed);
                let begun = shelf.0.begin(&spoken.0.words, &case.scenario.id, seed);
                settle_in(
                    begun,
                    &shelf.0,
                    "tell-begin-failed",
                    &spoken.0,
                    &mut at_desk,
                    &mut open,
                    &mut next,
                );
            }
            Order::Resume(name) => {
                put_aside(&mut at_desk, &mut shelf.0, &spoken.0);
                let resumed = shelf.0.resume(&spoken.0.words, &name);
                take_up(
                    resumed,
                    &shelf.0,
                    "tell-resume-failed",
                    &spoken.0,
                    &mut at_desk,
                    &mut open,
                    &mut next,
                );
            }
            Order::Leave => {
                put_aside(&mut at_desk, &mut shelf.0, &spoken.0);
                platform::at_case(None);
                open.board = default();
                open.refresh_recent = true;
                next.set(Shown(Screen::Title));
            }
            Order::Settings(changed) => {
                if changed.language != settings.0.language {
                    spoken.0 = Text::new(changed.language);
                    platform::speaks(changed.language.code());
                    shelf.0.speak(changed.language.code());
                    // Rows of attempts have titles.
                    open.refresh_recent = true;
                }
                let keep = changed.to_keep(&settings.0, shelf.0.settings());
                settings.0 = *changed;
                shelf.0.keep_settings(&keep);
            }
            Order::Quit => {
                put_aside(&mut at_desk, &mut shelf.0, &spoken.0);
                exit.write(AppExit::Success);
            }
            _ => {}
        }
    }
}

/// Sits down at an attempt and says what there is to say about it.
fn take_up(
    opened: Result<Opened, String>,
    shelf: &Shelf,
    failed: &str,
    text: &Text,
    at_desk: &mut AtDesk,
    open: &mut Open,
    next: &mut NextState<Shown>,
) {
    let (book, told) = match opened {
        Ok((book, told)) => (Ok(book), told),
        Err(why) => (Err(why), Vec::new()),
    };
    settle_in(book, shelf, failed, text, at_desk, open, next);
    if let Some(desk) = &mut at_desk.0 {
        for sentence in told {
            desk.obey(&Order::Tell(sentence));
        }
        if desk.view().handed_back {
            platform::at_case(None);
            next.set(Shown(Screen::Debrief));
        }
    }
}

/// What has become of an attempt that goes on without being kept where it belongs.
fn where_held(text: &Text, desk: &Desk) -> String {
    match desk.held_in() {
        Some(path) => text.fill("tell-held", &[("path", (&path).into())]),
        None => text.get("tell-not-held"),
    }
}

/// The time that has passed is written before an attempt is left.
fn put_aside(at_desk: &mut AtDesk, shelf: &mut Shelf, text: &Text) {
    if let Some(mut desk) = at_desk.0.take() {
        desk.settle();
        if desk.notes_not_kept.is_some() {
            shelf.keep_notes(text, &mut desk);
        }
    }
}

fn settle_in(
    begun: Result<Box<dyn Book>, String>,
    shelf: &Shelf,
    failed: &str,
    text: &Text,
    at_desk: &mut AtDesk,
    open: &mut Open,
    next: &mut NextState<Shown>,
) {
    match begun {
        Ok(book) => {
            let mut desk = Desk::new(book);
            if let Some(told) = shelf.fetch_notes(text, &mut desk) {
                desk.obey(&Order::Tell(told));
            }
            let fresh = desk.log().is_empty();
            if let Some(warning) = open.warning.as_ref().filter(|_| !fresh) {
                desk.obey(&Order::Tell(warning.clone()));
            }
            let case = desk.session().case();
            let open_to_all = desk.terms().is_none();
            platform::at_case(open_to_all.then_some((case.scenario.id.as_str(), case.seed)));
            at_desk.0 = Some(desk);
            open.board = default();
            open.trouble = None;
            next.set(Shown(if fresh { Screen::Slip } else { Screen::Work }));
        }
        Err(why) => open.trouble = Some(text.fill(failed, &[("why", (&why).into())])),
    }
}
