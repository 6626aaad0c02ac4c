//! The tool in hand with its reading on it: a bulb with its brightness and the word for it, a
//! display and its dial, a gauge with its needle.

use tracebay_core::session::{Action, MeterDisplay, Observation};
use tracebay_core::tools::{Dial, Glow, ToolKind};

use super::{Cx, names, say, widgets};
use crate::desk::keys::KeyAct;
use crate::desk::{Desk, Order};
use crate::egui::{
    self, Align2, Color32, Pos2, Rect, RichText, Sense, Stroke, StrokeKind, Ui, WidgetInfo,
    WidgetType, pos2, vec2,
};
use crate::kit::instruments::LOW_SIDE_END_KPA;
use crate::look::theme;
use crate::settings::Pressure;

/// Draws the card of the tool in hand, if there is one, and of every tool that is left connected.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk) {
    theme::on_steel(ui, cx.look);
    let Some(tool) = desk.hand else { return };
    let name = say::tool(cx, tool);
    widgets::headed(ui, &name, false, |ui| {
        let key = cx.settings.keys.key(KeyAct::LayBack).symbol_or_name();
        if widgets::key_button(ui, &cx.t("hand-lay-back"), Some(key)).clicked() {
            cx.order(Order::Take(None));
        }
    });
    if desk.view().blown_tools.contains(&tool) {
        ui.label(RichText::new(cx.t("tool-fuse-blown")).color(cx.look.steel_bad));
    }
    readings(ui, cx, desk, tool);
    if tool == ToolKind::Meter {
        dial(ui, cx, desk);
    }
    leads(ui, cx, desk, tool);
    if tool == ToolKind::Lamp
        && let Some(at) = &desk.view().lamp_at
    {
        let place = names::place(desk.session(), at);
        ui.label(cx.text.fill("lamp-at", &[("place", (&place).into())]));
        if widgets::key_button(ui, &cx.t("lamp-away"), None).clicked() {
            cx.order(Order::Do(Action::Light(None)));
        }
    }
}

fn of_tool(seen: &Observation, tool: ToolKind) -> bool {
    match seen {
        Observation::Light { tool: t, .. } => *t == tool,
        Observation::Meter { .. } => tool == ToolKind::Meter,
        Observation::Gauge { .. } => tool == ToolKind::Gauge,
        Observation::Temperature { .. } => tool == ToolKind::Thermometer,
        _ => false,
    }
}

/// What the tool shows: live while its leads are on, or what the last touch showed.
pub fn current(desk: &Desk, tool: ToolKind) -> Vec<&Observation> {
    let live: Vec<_> = desk
        .view()
        .readings
        .iter()
        .filter(|o| of_tool(o, tool))
        .collect();
    let touched: Vec<_> = desk.shown.iter().filter(|o| of_tool(o, tool)).collect();
    // A touch with the free lead shows what was touched; a connected tool shows what is now.
    if live.is_empty() || touched.len() > 1 {
        touched
    } else {
        live
    }
}

fn readings(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, tool: ToolKind) {
    let list = current(desk, tool);
    if list.is_empty() {
        if matches!(tool, ToolKind::TestLight | ToolKind::LedLight) {
            bulb(ui, cx, Glow::Dark, 0, &cx.t("reading-none"), tool);
        } else if tool == ToolKind::Meter {
            display(ui, cx, "", "", &cx.t("reading-none"));
        }
        return;
    }
    // All cavities of a socket, one below the other.
    let many = list.len() > 2;
    for seen in list {
        match seen {
            Observation::Light {
                point,
                glow,
                percent,
                ..
            } => {
                let at = point_name(cx, desk, point);
                if many {
                    small_bulb(ui, cx, *glow, *percent, &at, tool);
                } else {
                    bulb(ui, cx, *glow, *percent, &at, tool);
                }
            }
            Observation::Meter { point, display: d } => {
                let at = names::point_in_full(cx.text, desk.session(), desk.view(), point);
                let (figures, unit) = meter_text(d);
                display(ui, cx, &figures, unit, &at);
            }
            Observation::Gauge { kpa } => {
                let (value, decimals, unit) = cx.settings.pressure.show(*kpa);
                gauge(ui, cx, value, &format!("{value:.decimals$} {unit}"));
            }
            Observation::Temperature { place, celsius } => {
                let (value, unit) = cx.settings.temperature.show(*celsius);
                let at = names::place(desk.session(), place);
                display(ui, cx, &format!("{value:.1}"), unit, &at);
            }
            _ => {}
        }
    }
}

/// Figures and unit on a meter's display.
pub fn meter_text(display: &MeterDisplay) -> (String, &'static str) {
    let unit = |dial: &Dial| match dial {
        Dial::Off => "",
        Dial::Volts => "V",
        Dial::Ohms => "Ω",
        Dial::Amps => "A",
    };
    match display {
        MeterDisplay::Value {
            dial,
            value,
            decimals,
        } => (format!("{value:.*}", usize::from(*decimals)), unit(dial)),
        MeterDisplay::OverRange { dial } => ("OL".to_owned(), unit(dial)),
        MeterDisplay::Nonsense { value } => (format!("{value:.1}"), "Ω"),
        MeterDisplay::Blank => (String::new(), ""),
    }
}

