//! Measures how fast the app is on this machine, prints a table and ends the program.
//!
//! A frame counts when the graphics driver says that it is done, not when it was asked for. While
//! frames are counted the eye moves a little all the time, so that every frame draws the scene.

use std::collections::VecDeque;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};

use bevy::diagnostic::FrameCount;
use bevy::ecs::message::Messages;
use bevy::ecs::system::SystemParam;
use bevy::input::ButtonState;
use bevy::input::keyboard::{Key, KeyCode, KeyboardInput};
use bevy::platform::time::Instant;
use bevy::prelude::*;
use bevy::render::render_resource::PollType;
use bevy::render::renderer::RenderDevice;
use bevy::render::{Extract, ExtractSchedule, Render, RenderApp, RenderSystems};
use bevy::window::{PresentMode, PrimaryWindow};
use tracebay_core::session::Action;
use tracebay_core::tools::ToolKind;
use tracebay_core::vehicle::{Kind, Station as Place};

use super::pace::Steady;
use super::shot::Waiting;
use super::{Asked, AtDesk, InForce};
use crate::bridge::picture::Picture;
use crate::desk::{Order, Screen};
use crate::platform;
use crate::settings::Graphics;
use crate::stage::{Places, Viewer};

/// Seconds that frames are counted for, at a station.
const COUNTED_S: f32 = 3.0;
/// Frames at least, unless that takes longer than [`LONGEST_S`].
const FEWEST: u32 = 20;
const LONGEST_S: f32 = 8.0;
/// Longest wait for a station to be ready: shaders are compiled at the first look.
const PATIENCE_S: f32 = 120.0;
/// Times that a tool touches a point.
const TOUCHES: usize = 8;
/// Seconds at rest over which the processor's time is counted.
const REST_S: f32 = 8.0;
/// Seconds after which a person has read the last line and nothing is drawn any more.
const QUIET_S: f32 = 11.0;

const STATIONS: [(Place, &str); 4] = [
    (Place::Seat, "seat"),
    (Place::Bay, "bay"),
    (Place::Box, "box"),
    (Place::Bench, "bench"),
];

/// Adds the measuring.
pub struct MeasurePlugin {
    /// Levels to measure, each at every station.
    pub levels: Vec<Graphics>,
    /// Stations to measure at; all, if empty.
    pub stations: Vec<Place>,
    /// Case to measure in.
    pub scenario: String,
    /// Seed of the case.
    pub seed: u64,
}

