//! Displays whose text can be set: a meter's liquid crystal, an odometer.

use super::glyphs::Canvas;
use super::material::KitAssets;
use super::state::Display;
use bevy::prelude::*;
use bevy::window::RequestRedraw;

/// Colours and size of a display.
#[derive(Clone, Copy, Debug)]
pub struct Screen {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// Background, sRGB.
    pub paper: [u8; 3],
    /// Figures, sRGB.
    pub ink: [u8; 3],
}

/// A surface that shows its owner's [`Display`] text.
#[derive(Component, Clone, Debug)]
pub struct Shows {
    /// The entity whose text is shown.
    pub owner: Entity,
    /// How it looks.
    pub screen: Screen,
    /// The picture that is drawn anew.
    pub picture: Handle<Image>,
}

/// Makes a material that shows text, and the component that keeps it up to date.
/// `lit` is how strongly the display shines by itself.
pub fn screen(
    kit: &mut KitAssets,
    owner: Entity,
    screen: Screen,
    lit: f32,
) -> (Handle<StandardMaterial>, Shows) {
    let picture = kit.images.add(draw(&screen, "").into_image());
    let material = kit.materials.add(StandardMaterial {
        base_color_texture: Some(picture.clone()),
        emissive_texture: Some(picture.clone()),
        emissive: LinearRgba::rgb(lit, lit, lit),
        perceptual_roughness: 0.25,
        ..default()
    });
    (
        material,
        Shows {
            owner,
            screen,
            picture,
        },
    )
}

fn draw(s: &Screen, text: &str) -> Canvas {
    let full = |c: [u8; 3]| [c[0], c[1], c[2], 255];
    let mut c = Canvas::new(s.width, s.height, full(s.paper));
    let (w, h) = (s.width as i32, s.height as i32);
    // First line large, the rest small beneath, as on instruments.
    let mut lines = text.lines();
    let first = lines.next().unwrap_or("");
    let rest: Vec<&str> = lines.collect();
    if rest.is_empty() {
        c.text_fit(6, 4, w - 12, h - 8, first, full(s.ink));
    } else {
        let split = h * 2 / 3;
        c.text_fit(6, 4, w - 12, split - 6, first, full(s.ink));
        c.text_fit(
            6,
            split,
            w - 12,
            h - split - 4,
            &rest.join("\n"),
            full(s.ink),
        );
    }
    c
}

/// Redraws displays whose text changed.
pub fn redraw_displays(
    changed: Query<(), Or<(Changed<Display>, Added<Shows>)>>,
    owners: Query<Ref<Display>>,
    shows: Query<Ref<Shows>>,
    mut images: ResMut<Assets<Image>>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if changed.is_empty() {
        return;
    }
    for s in &shows {
        let Ok(text) = owners.get(s.owner) else {
            continue;
        };
        if !(text.is_changed() || s.is_added()) {
            continue;
        }
        if let Some(mut img) = images.get_mut(&s.picture) {
            *img = draw(&s.screen, &text.0).into_image();
        }
        redraw.write(RequestRedraw);
    }
}
