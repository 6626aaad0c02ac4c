//! Between the session and the scene: casts the car's parts into the kit's shapes, makes the
//! scene follow the session's view, and turns clicks in the scene into orders.
//!
//! Computes nothing about the car.

pub mod board;
pub mod cabin;
pub mod casting;
pub mod evidence;
mod fill;
mod fineness;
pub mod follow;
pub mod fuse_box;
pub mod gaze;
pub mod lamp;
pub mod leads;
pub mod pick;
pub mod picture;
mod signs;
pub mod walk;
mod wet;

use std::collections::{BTreeMap, BTreeSet};

use bevy::prelude::*;
use tracebay_core::vehicle::Kind;

use crate::kit::{KitAssets, PickId, PointShow, SpawnedPart};
use crate::run::{AtDesk, Frame, InForce};
use crate::settings::Graphics;
use crate::stage::{self, Bay, Detail, Places, StagePlugin};

/// Adds the scene.
pub struct BridgePlugin;

/// The car that stands in the scene.
#[derive(Resource, Default)]
pub struct Standing {
    /// Scenario and seed it was built for.
    pub case: Option<(String, u64)>,
    /// Parts and their pieces by the session's ids.
    pub parts: BTreeMap<String, SpawnedPart>,
    /// Probe points by the session's ids.
    pub points: BTreeMap<String, Entity>,
    /// Tools by name.
    pub tools: BTreeMap<String, SpawnedPart>,
    /// From where its things are seen.
    pub gazes: gaze::Gazes,
    /// Parts of it that are fuses.
    fuses: BTreeSet<String>,
}

impl Plugin for BridgePlugin {
    fn build(&self, app: &mut App) {
        app.add_plugins((StagePlugin, picture::PicturePlugin))
            .init_resource::<Standing>()
            .init_resource::<pick::Pointed>()
            .init_resource::<leads::Hanging>()
            .add_systems(
                Update,
                (
                    follow_level,
                    put_up,
                    find_points,
                    walk::walk,
                    walk::look,
                    walk::listen,
                    follow::car,
                    follow::tools,
                    lamp::hold,
                    wet::prepare,
                    wet::follow,
                    fuse_box::follow,
                    cabin::follow,
                    leads::hang,
                    pick::show_points,
                    pick::highlight,
                    signs::point_out,
                )
                    .chain()
                    .in_set(Frame::Follow),
            )
            .add_observer(pick::click)
            .add_observer(pick::over)
            .add_observer(pick::out);
    }
}

/// How much the scene draws at a level of the settings.
pub fn detail(level: Graphics) -> Detail {
    match level {
        Graphics::Low => Detail::Low,
        Graphics::Medium => Detail::Medium,
        Graphics::High => Detail::High,
    }
}

fn follow_level(settings: Res<InForce>, mut detail: ResMut<Detail>) {
    if !settings.is_changed() {
        return;
    }
    let wanted = self::detail(settings.0.graphics);
    if *detail != wanted {
        *detail = wanted;
    }
}

/// Builds the scene when another case comes to the desk.
fn put_up(
    at_desk: Res<AtDesk>,
    mut standing: ResMut<Standing>,
    mut commands: Commands,
    mut kit: KitAssets,
    bay: Option<Res<Bay>>,
) {
    let Some(desk) = &at_desk.0 else { return };
    let case = desk.session().case();
    let key = (case.scenario.id.clone(), case.seed);
    if standing.case.as_ref() == Some(&key) {
        return;
    }
    let layout = casting::cast(case, desk.session().points());
    let bay = match bay {
        None => stage::set_the_stage(
            &mut commands,
            &mut kit,
            &layout,
            walk::station(desk.view().station),
        ),
        Some(old) => {
            commands.entity(old.root).despawn();
            let bay = stage::spawn_bay(&mut commands, &mut kit, &layout, Transform::IDENTITY);
            commands.insert_resource(Places::for_layout(&layout));
            commands.insert_resource(bay.clone());
            bay
        }
    };
    standing.case = Some(key);
    standing.points.clear();
    standing.tools = bay
        .parts
        .iter()
        .filter_map(|(id, p)| Some((id.strip_prefix(casting::TOOL)?.to_owned(), p.clone())))
        .collect();
    standing.parts = bay.parts;
    standing.gazes = gaze::Gazes::of(&layout);
    let parts = case.vehicle.parts.iter();
    standing.fuses = parts
        .filter(|(_, p)| matches!(p.kind, Kind::Fuse { .. }))
        .map(|(id, _)| id.clone())
        .collect();
    cabin::name_pieces(&mut commands, case, &mut kit, &standing);
}

/// Notes new probe points by the session's ids.
fn find_points(
    mut standing: ResMut<Standing>,
    mut fresh: Query<(Entity, &mut PickId), Added<PointShow>>,
) {
    for (entity, mut id) in &mut fresh {
        let name = casting::point_name(&id.0, |part| standing.fuses.contains(part));
        if name != id.0 {
            id.0.clone_from(&name);
        }
        standing.points.insert(name, entity);
    }
}
