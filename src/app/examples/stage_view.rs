//! Takes pictures of the stage.
//!
//! `stage_view [--size WxH] [--low | --high] [--time SECONDS] NAME=OUT.png ...` where NAME is a shot of
//! `view_of`; each is taken after the scene has come to rest. With `--time` frames are counted afterwards
//! while the view turns about the bay; `--try` changes one thing or more of what a level draws, to find what
//! costs: `prepass`, `msaa=1|2|4`, `shadows=off|SIZE`, `filter=plain|soft`, `edges=on|off`,
//! `sort=card`, `threads=many`, separated by commas.

use bevy::app::{AppExit, ScheduleRunnerPlugin};
use bevy::camera::RenderTarget;
use bevy::core_pipeline::prepass::DepthPrepass;
use bevy::light::{DirectionalLightShadowMap, ShadowFilteringMethod};
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::render::render_resource::TextureFormat;
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured, save_to_disk};
use bevy::window::ExitCondition;
use bevy::winit::WinitPlugin;
use std::time::Duration;
use tracebay::kit::*;
use tracebay::stage::{self, *};

#[derive(Resource)]
struct Plan {
    shots: Vec<(String, String)>,
    size: (u32, u32),
    picture: Handle<Image>,
    at: usize,
    wait: u32,
    asked: bool,
    since: f32,
    lamp: Option<Entity>,
    /// How long frames are counted, seconds.
    time_s: f32,
    /// Since when, and how many so far.
    counted: Option<(f32, u32)>,
    /// The processor's seconds when counting began.
    cpu_s: Option<f64>,
}

pub fn main() {
    let mut size = (1280u32, 720u32);
    let mut detail = Detail::Medium;
    let mut shots = Vec::new();
    let mut time_s = 0.0;
    let mut tried: Vec<String> = Vec::new();
    let mut args = std::env::args().skip(1);
    while let Some(a) = args.next() {
        match a.as_str() {
            "--try" => {
                tried = args
                    .next()
                    .unwrap_or_default()
                    .split(',')
                    .map(str::to_owned)
                    .collect();
            }
            "--size" => {
                let s = args.next().unwrap_or_default();
                if let Some((w, h)) = s.split_once('x') {
                    size = (w.parse().unwrap_or(1280), h.parse().unwrap_or(720));
                }
            }
            "--time" => time_s = args.next().and_then(|s| s.parse().ok()).unwrap_or(10.0),
            "--low" => detail = Detail::Low,
            "--high" => detail = Detail::High,
            _ => match a.split_once('=') {
                Some((n, p)) => shots.push((n.to_string(), p.to_string())),
                None => {
                    eprintln!(
                        "Unknown argument '{a}'. Give NAME=OUT.png, --size WxH, --time SECONDS, --low or --high."
                    );
                    std::process::exit(2);
                }
            },
        }
    }
    let mut app = App::new();
    let plugins = DefaultPlugins
        .set(WindowPlugin {
            primary_window: None,
            exit_condition: ExitCondition::DontExit,
            ..default()
        })
        .set(RenderPlugin {
            render_creation: light::device(detail).into(),
            // A picture must not be taken before its pipelines are ready.
            synchronous_pipeline_compilation: true,
            ..default()
        })
        .disable::<WinitPlugin>();
    let by_card = tried.iter().any(|t| t == "sort=card");
    let plugins = if by_card {
        plugins
    } else {
        sorting::by_the_program(plugins)
    };
    app.add_plugins(plugins)
        .add_plugins(ScheduleRunnerPlugin::run_loop(Duration::ZERO))
        .add_plugins(StagePlugin)
        .insert_resource(detail)
        .insert_resource(Plan {
            shots,
            size,
            at: 0,
            wait: 0,
            asked: false,
            since: 0.0,
            lamp: None,
            time_s,
            counted: None,
            cpu_s: None,
            picture: Handle::default(),
        })
        .add_systems(Startup, (build, aim).chain())
        .insert_resource(Tried(tried.clone()))
        .add_systems(Update, take)
        .add_systems(PostUpdate, try_out);
    if !tried.iter().any(|t| t == "threads=many") {
        app.add_plugins(tracebay::run::turns::TurnsPlugin);
    }
    app.run();
}

