//! Signs in the scene that say where one can walk, each where that place lies, and the name of what
//! the pointer is over.
//!
//! Where things lie in the picture is told by whoever draws the scene; without one the signs keep to
//! the edges.

use std::collections::BTreeMap;

use tracebay_core::session::Action;
use tracebay_core::vehicle::Station;

use super::{Cx, names, say, widgets};
use crate::desk::keys::KeyAct;
use crate::desk::{Desk, Order, Thing};
use crate::egui::{
    self, Align2, Area, Id, Order as Layer, Pos2, Rect, RichText, Ui, WidgetInfo, WidgetType, pos2,
    vec2,
};
use crate::look::theme;

/// Where stations lie in the picture, as shares of its width and height; outside 0 to 1 where they
/// lie beside it.
pub type Ways = BTreeMap<Station, [f32; 2]>;

/// All stations with the keys that lead there.
const STATIONS: [(Station, KeyAct); 4] = [
    (Station::Seat, KeyAct::GoSeat),
    (Station::Bay, KeyAct::GoBay),
    (Station::Box, KeyAct::GoBox),
    (Station::Bench, KeyAct::GoBench),
];

/// Height of a sign, points.
const HIGH: f32 = 32.0;
/// Share of the picture, in width and height, in which what one has turned to lies.
const LOOKED_AT: f32 = 0.36;
/// Room between two signs, points.
const APART: f32 = 6.0;

/// Where a station is taken to lie where no scene says it.
fn somewhere(station: Station) -> [f32; 2] {
    match station {
        Station::Seat => [0.5, -0.1],
        Station::Bay => [0.5, 1.1],
        Station::Box => [1.1, 0.3],
        Station::Bench => [1.1, 0.6],
    }
}

/// Draws a sign for every other station one can walk to. `whole` is the scene's picture, `clear` the part of
/// it beside all cards, and `cards` where cards and captions lie.
pub fn show(
    ui: &Ui,
    cx: &mut Cx<'_>,
    desk: &Desk,
    ways: &Ways,
    (whole, clear, cards): (Rect, Rect, &[Rect]),
) {
    let mut taken: Vec<Rect> = cards.to_vec();
    // Who has turned to something looks at it: it lies in the middle.
    if desk.focus.is_some() {
        taken.push(Rect::from_center_size(
            whole.center(),
            whole.size() * LOOKED_AT,
        ));
    }
    for (station, act) in STATIONS {
        let here = station == desk.view().station;
        if here || desk.session().check(&Action::Go(station)).is_err() {
            continue;
        }
        let share = ways.get(&station).copied();
        let [x, y] = share.unwrap_or_else(|| somewhere(station));
        let want = whole.min + vec2(x, y) * whole.size();
        let sign = Sign {
            name: say::station(cx, station),
            spoken: cx.t(act.text_key()),
            key: cx.settings.keys.key(act).name(),
            arrow: arrow(want, whole),
        };
        let half = vec2(sign.wide(ui), HIGH) / 2.0;
        let within = |part: Rect| part.shrink2(half + vec2(8.0, 8.0));
        let (room, beside) = (within(whole), within(clear));
        if beside.is_negative() {
            continue;
        }
        // Above or below a card is as good as beside it, and nearer to where the way leads.
        let at = free(room.clamp(want), half, room, &taken)
            .or_else(|| free(beside.clamp(want), half, beside, &taken))
            .unwrap_or_else(|| beside.clamp(want));
        taken.push(Rect::from_center_size(at, half * 2.0));
        let id = Id::new(("way", act.text_key()));
        let shown = Area::new(id)
            .order(Layer::Middle)
            .pivot(Align2::CENTER_CENTER)
            .fixed_pos(at)
            .constrain(false)
            .fade_in(false)
            .show(ui.ctx(), |ui| sign.draw(ui, cx));
        if shown.inner {
            cx.order(Order::Do(Action::Go(station)));
        }
    }
}

/// An arrow towards what lies outside, a dot on what is seen.
fn arrow(want: Pos2, clear: Rect) -> &'static str {
    if clear.contains(want) {
        return "●";
    }
    let off = want - clear.clamp(want);
    match (off.x.abs() > off.y.abs(), off.x > 0.0, off.y > 0.0) {
        (true, true, _) => "▶",
        (true, false, _) => "◀",
        (false, _, true) => "▼",
        (false, _, false) => "▲",
    }
}

