//! Small pieces that several panels use, each with a name for those who do not see it.

use super::Cx;
use crate::egui::{
    self, Align, Button, Color32, Key, Layout, Response, RichText, Stroke, Ui, WidgetInfo,
    WidgetType,
};
use crate::look::palette::Palette;
use crate::look::theme;

/// A button that carries a key's name at its right edge.
pub fn key_button(ui: &mut Ui, label: &str, key: Option<&str>) -> Response {
    let mut button = Button::new(label).wrap();
    if let Some(key) = key {
        button = button.shortcut_text(RichText::new(key).small());
    }
    let response = ui.add(button);
    // Without this a reader would say "Look 1" for a button named Look with the key 1.
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, label));
    if let Some(key) = key {
        let shortcut = key.to_owned();
        ui.ctx().accesskit_node_builder(response.id, |node| {
            node.set_keyboard_shortcut(shortcut);
        });
    }
    response
}

/// The main button of a screen.
pub fn main_button(ui: &mut Ui, cx: &Cx<'_>, label: &str) -> Response {
    let text = RichText::new(label)
        .font(theme::strong(17.0))
        .color(cx.look.on_chosen);
    let button = Button::new(text)
        .fill(cx.look.chosen)
        .min_size(egui::vec2(140.0, 38.0));
    let response = ui.add(button);
    ring(ui, &response, cx.look.ink);
    response
}

/// A second ring for a button whose own colour hides the usual one.
pub fn ring(ui: &Ui, response: &Response, colour: Color32) {
    if response.has_focus() {
        ui.painter().rect_stroke(
            response.rect.expand(3.0),
            4,
            Stroke::new(2.5, colour),
            egui::StrokeKind::Outside,
        );
    }
}

/// A heading that readers announce as one.
pub fn heading(ui: &mut Ui, text: &str) -> Response {
    let response = ui.label(RichText::new(text).heading());
    ui.ctx().accesskit_node_builder(response.id, |node| {
        node.set_role(egui::accesskit::Role::Heading);
    });
    response
}

/// A small heading.
pub fn subheading(ui: &mut Ui, text: &str) -> Response {
    let response = ui.label(RichText::new(text).font(theme::strong(15.5)));
    ui.ctx().accesskit_node_builder(response.id, |node| {
        node.set_role(egui::accesskit::Role::Heading);
    });
    response
}

/// A share from 0 to 1 as a bar, which readers announce by `words`.
pub fn bar(ui: &mut Ui, look: &Palette, size: egui::Vec2, share: f64, words: &str) {
    let (rect, response) = ui.allocate_exact_size(size, egui::Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::ProgressIndicator, true, words));
    ui.painter().rect_filled(rect, 2, look.paper_shade);
    let mut full = rect;
    full.set_width(rect.width() * (share as f32).clamp(0.0, 1.0));
    ui.painter().rect_filled(full, 2, look.chosen);
}

/// A label and its value in one line that is never broken, one name to a reader.
pub fn fact(ui: &mut Ui, soft: Color32, name: &str, value: &str, colour: Color32) {
    let mut job = egui::text::LayoutJob::default();
    for (words, font, colour, before) in [
        (name, theme::narrow(13.5), soft, 0.0),
        (value, theme::strong(15.0), colour, 5.0),
    ] {
        let format = egui::TextFormat {
            font_id: font,
            color: colour,
            valign: Align::Center,
            ..Default::default()
        };
        job.append(words, before, format);
    }
    // What is too long for any line loses its end, never its place.
    job.wrap = egui::text::TextWrapping::truncate_at_width(ui.max_rect().width());
    let galley = ui.fonts_mut(|fonts| fonts.layout_job(job));
    let label = ui.add(egui::Label::new(galley));
    let both = format!("{name}: {value}");
    label.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &both));
}

/// Tabs as paper tabs: one is on top, and takes the keyboard if `focus` says so. Returns whether another
/// was chosen now.
pub fn tabs<T: Copy + PartialEq>(
    ui: &mut Ui,
    cx: &Cx<'_>,
    names: &[(T, String)],
    chosen: &mut T,
    focus: bool,
) -> bool {
    let mut changed = false;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 3.0;
        for (tab, name) in names {
            let on = *tab == *chosen;
            let text = RichText::new(name).font(if on {
                theme::strong(15.5)
            } else {
                theme::narrow(15.5)
            });
            let button = Button::new(text.color(cx.look.ink))
                .fill(if on {
                    cx.look.field
                } else {
                    cx.look.paper_shade
                })
                .corner_radius(egui::CornerRadius {
                    nw: 6,
                    ne: 6,
                    sw: 0,
                    se: 0,
                });
            let response = ui.add(button);
            response.widget_info(|| WidgetInfo::selected(WidgetType::RadioButton, true, on, name));
            ui.ctx().accesskit_node_builder(response.id, |node| {
                node.set_role(egui::accesskit::Role::Tab);
                node.set_selected(on);
            });
            if on {
                let r = response.rect;
                ui.painter().line_segment(
                    [r.left_bottom(), r.right_bottom()],
                    Stroke::new(3.0, cx.look.chosen),
                );
            }
            if focus && on {
                response.request_focus();
            }
            if response.clicked() && !on {
                *chosen = *tab;
                changed = true;
            }
        }
    });
    changed
}

