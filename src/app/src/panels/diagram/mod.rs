//! The wiring diagram of the car: a circuit to look at, and what the learner notes on it.
//!
//! Drawn from the vehicle file as the car was built: nothing here asks the session what is wrong with it.

mod canvas;
mod list;
mod said;
mod view;

use tracebay_core::vehicle::Vehicle;
use tracebay_diagram::{Drawing, Of};

use super::{Cx, widgets};
use crate::desk::keys::KeyAct;
use crate::desk::{Desk, Order};
use crate::egui::{self, RichText, Ui, vec2};

use view::View;

/// Width of the whole car's sheet, units of the drawing.
const SHEET: f64 = 4200.0;
/// Below this width drawing and list take turns, points.
const NARROW: f32 = 820.0;

/// What is shown, how, and what is being written.
#[derive(Debug, Default)]
pub struct Diagram {
    /// Car that the drawing is of.
    vehicle: String,
    /// What each circuit goes by, and its name.
    circuits: Vec<(String, String)>,
    /// Place in `circuits`; the whole car beyond its end.
    chosen: usize,
    drawing: Drawing,
    view: View,
    selected: Option<Of>,
    /// Words of the note being written.
    writing: String,
    /// The list is on top, where there is no room for both.
    list_on_top: bool,
    /// The keyboard is to go to the drawing.
    take_focus: bool,
}

impl Diagram {
    /// Gets the diagram out: of the thing the learner has turned to, or as it was left.
    pub fn turn_up(&mut self, desk: &Desk) {
        let vehicle = &desk.session().case().vehicle;
        self.take_focus = true;
        let fresh = self.vehicle != vehicle.id;
        if fresh {
            self.vehicle.clone_from(&vehicle.id);
            let circuits = tracebay_diagram::circuits(vehicle).into_iter();
            self.circuits = circuits
                .map(|id| {
                    let name = tracebay_diagram::title(vehicle, &id);
                    (id, name)
                })
                .collect();
        }
        let of = desk
            .focus
            .as_ref()
            .filter(|id| vehicle.parts.contains_key(*id));
        let by_it = |id: &String| self.circuits.iter().position(|(c, _)| c == id);
        match of.and_then(by_it) {
            Some(at) if at != self.chosen || fresh => self.choose(vehicle, at),
            _ if fresh => self.choose(vehicle, 0),
            _ => {}
        }
    }

    /// Lets go of what is selected. False, if nothing was.
    pub fn let_go(&mut self) -> bool {
        self.selected.take().is_some()
    }

    /// The circuit shown; none for the whole car.
    pub fn circuit(&self) -> Option<&str> {
        self.circuits.get(self.chosen).map(|(id, _)| id.as_str())
    }

    /// Points of the window that a unit of the drawing takes; 0 before it was drawn.
    pub fn scale(&self) -> f32 {
        self.view.scale()
    }

    /// The drawing shown.
    pub fn drawing(&self) -> &Drawing {
        &self.drawing
    }

    fn choose(&mut self, vehicle: &Vehicle, at: usize) {
        self.chosen = at;
        self.drawing = match self.circuits.get(at) {
            Some((id, _)) => tracebay_diagram::circuit(vehicle, id).unwrap_or_default(),
            None => tracebay_diagram::whole(vehicle, SHEET),
        };
        self.view = View::default();
        self.selected = None;
    }

    /// Changes to a circuit in which this is drawn, if it is not drawn here.
    fn bring_up(&mut self, vehicle: &Vehicle, of: &Of) {
        if self.drawing.things.iter().any(|t| t.of == *of) {
            return;
        }
        let circuit = tracebay_diagram::circuit_with(vehicle, of);
        let by_it = |(id, _): &(String, String)| Some(id) == circuit.as_ref();
        if let Some(at) = self.circuits.iter().position(by_it) {
            self.choose(vehicle, at);
        }
    }

    fn select(&mut self, desk: &Desk, of: Of) {
        let note = desk.notes.find(&of);
        self.writing = note.map_or_else(String::new, |(_, note)| note.text.clone());
        self.selected = Some(of);
    }
}

