//! Draws the screen that is shown, and dresses egui in the settings.

use bevy::camera::visibility::RenderLayers;
use bevy::prelude::*;
use bevy::window::RequestRedraw;
use bevy_egui::{
    EguiContext, EguiContexts, EguiGlobalSettings, EguiInput, EguiPostUpdateSet, EguiPreUpdateSet,
    EguiPrimaryContextPass, EguiRenderOutput, PrimaryEguiContext,
};

use super::{Asked, AtDesk, InForce, OnShelf, Shown, Spoken};
use crate::assigned::Card;
use crate::bridge::picture::Picture;
use crate::desk::Screen;
use crate::egui::{self, LayerId, Ui, UiBuilder};
use crate::look::{Palette, theme};
use crate::panels::Cx;
use crate::screens::{self, RecentAttempt};

/// What lies open on the screens: everything a person has begun but not done.
#[derive(Resource, Default)]
pub struct Open {
    /// At the car.
    pub board: screens::work::Board,
    /// Choosing.
    pub choosing: screens::choose::Choosing,
    /// Settings.
    pub setting: screens::settings::Setting,
    /// Where the settings were opened from.
    pub came_from: Screen,
    /// The latest attempts.
    pub recent: Vec<RecentAttempt>,
    /// The open assignment, if there is one.
    pub assigned: Option<Card>,
    /// The id written to say who works on it.
    pub id: String,
    /// The list of attempts is to be read again.
    pub refresh_recent: bool,
    /// Something went wrong, in words.
    pub trouble: Option<String>,
    /// Something that everyone who begins a case must know, in words.
    pub warning: Option<String>,
    /// The part of the window that is left for the scene, in points.
    pub scene: Option<screens::work::Left>,
}

impl Open {
    /// Nothing open yet but, if there are any, sentences to say.
    pub fn saying(trouble: Option<String>, warning: Option<String>) -> Open {
        Open {
            refresh_recent: true,
            trouble: trouble.or_else(|| warning.clone()),
            warning,
            ..default()
        }
    }
}

#[derive(Resource)]
struct Dress {
    palette: Palette,
    done: Option<(u32, bool, bool)>,
}

/// Adds the drawing of screens.
pub struct PaintPlugin;

impl Plugin for PaintPlugin {
    fn build(&self, app: &mut App) {
        app.insert_resource(Dress {
            palette: Palette::workshop(),
            done: None,
        })
        .add_systems(
            PreStartup,
            camera.before(bevy_egui::EguiStartupSet::InitContexts),
        )
        .add_systems(
            PreUpdate,
            dress
                .after(EguiPreUpdateSet::InitContexts)
                .before(EguiPreUpdateSet::BeginPass),
        )
        .add_systems(
            PreUpdate,
            (forget_unchanged_modifiers, hear_assistive)
                .after(EguiPreUpdateSet::ProcessInput)
                .before(EguiPreUpdateSet::BeginPass),
        )
        .add_systems(Update, read_recent)
        .add_systems(EguiPrimaryContextPass, paint)
        .add_systems(
            PostUpdate,
            show_new_letters
                .after(EguiPostUpdateSet::ProcessOutput)
                .before(EguiPostUpdateSet::PostProcessOutput),
        );
    }
}

/// Panels have a camera of their own, so that they are there without a scene; the scene comes to
/// them as a picture.
fn camera(mut commands: Commands, mut egui: ResMut<EguiGlobalSettings>) {
    egui.auto_create_primary_context = false;
    commands.spawn((
        PrimaryEguiContext,
        Camera2d,
        RenderLayers::none(),
        Msaa::Off,
        Camera {
            order: 10,
            ..default()
        },
    ));
}

/// A letter that is drawn for the first time may reach the card a frame after the words it belongs to:
/// one more frame shows it, or words would lack it until something else moves.
fn show_new_letters(
    outputs: Query<&EguiRenderOutput, With<PrimaryEguiContext>>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if outputs.iter().any(|o| !o.textures_delta.set.is_empty()) {
        redraw.write(RequestRedraw);
    }
}

fn dress(
    settings: Res<InForce>,
    mut dress: ResMut<Dress>,
    mut contexts: Query<&mut EguiContext, With<PrimaryEguiContext>>,
) {
    let s = &settings.0;
    let wanted = (s.text_percent, s.blue_and_orange, s.calm);
    if dress.done == Some(wanted) {
        return;
    }
    let Ok(mut context) = contexts.single_mut() else {
        return;
    };
    let ctx = context.get_mut();
    if dress.done.is_none() {
        theme::load_fonts(ctx);
    }
    dress.palette = if s.blue_and_orange {
        Palette::blue_and_orange()
    } else {
        Palette::workshop()
    };
    theme::dress(ctx, &dress.palette, s.calm);
    ctx.set_zoom_factor(s.text_percent as f32 / 100.0);
    dress.done = Some(wanted);
}