/// A point's name: the short one where its thing is the one turned to, or the line would say that again
/// and lose what tells its points apart.
fn point_name(cx: &Cx<'_>, desk: &Desk, point: &str) -> String {
    let session = desk.session();
    let here = session
        .points()
        .iter()
        .find(|p| p.id == point && desk.focus.as_deref() == Some(p.part.as_str()));
    match here {
        Some(info) => names::point(cx.text, session, info),
        None => names::point_in_full(cx.text, session, desk.view(), point),
    }
}

/// Colour of a tool's light and how strongly it shines, 0 to 1.
fn light(glow: Glow, percent: u8, tool: ToolKind) -> ((f32, f32, f32), f32) {
    let share = f32::from(percent.min(100)) / 100.0;
    let colour = if tool == ToolKind::LedLight {
        (120.0, 220.0, 255.0)
    } else {
        // A filament goes from red through yellow to white as it gets hotter.
        (255.0, 90.0 + 145.0 * share.sqrt(), 20.0 + 170.0 * share)
    };
    let shine = match glow {
        Glow::Dark => 0.0,
        _ => 0.30 + 0.70 * share.sqrt(),
    };
    (colour, shine)
}

/// One of several lights below each other: bulb, word and point in one line.
fn small_bulb(ui: &mut Ui, cx: &Cx<'_>, glow: Glow, percent: u8, at: &str, tool: ToolKind) {
    let word = cx.text.words.value(glow);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 26.0), Sense::hover());
    let spoken = format!("{word}: {at}");
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &spoken));
    let p = ui.painter();
    let ((r, g, b), shine) = light(glow, percent, tool);
    let centre = pos2(rect.left() + 14.0, rect.center().y);
    let dark = rgba(46.0, 50.0, 52.0, 1.0);
    p.circle(centre, 9.0, dark, Stroke::new(1.5, cx.look.on_steel_soft));
    if shine > 0.0 {
        p.circle_filled(centre, 8.0, rgba(r, g, b, shine));
    }
    let text = pos2(rect.left() + 32.0, rect.center().y);
    let word = p.text(
        text,
        Align2::LEFT_CENTER,
        &word,
        theme::strong(16.0),
        cx.look.on_steel,
    );
    let after = pos2(word.right() + 8.0, text.y);
    fit_text(ui, after, rect, at, cx.look.on_steel_soft);
}

fn bulb(ui: &mut Ui, cx: &Cx<'_>, glow: Glow, percent: u8, at: &str, tool: ToolKind) {
    let word = cx.text.words.value(glow);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 46.0), Sense::hover());
    let spoken = format!("{word}: {at}");
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &spoken));
    let p = ui.painter();
    let centre = pos2(rect.left() + 26.0, rect.center().y);
    let ((r, g, b), shine) = light(glow, percent, tool);
    if shine > 0.0 {
        for (radius, alpha) in [(23.0, 0.10), (20.0, 0.14), (17.0, 0.20)] {
            let colour = rgba(r, g, b, alpha * shine);
            p.circle_filled(centre, radius * (0.7 + 0.3 * shine), colour);
        }
    }
    let dark = rgba(46.0, 50.0, 52.0, 1.0);
    p.circle(centre, 13.0, dark, Stroke::new(1.5, cx.look.on_steel_soft));
    if shine > 0.0 {
        p.circle_filled(centre, 12.0, rgba(r, g, b, shine));
    }
    let text = pos2(rect.left() + 56.0, rect.top() + 14.0);
    p.text(
        text,
        Align2::LEFT_CENTER,
        &word,
        theme::strong(19.0),
        cx.look.on_steel,
    );
    fit_text(
        ui,
        pos2(text.x, rect.top() + 35.0),
        rect,
        at,
        cx.look.on_steel_soft,
    );
}

fn rgba(r: f32, g: f32, b: f32, a: f32) -> Color32 {
    Color32::from_rgba_unmultiplied(r as u8, g as u8, b as u8, (a.clamp(0.0, 1.0) * 255.0) as u8)
}

fn fit_text(ui: &Ui, left_middle: Pos2, within: Rect, text: &str, colour: Color32) {
    let mut job =
        egui::text::LayoutJob::simple_singleline(text.to_owned(), theme::narrow(13.5), colour);
    job.wrap = egui::text::TextWrapping::truncate_at_width(within.right() - left_middle.x);
    let galley = ui.painter().layout_job(job);
    let top = left_middle - vec2(0.0, galley.size().y / 2.0);
    ui.painter().galley(top, galley, colour);
}

