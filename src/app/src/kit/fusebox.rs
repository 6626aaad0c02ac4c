//! Fuse and relay box in the bay: body, grid of sockets, the parts in them, lid
//! with legend, and the tray that pulled parts are laid on.
//!
//! Frame: centre of the box's foot; x along the box, +z towards the reader of
//! the legend. Everything is at true size, so the close-up is just a closer look.

use super::body::bolt;
use super::cover::Under;
use super::engine::corrugated;
use super::follow::{Follow, ShownWhenBlown, Slides};
use super::glyphs::Canvas;
use super::material::{KitAssets, Mat, Rgb};
use super::part::{PartBuilder, SpawnedPart};
use super::point::spawn_point;
use super::relay::*;
use super::solids::*;
use super::state::*;
use bevy::prelude::*;
use std::f32::consts::FRAC_PI_2;

/// What belongs into a cell of the box.
#[derive(Clone, Debug, PartialEq)]
pub enum CellKind {
    /// A cube relay.
    Relay {
        /// Case size.
        size: RelaySize,
        /// Whether it has 87a.
        changeover: bool,
        /// Case colour.
        case: Rgb,
        /// Its print.
        print: String,
    },
    /// A blade fuse.
    Fuse {
        /// Body size.
        size: FuseSize,
        /// Rated current, amperes.
        amps: f32,
    },
    /// An unused relay socket.
    SpareRelay(RelaySize),
    /// An unused fuse socket.
    SpareFuse(FuseSize),
}

/// One cell of the grid.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxCell {
    /// Caller's id; the part gets it as [`PickId`], its points `id.terminal`.
    pub id: String,
    /// What is in it.
    pub kind: CellKind,
    /// Centre in the box's frame (x, z), metres.
    pub at: Vec2,
    /// Quarter turns about +Y.
    pub turns: u8,
    /// Words on the legend.
    pub legend: String,
    /// Cavities, where they differ from the usual arrangement.
    pub cavities: Option<Vec<Blade>>,
}

/// A whole box.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxGrid {
    /// Outer size of the box (x, z), metres.
    pub size: Vec2,
    /// The cells.
    pub cells: Vec<BoxCell>,
    /// Heading on the legend.
    pub title: String,
    /// Whether it has a lid; without one nothing is printed beside the sockets but their names.
    pub lid: bool,
    /// The lid sits on it turned half round; what is printed outside is still read from the front.
    pub lid_turned: bool,
    /// Where the lid lies when off, in the box's frame.
    pub lid_aside: Transform,
    /// Where the tray for pulled parts lies, in the box's frame.
    pub tray: Transform,
}

/// Height of the deck that sockets stand on.
const DECK: f32 = 0.056;
/// Height of the box's rim.
const RIM: f32 = 0.066;

/// The cavities of a cell, in its own frame.
pub fn cavities(cell: &BoxCell) -> Vec<Blade> {
    if let Some(c) = &cell.cavities {
        return c.clone();
    }
    match &cell.kind {
        CellKind::Relay {
            size, changeover, ..
        } => relay_blades(*size, *changeover),
        CellKind::SpareRelay(size) => relay_blades(*size, false),
        CellKind::Fuse { size, .. } | CellKind::SpareFuse(size) => fuse_blades(*size),
    }
}

