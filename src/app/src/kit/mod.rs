//! A kit of parts: meshes and materials of a car's bay, cabin and tools, made in code.
//!
//! # For the caller
//!
//! Add [`KitPlugin`]. Spawn parts with [`spawn_part`], which returns a
//! [`SpawnedPart`]: the root entity (state components go on it), named
//! **anchors** (transforms in the part's own frame; +Y points out of the
//! surface) and named **pieces** (entities that move or can be picked alone).
//! Make anchors pickable with [`spawn_point`]. Put [`PickId`] on whatever a
//! learner may point at; pointer events bubble up from meshes to it.
//!
//! State components, put on the root and followed by the kit's systems:
//! [`SpinRpm`], [`ClutchPlate`], [`Seated`], [`CapOn`], [`LidOn`], [`LidTurned`],
//! [`Glow`], [`Needle`], [`Display`], [`KeyTurn`], [`BlownElement`], [`Pulled`],
//! [`Pressed`], [`Highlight`], [`PointShow`], [`LeadBetween`].
//!
//! Nothing here computes physics. A frame is asked for only while something moves.
//!
//! # Frames
//!
//! Metres; x to the viewer's right when standing in front of the car, y up,
//! z towards the front of the car. Each family's module says where its origin is.

pub mod ancillary;
pub mod belt;
pub mod bench;
pub mod board;
pub mod body;
pub mod bottles;
pub mod cabin;
mod cabin_trim;
pub mod cluster;
pub mod compressor;
pub mod cooling;
pub mod cover;
pub mod curve;
pub mod diesel;
pub mod display;
pub mod engine;
pub mod follow;
pub mod fusebox;
pub mod geo;
pub mod glyphs;
pub mod highlight;
pub mod instruments;
pub mod labels;
pub mod lead;
pub mod lines;
pub mod material;
pub mod part;
pub mod plug;
pub mod point;
pub mod relay;
pub mod roll;
pub mod solids;
pub mod state;
pub mod texture;
pub mod tools;

pub use body::BaySize;
pub use engine::EngineLook;
pub use fusebox::{BoxCell, BoxGrid, CellKind};
pub use lead::spawn_lead;
pub use material::{KitAssets, KitCache, Mat, Rgb};
pub use part::{Anchors, PartBuilder, SpawnedPart};
pub use point::spawn_point;
pub use relay::{FuseSize, RelaySize};
pub use state::*;

use bevy::prelude::*;

