//! Lights up what is pointed at, by swapping its materials for brighter twins.

use super::follow::Glows;
use super::point::PointLooks;
use super::state::Highlight;
use bevy::platform::collections::HashMap;
use bevy::prelude::*;
use bevy::window::RequestRedraw;

/// The material a lit-up mesh had before.
#[derive(Component)]
pub struct Before(Handle<StandardMaterial>);

/// Brighter twins made so far.
#[derive(Resource, Default)]
pub struct Twins(HashMap<AssetId<StandardMaterial>, Handle<StandardMaterial>>);

/// Puts brighter materials on things that gained [`Highlight`].
pub fn light_up(
    mut commands: Commands,
    added: Query<Entity, Added<Highlight>>,
    children: Query<&Children>,
    mut meshes: Query<&mut MeshMaterial3d<StandardMaterial>, Without<Before>>,
    left_alone: Query<(), Or<(With<PointLooks>, With<Glows>)>>,
    mut twins: ResMut<Twins>,
    mut materials: ResMut<Assets<StandardMaterial>>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    for root in &added {
        for e in std::iter::once(root).chain(children.iter_descendants(root)) {
            // What shines by itself shows how brightly; points have looks of their own.
            if left_alone.contains(e) {
                continue;
            }
            let Ok(mut m) = meshes.get_mut(e) else {
                continue;
            };
            let before = m.0.clone();
            let twin = match twins.0.get(&before.id()) {
                Some(t) => t.clone(),
                None => {
                    let Some(mut bright) = materials.get(&before).cloned() else {
                        continue;
                    };
                    let base = bright.base_color.to_linear();
                    bright.emissive = bright.emissive
                        + LinearRgba::rgb(0.035, 0.022, 0.004)
                        + LinearRgba::rgb(base.red, base.green, base.blue) * 0.10;
                    let t = materials.add(bright);
                    twins.0.insert(before.id(), t.clone());
                    t
                }
            };
            m.0 = twin;
            commands.entity(e).insert(Before(before));
        }
        redraw.write(RequestRedraw);
    }
}

/// Gives things that lost [`Highlight`] their own materials back.
pub fn put_out(
    mut commands: Commands,
    mut removed: RemovedComponents<Highlight>,
    children: Query<&Children>,
    mut meshes: Query<(&mut MeshMaterial3d<StandardMaterial>, &Before)>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    for root in removed.read() {
        for e in std::iter::once(root).chain(children.iter_descendants(root)) {
            if let Ok((mut m, before)) = meshes.get_mut(e) {
                m.0 = before.0.clone();
                commands.entity(e).remove::<Before>();
            }
        }
        redraw.write(RequestRedraw);
    }
}