/// What `--try` asked for.
#[derive(Resource)]
struct Tried(Vec<String>);

/// Lays what was asked for over the level's own, once that is applied.
fn try_out(
    mut commands: Commands,
    tried: Res<Tried>,
    cameras: Query<Entity, With<Viewer>>,
    mut lamps: Query<&mut DirectionalLight>,
    mut frames: Local<u32>,
) {
    *frames += 1;
    if *frames != 5 {
        return;
    }
    for one in &tried.0 {
        let (what, to) = one.split_once('=').unwrap_or((one, ""));
        for camera in &cameras {
            let mut camera = commands.entity(camera);
            match (what, to) {
                ("prepass", _) => drop(camera.insert(DepthPrepass)),
                ("msaa", "1") => drop(camera.insert(Msaa::Off)),
                ("msaa", "2") => drop(camera.insert(Msaa::Sample2)),
                ("msaa", "4") => drop(camera.insert(Msaa::Sample4)),
                ("filter", "plain") => drop(camera.insert(ShadowFilteringMethod::Hardware2x2)),
                ("edges", "on") => drop(camera.insert(bevy::anti_alias::fxaa::Fxaa::default())),
                ("edges", "off") => drop(camera.remove::<bevy::anti_alias::fxaa::Fxaa>()),
                ("filter", "soft") => drop(camera.insert(ShadowFilteringMethod::Gaussian)),
                ("shadows" | "sort" | "threads", _) => {}
                _ => eprintln!("There is nothing called '{one}' to try."),
            }
        }
        match (what, to.parse()) {
            ("shadows", Ok(size)) => commands.insert_resource(DirectionalLightShadowMap { size }),
            ("shadows", Err(_)) => lamps
                .iter_mut()
                .for_each(|mut l| l.shadow_maps_enabled = false),
            _ => {}
        }
    }
}

/// Draws into a picture instead of a window, so that no display is needed.
fn aim(
    mut commands: Commands,
    mut images: ResMut<Assets<Image>>,
    mut plan: ResMut<Plan>,
    cameras: Query<Entity, With<Viewer>>,
) {
    let format = TextureFormat::Rgba8UnormSrgb;
    let picture = images.add(Image::new_target_texture(
        plan.size.0,
        plan.size.1,
        format,
        None,
    ));
    for e in &cameras {
        commands
            .entity(e)
            .insert(RenderTarget::Image(picture.clone().into()));
    }
    plan.picture = picture;
}

fn build(mut commands: Commands, mut kit: KitAssets, mut plan: ResMut<Plan>) {
    let layout = stage::demo::demo_layout();
    set_the_stage(&mut commands, &mut kit, &layout, Station::Bay);
    let lamp = commands.spawn((Transform::IDENTITY, Glow(0.0))).id();
    light::spawn_beam(
        &mut commands,
        lamp,
        Transform::from_xyz(0.30, 0.25, 0.42).looking_at(Vec3::new(0.15, -0.38, 0.17), Vec3::Y),
        None,
    );
    plan.lamp = Some(lamp);
}

fn closely(target: Vec3, from: Vec3, distance: f32) -> Option<(Station, Option<LookAt>)> {
    Some((
        Station::Bay,
        Some(LookAt::Closely {
            target,
            distance,
            from: Some(from),
        }),
    ))
}