fn display(ui: &mut Ui, cx: &Cx<'_>, figures: &str, unit: &str, at: &str) {
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 64.0), Sense::hover());
    let spoken = format!("{figures} {unit}: {at}");
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &spoken));
    let glass = Rect::from_min_size(rect.min, vec2(rect.width(), 44.0));
    let p = ui.painter();
    p.rect(
        glass,
        3,
        cx.look.display,
        Stroke::new(1.5, cx.look.steel_rule),
        StrokeKind::Inside,
    );
    let right = pos2(glass.right() - 44.0, glass.center().y);
    p.text(
        right,
        Align2::RIGHT_CENTER,
        figures,
        egui::FontId::monospace(30.0),
        cx.look.on_display,
    );
    p.text(
        pos2(glass.right() - 36.0, glass.center().y + 4.0),
        Align2::LEFT_CENTER,
        unit,
        theme::strong(18.0),
        cx.look.on_display,
    );
    let below = pos2(rect.left() + 2.0, rect.bottom() - 9.0);
    fit_text(ui, below, rect, at, cx.look.on_steel_soft);
}

/// The gauge's scale in the chosen unit: its end, and how far its figures are apart. All end near
/// [`LOW_SIDE_END_KPA`].
fn gauge_scale(unit: Pressure) -> (f64, f64) {
    match unit {
        Pressure::Kpa => (f64::from(LOW_SIDE_END_KPA), 200.0),
        Pressure::Bar => (f64::from(LOW_SIDE_END_KPA) / 100.0, 2.0),
        Pressure::Psi => (150.0, 30.0),
    }
}

/// `shown` is the pressure in the chosen unit.
fn gauge(ui: &mut Ui, cx: &Cx<'_>, shown: f64, words: &str) {
    let (rect, response) =
        ui.allocate_exact_size(vec2(ui.available_width(), 118.0), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, words));
    let p = ui.painter();
    let centre = pos2(rect.center().x, rect.top() + 52.0);
    p.circle(
        centre,
        50.0,
        cx.look.field,
        Stroke::new(3.0, cx.look.steel_rule),
    );
    let direction = |share: f64| {
        let a = (135.0 + 270.0 * share.clamp(0.0, 1.0)).to_radians() as f32;
        vec2(a.cos(), a.sin())
    };
    let (end, step) = gauge_scale(cx.settings.pressure);
    let figures = (end / step).round() as u32;
    for i in 0..=2 * figures {
        let share = f64::from(i) / f64::from(2 * figures);
        let d = direction(share);
        p.line_segment(
            [centre + d * 41.0, centre + d * 47.0],
            Stroke::new(1.5, cx.look.ink),
        );
        if i % 2 == 0 {
            let figure = format!("{:.0}", share * end);
            let at = centre + d * 31.0;
            p.text(
                at,
                Align2::CENTER_CENTER,
                figure,
                theme::narrow(11.0),
                cx.look.ink,
            );
        }
    }
    let d = direction(shown / end);
    p.line_segment(
        [centre - d * 8.0, centre + d * 42.0],
        Stroke::new(2.5, cx.look.bad),
    );
    p.circle_filled(centre, 4.0, cx.look.ink);
    p.text(
        pos2(rect.center().x, rect.bottom() - 8.0),
        Align2::CENTER_CENTER,
        words,
        theme::strong(16.0),
        cx.look.on_steel,
    );
}

fn dial(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk) {
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(cx.t("meter-dial")).font(theme::narrow(14.0)));
        for to in [Dial::Off, Dial::Volts, Dial::Ohms, Dial::Amps] {
            let on = desk.view().dial == to;
            let name = say::dial(cx, to);
            let text = RichText::new(&name).color(if on { cx.look.ink } else { cx.look.on_steel });
            let mut button = egui::Button::new(text);
            if on {
                button = button.fill(cx.look.steel_chosen);
            }
            let response = ui.add(button);
            response.widget_info(|| WidgetInfo::selected(WidgetType::RadioButton, true, on, &name));
            if response.clicked() && !on {
                cx.order(Order::Do(Action::Dial(to)));
            }
        }
    });
}

fn leads(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, tool: ToolKind) {
    let has_spare_part = matches!(
        tool,
        ToolKind::TestLight | ToolKind::FusedJumper | ToolKind::Meter
    );
    if has_spare_part && ui.button(cx.t("tool-renew")).clicked() {
        cx.order(Order::Do(Action::Renew(tool)));
    }
    for lead in tool.leads() {
        let at = desk.view().leads.get(&tool).and_then(|l| l.get(lead));
        ui.horizontal_wrapped(|ui| {
            let name = say::lead(cx, *lead);
            let place = match at {
                Some(point) => names::point_in_full(cx.text, desk.session(), desk.view(), point),
                None => cx.t("lead-loose"),
            };
            widgets::fact(ui, cx.look.on_steel_soft, &name, &place, cx.look.on_steel);
            if at.is_some() {
                let words = cx.t("lead-lift");
                let response = widgets::key_button(ui, &words, None);
                let full = format!("{words}: {name}");
                response
                    .widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, full.as_str()));
                if response.clicked() {
                    cx.order(Order::Do(Action::Lift { tool, lead: *lead }));
                }
            }
        });
    }
}