/// Spawns the box; state on the root: [`LidOn`], [`LidTurned`]. Pieces: `lid` and
/// each cell's id (those have [`Pulled`] and, for fuses, [`BlownElement`]).
/// Points for every cavity and fuse test tab are spawned with ids `id.terminal`.
pub fn spawn(
    commands: &mut Commands,
    kit: &mut KitAssets,
    at: Transform,
    grid: &BoxGrid,
) -> SpawnedPart {
    let mut part = body(grid).spawn(commands, kit, at, None);
    let root = part.entity;
    commands
        .entity(root)
        .insert((LidOn(true), LidTurned(false)));
    let lid = grid.lid.then(|| lid(commands, kit, grid, &mut part));
    let covered = |commands: &mut Commands, e: Entity| {
        if let Some(lid) = lid {
            commands.entity(e).insert(Under { lid });
        }
    };
    let inside = commands
        .spawn((Transform::IDENTITY, Visibility::default(), ChildOf(root)))
        .id();
    covered(commands, inside);
    sockets(kit, grid).spawn_under(commands, kit, inside, None);

    for (i, cell) in grid.cells.iter().enumerate() {
        let place = place_of(cell);
        for b in cavities(cell) {
            let anchor = place * Transform::from_xyz(b.at.x, 0.003, -b.at.y);
            let name = format!("{}.{}", cell.id, b.name);
            // Fuse ends are touched at the test tabs while the fuse is in; the
            // cavities below get names of their own.
            let name = match cell.kind {
                CellKind::Fuse { .. } => format!("{name}.cavity"),
                _ => name,
            };
            spawn_point(
                commands,
                kit,
                inside,
                anchor,
                PickId(name.clone()),
                b.width.min(0.005) * 0.5,
            );
            part.anchors.insert(name, anchor);
        }
        let (body, key, height) = match &cell.kind {
            CellKind::Relay {
                size,
                changeover,
                case,
                print,
            } => {
                let s = relay_case(*size);
                let key = format!("relay {size:?} {changeover} {case:?} {print}");
                (relay(kit, *size, *changeover, *case, print), key, s.z)
            }
            CellKind::Fuse { size, amps } => {
                let s = fuse_body(*size);
                (
                    fuse(kit, *size, *amps),
                    format!("fuse {size:?} {amps}"),
                    s.z,
                )
            }
            _ => continue,
        };
        let tabs = body.anchors.clone();
        let rest = place * Transform::from_xyz(0.0, 0.003, 0.0);
        // Laid on its back in the tray, so that the blades and a blown element show.
        let spot = tray_spot(grid, i);
        let away = grid.tray
            * Transform::from_xyz(spot.x, height * 0.5 + 0.004, spot.y + 0.010).with_rotation(
                Quat::from_rotation_y(0.25 * (i as f32 * 1.7).sin())
                    * Quat::from_rotation_x(-FRAC_PI_2),
            );
        let e = commands
            .spawn((
                rest,
                Visibility::default(),
                ChildOf(root),
                PickId(cell.id.clone()),
                Pulled(false),
            ))
            .id();
        commands.entity(e).insert(Slides {
            lift: 0.10,
            seconds: 0.7,
            ..Slides::new(e, Follow::Pulled, rest, away)
        });
        covered(commands, e);
        body.spawn_under(commands, kit, e, Some(&key));
        if let CellKind::Fuse { size, .. } = &cell.kind {
            commands.entity(e).insert(BlownElement(false));
            for blown in [false, true] {
                let look = element(*size, blown);
                let show = if blown {
                    Visibility::Hidden
                } else {
                    Visibility::Inherited
                };
                let c = commands
                    .spawn((
                        Transform::IDENTITY,
                        show,
                        ChildOf(e),
                        ShownWhenBlown { owner: e, blown },
                    ))
                    .id();
                look.spawn_under(commands, kit, c, Some(&format!("element {size:?} {blown}")));
            }
            for (name, tab) in tabs {
                let id = format!("{}.{}", cell.id, name);
                spawn_point(commands, kit, e, tab, PickId(id.clone()), 0.0011);
                part.anchors.insert(id, rest * tab);
            }
        }
        part.pieces.insert(cell.id.clone(), e);
    }
    part
}

/// Tray spots, six to a row, in the tray's frame.
fn tray_spot(grid: &BoxGrid, index: usize) -> Vec2 {
    let columns = 7;
    let rows = grid.cells.len().div_ceil(columns).max(1);
    let (c, r) = (index % columns, index / columns);
    Vec2::new(
        (c as f32 - 3.0) * 0.030,
        (r as f32 - (rows as f32 - 1.0) * 0.5) * 0.030,
    )
}

