//! The settings. A change takes effect at once.

use super::sheet_of_paper;
use crate::desk::keys::{KeyAct, Keys};
use crate::desk::{Order, Screen};
use crate::egui::{self, Event, Key, RichText, Slider, Ui};
use crate::look::theme;
use crate::panels::{Cx, widgets};
use crate::platform::{self, sound::Output};
use crate::settings::{Graphics, Pressure, Settings, Temperature};
use crate::text::Language;

/// A key that is being chosen.
#[derive(Clone, Copy, Debug, Default)]
pub struct Setting {
    /// Which act waits for its key.
    pub waiting: Option<KeyAct>,
}

/// Draws them; `back` is where one came from.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, state: &mut Setting, back: Screen) {
    let before = cx.settings.clone();
    let mut s = before.clone();
    sheet_of_paper(ui, cx, 720.0, |ui, cx| {
        let title = cx.t("settings-title");
        widgets::headed(ui, &title, true, |ui| {
            if widgets::key_button(ui, &cx.t("back"), None).clicked() {
                cx.order(Order::Open(back));
            }
        });
        look_and_sound(ui, cx, &mut s);
        units(ui, cx, &mut s);
        keys(ui, cx, &mut s, state);
    });
    if s != before {
        cx.order(Order::Settings(Box::new(s.tidied())));
    }
}

fn choices<T: Copy + PartialEq>(ui: &mut Ui, name: &str, value: &mut T, list: &[(T, String)]) {
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(name).font(theme::narrow(15.0)));
        for (v, label) in list {
            let response = ui.radio(*value == *v, label);
            let full = format!("{name}: {label}");
            let on = *value == *v;
            response.widget_info(|| {
                egui::WidgetInfo::selected(egui::WidgetType::RadioButton, true, on, &full)
            });
            if response.clicked() {
                *value = *v;
            }
        }
    });
}

fn look_and_sound(ui: &mut Ui, cx: &mut Cx<'_>, s: &mut Settings) {
    let languages: Vec<_> = Language::ALL
        .iter()
        .map(|(l, name)| (*l, (*name).to_owned()))
        .collect();
    choices(ui, &cx.t("set-language"), &mut s.language, &languages);
    let label = cx.t("set-text");
    ui.horizontal_wrapped(|ui| {
        let name = ui.label(RichText::new(&label).font(theme::narrow(15.0)));
        ui.add(
            Slider::new(&mut s.text_percent, 100..=200)
                .step_by(10.0)
                .suffix(" %"),
        )
        .labelled_by(name.id);
    });
    ui.checkbox(&mut s.blue_and_orange, cx.t("set-blue-orange"));
    ui.checkbox(&mut s.calm, cx.t("set-calm"));
    ui.checkbox(&mut s.captions, cx.t("set-captions"));
    sound(ui, cx, s, platform::sound::output());
    let list = [
        (Graphics::Low, cx.t("graphics-low")),
        (Graphics::Medium, cx.t("graphics-medium")),
        (Graphics::High, cx.t("graphics-high")),
    ];
    choices(ui, &cx.t("set-graphics"), &mut s.graphics, &list);
}

/// Sound and how loud. Where none comes out it is off, and why stands below.
pub fn sound(ui: &mut Ui, cx: &Cx<'_>, s: &mut Settings, output: Output) {
    let usable = output.usable();
    ui.horizontal_wrapped(|ui| {
        let mut shown_on = s.sound && usable;
        let switch = egui::Checkbox::new(&mut shown_on, cx.t("set-sound"));
        if ui.add_enabled(usable, switch).changed() {
            s.sound = shown_on;
        }
        let label = cx.t("set-volume");
        let name = ui.label(RichText::new(&label).font(theme::narrow(15.0)));
        let slider = Slider::new(&mut s.volume_percent, 0..=100)
            .step_by(5.0)
            .suffix(" %");
        ui.add_enabled(shown_on, slider).labelled_by(name.id);
    });
    if let Some(key) = output.text_key() {
        ui.label(RichText::new(cx.t(key)).font(theme::narrow(15.0)));
    }
}

fn units(ui: &mut Ui, cx: &mut Cx<'_>, s: &mut Settings) {
    let list = [
        (Pressure::Kpa, "kPa".to_owned()),
        (Pressure::Bar, "bar".to_owned()),
        (Pressure::Psi, "psi".to_owned()),
    ];
    choices(ui, &cx.t("set-pressure"), &mut s.pressure, &list);
    let list = [
        (Temperature::Celsius, "°C".to_owned()),
        (Temperature::Fahrenheit, "°F".to_owned()),
    ];
    choices(ui, &cx.t("set-temperature"), &mut s.temperature, &list);
}

fn keys(ui: &mut Ui, cx: &mut Cx<'_>, s: &mut Settings, state: &mut Setting) {
    ui.separator();
    widgets::subheading(ui, &cx.t("set-keys"));
    if let Some(act) = state.waiting {
        let key = ui.input(|i| {
            i.events.iter().find_map(|e| match e {
                Event::Key {
                    key, pressed: true, ..
                } => Some(*key),
                _ => None,
            })
        });
        if let Some(key) = key
            && (key == Key::Escape || s.keys.change(act, key))
        {
            state.waiting = None;
        }
    }
    egui::Grid::new("keys")
        .num_columns(2)
        .striped(true)
        .show(ui, |ui| {
            for act in KeyAct::ALL {
                let name = cx.t(act.text_key());
                ui.label(&name);
                let key = if state.waiting == Some(act) {
                    cx.t("set-key-press")
                } else {
                    s.keys.key(act).name().to_owned()
                };
                let response = widgets::key_button(ui, &key, None);
                let full = format!("{name}: {key}");
                response.widget_info(|| {
                    egui::WidgetInfo::labeled(egui::WidgetType::Button, true, full.as_str())
                });
                if response.clicked() {
                    state.waiting = Some(act);
                }
                ui.end_row();
            }
        });
    if widgets::key_button(ui, &cx.t("set-keys-usual"), None).clicked() {
        s.keys = Keys::default();
    }
}
