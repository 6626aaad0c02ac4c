//! Where one stands and looks from: the stations, the walk between them, orbit,
//! zoom and pan with their limits, and a closer look at a part.

use bevy::input::mouse::{AccumulatedMouseMotion, AccumulatedMouseScroll, MouseScrollUnit};
use bevy::prelude::*;
use bevy::window::RequestRedraw;

/// A place to stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Station {
    /// The driver's seat.
    Seat,
    /// In front of the open bonnet.
    #[default]
    Bay,
    /// Close over the fuse box.
    Box,
    /// At the workbench.
    Bench,
}

/// A view: what is looked at, from where round it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// Point looked at.
    pub target: Vec3,
    /// Angle round the target, radians; 0 looks towards -z.
    pub yaw: f32,
    /// Angle above the horizon, radians.
    pub pitch: f32,
    /// Distance from the target, metres.
    pub distance: f32,
    /// Vertical field of view, radians.
    pub fov: f32,
}

/// How far a view may be changed at a station.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Largest yaw to either side of the station's own.
    pub yaw: f32,
    /// Lowest and highest pitch.
    pub pitch: (f32, f32),
    /// Nearest and farthest distance.
    pub distance: (f32, f32),
    /// How far the target may be moved, each way.
    pub pan: Vec3,
}

/// A station's home view and limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// View on arrival.
    pub home: View,
    /// What may be changed.
    pub limits: Limits,
}

/// The stations of a scene.
#[derive(Resource, Clone, Debug)]
pub struct Places {
    /// Driver's seat.
    pub seat: Place,
    /// Engine bay.
    pub bay: Place,
    /// Fuse box.
    pub fuse_box: Place,
    /// Workbench.
    pub bench: Place,
}

impl Places {
    /// The place of a station.
    pub fn get(&self, s: Station) -> &Place {
        match s {
            Station::Seat => &self.seat,
            Station::Bay => &self.bay,
            Station::Box => &self.fuse_box,
            Station::Bench => &self.bench,
        }
    }
}

/// The camera that stands at stations.
#[derive(Component, Clone, Debug)]
pub struct Viewer {
    /// Where one stands.
    pub station: Station,
    /// Where the view is now.
    pub now: View,
    /// Where it is going.
    pub goal: View,
    /// Seconds that a walk takes; 0 jumps (reduced motion).
    pub walk_seconds: f32,
    /// The part looked at closely, if any; the limits then leave room for it.
    pub focused: bool,
    /// Where one looks from when that is none of the stations' views.
    pub own: Option<Place>,
    /// How far the middle of the view is to lie right of the picture's middle, in heights of the
    /// picture: cards lie over one side of it.
    pub aside: f32,
    /// How many times its usual height the view is to show: the picture may be narrow.
    pub widened: f32,
    /// Whether pointer and wheel move the view (the interface sets it false while
    /// the pointer is over a panel).
    pub listens: bool,
}

/// Ask the viewer to walk to a station.
#[derive(Message, Clone, Copy, Debug)]
pub struct WalkTo(pub Station);

/// Ask the viewer for a closer look at a place in the world, or to step back.
#[derive(Message, Clone, Copy, Debug)]
pub enum LookAt {
    /// Look at `target` from `distance` metres, from where `from` points (the
    /// outward direction), if given.
    Closely {
        /// Point in the world.
        target: Vec3,
        /// Distance, metres.
        distance: f32,
        /// Direction from the target to the eye.
        from: Option<Vec3>,
    },
    /// A view of its own, whatever the station's limits are.
    From(View),
    /// Back to the station's home view.
    StepBack,
}

impl Place {
    /// Looking closely at something: room to move a little about it.
    fn about(home: View) -> Place {
        Place {
            home,
            limits: Limits {
                yaw: 0.7,
                pitch: ((home.pitch - 0.4).max(-0.3), (home.pitch + 0.4).min(1.5)),
                distance: (home.distance * 0.35, home.distance * 1.6),
                pan: Vec3::splat(0.15),
            },
        }
    }
}

