//! The fuse box: its slots as the case has them, and what is pulled, open or blown.

use bevy::prelude::*;
use tracebay_core::scenario::Case;
use tracebay_core::session::PointKind;
use tracebay_core::vehicle::{Blades, FuseBody, FuseBox, Kind, Marks, Relay};

use super::Standing;
use super::evidence::Evidence;
use crate::kit::relay::Blade;
use crate::kit::{
    BlownElement, BoxCell, BoxGrid, CellKind, FuseSize, LidOn, LidTurned, Pulled, RelaySize,
};
use crate::run::AtDesk;
use crate::stage::Stand;

/// The box's grid for a case, at least as large as its stand wants it; `lid` says whether it can have
/// one.
pub fn grid(case: &Case, data: &FuseBox, stand: &Stand, lid: bool) -> BoxGrid {
    let size = size(data, stand);
    let inner = size - Vec2::splat(0.02);
    let cells = data.slots.iter().filter_map(|slot| {
        let kind = cell_kind(&case.vehicle.parts.get(&slot.part)?.kind)?;
        let at = case.slots.get(&slot.part).copied().unwrap_or(slot.at);
        let cavities = case
            .arrangements
            .get(&slot.part)
            .and_then(|order| cavities(&case.vehicle.parts[&slot.part].kind, order));
        Some(BoxCell {
            id: slot.part.clone(),
            kind,
            at: cell_at(inner, data.grid, at),
            turns: 0,
            legend: slot.legend.clone(),
            cavities,
        })
    });
    BoxGrid {
        size,
        cells: cells.collect(),
        // Printed on the lid, like the legends: a car does not change its print with the reader.
        title: data.label.as_written().to_uppercase(),
        lid,
        lid_turned: data.legend_turned,
        lid_aside: stand.lid_aside,
        tray: stand.tray,
    }
}

/// Outer size of a box. Cells are as far apart as a relay and a finger need.
pub fn size(data: &FuseBox, stand: &Stand) -> Vec2 {
    Vec2::new(
        (data.grid.0 as f32 * 0.031 + 0.02).max(stand.least.x),
        (data.grid.1 as f32 * 0.031 + 0.02).max(stand.least.y),
    )
}

/// Middle of a column and row of a grid on a box of this size, metres.
fn cell_at(size: Vec2, grid: (u32, u32), at: (u32, u32)) -> Vec2 {
    let share = |n: u32, of: u32| (n as f32 + 0.5) / of.max(1) as f32 - 0.5;
    Vec2::new(share(at.0, grid.0) * size.x, share(at.1, grid.1) * size.y)
}

fn cell_kind(kind: &Kind) -> Option<CellKind> {
    match kind {
        Kind::Relay(relay) => Some(CellKind::Relay {
            size: size_of(relay),
            changeover: relay.changeover,
            case: [30, 30, 33],
            print: match relay.marks {
                Marks::Din => "30 85 86 87".into(),
                Marks::Numbers => "1 2 3 5".into(),
                Marks::Schematic | Marks::Bare => String::new(),
            },
        }),
        Kind::Fuse { amps, body } => Some(CellKind::Fuse {
            size: match body {
                FuseBody::Mini => FuseSize::Mini,
                FuseBody::Regular => FuseSize::Regular,
                FuseBody::Maxi => FuseSize::Maxi,
            },
            amps: *amps as f32,
        }),
        _ => None,
    }
}

fn size_of(relay: &Relay) -> RelaySize {
    match relay.blades {
        Blades::WideAndNarrow => RelaySize::Micro,
        Blades::Equal => RelaySize::Mini,
    }
}

/// Cavities lettered in reading order, as wide as what goes into them.
fn cavities(kind: &Kind, order: &[String]) -> Option<Vec<Blade>> {
    let Kind::Relay(relay) = kind else {
        return None;
    };
    let (dx, dy) = match size_of(relay) {
        RelaySize::Micro => (3.9, 7.2),
        RelaySize::Mini => (7.6, 7.6),
    };
    let places = [(-dx, dy), (dx, dy), (-dx, -dy), (dx, -dy), (0.0, 0.0)];
    let letters = ["a", "b", "c", "d", "e"];
    let blades = order.iter().zip(places).zip(letters);
    Some(
        blades
            .map(|((terminal, (x, y)), letter)| {
                let coil = matches!(terminal.as_str(), "85" | "86");
                let narrow = coil && relay.blades == Blades::WideAndNarrow;
                Blade {
                    name: letter.into(),
                    at: Vec2::new(x, y) * 1e-3,
                    width: if narrow { 4.8e-3 } else { 6.3e-3 },
                    upright: true,
                }
            })
            .collect(),
    )
}

/// Lid, pulled relays and fuses, and elements seen gone.
pub fn follow(
    at_desk: Res<AtDesk>,
    standing: Res<Standing>,
    mut lids: Query<(&mut LidOn, &mut LidTurned)>,
    mut cells: Query<(&mut Pulled, Option<&mut BlownElement>)>,
) {
    if !at_desk.is_changed() && !standing.is_changed() {
        return;
    }
    let Some(desk) = &at_desk.0 else { return };
    let view = desk.view();
    let vehicle = &desk.session().case().vehicle;
    let evidence = Evidence::of(vehicle, desk.log());
    for (id, data) in &vehicle.boxes {
        let Some(part) = standing.parts.get(id) else {
            continue;
        };
        let cover = vehicle
            .places
            .get(&data.place)
            .and_then(|p| p.cover.as_ref());
        if let Ok((mut on, mut turned)) = lids.get_mut(part.entity) {
            on.set_if_neq(LidOn(cover.is_some_and(|c| !view.uncovered.contains(c))));
            turned.set_if_neq(LidTurned(data.legend_turned));
        }
        for (cell, entity) in &part.pieces {
            let Ok((mut pulled, element)) = cells.get_mut(*entity) else {
                continue;
            };
            pulled.set_if_neq(Pulled(view.pulled.contains(cell)));
            if let Some(mut element) = element {
                element.set_if_neq(BlownElement(evidence.blown.contains(cell)));
            }
        }
    }
}

/// Whether a kind of point lies in the scene at all.
pub fn in_scene(kind: PointKind) -> bool {
    !matches!(kind, PointKind::Blade | PointKind::Paint)
}