fn body(grid: &BoxGrid) -> PartBuilder {
    let mut b = PartBuilder::new();
    let (l, w) = (grid.size.x, grid.size.y);
    let black = Mat::Plastic([24, 24, 26]);
    b.add(
        black,
        rounded_box(Vec3::new(l - 0.02, 0.05, w - 0.02), 0.012).mv(0.0, 0.024, 0.0),
    );
    b.add(
        Mat::Plastic([33, 33, 35]),
        rounded_box(Vec3::new(l - 0.012, 0.010, w - 0.012), 0.002).mv(0.0, DECK - 0.005, 0.0),
    );
    // Walls.
    for s in [-1.0f32, 1.0] {
        b.add(
            black,
            rounded_box(Vec3::new(l, 0.036, 0.005), 0.002).mv(
                0.0,
                RIM - 0.018,
                s * (w * 0.5 - 0.0025),
            ),
        );
        b.add(
            black,
            rounded_box(Vec3::new(0.005, 0.036, w), 0.002).mv(
                s * (l * 0.5 - 0.0025),
                RIM - 0.018,
                0.0,
            ),
        );
        // Clips for the lid and feet for the wing.
        b.add(
            black,
            rounded_box(Vec3::new(0.03, 0.022, 0.008), 0.002).mv(
                s * l * 0.3,
                RIM - 0.012,
                w * 0.5 + 0.003,
            ),
        );
        b.add(
            black,
            rounded_box(Vec3::new(0.04, 0.008, 0.03), 0.003).mv(s * (l * 0.5 + 0.012), 0.004, 0.0),
        );
        bolt(
            &mut b,
            Vec3::new(s * (l * 0.5 + 0.02), 0.008, 0.0),
            Vec3::Y,
            0.011,
        );
    }
    // Where the wiring comes out below.
    for (i, x) in [-0.3f32, 0.05, 0.3].iter().enumerate() {
        let z0 = -w * 0.5;
        let k = [
            Vec3::new(x * l, 0.015, z0 + 0.01),
            Vec3::new(x * l, 0.012, z0 - 0.025),
            Vec3::new(x * l - 0.03, -0.05, z0 - 0.04 - 0.01 * i as f32),
            Vec3::new(x * l - 0.12, -0.12, z0 - 0.05),
        ];
        corrugated(&mut b, &k, 0.009 + 0.002 * (i % 2) as f32);
    }
    // Tray: a shallow pressed steel dish, its rim rolled.
    let mut t = PartBuilder::new();
    let rows = grid.cells.len().div_ceil(7).max(1) as f32;
    let (tl, tw) = (0.225, rows * 0.030 + 0.015);
    t.add(
        Mat::Satin([92, 96, 100]),
        rounded_box(Vec3::new(tl, 0.003, tw), 0.001).mv(0.0, 0.0015, 0.0),
    );
    for s in [-1.0f32, 1.0] {
        t.add(
            Mat::Satin([92, 96, 100]),
            rounded_box(Vec3::new(tl, 0.012, 0.003), 0.0012).mv(0.0, 0.006, s * tw * 0.5),
        );
        t.add(
            Mat::Satin([92, 96, 100]),
            rounded_box(Vec3::new(0.003, 0.012, tw), 0.0012).mv(s * tl * 0.5, 0.006, 0.0),
        );
    }
    b.absorb(t, grid.tray);
    b.anchor("tray", grid.tray);
    b
}

/// The sockets, each with its name beside it.
fn sockets(kit: &mut KitAssets, grid: &BoxGrid) -> PartBuilder {
    let mut b = PartBuilder::new();
    for cell in &grid.cells {
        socket(&mut b, cell, place_of(cell));
        let letters = super::labels::lettering(kit, &cell.id, [232, 232, 226]);
        let aspect = super::labels::lettering_aspect(&cell.id);
        let size = socket_size(cell, true);
        let room = (size.x + 0.004).max(0.0095);
        let h = 0.0052f32.min(room / aspect.max(0.1));
        b.add_own(
            letters,
            decal(h * aspect, h).turn(Vec3::X, -90.0).mv(
                cell.at.x,
                DECK + 0.0004,
                cell.at.y + size.y * 0.5 + 0.0044,
            ),
        );
    }
    b
}