fn view_of(name: &str) -> Option<(Station, Option<LookAt>)> {
    let v = Vec3::new;
    match name {
        "bay" | "running" => Some((Station::Bay, None)),
        "box" | "boxlid" | "pulled" | "turned" => Some((Station::Box, None)),
        "cells" => Some((
            Station::Box,
            Some(LookAt::Closely {
                target: v(0.47, -0.09, -0.015),
                distance: 0.2,
                from: Some(v(0.0, 1.0, 0.7)),
            }),
        )),
        "tray" => Some((
            Station::Box,
            Some(LookAt::Closely {
                target: v(0.79, 0.03, 0.02),
                distance: 0.25,
                from: Some(v(-0.2, 1.0, 0.6)),
            }),
        )),
        "seat" => Some((Station::Seat, None)),
        "bench" => Some((Station::Bench, None)),
        "compressor" | "engaged" => closely(v(0.22, -0.20, 0.15), v(0.1, 0.9, 0.75), 0.5),
        "lamp" | "dark" => closely(v(0.12, -0.35, 0.17), v(0.0, 0.9, 0.45), 0.75),
        "probe" => closely(v(0.45, -0.09, -0.05), v(-0.25, 0.9, 0.75), 0.36),
        "hover" => closely(v(0.22, -0.20, 0.15), v(0.1, 0.9, 0.75), 0.5),
        "left" => closely(v(-0.35, -0.12, 0.1), v(-0.45, 0.9, 0.7), 0.85),
        "right" => closely(v(0.42, -0.1, 0.05), v(0.35, 0.9, 0.7), 0.85),
        "sensor" | "unseated" => closely(v(0.354, -0.04, -0.045), v(0.4, 0.6, 0.7), 0.18),
        "ports" => closely(v(0.345, -0.06, 0.0), v(0.3, 0.9, 0.6), 0.5),
        "roll" => closely(v(-0.74, 0.0, 0.1), v(0.25, 0.9, 0.5), 0.7),
        "battery" => closely(v(0.49, -0.12, 0.24), v(-0.1, 0.9, 0.8), 0.5),
        "top" => closely(v(0.0, -0.1, 0.0), v(0.0, 1.0, 0.3), 1.3),
        _ => None,
    }
}

#[allow(clippy::too_many_arguments)]
fn take(
    mut commands: Commands,
    mut plan: ResMut<Plan>,
    bay: Option<Res<Bay>>,
    mut walks: MessageWriter<WalkTo>,
    mut looks: MessageWriter<LookAt>,
    mut viewers: Query<&mut Viewer>,
    mut exit: MessageWriter<AppExit>,
    meshes: Res<Assets<Mesh>>,
    drawn: Query<&Mesh3d>,
    time: Res<Time>,
    placed: Query<(&Mesh3d, &ChildOf)>,
    parents: Query<&ChildOf>,
) {
    let Some(bay) = bay else { return };
    if plan.at >= plan.shots.len() {
        if plan.time_s > 0.0 {
            let now = time.elapsed_secs();
            if plan.counted.is_none() {
                walks.write(WalkTo(Station::Bay));
                plan.cpu_s = tracebay::platform::cpu_seconds();
            }
            let (from, frames) = plan.counted.unwrap_or((now, 0));
            plan.counted = Some((from, frames + 1));
            for mut v in &mut viewers {
                v.walk_seconds = 0.0;
                v.goal.yaw = 0.6 * now.sin();
            }
            if now - from < plan.time_s {
                return;
            }
            let spent = tracebay::platform::cpu_seconds().zip(plan.cpu_s);
            let each = spent.map_or(0.0, |(now, then)| (now - then) * 1e3 / f64::from(frames));
            println!(
                "{:.1} frames/s, {each:.1} ms of the processor each",
                frames as f32 / (now - from)
            );
        }
        let triangles: usize = drawn
            .iter()
            .filter_map(|m| meshes.get(&m.0))
            .map(|m| m.indices().map_or(0, |i| i.len() / 3))
            .sum();
        if std::env::var_os("STAGE_COUNTS").is_some() {
            let mut by: std::collections::BTreeMap<String, usize> = Default::default();
            for (m, p) in &placed {
                let mut at = p.parent();
                let mut name = String::from("other");
                loop {
                    if let Some((n, _)) = bay.parts.iter().find(|(_, s)| s.entity == at) {
                        name = n.clone();
                        break;
                    }
                    match parents.get(at) {
                        Ok(p) => at = p.parent(),
                        Err(_) => break,
                    }
                }
                *by.entry(name).or_default() += meshes
                    .get(&m.0)
                    .and_then(|m| m.indices())
                    .map_or(0, |i| i.len() / 3);
            }
            let mut list: Vec<_> = by.into_iter().collect();
            list.sort_by_key(|l| std::cmp::Reverse(l.1));
            for (name, n) in list.iter().take(30) {
                println!("{n:7} {name}");
            }
        }
        println!("{} meshes, {triangles} triangles", drawn.iter().count());
        exit.write(AppExit::Success);
        return;
    }
    let (name, path) = plan.shots[plan.at].clone();
    if plan.wait == 0 {
        eprintln!("{name} at {:.1} s", time.elapsed_secs());
        let Some((station, look)) = view_of(&name) else {
            eprintln!("There is no shot called '{name}'.");
            plan.at += 1;
            return;
        };
        for mut v in &mut viewers {
            v.walk_seconds = 0.0;
        }
        walks.write(WalkTo(station));
        if let Some(l) = look {
            looks.write(l);
        }
        pose(&mut commands, &bay, &name);
        if let Some(l) = plan.lamp {
            commands
                .entity(l)
                .insert(Glow(if name == "lamp" { 1.0 } else { 0.0 }));
        }
    }
    plan.wait += 1;
    if plan.wait == 1 {
        plan.since = time.elapsed_secs();
    }
    // Wait for poses to come to rest.
    let rested = time.elapsed_secs() - plan.since > 1.3;
    if plan.wait >= 4 && rested && !plan.asked {
        plan.asked = true;
        commands
            .spawn(Screenshot::image(plan.picture.clone()))
            .observe(save_to_disk(path))
            .observe(|_: On<ScreenshotCaptured>, mut plan: ResMut<Plan>| {
                plan.at += 1;
                plan.wait = 0;
                plan.asked = false;
            });
    }
}