/// One of a list that opens below its button. With the keyboard one goes down the list and back to
/// the button, as with the pointer.
pub fn one_of<T: Copy + PartialEq>(
    ui: &mut Ui,
    id: &str,
    label: &str,
    list: &[(T, String)],
    chosen: &mut Option<T>,
) {
    let named = list.iter().find(|(item, _)| Some(*item) == *chosen);
    let mut done = false;
    let was_open = egui::Id::new(("open", id));
    let open = ui.data(|d| d.get_temp::<bool>(was_open)).unwrap_or(false);
    let shown = egui::ComboBox::from_id_salt(id)
        .width(ui.available_width() - 130.0)
        .selected_text(named.map_or(label, |(_, name)| name))
        .show_ui(ui, |ui| {
            for (i, (item, name)) in list.iter().enumerate() {
                let response = ui.selectable_label(Some(*item) == *chosen, name);
                let first = named.map_or(i == 0, |(on, _)| on == item);
                if first && !open {
                    response.request_focus();
                }
                if response.clicked() {
                    *chosen = Some(*item);
                    done = true;
                    ui.close();
                }
            }
        });
    let escaped = open && ui.input(|i| i.key_pressed(Key::Escape));
    let still = shown.inner.is_some() && !done && !escaped;
    ui.data_mut(|d| d.insert_temp(was_open, still));
    if done || escaped {
        // Back to where the keyboard came from, chosen or not.
        shown.response.request_focus();
    }
    shown
        .response
        .widget_info(|| WidgetInfo::labeled(WidgetType::ComboBox, true, label));
}

/// A text field with its name above it.
pub fn field(ui: &mut Ui, name: &str, text: &mut String, rows: usize, most: usize) -> Response {
    let label = ui.label(RichText::new(name).font(theme::narrow(14.5)));
    let edit = if rows > 1 {
        egui::TextEdit::multiline(text).desired_rows(rows)
    } else {
        egui::TextEdit::singleline(text)
    };
    let response = ui
        .add(edit.desired_width(f32::INFINITY).char_limit(most))
        .labelled_by(label.id);
    if response.has_focus() {
        ui.painter().rect_stroke(
            response.rect.expand(1.0),
            3,
            Stroke::new(2.5, ui.visuals().widgets.active.bg_stroke.color),
            egui::StrokeKind::Outside,
        );
    }
    response
}

/// Whether a key was pressed now while nobody is writing.
pub fn pressed(ui: &Ui, key: Key) -> bool {
    !ui.ctx().text_edit_focused() && ui.input(|i| i.modifiers.is_none() && i.key_pressed(key))
}

/// Words flush left, where the layout around would stretch their lines to its width.
pub fn ragged<R>(ui: &mut Ui, add: impl FnOnce(&mut Ui) -> R) -> R {
    ui.with_layout(Layout::top_down(Align::Min), add).inner
}

/// Two columns of the same width with room between them.
pub fn two_columns(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    left: impl FnOnce(&mut Ui, &mut Cx<'_>),
    right: impl FnOnce(&mut Ui, &mut Cx<'_>),
) {
    ui.scope(|ui| {
        let within = ui.spacing().item_spacing;
        ui.spacing_mut().item_spacing.x = 30.0;
        ui.columns(2, |columns| {
            for column in columns.iter_mut() {
                column.spacing_mut().item_spacing = within;
            }
            ragged(&mut columns[0], |ui| left(ui, cx));
            ragged(&mut columns[1], |ui| right(ui, cx));
        });
    });
}

/// A heading with something at the right end of its row.
pub fn headed(ui: &mut Ui, text: &str, large: bool, right: impl FnOnce(&mut Ui)) {
    ui.with_layout(Layout::right_to_left(Align::Min), |ui| {
        right(ui);
        ui.with_layout(Layout::top_down(Align::Min), |ui| {
            if large {
                heading(ui, text);
            } else {
                subheading(ui, text);
            }
        });
    });
}