/// Where a cell is on the deck.
fn place_of(cell: &BoxCell) -> Transform {
    Transform::from_xyz(cell.at.x, DECK, cell.at.y)
        .with_rotation(Quat::from_rotation_y(f32::from(cell.turns) * FRAC_PI_2))
}

fn socket_size(cell: &BoxCell, turned: bool) -> Vec2 {
    let s = match &cell.kind {
        CellKind::Relay { size, .. } | CellKind::SpareRelay(size) => relay_case(*size),
        CellKind::Fuse { size, .. } | CellKind::SpareFuse(size) => fuse_body(*size),
    };
    let v = Vec2::new(s.x, s.z);
    if turned && cell.turns % 2 == 1 {
        v.yx()
    } else {
        v
    }
}

/// A socket: a raised block with a cavity for each blade, its contact visible.
fn socket(b: &mut PartBuilder, cell: &BoxCell, place: Transform) {
    let s = socket_size(cell, false);
    b.add(
        Mat::Plastic([44, 44, 47]),
        rounded_box(Vec3::new(s.x + 0.001, 0.0034, s.y + 0.001), 0.0006)
            .mv(0.0, 0.0014, 0.0)
            .at(place),
    );
    for bl in cavities(cell) {
        let (w, d) = (bl.width + 0.0012, 0.0022);
        let (w, d) = if bl.upright { (d, w) } else { (w, d) };
        let top = 0.00325;
        let at = Vec3::new(bl.at.x, top, -bl.at.y);
        b.add(
            Mat::Void,
            block(Vec3::new(w, 0.0004, d))
                .mv(at.x, at.y, at.z)
                .at(place),
        );
        // The pair of contact leaves inside the cavity.
        for s in [-1.0f32, 1.0] {
            let (lw, ld, dx, dz) = if bl.upright {
                (0.0005, bl.width * 0.8, s * 0.0007, 0.0)
            } else {
                (bl.width * 0.8, 0.0005, 0.0, s * 0.0007)
            };
            b.add(
                Mat::Brass,
                block(Vec3::new(lw, 0.0004, ld))
                    .mv(at.x + dx, at.y + 0.00008, at.z + dz)
                    .at(place),
            );
        }
    }
}