/// One thing to do, in order.
#[derive(Clone, Debug)]
enum Step {
    FirstFrame,
    Order(Order),
    /// Orders of the level: settings are changed as a person would.
    Level(Graphics),
    /// Until the scene is complete; then the seconds since the last order are kept as this.
    Ready(Option<&'static str>),
    Count(Graphics, &'static str),
    /// The same without the scene changing.
    CountPanels,
    Touch(usize),
    Quiet,
    Rest,
    Report,
}

#[derive(Resource)]
struct Measure {
    steps: VecDeque<Step>,
    since: Instant,
    frame: u32,
    cpu_s: f64,
    key_at: Option<(Instant, usize, Option<u32>)>,
    lines: Vec<String>,

    touches_ms: Vec<f32>,
}

/// The last frame that was done, and when. Shared with the render world.
#[derive(Resource, Clone, Default)]
struct Done {
    frame: Arc<Mutex<(u32, Option<Instant>)>>,
    exact: Arc<AtomicBool>,
}

/// The frame that the render world is at.
#[derive(Resource, Default)]
struct Drawing(u32);

impl Plugin for MeasurePlugin {
    fn build(&self, app: &mut App) {
        let begin = Order::Begin {
            scenario: self.scenario.clone(),
            seed: Some(self.seed),
        };
        let mut steps = VecDeque::from([
            Step::FirstFrame,
            Step::Order(begin),
            Step::Order(Order::Open(Screen::Work)),
        ]);
        let mut first = Some("case opened to scene complete");
        for level in &self.levels {
            steps.push_back(Step::Level(*level));
            for (station, name) in STATIONS {
                if !self.stations.is_empty() && !self.stations.contains(&station) {
                    continue;
                }
                steps.push_back(Step::Order(Order::Do(Action::Go(station))));
                steps.push_back(Step::Ready(first.take()));
                steps.push_back(Step::Count(*level, name));
            }
        }
        steps.extend([
            Step::Level(self.levels[0]),
            Step::Order(Order::Do(Action::Go(Place::Bay))),
            Step::Ready(None),
            Step::CountPanels,
            Step::Order(Order::Take(Some(ToolKind::TestLight))),
        ]);
        steps.extend((0..TOUCHES).map(Step::Touch));
        steps.extend([Step::Quiet, Step::Rest, Step::Report]);
        let done = Done::default();
        done.exact.store(true, Ordering::Relaxed);
        app.insert_resource(Measure {
            steps,
            since: Instant::now(),
            frame: 0,
            cpu_s: 0.0,
            key_at: None,
            lines: Vec::new(),
            touches_ms: Vec::new(),
        })
        .insert_resource(done.clone())
        .add_systems(Startup, unhurried)
        .add_systems(First, touch)
        .add_systems(Last, step);
        if let Some(render) = app.get_sub_app_mut(RenderApp) {
            render
                .insert_resource(done)
                .init_resource::<Drawing>()
                .add_systems(ExtractSchedule, note_frame)
                .add_systems(Render, note_done.in_set(RenderSystems::Cleanup));
        }
    }
}

/// What stands in the scene.
#[derive(SystemParam)]
struct Scenery<'w, 's> {
    things: Query<'w, 's, &'static Mesh3d>,
    meshes: Res<'w, Assets<Mesh>>,
}

impl Scenery<'_, '_> {
    /// Meshes, their corners and their triangles.
    fn count(&self) -> (usize, usize, usize) {
        let all = self.things.iter().filter_map(|m| self.meshes.get(&m.0));
        all.fold((0, 0, 0), |(n, corners, triangles), mesh| {
            let more = mesh.indices().map_or(0, |i| i.len() / 3);
            (n + 1, corners + mesh.count_vertices(), triangles + more)
        })
    }
}

/// Frames are made as fast as they can be, not as fast as a screen shows them.
fn unhurried(mut windows: Query<&mut Window, With<PrimaryWindow>>) {
    for mut window in &mut windows {
        window.present_mode = PresentMode::AutoNoVsync;
    }
}

fn note_frame(frame: Extract<Res<FrameCount>>, mut drawing: ResMut<Drawing>) {
    drawing.0 = frame.0;
}

fn note_done(drawing: Res<Drawing>, done: Res<Done>, device: Res<RenderDevice>) {
    if done.exact.load(Ordering::Relaxed) {
        let _ = device.poll(PollType::wait_indefinitely());
    }
    if let Ok(mut last) = done.frame.lock() {
        *last = (drawing.0, Some(Instant::now()));
    }
}

/// Presses the key that touches the chosen point, where the window would say so.
fn touch(
    mut measure: ResMut<Measure>,
    at_desk: Res<AtDesk>,
    settings: Res<InForce>,
    windows: Query<Entity, With<PrimaryWindow>>,
    mut keys: ResMut<Messages<KeyboardInput>>,
) {
    let (Some(Step::Touch(_)), None) = (measure.steps.front(), &measure.key_at) else {
        return;
    };
    let (Ok(window), Some(desk)) = (windows.single(), &at_desk.0) else {
        return;
    };
    if measure.frame < 4 {
        return;
    }
    let act = crate::desk::keys::KeyAct::Touch;
    if settings.0.keys.key(act) != crate::egui::Key::X {
        return;
    }
    for state in [ButtonState::Pressed, ButtonState::Released] {
        keys.write(KeyboardInput {
            key_code: KeyCode::KeyX,
            logical_key: Key::Character("x".into()),
            state,
            text: Some("x".into()),
            repeat: false,
            window,
        });
    }
    measure.key_at = Some((Instant::now(), desk.log().len(), None));
}

fn step(
    mut measure: ResMut<Measure>,
    done: Res<Done>,
    count: Res<FrameCount>,
    waiting: Option<Res<Waiting>>,
    places: Res<Places>,
    at_desk: Res<AtDesk>,
    settings: Res<InForce>,
    mut picture: ResMut<Picture>,
    mut steady: ResMut<Steady>,
    mut viewers: Query<&mut Viewer>,
    mut asked: ResMut<Asked>,
    scenery: Scenery,
    mut exit: MessageWriter<AppExit>,
) {
    let Some(now) = measure.steps.front().cloned() else {
        return;
    };
    let spent = measure.since.elapsed().as_secs_f32();
    let drawn = *done.frame.lock().unwrap_or_else(|e| e.into_inner());
    measure.frame += 1;
    let frames = measure.frame;
    picture.always = false;
    let over = match now {
        Step::FirstFrame => {
            let over = drawn.0 >= 2;
            if over {
                platform::say("station  level   frames/s  processor ms");
            }
            if over && let Some(ms) = platform::since_start_ms() {
                let s = ms as f32 / 1000.0;
                measure
                    .lines
                    .push(format!("start to first screen      {s:6.2} s"));
            }
            over
        }
        Step::Order(order) => {
            if frames == 1 {
                asked.0.push(order);
            }
            frames > 2
        }
        Step::Level(level) => {
            if frames == 1 {
                let mut changed = settings.0.clone();
                changed.graphics = level;
                asked.0.push(Order::Settings(Box::new(changed)));
            }
            frames > 2
        }
        Step::Ready(name) => {
            // Drawn meanwhile, so that what is compiled at the first look is not counted as a frame.
            picture.always = true;
            let busy = waiting.is_none_or(|w| w.count() > 0);
            let walking = viewers.iter().any(|v| v.now != v.goal) || viewers.is_empty();
            if busy || walking {
                measure.frame = measure.frame.min(2);
            }
            let over = frames > 8 || spent > PATIENCE_S;
            if over && let Some(name) = name {
                measure.lines.push(format!("{name} {spent:6.2} s"));
                let (things, corners, triangles) = scenery.count();
                measure.lines.push(format!(
                    "scene                      {things} meshes, {corners} corners, {triangles} triangles"
                ));
            }
            over
        }
        Step::Count(level, name) => {
            picture.always = true;
            for mut v in &mut viewers {
                let home = places.get(v.station).home;
                v.goal.yaw = home.yaw + 0.06 * (spent * 0.8).sin();
            }
            if frames == 1 {
                measure.cpu_s = platform::cpu_seconds().unwrap_or(0.0);
            }
            let (n, s) = (frames - 1, spent);
            let over = (s >= COUNTED_S && n >= FEWEST) || s >= LONGEST_S;
            if over {
                let level = format!("{level:?}").to_lowercase();
                let cost = platform::cpu_seconds()
                    .map(|c| (c - measure.cpu_s) as f32 * 1000.0 / n.max(1) as f32)
                    .map_or("-".to_owned(), |ms| format!("{ms:.0}"));
                platform::say(&format!(
                    "{name:<8} {level:<7} {:8.1} {cost:>13}",
                    n as f32 / s
                ));
            }
            over
        }
        Step::CountPanels => {
            if frames == 1 {
                measure.cpu_s = platform::cpu_seconds().unwrap_or(0.0);
            }
            let over = spent >= COUNTED_S;
            if over {
                let rate = (frames - 1) as f32 / spent;
                let cost = platform::cpu_seconds()
                    .map(|c| (c - measure.cpu_s) as f32 * 1000.0 / frames as f32)
                    .map_or("-".to_owned(), |ms| format!("{ms:.0}"));
                platform::say(&format!("panels alone     {rate:8.1} {cost:>13}"));
            }
            over
        }
        Step::Touch(n) => touched(&mut measure, n, drawn, count.0, &at_desk, &mut asked),
        Step::Quiet => {
            steady.0 = false;
            spent > QUIET_S
        }
        Step::Rest => {
            let cpu = platform::cpu_seconds();
            if frames == 1 {
                measure.cpu_s = cpu.unwrap_or(0.0);
            }
            let over = spent >= REST_S;
            if over {
                let line = match cpu {
                    Some(s) => {
                        let share = (s - measure.cpu_s) / f64::from(spent) * 100.0;
                        format!("at rest                    {share:6.2} % of a core")
                    }
                    None => "at rest                    not known on this system".into(),
                };
                measure.lines.push(line);
            }
            over
        }
        Step::Report => {
            report(&mut measure);
            exit.write(AppExit::Success);
            true
        }
    };
    if over {
        measure.steps.pop_front();
        measure.since = Instant::now();
        measure.frame = 0;
    }
}

/// Puts the light's clip on the battery, turns to it, then waits for each touch to be seen.
fn touched(
    measure: &mut Measure,
    n: usize,
    (drawn, when): (u32, Option<Instant>),
    now: u32,
    at_desk: &AtDesk,
    asked: &mut Asked,
) -> bool {
    let Some(desk) = &at_desk.0 else { return true };
    let vehicle = &desk.session().case().vehicle;
    if n == 0 && measure.frame == 1 {
        let battery = vehicle
            .parts
            .iter()
            .find(|(_, p)| matches!(p.kind, Kind::Battery { .. }));
        if let Some((id, _)) = battery {
            asked.0.push(Order::UsePoint(format!("{id}:neg")));
            asked.0.push(Order::Focus(Some(id.clone())));
        }
    }
    let Some((pressed, before, shown)) = measure.key_at else {
        return measure.since.elapsed().as_secs_f32() > PATIENCE_S;
    };
    // The frame after the one that did it is the first to show it.
    let shown = shown.or((desk.log().len() > before).then_some(now + 1));
    measure.key_at = Some((pressed, before, shown));
    if let (Some(frame), Some(when)) = (shown, when)
        && drawn >= frame
    {
        let ms = when.duration_since(pressed).as_secs_f32() * 1000.0;
        measure.touches_ms.push(ms);
        measure.key_at = None;
        return true;
    }
    if pressed.elapsed().as_secs_f32() > 20.0 {
        measure.key_at = None;
        return true;
    }
    false
}

fn report(measure: &mut Measure) {
    let mut out = std::mem::take(&mut measure.lines);
    let mut touches = std::mem::take(&mut measure.touches_ms);
    touches.sort_by(f32::total_cmp);
    match (touches.get(touches.len() / 2), touches.last()) {
        (Some(middle), Some(most)) => out.push(format!(
            "key to reading             {middle:6.0} ms (median of {}), {most:.0} ms at most",
            touches.len()
        )),
        _ => out.push("key to reading             no reading came".into()),
    }
    if let Some((now, most)) = platform::memory_mb() {
        out.push(format!(
            "memory                     {now:6.0} MB, {most:.0} MB at most"
        ));
    }
    for line in out {
        platform::say(&line);
    }
}
