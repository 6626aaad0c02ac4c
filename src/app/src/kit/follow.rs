//! Makes the moving pieces of parts follow the state components.
//!
//! Each moving piece names its owner, the entity whose state it shows. A system
//! asks for another frame only while something is still on its way, so that a
//! still scene costs nothing.

use super::state::*;
use bevy::math::Affine2;
use bevy::prelude::*;
use bevy::window::RequestRedraw;

/// Which state of the owner a piece follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Follow {
    /// [`Seated`]: away when not seated.
    Seated,
    /// [`CapOn`]: away when off.
    Cap,
    /// [`LidOn`]: away when off.
    Lid,
    /// [`LidTurned`]: away when turned.
    LidTurned,
    /// [`Pulled`]: away when pulled.
    Pulled,
    /// [`Pressed`]: away when pressed.
    Pressed,
    /// [`ClutchPlate`]: away when engaged.
    Clutch,
}

/// A piece that moves between two poses.
#[derive(Component, Clone, Debug)]
pub struct Slides {
    /// The entity whose state is followed.
    pub owner: Entity,
    /// Which state.
    pub by: Follow,
    /// Pose at rest.
    pub rest: Transform,
    /// Pose when away.
    pub away: Transform,
    /// Height of the arc on the way, metres.
    pub lift: f32,
    /// Time for the whole way, seconds.
    pub seconds: f32,
    /// Where it is now, 0 (rest) to 1 (away).
    pub at: f32,
}

/// A piece that turns as its owner's [`SpinRpm`] says.
#[derive(Component, Clone, Debug)]
pub struct Spins {
    /// The entity with the speed.
    pub owner: Entity,
    /// Turns of this piece for one turn of the owner.
    pub ratio: f32,
    /// Axis in the piece's frame.
    pub axis: Vec3,
    /// For a clutch plate: the entity whose [`ClutchPlate`] couples it.
    pub gate: Option<Entity>,
    /// Present speed over the pulley's, 0 to 1.
    pub grip: f32,
}

/// A texture that runs along a belt as its owner's [`SpinRpm`] says.
#[derive(Component, Clone, Debug)]
pub struct Runs {
    /// The entity with the speed.
    pub owner: Entity,
    /// Texture repeats for one turn of the owner.
    pub repeats: f32,
}

/// A piece turned by its owner's [`KeyTurn`] or [`Needle`].
#[derive(Component, Clone, Debug)]
pub struct Turns {
    /// The entity whose state is followed.
    pub owner: Entity,
    /// Orientation at the start.
    pub rest: Quat,
    /// Axis in the parent's frame.
    pub axis: Vec3,
    /// Angle for a value of 1, radians.
    pub per_unit: f32,
    /// Value shown now.
    pub at: f32,
    /// How quickly the value is followed, per second.
    pub rate: f32,
}

/// A material that shines as its owner's [`Glow`] says.
#[derive(Component, Clone, Debug)]
pub struct Glows {
    /// The entity whose state is followed.
    pub owner: Entity,
    /// Colour at full glow, linear.
    pub colour: LinearRgba,
}

/// A piece shown only in one state of a fuse element.
#[derive(Component, Clone, Debug)]
pub struct ShownWhenBlown {
    /// The entity whose state is followed.
    pub owner: Entity,
    /// Shown when blown (else when whole).
    pub blown: bool,
}

/// Wheels on film are drawn slower than they turn, or they would seem to stand
/// or run backwards at the display's frame rate.
const SHOWN_SPEED: f32 = 0.22;

fn ease(t: f32) -> f32 {
    t * t * (3.0 - 2.0 * t)
}

type Owners<'w, 's> = Query<
    'w,
    's,
    (
        Option<&'static Seated>,
        Option<&'static CapOn>,
        Option<&'static LidOn>,
        Option<&'static LidTurned>,
        Option<&'static Pulled>,
        Option<&'static Pressed>,
        Option<&'static ClutchPlate>,
    ),
>;

/// Moves pieces towards the pose that their owner's state asks for.
pub fn slide(
    time: Res<Time>,
    owners: Owners,
    mut pieces: Query<(&mut Slides, &mut Transform)>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let mut moving = false;
    for (mut s, mut place) in &mut pieces {
        let Ok((seated, cap, lid, turned, pulled, pressed, clutch)) = owners.get(s.owner) else {
            continue;
        };
        let away = match s.by {
            Follow::Seated => seated.is_some_and(|s| !s.0),
            Follow::Cap => cap.is_some_and(|s| !s.0),
            Follow::Lid => lid.is_some_and(|s| !s.0),
            Follow::LidTurned => turned.is_some_and(|s| s.0),
            Follow::Pulled => pulled.is_some_and(|s| s.0),
            Follow::Pressed => pressed.is_some_and(|s| s.0),
            Follow::Clutch => clutch.is_some_and(|s| s.engaged),
        };
        let goal = if away { 1.0 } else { 0.0 };
        if s.at == goal {
            continue;
        }
        let step = time.delta_secs().min(0.1) / s.seconds.max(1e-3);
        s.at = if goal > s.at {
            (s.at + step).min(goal)
        } else {
            (s.at - step).max(goal)
        };
        let f = ease(s.at);
        place.translation = s.rest.translation.lerp(s.away.translation, f)
            + Vec3::Y * (s.lift * (f * std::f32::consts::PI).sin());
        place.rotation = s.rest.rotation.slerp(s.away.rotation, f);
        moving = true;
    }
    if moving {
        redraw.write(RequestRedraw);
    }
}