/// A part that can be placed, with its sizes.
#[derive(Clone, Debug, PartialEq)]
pub enum PartShape {
    /// Inner and outer wings with strut towers.
    Wings(BaySize, Rgb),
    /// Bulkhead, scuttle and windscreen.
    Bulkhead(BaySize, Rgb),
    /// Slam panel, nose, lamps, grille, catch and labels.
    FrontPanel(BaySize, Rgb),
    /// Open bonnet and its stay; degrees open.
    Bonnet(BaySize, Rgb, f32),
    /// Engine.
    Engine(EngineLook),
    /// Belt drive round the given pulleys.
    BeltDrive(Vec<belt::Pulley>),
    /// A/C compressor with clutch.
    Compressor,
    /// Radiator: width and height of the core with tanks.
    Radiator(Vec2),
    /// Condenser: width and height.
    Condenser(Vec2),
    /// Electric fan with a square shroud of the given size.
    Fan(f32),
    /// Battery with clamps and cables.
    Battery,
    /// Fluid bottle.
    Bottle {
        /// Outside size.
        size: Vec3,
        /// Colour of the fluid.
        fluid: Rgb,
        /// Colour of the cap.
        cap: Rgb,
        /// How full, 0 to 1.
        level: f32,
    },
    /// Washer filler neck.
    WasherNeck,
    /// Brake booster with master cylinder and fluid bottle.
    BrakeBooster,
    /// Air filter box.
    AirBox,
    /// Intake duct along points in the part's frame, of the given radius.
    IntakeDuct(Vec<Vec3>, f32),
    /// Coolant hose along points, of the given radius.
    CoolantHose(Vec<Vec3>, f32),
    /// Aluminium pipe along points, of the given radius.
    Pipe(Vec<Vec3>, f32),
    /// Refrigerant line with a rubber section from and to the given shares of its length.
    HoseLine(Vec<Vec3>, f32, f32, f32),
    /// Wiring in corrugated sleeve along points, of the given radius.
    Harness(Vec<Vec3>, f32),
    /// Service port with cap; `true` for the high side.
    ServicePort(bool),
    /// Pressure sensor with connector.
    PressureSensor,
    /// Inline connector of that many ways.
    InlineConnector(usize),
    /// Ground stud with that many ring lugs; `true` when corroded.
    GroundStud(usize, bool),
    /// Fuse and relay box.
    FuseBox(BoxGrid),
    /// A loose relay (on the bench): size, whether it has 87a, case colour, print.
    LooseRelay(RelaySize, bool, Rgb, String),
    /// A loose fuse (on the bench).
    LooseFuse(FuseSize, f32),
    /// The driver's place (all of it; see [`cabin::spawn`] for its pieces).
    Cabin,
    /// Cloth over a wing from z0 to z1; `true` for the wing at x > 0.
    WingCover(BaySize, bool, f32, f32),
    /// Unrolled tool roll with a place for each tool.
    ToolRoll,
    /// Test light.
    TestLight,
    /// Crocodile clip.
    Clip(Rgb),
    /// Meter probe.
    MeterProbe(Rgb),
    /// Inline fuse holder of a jumper lead; amperes.
    FuseHolder(f32),
    /// Digital meter.
    Meter,
    /// Low-side gauge; end of scale in kPa.
    Gauge(f32),
    /// Inspection lamp.
    InspectionLamp,
    /// Probe thermometer.
    Thermometer,
    /// Socket breakout with posts of these names.
    Breakout(Vec<String>),
    /// A lead coiled flat; colour and number of turns.
    Coil(Rgb, f32),
    /// Bench supply.
    BenchSupply,
    /// Lamp in a holder, with what is printed on it.
    BulbHolder(String),
    /// Case of a board to learn on, of this size (x, z).
    BoardCase(Vec2),
    /// Switch turned by a knob: title, its positions, its terminals.
    TurnSwitch(String, Vec<String>, Vec<String>),
    /// Push button: title, its terminals.
    PushButton(String, Vec<String>),
    /// Post where returns come together: title, number of lugs.
    ReturnPost(String, usize),
    /// A wire in straight runs along points, of the given radius; second colour if it has one.
    LaidWire(Vec<Vec3>, f32, Rgb, Option<Rgb>),
    /// A heavy cable along points, of the given radius and colour.
    Cable(Vec<Vec3>, f32, Rgb),
    /// Plug of that many ways, seen from its wires; comes off its socket.
    Plug(usize),
    /// Screwed terminals on a block, that many.
    Studs(usize),
    /// Gearbox end: bell housing and case.
    Gearbox,
    /// Starter with its magnetic switch.
    Starter,
    /// Horn.
    Horn,
    /// Control unit in its tray.
    ControlUnit,
    /// Accessory bracket between an engine and a belt that runs further out: its depth.
    Bracket(f32),
    /// Turbocharger with its heat shield.
    Turbo,
    /// Corner of an intercooler behind the grille: width and height.
    Intercooler(Vec2),
    /// Rear part of the cabin as far as it is worked at.
    Rear,
    /// A printed plate of the given height; `true` for pale letters on dark.
    Plate(String, f32, bool),
}