/// The lid; returns the piece that comes off.
fn lid(
    commands: &mut Commands,
    kit: &mut KitAssets,
    grid: &BoxGrid,
    part: &mut SpawnedPart,
) -> Entity {
    let (l, w) = (grid.size.x, grid.size.y);
    let rest = Transform::from_xyz(0.0, RIM - 0.004, 0.0);
    let away =
        grid.lid_aside * Transform::from_rotation(Quat::from_rotation_x(std::f32::consts::PI));
    let outer = part.piece(commands, kit, "lid", rest, PartBuilder::new());
    commands.entity(outer).insert(Slides {
        lift: 0.22,
        seconds: 0.9,
        ..Slides::new(part.entity, Follow::Lid, rest, away)
    });
    let turned = Transform::from_rotation(Quat::from_rotation_y(std::f32::consts::PI));
    let inner = commands
        .spawn((
            Transform::IDENTITY,
            Visibility::default(),
            ChildOf(outer),
            Slides {
                seconds: 0.6,
                ..Slides::new(part.entity, Follow::LidTurned, Transform::IDENTITY, turned)
            },
        ))
        .id();
    let mut b = PartBuilder::new();
    let black = Mat::Plastic([27, 27, 29]);
    let h = 0.040;
    b.add(
        black,
        rounded_box(Vec3::new(l + 0.006, 0.004, w + 0.006), 0.0018).mv(0.0, h, 0.0),
    );
    b.add(
        black,
        rounded_box(Vec3::new(l - 0.02, 0.008, w - 0.02), 0.003).mv(0.0, h + 0.003, 0.0),
    );
    for s in [-1.0f32, 1.0] {
        b.add(
            black,
            rounded_box(Vec3::new(l + 0.006, h, 0.004), 0.0015).mv(
                0.0,
                h * 0.5,
                s * (w * 0.5 + 0.001),
            ),
        );
        b.add(
            black,
            rounded_box(Vec3::new(0.004, h, w + 0.006), 0.0015).mv(
                s * (l * 0.5 + 0.001),
                h * 0.5,
                0.0,
            ),
        );
    }
    for k in 0..6 {
        b.add(
            black,
            rounded_box(Vec3::new(l * 0.8, 0.003, 0.005), 0.001).mv(
                0.0,
                h + 0.0075,
                w * (k as f32 * 0.12 - 0.3),
            ),
        );
    }
    let letters = super::labels::plate(kit, "FUSES + RELAYS", false);
    b.add_own(
        letters,
        decal(0.09, 0.014)
            .turn(Vec3::X, -90.0)
            .mv(0.0, h + 0.0092, w * 0.36)
            .turn(Vec3::Y, if grid.lid_turned { 180.0 } else { 0.0 }),
    );
    let legend = kit.images.add(legend(grid).into_image());
    let legend = kit.printed(legend);
    let legend = kit.materials.add(legend);
    b.add_own(
        legend,
        decal(l - 0.008, w - 0.008)
            .turn(Vec3::X, 90.0)
            .mv(0.0, h - 0.0025, 0.0),
    );
    b.spawn_under(commands, kit, inner, None);
    // The lid comes off; what lies under it must not stay as dark as with the lid on.
    commands.entity(inner).insert(crate::stage::NoOpenness);
    outer
}

/// The plan printed inside the lid: each cell where it is, with its words.
fn legend(grid: &BoxGrid) -> Canvas {
    let scale = 1024.0 / grid.size.x;
    let (w, h) = (1024usize, (grid.size.y * scale) as usize);
    let (paper, ink) = ([226, 224, 212, 255], [24, 24, 28, 255]);
    let mut c = Canvas::new(w, h, paper);
    c.frame(4, 4, w as i32 - 8, h as i32 - 8, 3, ink);
    c.text_mid(w as i32 / 2, 20, 2, &grid.title, ink);
    for cell in &grid.cells {
        let s = socket_size(cell, true) * scale;
        let at = (cell.at + grid.size * 0.5) * scale;
        let (x, y) = (at.x - s.x * 0.5, at.y - s.y * 0.5);
        c.frame(x as i32, y as i32, s.x as i32, s.y as i32, 2, ink);
        let words = match &cell.kind {
            CellKind::Fuse { amps, .. } => format!("{}\n{amps}A", cell.id),
            _ => cell.id.clone(),
        };
        if s.y > 60.0 {
            c.text_mid(at.x as i32, (at.y - s.y * 0.22) as i32, 2, &cell.id, ink);
            let broken = wrap(&cell.legend, ((s.x - 8.0) / 6.0) as usize);
            c.text_mid(at.x as i32, (at.y + s.y * 0.12) as i32, 1, &broken, ink);
        } else {
            c.text_mid(
                at.x as i32,
                at.y as i32 - if s.y < 24.0 { 22 } else { 0 },
                1,
                &words,
                ink,
            );
            let broken = wrap(&cell.legend, ((s.x.max(44.0)) / 6.0) as usize);
            c.text_mid(
                at.x as i32,
                (at.y + s.y * 0.5 + 18.0) as i32,
                1,
                &broken,
                ink,
            );
        }
    }
    c
}

/// Breaks words into lines of at most `width` characters where it can.
fn wrap(text: &str, width: usize) -> String {
    let mut out = String::new();
    let mut column = 0;
    for word in text.split_whitespace() {
        let n = word.chars().count();
        if column > 0 && column + 1 + n > width {
            out.push('\n');
            column = 0;
        } else if column > 0 {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += n;
    }
    out
}