/// Turns pulleys, fans and clutch plates.
pub fn spin(
    time: Res<Time>,
    speeds: Query<&SpinRpm>,
    gates: Query<&ClutchPlate>,
    mut pieces: Query<(&mut Spins, &mut Transform)>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let mut moving = false;
    let dt = time.delta_secs().min(0.1);
    for (mut s, mut place) in &mut pieces {
        let rpm = speeds.get(s.owner).map_or(0.0, |r| r.0);
        if let Some(gate) = s.gate {
            let engaged = gates.get(gate).is_ok_and(|g| g.engaged);
            // A plate grips at once and coasts to rest in about a second.
            let grip = if engaged {
                (s.grip + dt * 12.0).min(1.0)
            } else {
                (s.grip - dt).max(0.0)
            };
            if grip != s.grip {
                s.grip = grip;
            }
        }
        if rpm == 0.0 || s.grip == 0.0 {
            continue;
        }
        let angle = rpm / 60.0 * std::f32::consts::TAU * s.ratio * s.grip * SHOWN_SPEED * dt;
        place.rotate_local(Quat::from_axis_angle(s.axis, angle));
        moving = true;
    }
    if moving {
        redraw.write(RequestRedraw);
    }
}

/// Runs belts' textures.
pub fn run_belts(
    time: Res<Time>,
    speeds: Query<&SpinRpm>,
    belts: Query<(&Runs, &MeshMaterial3d<StandardMaterial>)>,
    mut materials: ResMut<Assets<StandardMaterial>>,
) {
    for (belt, material) in &belts {
        let rpm = speeds.get(belt.owner).map_or(0.0, |r| r.0);
        if rpm == 0.0 {
            continue;
        }
        if let Some(mut m) = materials.get_mut(&material.0) {
            let step = rpm / 60.0 * belt.repeats * SHOWN_SPEED * time.delta_secs().min(0.1);
            let v = (m.uv_transform.translation.y - step).rem_euclid(1.0);
            m.uv_transform = Affine2::from_translation(Vec2::new(0.0, v));
        }
    }
}

/// Turns keys, knobs and needles.
pub fn turn(
    time: Res<Time>,
    owners: Query<(Option<&KeyTurn>, Option<&Needle>)>,
    mut pieces: Query<(&mut Turns, &mut Transform)>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let mut moving = false;
    for (mut t, mut place) in &mut pieces {
        let Ok((key, needle)) = owners.get(t.owner) else {
            continue;
        };
        let goal = match (key, needle) {
            (Some(k), _) => k.0,
            // A needle rests on a stop just beyond each end of its scale.
            (_, Some(n)) => n.0.clamp(-0.03, 1.05),
            _ => continue,
        };
        if (goal - t.at).abs() < 1e-4 {
            continue;
        }
        let f = 1.0 - (-t.rate * time.delta_secs().min(0.1)).exp();
        t.at = if (goal - t.at).abs() < 2e-3 {
            goal
        } else {
            t.at + (goal - t.at) * f
        };
        place.rotation = Quat::from_axis_angle(t.axis, t.per_unit * t.at) * t.rest;
        moving = true;
    }
    if moving {
        redraw.write(RequestRedraw);
    }
}

/// Lights bulbs and lamps.
pub fn glow(
    changed: Query<(Entity, &Glow), Changed<Glow>>,
    pieces: Query<(&Glows, &MeshMaterial3d<StandardMaterial>)>,
    added: Query<&Glows, Added<Glows>>,
    glows: Query<&Glow>,
    mut materials: ResMut<Assets<StandardMaterial>>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if changed.is_empty() && added.is_empty() {
        return;
    }
    for (g, material) in &pieces {
        let value = glows.get(g.owner).map_or(0.0, |v| v.0).clamp(0.0, 1.0);
        if let Some(mut m) = materials.get_mut(&material.0) {
            // A filament turns from red to white as it brightens.
            let warm = LinearRgba::rgb(1.0, 0.35 + 0.65 * value, 0.1 + 0.9 * value);
            m.emissive = LinearRgba::rgb(
                g.colour.red * warm.red,
                g.colour.green * warm.green,
                g.colour.blue * warm.blue,
            ) * value;
        }
    }
    redraw.write(RequestRedraw);
}

/// Shows whole or melted fuse elements.
pub fn blow(
    owners: Query<&BlownElement>,
    changed: Query<(), Changed<BlownElement>>,
    mut pieces: Query<(&ShownWhenBlown, &mut Visibility)>,
) {
    if changed.is_empty() {
        return;
    }
    for (s, mut v) in &mut pieces {
        let blown = owners.get(s.owner).is_ok_and(|b| b.0);
        let want = if blown == s.blown {
            Visibility::Inherited
        } else {
            Visibility::Hidden
        };
        v.set_if_neq(want);
    }
}

impl Slides {
    /// A piece at rest that follows `by` of `owner`.
    pub fn new(owner: Entity, by: Follow, rest: Transform, away: Transform) -> Slides {
        Slides {
            owner,
            by,
            rest,
            away,
            lift: 0.0,
            seconds: 0.35,
            at: 0.0,
        }
    }
}

impl Spins {
    /// A piece fixed to its shaft.
    pub fn new(owner: Entity, ratio: f32, axis: Vec3) -> Spins {
        Spins {
            owner,
            ratio,
            axis,
            gate: None,
            grip: 1.0,
        }
    }
}