/// Spawns a part at `at`.
pub fn spawn_part(
    commands: &mut Commands,
    kit: &mut KitAssets,
    shape: &PartShape,
    at: Transform,
) -> SpawnedPart {
    use PartShape as S;
    let builder = match shape {
        S::BeltDrive(p) => return belt::spawn(commands, kit, at, p),
        S::Compressor => return compressor::spawn(commands, kit, at),
        S::Fan(size) => return cooling::fan(commands, kit, at, *size),
        S::ServicePort(high) => return lines::service_port(commands, kit, at, *high),
        S::PressureSensor => return lines::pressure_sensor(commands, kit, at),
        S::BenchSupply => return bench::supply(commands, kit, at),
        S::BulbHolder(print) => return bench::bulb_holder(commands, kit, at, print),
        S::TurnSwitch(title, marks, ends) => {
            return board::turn_switch(commands, kit, at, title, marks, ends);
        }
        S::PushButton(title, ends) => return board::push_button(commands, kit, at, title, ends),
        S::Plug(ways) => return plug::plug(commands, kit, at, *ways),
        S::Cabin => return cabin::spawn(commands, kit, at),
        S::TestLight => return tools::test_light(commands, kit, at),
        S::Meter => return instruments::meter(commands, kit, at),
        S::Gauge(full) => return instruments::gauge(commands, kit, at, *full),
        S::InspectionLamp => return tools::inspection_lamp(commands, kit, at),
        S::Thermometer => return instruments::thermometer(commands, kit, at),
        S::FuseBox(grid) => return fusebox::spawn(commands, kit, at, grid),
        S::Wings(s, c) => body::wings(*s, *c),
        S::Bulkhead(s, c) => body::bulkhead(*s, *c),
        S::FrontPanel(s, c) => body::front_panel(*s, *c, kit),
        S::Bonnet(s, c, open) => body::bonnet(*s, *c, *open),
        S::Engine(look) => engine::engine(kit, look),
        S::Studs(n) => plug::studs(*n),
        S::Gearbox => ancillary::gearbox(),
        S::Starter => ancillary::starter(),
        S::Horn => ancillary::horn(),
        S::ControlUnit => ancillary::control_unit(kit),
        S::Bracket(depth) => ancillary::bracket(*depth),
        S::Turbo => ancillary::turbo(),
        S::Intercooler(s) => cooling::intercooler(s.x, s.y),
        S::Rear => ancillary::rear(),
        S::Radiator(s) => cooling::radiator(s.x, s.y),
        S::Condenser(s) => cooling::condenser(s.x, s.y),
        S::Battery => bottles::battery(kit),
        S::Bottle {
            size,
            fluid,
            cap,
            level,
        } => bottles::bottle(*size, *fluid, *cap, *level),
        S::WasherNeck => bottles::washer_neck(),
        S::BrakeBooster => bottles::brake_booster(),
        S::AirBox => bottles::air_box(),
        S::IntakeDuct(k, r) => bottles::intake_duct(k, *r),
        S::CoolantHose(k, r) => lines::coolant_hose(k, *r),
        S::Pipe(k, r) => lines::pipe(k, *r),
        S::HoseLine(k, r, a, b) => lines::hose_line(k, *r, *a, *b),
        S::Harness(k, r) => bottles::harness(k, *r),
        S::InlineConnector(n) => lines::inline_connector(*n),
        S::GroundStud(n, bad) => lines::ground_stud(*n, *bad),
        S::WingCover(s, right, z0, z1) => roll::wing_cover(*s, *right, *z0, *z1),
        S::BoardCase(size) => board::case(*size),
        S::ReturnPost(title, lugs) => board::return_post(kit, title, *lugs),
        S::LaidWire(k, r, first, second) => board::laid_wire(k, *r, (*first, *second)),
        S::Cable(k, r, c) => lines::cable(k, *r, *c),
        S::ToolRoll => roll::tool_roll(),
        S::Clip(c) => tools::clip(*c),
        S::MeterProbe(c) => tools::probe(*c),
        S::FuseHolder(amps) => tools::fuse_holder(kit, *amps),
        S::Breakout(names) => tools::breakout(kit, names),
        S::Coil(c, turns) => tools::coil(*c, *turns),
        S::LooseRelay(size, change, colour, print) => {
            let mut b = relay::relay(kit, *size, *change, *colour, print);
            for bl in relay::relay_blades(*size, *change) {
                b.anchor_out(&bl.name, Vec3::new(bl.at.x, -0.011, -bl.at.y), -Vec3::Y);
            }
            b
        }
        S::LooseFuse(size, amps) => {
            let mut b = relay::fuse(kit, *size, *amps);
            b.absorb(relay::element(*size, false), Transform::IDENTITY);
            b
        }
        S::Plate(text, height, dark) => {
            let m = labels::plate(kit, text, *dark);
            let (w, h) = glyphs::extent(text);
            let mut b = PartBuilder::new();
            let aspect = (w + 8) as f32 / (h + 8) as f32;
            b.add_own(
                m,
                solids::decal(height * aspect, *height).turn(Vec3::X, -90.0),
            );
            b
        }
    };
    builder.spawn(commands, kit, at, None)
}

/// Adds the systems that make parts follow their state components.
pub struct KitPlugin;

impl Plugin for KitPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<KitCache>()
            .init_resource::<highlight::Twins>()
            .add_systems(
                Update,
                (
                    follow::slide,
                    cover::cover,
                    follow::spin,
                    follow::run_belts,
                    follow::turn,
                    follow::glow,
                    follow::blow,
                    point::show_points,
                    lead::hang_leads,
                    display::redraw_displays,
                    highlight::put_out,
                    highlight::light_up,
                )
                    .chain(),
            );
    }
}
