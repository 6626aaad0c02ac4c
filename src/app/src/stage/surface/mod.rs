//! Surfaces drawn by a small shader of our own.
//!
//! The full surface shader is made for every scene there may be; this one has a lamp, a beam and a
//! workshop around it. The small shader takes its place: the same materials and meshes, drawn by a
//! fraction of the steps, for a card's sake with shadows and relief, for a processor's without. Bevy
//! keeps the full shader as an asset under a known name; whatever is put there is compiled and used.

use bevy::asset::LoadState;
use bevy::prelude::*;
use bevy::shader::{Shader, ShaderDefVal};

use super::light::Detail;
use super::surroundings::six_sides;

/// Where Bevy keeps the shaders that surfaces are drawn with.
const FRAGMENTS: &str = "embedded://bevy_pbr/render/pbr.wgsl";
const VERTICES: &str = "embedded://bevy_pbr/render/mesh.wgsl";
/// Strength of the surroundings as the eye's exposure sees it; the full shader's is the
/// environment light's intensity times the exposure of the viewer.
const AROUND: f32 = 1.10;

/// Where the shaders are, and which are in place.
#[derive(Resource)]
pub struct Surfaces {
    handles: [Handle<Shader>; 2],
    fine: Option<bool>,
}

impl Surfaces {
    /// Whether the shaders for the level in force are in place.
    pub fn ready(&self) -> bool {
        self.fine.is_some()
    }
}

impl FromWorld for Surfaces {
    fn from_world(world: &mut World) -> Self {
        let assets = world.resource::<AssetServer>();
        Surfaces {
            handles: [assets.load(FRAGMENTS), assets.load(VERTICES)],
            fine: None,
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
    let fine = *detail != Detail::Low;
    if surfaces.fine == Some(fine) {
        return;
    }
    for handle in &surfaces.handles {
        if let Some(LoadState::Failed(_)) = assets.get_load_state(handle) {
            // Another version of Bevy keeps it elsewhere: everything is drawn in full.
            surfaces.fine = Some(fine);
            return;
        }
        // Not before Bevy's own is there, or it would come in on top.
        if shaders.get(handle).is_none() {
            return;
        }
    }
    let defs = if fine {
        vec![ShaderDefVal::from("FINE")]
    } else {
        Vec::new()
    };
    for (handle, name) in surfaces.handles.iter().zip([FRAGMENTS, VERTICES]) {
        let shader = Shader::from_wgsl_with_defs(source(), name, defs.clone());
        if let Err(error) = shaders.insert(handle.id(), shader) {
            warn!("{error}");
        }
    }
    surfaces.fine = Some(fine);
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