impl View {
    /// A close look at `target` from the direction `eye`.
    pub fn of(target: Vec3, eye: Vec3, distance: f32) -> View {
        let d = eye.normalize_or(Vec3::Y);
        View {
            target,
            yaw: d.x.atan2(d.z),
            pitch: d.y.clamp(-1.0, 1.0).asin().min(1.5),
            distance,
            fov: 42.0f32.to_radians(),
        }
    }

    /// The same view with its turn counted so that the way from `yaw` is the short one.
    fn nearest(mut self, yaw: f32) -> View {
        let turns = ((yaw - self.yaw) / std::f32::consts::TAU).round();
        self.yaw += turns * std::f32::consts::TAU;
        self
    }

    /// Where the eye is and where it looks.
    pub fn transform(&self) -> Transform {
        self.shifted(0.0)
    }

    /// The same with the target `aside` heights of the view to the right of its middle.
    fn shifted(&self, aside: f32) -> Transform {
        let dir = Vec3::new(
            self.yaw.sin() * self.pitch.cos(),
            self.pitch.sin(),
            self.yaw.cos() * self.pitch.cos(),
        );
        let eye = self.target + dir * self.distance;
        let mut at = Transform::from_translation(eye).looking_at(self.target, Vec3::Y);
        let height = 2.0 * self.distance * (self.fov * 0.5).tan();
        at.translation -= at.right() * (aside * height);
        at
    }

    /// The same showing `factor` times as much.
    fn widened(mut self, factor: f32) -> View {
        self.fov = 2.0 * ((self.fov * 0.5).tan() * factor).atan();
        self
    }

    fn towards(&self, goal: &View, f: f32) -> View {
        let mix = |a: f32, b: f32| a + (b - a) * f;
        View {
            target: self.target.lerp(goal.target, f),
            yaw: mix(self.yaw, goal.yaw),
            pitch: mix(self.pitch, goal.pitch),
            distance: mix(self.distance, goal.distance),
            fov: mix(self.fov, goal.fov),
        }
    }

    fn near(&self, o: &View) -> bool {
        self.target.distance(o.target) < 5e-4
            && (self.yaw - o.yaw).abs() < 5e-4
            && (self.pitch - o.pitch).abs() < 5e-4
            && (self.distance - o.distance).abs() < 5e-4
            && (self.fov - o.fov).abs() < 5e-4
    }

    fn clamped(mut self, p: &Place, focused: bool) -> View {
        let l = &p.limits;
        let home = p.home.nearest(self.yaw).yaw;
        self.yaw = self.yaw.clamp(home - l.yaw, home + l.yaw);
        self.pitch = self.pitch.clamp(l.pitch.0, l.pitch.1);
        let nearest = if focused {
            l.distance.0 * 0.35
        } else {
            l.distance.0
        };
        self.distance = self.distance.clamp(nearest, l.distance.1);
        let off = (self.target - p.home.target).clamp(-l.pan, l.pan);
        self.target = p.home.target + off;
        self
    }
}

impl Viewer {
    /// Standing at a station.
    pub fn at(station: Station, places: &Places) -> Viewer {
        let home = places.get(station).home;
        Viewer {
            station,
            now: home,
            goal: home,
            walk_seconds: 0.9,
            focused: false,
            own: None,
            aside: 0.0,
            widened: 1.0,
            listens: true,
        }
    }
}

