//! The running app: one plugin a file, put together here.

pub mod authoring;
pub mod dropped;
mod hand_on;
mod ink;
pub mod measure;
pub mod orders;
pub mod pace;
pub mod page;
pub mod paint;
pub mod play;
pub mod read_out;
pub mod shot;
#[cfg(feature = "sound")]
pub mod sound;
pub mod turns;

use bevy::log::LogPlugin;
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::window::{WindowPlugin, WindowResolution};

use crate::bridge::detail;
use crate::desk::{Desk, Order, Screen};
use crate::platform::Shelf;
use crate::settings::Settings;
use crate::stage::light::device;
use crate::stage::sorting::by_the_program;
use crate::text::Text;

/// Data files and where attempts are kept.
#[derive(Resource)]
pub struct OnShelf(pub Shelf);

/// The session in work, if there is one.
#[derive(Resource, Default)]
pub struct AtDesk(pub Option<Desk>);

/// What was asked for and not yet carried out.
#[derive(Resource, Default)]
pub struct Asked(pub Vec<Order>);

/// The settings in force.
#[derive(Resource, Clone, Debug)]
pub struct InForce(pub Settings);

/// The words of the language in force.
#[derive(Resource)]
pub struct Spoken(pub Text);

/// The screen shown.
#[derive(States, Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Shown(pub Screen);

/// Sets of systems of a frame, in their order.
#[derive(SystemSet, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Frame {
    /// Time passes at the car.
    Time,
    /// The scene follows the session.
    Follow,
}

/// How the app is to be started.
pub struct Start {
    /// Files.
    pub shelf: Shelf,
    /// Settings of this run.
    pub settings: Settings,
    /// Window size in pixels.
    pub size: (u32, u32),
    /// Orders to carry out first.
    pub first: Vec<Order>,
    /// Picture to save before leaving.
    pub screenshot: Option<std::path::PathBuf>,
    /// What to measure before leaving.
    pub measure: Option<measure::MeasurePlugin>,
    /// Something to say on the first screen.
    pub trouble: Option<String>,
    /// Something that everyone who begins a case must know.
    pub warning: Option<String>,
    /// Files are read anew when they are saved.
    pub authoring: Option<authoring::AuthoringPlugin>,
    /// Steps of a script to work through before leaving.
    pub play: Option<Vec<play::Step>>,
}

/// Puts the app together.
pub fn app(start: Start) -> App {
    let mut app = App::new();
    let text = Text::new(start.settings.language);
    crate::platform::speaks(start.settings.language.code());
    let title = text.get("title-name");
    let mut resolution = WindowResolution::new(start.size.0, start.size.1);
    if start.screenshot.is_some() || start.play.is_some() || start.measure.is_some() {
        // Pictures and scripts are in pixels.
        resolution.set_scale_factor_override(Some(1.0));
    }
    let plugins = DefaultPlugins
        .set(RenderPlugin {
            render_creation: device(detail(start.settings.graphics)).into(),
            ..default()
        })
        .set(WindowPlugin {
            primary_window: Some(Window {
                title,
                name: Some("tracebay".into()),
                resolution,
                canvas: Some("#car".to_owned()),
                fit_canvas_to_parent: true,
                ..default()
            }),
            ..default()
        })
        .set(LogPlugin {
            level: bevy::log::Level::WARN,
            filter: "wgpu=error,naga=error,bevy_egui=error,calloop=error,winit=error,\
                         bevy_render=error"
                .into(),
            ..default()
        });
    // In a page its own handler would hide what ours says.
    let plugins = plugins.build().disable::<bevy::app::PanicHandlerPlugin>();
    app.add_plugins((by_the_program(plugins), turns::TurnsPlugin));
    let panels = bevy_egui::EguiPlugin {
        bindless_mode_array_size: None,
    };
    app.add_plugins(panels)
        .insert_resource(OnShelf(start.shelf))
        .insert_resource(InForce(start.settings))
        .insert_resource(Spoken(text))
        .init_resource::<AtDesk>()
        .insert_resource(Asked(start.first))
        .insert_resource(paint::Open::saying(start.trouble, start.warning))
        .init_state::<Shown>()
        .configure_sets(Update, (Frame::Time, Frame::Follow).chain())
        .add_plugins((
            ink::InkPlugin,
            hand_on::HandOnPlugin,
            paint::PaintPlugin,
            orders::OrdersPlugin,
            dropped::DroppedPlugin,
            page::PagePlugin,
            read_out::ReadOutPlugin,
            crate::bridge::BridgePlugin,
            pace::PacePlugin {
                measured: start.measure.is_some(),
                watching: start.authoring.is_some(),
                steady: start.screenshot.is_some() || start.play.is_some(),
            },
        ));
    #[cfg(feature = "sound")]
    app.add_plugins(sound::SoundPlugin);
    if let Some(path) = start.screenshot {
        app.add_plugins(shot::ShotPlugin { path });
    }
    if let Some(plugin) = start.authoring {
        app.add_plugins(plugin);
    }
    if let Some(plugin) = start.measure {
        app.add_plugins(plugin);
    }
    if let Some(steps) = start.play {
        app.add_plugins(play::PlayPlugin { steps });
    }
    app
}