fn pose(commands: &mut Commands, bay: &Bay, name: &str) {
    probe(commands, bay, name == "probe");
    if let Some(p) = bay.parts.get("compressor") {
        if name == "hover" {
            commands.entity(p.entity).insert(Highlight);
        } else {
            commands.entity(p.entity).remove::<Highlight>();
        }
    }
    let on = |part: &str| bay.parts.get(part).map(|p| p.entity);
    if let Some(e) = on("box") {
        commands.entity(e).insert((
            LidOn(matches!(name, "bay" | "boxlid" | "running" | "right")),
            LidTurned(name == "turned"),
        ));
    }
    if let Some(b) = bay.parts.get("box") {
        let out = matches!(name, "pulled" | "cells" | "tray" | "probe");
        for id in ["K3", "F1", "F10", "F15", "K8", "F5"] {
            if let Some(e) = b.pieces.get(id) {
                commands.entity(*e).insert(Pulled(out));
                if id.starts_with('F') && id != "F15" {
                    commands.entity(*e).insert(BlownElement(true));
                }
            }
        }
    }
    if let Some(e) = on("pressure") {
        commands.entity(e).insert(Seated(name != "unseated"));
    }
    for port in ["port.low", "port.high"] {
        if let Some(e) = on(port) {
            commands.entity(e).insert(CapOn(name != "ports"));
        }
    }
    let running = matches!(name, "running" | "engaged");
    for (part, rpm) in [("belt", 800.0), ("compressor", 1000.0), ("fan", 1800.0)] {
        if let Some(e) = on(part) {
            commands
                .entity(e)
                .insert(SpinRpm(if running { rpm } else { 0.0 }));
        }
    }
    if let Some(e) = on("compressor") {
        commands.entity(e).insert(ClutchPlate {
            engaged: name == "engaged",
        });
    }
}

/// The test light in the relay's socket, clipped to the battery, shining.
fn probe(commands: &mut Commands, bay: &Bay, on: bool) {
    let (Some(light), Some(at), Some(minus)) = (
        bay.parts.get("tool.test_light"),
        bay.anchor("box", "K3.87"),
        bay.anchor("battery", "clamp.minus"),
    ) else {
        return;
    };
    let home = bay.places["tool.test_light"];
    let eye = Vec3::new(0.35, 0.4, 0.4);
    let place = if on {
        tools::touching(at.translation, at.rotation * Vec3::Y, eye)
    } else {
        home
    };
    commands
        .entity(light.entity)
        .insert((place, Glow(if on { 1.0 } else { 0.0 })));
    if on {
        let lead = place * light.anchors["lead"];
        spawn_lead(
            commands,
            LeadBetween {
                a: lead.translation,
                b: minus.translation + Vec3::Y * 0.05,
                free: None,
                colour: [24, 24, 26],
            },
            1.25,
        );
    }
}
