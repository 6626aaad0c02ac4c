//! Hands the palette and the fonts to egui: one style for paper, one for steel.
//!
//! Paper is the context's own style; a panel that lies on steel calls [`on_steel`] first.

use std::sync::Arc;

use super::Palette;
use crate::egui::{
    self, Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Frame, Margin,
    Shadow, Stroke, Style, TextStyle, Visuals, style::WidgetVisuals,
};

/// Semi-bold, for headings and what must be found quickly.
pub const STRONG: &str = "strong";
/// Narrow, for labels in the state line and tags.
pub const NARROW: &str = "narrow";

/// Smallest height of a thing to click, points: large enough for a shaking hand.
pub const TARGET: f32 = 28.0;

/// Loads the fonts.
pub fn load_fonts(ctx: &egui::Context) {
    let mut fonts = FontDefinitions::default();
    let mut add = |name: &str, bytes: &'static [u8]| {
        fonts
            .font_data
            .insert(name.into(), Arc::new(FontData::from_static(bytes)));
    };
    add(
        "barlow",
        include_bytes!("../../../../assets/fonts/barlow/Barlow-Regular.ttf"),
    );
    add(
        "barlow-strong",
        include_bytes!("../../../../assets/fonts/barlow/Barlow-SemiBold.ttf"),
    );
    add(
        "barlow-narrow",
        include_bytes!("../../../../assets/fonts/barlow/BarlowSemiCondensed-Medium.ttf"),
    );
    // egui's own fonts stay behind ours for arrows and signs. Its fixed-width one has more of them
    // than its proportional ones: dots, triangles, ticks.
    let mut fallback = fonts.families[&FontFamily::Proportional].clone();
    let signs = fonts.families[&FontFamily::Monospace].first().cloned();
    fallback.splice(fallback.len().min(1)..fallback.len().min(1), signs);
    for (family, first) in [
        (FontFamily::Proportional, "barlow"),
        (FontFamily::Name(STRONG.into()), "barlow-strong"),
        (FontFamily::Name(NARROW.into()), "barlow-narrow"),
    ] {
        let mut list = vec![first.to_owned()];
        list.extend(fallback.iter().cloned());
        fonts.families.insert(family, list);
    }
    ctx.set_fonts(fonts);
}

/// A font of the strong family.
pub fn strong(size: f32) -> FontId {
    FontId::new(size, FontFamily::Name(STRONG.into()))
}

/// A font of the narrow family.
pub fn narrow(size: f32) -> FontId {
    FontId::new(size, FontFamily::Name(NARROW.into()))
}

/// Sets the style of everything on paper.
pub fn dress(ctx: &egui::Context, p: &Palette, calm: bool) {
    ctx.set_theme(egui::Theme::Light);
    // A tap is as long as the hand makes it, and where a picture takes a second, no tap is seen to be shorter.
    ctx.options_mut(|options| options.input_options.max_click_duration = f64::INFINITY);
    ctx.all_styles_mut(|style| {
        sizes(style);
        if calm {
            style.animation_time = 0.0;
            style.scroll_animation = egui::style::ScrollAnimation::none();
        }
        style.visuals = paper(p);
    });
}

fn sizes(style: &mut Style) {
    style.text_styles = [
        (TextStyle::Small, FontId::proportional(13.0)),
        (TextStyle::Body, FontId::proportional(15.5)),
        (TextStyle::Button, FontId::proportional(15.5)),
        (TextStyle::Monospace, FontId::monospace(14.0)),
        (TextStyle::Heading, strong(21.0)),
    ]
    .into();
    let s = &mut style.spacing;
    s.item_spacing = egui::vec2(8.0, 6.0);
    s.button_padding = egui::vec2(10.0, 4.0);
    s.interact_size = egui::vec2(36.0, TARGET);
    s.scroll.floating = false;
    s.scroll.bar_width = 10.0;
    s.tooltip_width = 320.0;
    style.interaction.selectable_labels = false;
    style.interaction.tooltip_delay = 0.3;
}

fn widget(fill: Color32, line: Stroke, text: Color32) -> WidgetVisuals {
    WidgetVisuals {
        bg_fill: fill,
        weak_bg_fill: fill,
        bg_stroke: line,
        corner_radius: CornerRadius::same(3),
        fg_stroke: Stroke::new(1.5, text),
        expansion: 0.0,
    }
}