/// Walks and closer looks asked for by messages.
pub fn hear_requests(
    mut walks: MessageReader<WalkTo>,
    mut looks: MessageReader<LookAt>,
    places: Res<Places>,
    mut viewers: Query<&mut Viewer>,
) {
    let walks: Vec<_> = walks.read().copied().collect();
    let looks: Vec<_> = looks.read().copied().collect();
    if walks.is_empty() && looks.is_empty() {
        return;
    }
    for mut v in &mut viewers {
        for w in &walks {
            v.station = w.0;
            v.goal = places.get(w.0).home.nearest(v.now.yaw);
            v.focused = false;
            v.own = None;
        }
        for look in &looks {
            let place = places.get(v.station);
            match look {
                LookAt::From(view) => {
                    let goal = view.nearest(v.now.yaw);
                    v.focused = true;
                    v.own = Some(Place::about(goal));
                    v.goal = goal;
                }
                LookAt::Closely {
                    target,
                    distance,
                    from,
                } => {
                    v.own = None;
                    v.focused = true;
                    let mut goal = v.goal;
                    goal.target = *target;
                    goal.distance = *distance;
                    if let Some(d) = from.and_then(|d| d.try_normalize()) {
                        goal.pitch = d.y.asin();
                        if Vec2::new(d.x, d.z).length() > 0.05 {
                            goal.yaw = d.x.atan2(d.z);
                        }
                    }
                    v.goal = goal.clamped(place, true);
                }
                LookAt::StepBack => {
                    v.focused = false;
                    v.own = None;
                    v.goal = place.home.nearest(v.now.yaw);
                }
            }
        }
    }
}

/// Right button turns, middle button (or shift and right) moves, the wheel comes closer;
/// arrow keys are left to the interface, which can change [`Viewer::goal`] itself.
pub fn hear_pointer(
    buttons: Res<ButtonInput<MouseButton>>,
    keys: Res<ButtonInput<KeyCode>>,
    motion: Res<AccumulatedMouseMotion>,
    scroll: Res<AccumulatedMouseScroll>,
    places: Res<Places>,
    mut viewers: Query<&mut Viewer>,
) {
    let shift = keys.pressed(KeyCode::ShiftLeft) || keys.pressed(KeyCode::ShiftRight);
    let turn = buttons.pressed(MouseButton::Right) && !shift;
    let pan = buttons.pressed(MouseButton::Middle) || buttons.pressed(MouseButton::Right) && shift;
    let wheel = match scroll.unit {
        MouseScrollUnit::Line => scroll.delta.y,
        MouseScrollUnit::Pixel => scroll.delta.y / 60.0,
    };
    let moved = motion.delta != Vec2::ZERO && (turn || pan);
    if !moved && wheel == 0.0 {
        return;
    }
    for mut v in &mut viewers {
        if !v.listens {
            continue;
        }
        let step = if moved { motion.delta } else { Vec2::ZERO };
        v.nudge(
            &places,
            if turn { step } else { Vec2::ZERO },
            if pan { step } else { Vec2::ZERO },
            wheel,
        );
    }
}

impl Viewer {
    /// Turns (pixels), moves sideways (pixels) and comes closer (notches),
    /// within the station's limits. For keyboards too.
    pub fn nudge(&mut self, places: &Places, turn: Vec2, pan: Vec2, closer: f32) {
        let mut g = self.goal;
        g.yaw -= turn.x * 0.005;
        g.pitch += turn.y * 0.005;
        let t = g.transform();
        let k = g.distance * 0.0016;
        g.target += t.right() * (-pan.x * k) + t.up() * (pan.y * k);
        g.distance *= 0.88f32.powf(closer);
        let own = self.own;
        let place = own.as_ref().unwrap_or(places.get(self.station));
        self.goal = g.clamped(place, self.focused && own.is_none());
    }
}

/// Moves the camera towards its goal; asks for frames only while on its way.
pub fn walk(
    time: Res<Time>,
    mut viewers: Query<(&mut Viewer, &mut Transform, &mut Projection)>,
    mut placed: Local<Option<(View, f32)>>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    for (mut v, mut place, mut projection) in &mut viewers {
        let there = v.now == v.goal;
        let seen = |v: &Viewer| Some((v.now.widened(v.widened), v.aside));
        if there && *placed == seen(&v) {
            continue;
        }
        let f = if v.walk_seconds <= 0.0 {
            1.0
        } else {
            1.0 - (-time.delta_secs().min(0.1) * 5.5 / v.walk_seconds).exp()
        };
        let next = v.now.towards(&v.goal, f);
        v.now = if next.near(&v.goal) { v.goal } else { next };
        *placed = seen(&v);
        let view = v.now.widened(v.widened);
        *place = view.shifted(v.aside);
        if let Projection::Perspective(p) = &mut *projection {
            p.fov = view.fov;
        }
        redraw.write(RequestRedraw);
    }
}