/// Draws it. True when it is to be put away.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, diagram: &mut Diagram) -> bool {
    let narrow = ui.available_width() < NARROW;
    let close = bar(ui, cx, desk, diagram, narrow);
    if let Some(why) = &desk.notes_not_kept {
        ui.horizontal_wrapped(|ui| {
            let words = cx
                .text
                .fill("diagram-notes-not-kept", &[("why", why.into())]);
            ui.label(RichText::new(format!("⚠ {words}")).color(cx.look.bad));
            if widgets::key_button(ui, &cx.t("not-kept-retry"), None).clicked() {
                cx.order(Order::KeepNotes);
            }
        });
    }
    let room = ui.available_rect_before_wrap();
    if narrow {
        if diagram.list_on_top {
            list::show(ui, cx, desk, diagram);
        } else {
            canvas::show(ui, cx, desk, diagram, room);
        }
        return close;
    }
    let beside = (room.width() * 0.3).clamp(290.0, 400.0);
    let (drawing, list) = room.split_left_right_at_x(room.max.x - beside);
    let drawing = egui::Rect::from_min_max(drawing.min, drawing.max - vec2(12.0, 0.0));
    canvas::show(ui, cx, desk, diagram, drawing);
    ui.scope_builder(egui::UiBuilder::new().max_rect(list), |ui| {
        list::show(ui, cx, desk, diagram);
    });
    close
}

/// Which circuit, how large, as a file, away. True when it is to be put away.
fn bar(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, diagram: &mut Diagram, narrow: bool) -> bool {
    let mut close = false;
    ui.horizontal_wrapped(|ui| {
        if !narrow {
            widgets::heading(ui, &cx.t("diagram-title"));
        }
        let whole = cx.t("diagram-whole");
        let names = diagram.circuits.iter().map(|(_, name)| name.clone());
        let list: Vec<(usize, String)> = names.chain([whole]).enumerate().collect();
        let now = list.get(diagram.chosen).map_or("", |(_, name)| name);
        let label = cx.text.fill("diagram-circuit", &[("name", now.into())]);
        let mut chosen = Some(diagram.chosen);
        let width: f32 = if narrow { 350.0 } else { 460.0 };
        let height = ui.spacing().interact_size.y;
        ui.allocate_ui(vec2(width.min(ui.available_width()), height), |ui| {
            widgets::one_of(ui, "circuit", &label, &list, &mut chosen);
        });
        if let Some(at) = chosen.filter(|at| *at != diagram.chosen) {
            diagram.choose(&desk.session().case().vehicle, at);
        }
        if narrow {
            let key = if diagram.list_on_top {
                "diagram-to-drawing"
            } else {
                "diagram-to-list"
            };
            if widgets::key_button(ui, &cx.t(key), None).clicked() {
                diagram.list_on_top ^= true;
            }
        }
        let zoom = |ui: &mut Ui, sign: &str, key: &str| {
            let name = cx.t(key);
            let response = ui.add(egui::Button::new(sign).min_size(vec2(28.0, 0.0)));
            response.widget_info(|| {
                egui::WidgetInfo::labeled(egui::WidgetType::Button, true, name.as_str())
            });
            response.clicked()
        };
        if zoom(ui, "−", "diagram-smaller") {
            diagram.view.zoom(1.0 / view::STEP, None);
        }
        if zoom(ui, "+", "diagram-larger") {
            diagram.view.zoom(view::STEP, None);
        }
        if widgets::key_button(ui, &cx.t("diagram-fit"), Some("0")).clicked() {
            diagram.view.fit();
        }
        if widgets::key_button(ui, &cx.t("diagram-hand-out"), None).clicked() {
            let order = said::file(cx, desk, diagram);
            cx.order(order);
        }
        let key = cx.settings.keys.key(KeyAct::Diagram);
        close = widgets::key_button(ui, &cx.t("close"), Some(key.name())).clicked();
    });
    close
}
