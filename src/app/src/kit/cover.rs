//! What lies under a lid is not drawn while the lid is on: nobody sees it, and it is much.

use super::follow::Slides;
use bevy::prelude::*;

/// Lies under this lid, unless it has been taken out.
#[derive(Component, Clone, Copy, Debug)]
pub struct Under {
    /// The piece that comes off.
    pub lid: Entity,
}

/// Leaves out what a lid covers.
pub fn cover(
    lids: Query<&Slides, Without<Under>>,
    mut covered: Query<(&Under, Option<&Slides>, &mut Visibility)>,
) {
    let home = |s: &Slides| s.at == 0.0;
    for (under, own, mut shown) in &mut covered {
        let hidden = lids.get(under.lid).is_ok_and(home) && own.is_none_or(home);
        shown.set_if_neq(if hidden {
            Visibility::Hidden
        } else {
            Visibility::Inherited
        });
    }
}