fn paper(p: &Palette) -> Visuals {
    let mut v = Visuals::light();
    v.override_text_color = None;
    v.weak_text_color = Some(p.ink_soft);
    v.widgets.noninteractive = widget(p.paper, Stroke::new(1.0, p.rule), p.ink);
    v.widgets.inactive = widget(p.button, Stroke::new(1.0, p.rule), p.ink);
    v.widgets.hovered = widget(p.button_hover, Stroke::new(1.5, p.ink_soft), p.ink);
    // Egui draws what has the focus as "active": the ring is how one sees where the keyboard is.
    v.widgets.active = widget(p.button, Stroke::new(2.5, p.chosen), p.ink);
    v.widgets.open = widget(p.button_hover, Stroke::new(1.0, p.ink_soft), p.ink);
    v.selection.bg_fill = p.chosen;
    v.selection.stroke = Stroke::new(2.0, p.on_chosen);
    v.hyperlink_color = p.chosen;
    v.faint_bg_color = p.paper_shade;
    v.extreme_bg_color = p.field;
    v.text_edit_bg_color = Some(p.field);
    v.code_bg_color = p.paper_shade;
    v.warn_fg_color = p.care;
    v.error_fg_color = p.bad;
    v.window_fill = p.paper;
    v.window_stroke = Stroke::new(1.0, p.rule);
    v.window_corner_radius = CornerRadius::same(4);
    v.window_shadow = Shadow {
        offset: [0, 4],
        blur: 18,
        spread: 0,
        color: Color32::from_black_alpha(110),
    };
    v.popup_shadow = v.window_shadow;
    v.panel_fill = p.paper;
    v.menu_corner_radius = CornerRadius::same(3);
    // A blinking cursor would ask for pictures all the time.
    v.text_cursor.blink = false;
    v.text_cursor.stroke = Stroke::new(2.0, p.ink);
    v.disabled_alpha = 0.75;
    v
}

/// Sets the style of everything that `ui` still draws to steel.
pub fn on_steel(ui: &mut egui::Ui, p: &Palette) {
    let v = ui.visuals_mut();
    v.weak_text_color = Some(p.on_steel_soft);
    v.widgets.noninteractive = widget(p.steel, Stroke::new(1.0, p.steel_rule), p.on_steel);
    v.widgets.inactive = widget(p.steel_button, Stroke::new(1.0, p.steel_rule), p.on_steel);
    v.widgets.hovered = widget(p.steel_hover, Stroke::new(1.5, p.on_steel_soft), p.on_steel);
    v.widgets.active = widget(p.steel_button, Stroke::new(2.5, p.steel_chosen), p.on_steel);
    v.widgets.open = v.widgets.hovered;
    v.selection.bg_fill = p.steel_chosen;
    v.selection.stroke = Stroke::new(2.0, p.ink);
    v.error_fg_color = p.steel_bad;
    v.warn_fg_color = p.steel_chosen;
    v.extreme_bg_color = p.steel_button;
    v.text_edit_bg_color = Some(p.steel_button);
    v.hyperlink_color = p.steel_chosen;
}

/// Frame of the job sheet.
pub fn sheet_frame(p: &Palette) -> Frame {
    Frame::new()
        .fill(p.paper)
        .inner_margin(Margin::symmetric(14, 10))
}

/// Frame of a tag over the scene.
pub fn steel_frame(p: &Palette) -> Frame {
    Frame::new()
        .fill(p.steel)
        .stroke(Stroke::new(1.0, p.steel_rule))
        .corner_radius(CornerRadius::same(4))
        .inner_margin(Margin::symmetric(10, 8))
}

/// Frame of a card (complaint slip, choices).
pub fn card_frame(p: &Palette) -> Frame {
    Frame::new()
        .fill(p.card)
        .stroke(Stroke::new(1.0, p.rule))
        .corner_radius(CornerRadius::same(2))
        .inner_margin(Margin::symmetric(18, 14))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Frames so many seconds apart: a finger comes down in one and is lifted in the next.
    fn tapped(apart_s: f64) -> bool {
        let ctx = egui::Context::default();
        dress(&ctx, &Palette::workshop(), true);
        let mut clicked = false;
        let pos = egui::pos2(60.0, 40.0);
        let button = |pressed| egui::Event::PointerButton {
            pos,
            button: egui::PointerButton::Primary,
            pressed,
            modifiers: egui::Modifiers::NONE,
        };
        let frames = [
            vec![],
            vec![egui::Event::PointerMoved(pos), button(true)],
            vec![button(false), egui::Event::PointerGone],
        ];
        for (frame, events) in frames.into_iter().enumerate() {
            let input = egui::RawInput {
                time: Some(frame as f64 * apart_s),
                events,
                screen_rect: Some(egui::Rect::from_min_size(
                    egui::Pos2::ZERO,
                    egui::vec2(200.0, 100.0),
                )),
                ..Default::default()
            };
            let _ = ctx.run_ui(input, |ui| {
                clicked |= ui
                    .add_sized(ui.available_size(), egui::Button::new("here"))
                    .clicked();
            });
        }
        clicked
    }

    #[test]
    fn a_tap_is_heard_however_slow_the_pictures_come() {
        assert!(tapped(0.016));
        assert!(tapped(3.0));
    }
}