/// The place next to `want` where a sign of this size lies on nothing else, if there is one.
fn free(want: Pos2, half: egui::Vec2, room: Rect, taken: &[Rect]) -> Option<Pos2> {
    let step = HIGH + APART;
    let tries = (0u8..16).flat_map(|n| [f32::from(n), -f32::from(n)]);
    for n in tries {
        let at = room.clamp(pos2(want.x, want.y + n * step));
        let mine = Rect::from_center_size(at, half * 2.0 + vec2(APART, APART - 1.0));
        if taken.iter().all(|t| !t.intersects(mine)) {
            return Some(at);
        }
    }
    None
}

struct Sign {
    name: String,
    spoken: String,
    key: &'static str,
    arrow: &'static str,
}

impl Sign {
    fn words(&self) -> String {
        format!("{} {}", self.arrow, self.name)
    }

    /// How wide it will be.
    fn wide(&self, ui: &Ui) -> f32 {
        let size = |words: String, font| {
            let galley = ui
                .painter()
                .layout_no_wrap(words, font, egui::Color32::WHITE);
            galley.size().x
        };
        let key = size(self.key.to_owned(), egui::FontId::proportional(13.0));
        size(self.words(), theme::strong(15.0)) + key + 40.0
    }

    /// Draws it; true when it was pressed.
    fn draw(&self, ui: &mut Ui, cx: &Cx<'_>) -> bool {
        theme::on_steel(ui, cx.look);
        let button = egui::Button::new(RichText::new(self.words()).font(theme::strong(15.0)))
            .shortcut_text(RichText::new(self.key).small())
            .wrap_mode(egui::TextWrapMode::Extend)
            .fill(cx.look.steel)
            .corner_radius(HIGH / 2.0)
            .min_size(vec2(0.0, HIGH));
        let response = ui.add(button);
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &self.spoken));
        let key = self.key.to_owned();
        ui.ctx().accesskit_node_builder(response.id, |node| {
            node.set_keyboard_shortcut(key);
        });
        widgets::ring(ui, &response, cx.look.steel_chosen);
        response.clicked()
    }
}

/// What something in the scene is called that the pointer is over.
pub fn pointed_name(cx: &Cx<'_>, desk: &Desk, id: &str) -> Option<String> {
    let (session, view) = (desk.session(), desk.view());
    if session.points().iter().any(|p| p.id == id) {
        return Some(names::point_in_full(cx.text, session, view, id));
    }
    let thing = Thing::find(&session.case().vehicle, id)?;
    Some(say::begin(&names::thing(cx.text, session, view, &thing)))
}

/// Writes a name beside the pointer.
pub fn at_pointer(ui: &Ui, cx: &Cx<'_>, whole: Rect, name: &str) {
    let Some(at) = ui.ctx().pointer_latest_pos().filter(|p| whole.contains(*p)) else {
        return;
    };
    // Something of the panels lies there: it speaks for itself.
    if ui
        .ctx()
        .layer_id_at(at)
        .is_some_and(|l| l.order != Layer::Background)
    {
        return;
    }
    let galley = ui.painter().layout(
        name.to_owned(),
        theme::strong(14.5),
        cx.look.on_steel,
        (whole.width() * 0.4).max(160.0),
    );
    let size = galley.size() + vec2(16.0, 10.0);
    // Below and right of the hand, or where there is room.
    let mut corner = at + vec2(16.0, 18.0);
    corner.x = corner.x.min(whole.right() - size.x - 4.0);
    if corner.y + size.y > whole.bottom() - 4.0 {
        corner.y = at.y - size.y - 10.0;
    }
    let rect = Rect::from_min_size(corner, size);
    let painter = ui
        .ctx()
        .layer_painter(egui::LayerId::new(Layer::Tooltip, Id::new("pointed-name")));
    painter.rect(
        rect,
        4,
        cx.look.steel,
        egui::Stroke::new(1.0, cx.look.steel_rule),
        egui::StrokeKind::Inside,
    );
    painter.galley(corner + vec2(8.0, 5.0), galley, cx.look.on_steel);
}
