//! Surfaces for machines that draw without a graphics card.
//!
//! The full surface shader costs a processor a hundred times what it can give. At the low level a
//! small one takes its place: the same materials and meshes, drawn by fewer steps. Bevy keeps the
//! full shader as an asset under a known name; whatever is put there is compiled and used.

use bevy::asset::LoadState;
use bevy::prelude::*;
use bevy::shader::Shader;

use super::light::Detail;
use super::surroundings::six_sides;

/// Where Bevy keeps the shaders that surfaces are drawn with.
const FRAGMENTS: &str = "embedded://bevy_pbr/render/pbr.wgsl";
const VERTICES: &str = "embedded://bevy_pbr/render/mesh.wgsl";
/// Strength of the surroundings as the eye's exposure sees it; the full shader's is the
/// environment light's intensity times the exposure of the viewer.
const AROUND: f32 = 1.10;

/// The full shaders, and which are in place.
#[derive(Resource)]
pub struct Surfaces {
    handles: [Handle<Shader>; 2],
    full: [Option<Shader>; 2],
    plain: Option<bool>,
}

impl Surfaces {
    /// Whether the shaders for the level in force are in place.
    pub fn ready(&self) -> bool {
        self.plain.is_some()
    }
}

impl FromWorld for Surfaces {
    fn from_world(world: &mut World) -> Self {
        let assets = world.resource::<AssetServer>();
        Surfaces {
            handles: [assets.load(FRAGMENTS), assets.load(VERTICES)],
            full: [None, None],
            plain: None,
        }
    }
}

/// Puts the shaders of the level in force in place.
pub fn lay_on(
    detail: Res<Detail>,
    assets: Res<AssetServer>,
    mut surfaces: ResMut<Surfaces>,
    mut shaders: ResMut<Assets<Shader>>,
) {
    let wanted = *detail == Detail::Low;
    if surfaces.plain == Some(wanted) {
        return;
    }
    for i in 0..2 {
        if surfaces.full[i].is_some() {
            continue;
        }
        let handle = surfaces.handles[i].clone();
        if let Some(LoadState::Failed(_)) = assets.get_load_state(&handle) {
            // Another version of Bevy keeps it elsewhere: everything is drawn in full.
            surfaces.plain = Some(wanted);
            return;
        }
        // Not before Bevy's own is there, or it would come in on top.
        let Some(full) = shaders.get(&handle) else {
            return;
        };
        surfaces.full[i] = Some(full.clone());
    }
    if surfaces.plain.is_none() && !wanted {
        surfaces.plain = Some(wanted);
        return;
    }
    for (i, name) in [FRAGMENTS, VERTICES].into_iter().enumerate() {
        let shader = match (wanted, &surfaces.full[i]) {
            (false, Some(full)) => full.clone(),
            _ => Shader::from_wgsl(source(), name),
        };
        if let Err(error) = shaders.insert(surfaces.handles[i].id(), shader) {
            warn!("{error}");
        }
    }
    surfaces.plain = Some(wanted);
}

/// The shader with the workshop's colours written into it.
fn source() -> String {
    let names = ["RIGHT", "LEFT", "ABOVE", "BELOW", "BEFORE", "BEHIND"];
    let mut text = String::from(include_str!("surface.wgsl"));
    for (name, c) in names.into_iter().zip(six_sides()) {
        text.push_str(&format!(
            "const {name} = vec3<f32>({:.4}, {:.4}, {:.4});\n",
            c.x, c.y, c.z
        ));
    }
    text.push_str(&format!("const AROUND = {AROUND:.3};\n"));
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_colour_that_the_shader_names_is_written_into_it() {
        let text = source();
        for name in [
            "RIGHT", "LEFT", "ABOVE", "BELOW", "BEFORE", "BEHIND", "AROUND",
        ] {
            assert_eq!(
                text.matches(&format!("const {name} =")).count(),
                1,
                "{name}"
            );
        }
    }
}