/// The panels' input tells in every frame which of Shift, Ctrl and Alt are held, changed or not, and
/// whoever is told something wants another frame: the program would never come to rest. What is
/// not new is left out.
fn forget_unchanged_modifiers(
    mut inputs: Query<&mut EguiInput, With<PrimaryEguiContext>>,
    mut last: Local<Option<egui::Modifiers>>,
) {
    for mut input in &mut inputs {
        input.events.retain(|event| match event {
            egui::Event::ModifiersChanged(held) => last.replace(*held) != Some(*held),
            egui::Event::WindowFocused(_) => {
                // The panels forget what is held when the window loses the focus.
                *last = None;
                true
            }
            _ => true,
        });
    }
}

/// What a screen reader asks for reaches the panels.
fn hear_assistive(
    mut requests: MessageReader<bevy::a11y::ActionRequest>,
    mut inputs: Query<&mut EguiInput, With<PrimaryEguiContext>>,
) {
    let Ok(mut input) = inputs.single_mut() else {
        requests.clear();
        return;
    };
    for request in requests.read() {
        let event = egui::Event::AccessKitActionRequest(request.0.clone());
        input.events.push(event);
    }
}

fn read_recent(mut open: ResMut<Open>, shelf: Res<OnShelf>, spoken: Res<Spoken>) {
    if !open.refresh_recent {
        return;
    }
    open.refresh_recent = false;
    match shelf.0.assigned_card(&spoken.0.words) {
        Ok(card) => open.assigned = card,
        Err(why) => open.trouble = Some(why),
    }
    match shelf.0.recent(&spoken.0.words) {
        Ok(list) => open.recent = list,
        Err(why) => {
            open.recent.clear();
            let gap = [("why", (&why).into())];
            open.trouble = Some(spoken.0.fill("tell-recent-failed", &gap));
        }
    }
}

fn paint(
    mut contexts: EguiContexts,
    shown: Res<State<Shown>>,
    settings: Res<InForce>,
    spoken: Res<Spoken>,
    shelf: Res<OnShelf>,
    dress: Res<Dress>,
    picture: Res<Picture>,
    mut open: ResMut<Open>,
    mut at_desk: ResMut<AtDesk>,
    mut asked: ResMut<Asked>,
) -> Result {
    let ctx = contexts.ctx_mut()?.clone();
    let mut ui = Ui::new(
        ctx.clone(),
        "window".into(),
        UiBuilder::new()
            .layer_id(LayerId::background())
            .max_rect(ctx.content_rect()),
    );
    let mut cx = Cx {
        text: &spoken.0,
        look: &dress.palette,
        settings: &settings.0,
        orders: &mut asked.0,
    };
    let open = &mut *open;
    let desk = at_desk.bypass_change_detection().0.as_mut();
    let before = desk.as_ref().map(|d| d.revision);
    open.scene = None;
    if let Some(trouble) = open.trouble.clone()
        && screens::trouble(&mut ui, &cx, &trouble)
    {
        open.trouble = None;
    }
    match (shown.get().0, desk) {
        (Screen::Choose, _) => {
            let mut shelves = screens::choose::Shelves {
                catalogue: &shelf.0.catalogue,
                recent: &open.recent,
                assigned: open.assigned.as_ref().map(|card| (card, &mut open.id)),
            };
            screens::choose::show(&mut ui, &mut cx, &mut shelves, &mut open.choosing);
        }
        (Screen::Settings, _) => {
            screens::settings::show(&mut ui, &mut cx, &mut open.setting, open.came_from);
        }
        (Screen::Slip, Some(desk)) => screens::slip::show(&mut ui, &mut cx, desk),
        (Screen::Debrief, Some(desk)) => screens::debrief::show(&mut ui, &mut cx, desk),
        (Screen::Work, Some(desk)) => {
            let free = screens::work::show(&mut ui, &mut cx, desk, &mut open.board);
            if let Some(texture) = picture.texture {
                let painter = ui.painter();
                painter.image(texture, free.whole, picture.part(), egui::Color32::WHITE);
            }
            open.scene = Some(free);
            if before != Some(desk.revision) {
                at_desk.set_changed();
            }
        }
        _ => {
            let first = screens::first_case(&shelf.0.catalogue);
            let assigned = open.assigned.as_ref().map(|card| (card, &mut open.id));
            screens::title::show(&mut ui, &mut cx, first.as_deref(), &open.recent, assigned);
        }
    }
    Ok(())
}
