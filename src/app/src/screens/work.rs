//! At the car: the scene with the sheet beside it, the state line below, tags and cards over it.

use super::pause;
use crate::desk::keys::KeyAct;
use crate::desk::{Desk, Order};
use crate::egui::{
    self, Align, Align2, Area, Id, Key, Layout, Order as Layer, Panel, Rect, Ui, vec2,
};
use crate::look::theme;
use crate::panels::diagram::Diagram;
use crate::panels::sheet::Sheet;
use crate::panels::{
    Cx, captions, diagram, finder, hand, keyboard, points, sheet, signs, state_line, tag,
    tool_roll, widgets,
};

/// What lies open at the car.
#[derive(Debug)]
pub struct Board {
    /// The job sheet's own state.
    pub sheet: Sheet,
    /// The sheet is shown.
    pub sheet_open: bool,
    /// The keyboard is on it.
    in_sheet: bool,
    /// The wiring diagram.
    pub diagram: Diagram,
    /// It lies over the car.
    pub diagram_open: bool,
    /// The roll's list is open.
    pub roll_open: bool,
    /// What had the focus before the roll's list opened, and gets it back.
    before_roll: Option<Id>,
    /// The finder is open, with what is looked for.
    pub finder: Option<finder::Finder>,
    /// The menu behind the pause is open.
    pub menu: bool,
    /// Where other stations lie in the scene's picture, as whoever draws it says.
    pub ways: signs::Ways,
    /// What the pointer is over in the scene, by the session's id.
    pub pointed: Option<String>,
    /// It was shown before; the first time it is seen how much room there is.
    seen: bool,
    /// Somebody was writing when the last picture was made: a key that leaves a field does only
    /// that.
    writing: bool,
}

impl Default for Board {
    fn default() -> Self {
        Board {
            sheet: Sheet::default(),
            sheet_open: true,
            in_sheet: false,
            diagram: Diagram::default(),
            diagram_open: false,
            roll_open: false,
            before_roll: None,
            finder: None,
            menu: false,
            ways: signs::Ways::default(),
            pointed: None,
            seen: false,
            writing: false,
        }
    }
}

/// From this width on sheet and diagram lie side by side, points.
const BOTH: f32 = 1500.0;

/// Below this width the sheet covers the scene instead of lying beside it, points.
const NARROW: f32 = 900.0;

/// The part of the window that is left for the scene, in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Left {
    /// All of it.
    pub whole: Rect,
    /// The part over which no card lies.
    pub clear: Rect,
}

/// Draws everything at the car; returns what is left for the scene.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &mut Desk, board: &mut Board) -> Left {
    let list_was_open = board.list_open();
    if !std::mem::replace(&mut board.writing, ui.ctx().text_edit_focused()) {
        keys(ui, cx, desk, board);
    }
    if state_line::show(ui, cx, desk, board.sheet_open).sheet {
        board.show_sheet(!board.sheet_open);
    }
    let width = ui.available_width();
    let narrow = width < NARROW;
    if !std::mem::replace(&mut board.seen, true) && narrow {
        // The complaint was just read; what one wants to see is the car.
        board.sheet_open = false;
    }
    board.let_the_newer_show(ui.ctx(), narrow, list_was_open);
    let room_for_both = width >= BOTH;
    if board.sheet_open && (!board.diagram_open || room_for_both) {
        let size = if narrow {
            width - 40.0
        } else {
            (width * 0.28).clamp(350.0, 470.0)
        };
        let shown = Panel::right("job-sheet")
            .frame(theme::sheet_frame(cx.look))
            .exact_size(size)
            .resizable(false)
            .show(ui, |ui| sheet::show(ui, cx, desk, &mut board.sheet));
        let focused = ui.memory(|m| m.focused());
        let focused = focused.and_then(|id| ui.ctx().read_response(id));
        board.in_sheet = focused.is_some_and(|f| shown.response.rect.contains_rect(f.rect));
    }
    if std::mem::take(&mut board.sheet.ask_diagram) {
        open_diagram(desk, board);
        board.let_the_newer_show(ui.ctx(), narrow, list_was_open);
    }
    let free = ui.available_rect_before_wrap();
    let mut clear = free;
    if board.diagram_open {
        over_all(ui, cx, desk, board, free);
    } else if !(narrow && board.sheet_open) {
        clear.min.x += over_scene(ui, cx, desk, board, free);
    }
    if let Some(why) = desk.not_kept.clone() {
        pause::not_kept(ui, cx, &why);
    } else if board.menu {
        pause::menu(ui, cx, desk, board);
    }
    Left { whole: free, clear }
}

impl Board {
    /// Shows the sheet and leads the keyboard to it, or puts it away.
    fn show_sheet(&mut self, shown: bool) {
        self.sheet_open = shown;
        self.sheet.take_focus = shown;
    }

    /// One of the lists that lie over the scene is open.
    fn list_open(&self) -> bool {
        self.roll_open || self.finder.is_some()
    }

    /// Opens the list of all that is within reach.
    fn show_finder(&mut self, ctx: &egui::Context) {
        self.show_roll(ctx, false);
        self.finder = Some(finder::Finder::opened(ctx));
    }

    /// What covers the scene and a list over the scene are not open together, or the list would have the
    /// keys unseen: the one that was opened last stays.
    fn let_the_newer_show(&mut self, ctx: &egui::Context, narrow: bool, list_was_open: bool) {
        let covered = self.diagram_open || narrow && self.sheet_open;
        if !covered || !self.list_open() {
            return;
        }
        if list_was_open {
            self.finder = None;
            self.show_roll(ctx, false);
        } else {
            self.diagram_open = false;
            self.sheet_open &= !narrow;
        }
    }

    /// Opens or closes the roll's list; closed, the focus goes back to where it was.
    fn show_roll(&mut self, ctx: &egui::Context, shown: bool) {
        if shown && !self.roll_open {
            self.before_roll = ctx.memory(|m| m.focused());
        }
        if !shown && let Some(before) = self.before_roll.take() {
            ctx.memory_mut(|m| m.request_focus(before));
        }
        if shown {
            self.finder = None;
        }
        self.roll_open = shown;
    }
}

fn keys(ui: &Ui, cx: &mut Cx<'_>, desk: &mut Desk, board: &mut Board) {
    if board.finder.is_some() || desk.not_kept.is_some() {
        return;
    }
    if board.menu {
        // Closed here, not where it is drawn: the key that opens it is still down in that pass.
        if widgets::pressed(ui, Key::Escape) {
            board.menu = false;
            cx.order(Order::Pause(false));
        }
        return;
    }
    // An open list of choices has Escape and the letters to itself.
    if !board.diagram_open && egui::Popup::is_any_open(ui.ctx()) {
        return;
    }
    if board.roll_open {
        // The list has the digits and Escape; the key that opened it closes it.
        let key = cx.settings.keys.key(crate::desk::keys::KeyAct::Tools);
        if crate::panels::widgets::pressed(ui, key) {
            board.show_roll(ui.ctx(), false);
        }
        return;
    }
    if board.diagram_open {
        return diagram_keys(ui, cx, desk, board);
    }
    let pressed = keyboard::read(ui, cx, desk);
    if pressed.diagram {
        open_diagram(desk, board);
    }
    if pressed.roll {
        board.show_roll(ui.ctx(), true);
    }
    if pressed.find {
        board.show_finder(ui.ctx());
    }
    if pressed.sheet {
        // The key goes to the sheet, and from there puts it away.
        board.show_sheet(!(board.sheet_open && board.in_sheet));
    }
    if pressed.point != 0
        && let Some(thing) = desk.thing()
    {
        let n = points::shown(desk, &thing).len();
        if n > 0 {
            let at = desk.point.min(n - 1) as i64 + i64::from(pressed.point);
            desk.point = at.rem_euclid(n as i64) as usize;
            desk.revision += 1;
        }
    }
    if pressed.back {
        if desk.focus.is_some() {
            cx.order(Order::Focus(None));
        } else {
            board.menu = true;
            cx.order(Order::Pause(true));
        }
    }
}

fn open_diagram(desk: &Desk, board: &mut Board) {
    board.diagram_open = true;
    board.diagram.turn_up(desk);
}

/// With the diagram over the car only its own keys work, and those for sheet and pause.
fn diagram_keys(ui: &Ui, cx: &mut Cx<'_>, desk: &Desk, board: &mut Board) {
    if crate::egui::Popup::is_any_open(ui.ctx()) {
        return;
    }
    let keys = &cx.settings.keys;
    let [diagram, sheet, pause] =
        [KeyAct::Diagram, KeyAct::Sheet, KeyAct::Pause].map(|a| keys.key(a));
    if widgets::pressed(ui, diagram) {
        board.diagram_open = false;
    }
    if widgets::pressed(ui, Key::Escape) && !board.diagram.let_go() {
        board.diagram_open = false;
    }
    if widgets::pressed(ui, sheet) {
        board.diagram_open = false;
        board.show_sheet(true);
    }
    if widgets::pressed(ui, pause) {
        cx.order(Order::Pause(!desk.paused));
    }
}

/// Lays the diagram over the scene, and what is said over its corner.
fn over_all(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, board: &mut Board, free: Rect) {
    card(
        ui,
        "diagram",
        Align2::LEFT_TOP,
        free.left_top(),
        free.width(),
        |ui| {
            ui.set_height(free.height());
            let frame = theme::sheet_frame(cx.look);
            let room = free.size() - frame.total_margin().sum();
            frame.show(ui, |ui| {
                ui.set_min_size(room);
                ui.set_max_size(room);
                if diagram::show(ui, cx, desk, &mut board.diagram) {
                    board.diagram_open = false;
                }
            });
        },
    );
    let said = (free.width() * 0.4).clamp(160.0, 460.0);
    let corner = free.left_bottom() + vec2(24.0, -24.0);
    // Above the diagram, whichever was pressed last.
    let (at, layer) = (Align2::LEFT_BOTTOM, Layer::Foreground);
    laid(ui, layer, "told", at, corner, said, |ui| {
        captions::show(ui, cx, desk);
    });
}

fn card(ui: &Ui, id: &str, at: Align2, corner: egui::Pos2, width: f32, add: impl FnOnce(&mut Ui)) {
    laid(ui, Layer::Middle, id, at, corner, width, add);
}

fn laid(
    ui: &Ui,
    layer: Layer,
    id: &str,
    at: Align2,
    corner: egui::Pos2,
    width: f32,
    add: impl FnOnce(&mut Ui),
) {
    Area::new(Id::new(id))
        .order(layer)
        .pivot(at)
        .fixed_pos(corner)
        .constrain(false)
        .fade_in(false)
        .show(ui.ctx(), |ui| {
            ui.set_width(width);
            add(ui);
        });
}

/// Lays the cards over the scene; returns how much of its left side they cover.
fn over_scene(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, board: &mut Board, free: Rect) -> f32 {
    const EDGE: f32 = 12.0;
    let width = (free.width() * 0.30).clamp(230.0, 340.0);
    let look = cx.look.clone();
    let frame = || theme::steel_frame(&look);
    // Where there is little height, tag and tool lie beside each other.
    let low = free.height() < 520.0;
    let below = match (low, rect_of(ui, "hand")) {
        (true, _) => 0.0,
        (false, Some(hand)) => hand.height() + EDGE,
        (false, None) => 44.0,
    };
    let height = (free.height() - below - 2.0 * EDGE).max(120.0);

    // Upper left: what one has turned to, or where one is.
    let corner = free.left_top() + vec2(EDGE, EDGE);
    card(ui, "tag", Align2::LEFT_TOP, corner, width, |ui| {
        frame().show(ui, |ui| {
            let digits = !board.list_open();
            if tag::show(ui, cx, desk, height - 24.0, digits).list {
                board.show_finder(ui.ctx());
            }
        });
    });

    // Lower left: the tool in hand, and the roll.
    let (pivot, corner) = if low {
        (
            Align2::RIGHT_BOTTOM,
            free.right_bottom() + vec2(-EDGE, -EDGE),
        )
    } else {
        (Align2::LEFT_BOTTOM, free.left_bottom() + vec2(EDGE, -EDGE))
    };
    card(ui, "hand", pivot, corner, width, |ui| {
        if desk.hand.is_some() {
            let most = free.height() - 80.0;
            frame().show(ui, |ui| {
                egui::ScrollArea::vertical()
                    .id_salt("hand")
                    .max_height(most)
                    .min_scrolled_height(most)
                    .show(ui, |ui| hand::show(ui, cx, desk));
            });
        }
        let key = cx.settings.keys.key(crate::desk::keys::KeyAct::Tools);
        ui.scope(|ui| {
            theme::on_steel(ui, cx.look);
            let words = cx.t("roll-open");
            let align = if low { Align::Max } else { Align::Min };
            ui.with_layout(Layout::top_down(align), |ui| {
                if widgets::key_button(ui, &words, Some(key.name())).clicked() {
                    board.show_roll(ui.ctx(), !board.roll_open);
                }
            });
        });
    });

    // Where one can walk, on what no card covers.
    let over = board.roll_open || board.finder.is_some() || board.menu;
    if !over {
        let mut clear = free;
        clear.min.x += width + EDGE;
        if low && let Some(hand) = rect_of(ui, "hand") {
            clear.max.y = hand.top();
        }
        let cards: Vec<Rect> = ["tag", "hand", "captions"]
            .into_iter()
            .filter_map(|card| rect_of(ui, card))
            .filter(|card| card.height() > 1.0)
            .collect();
        signs::show(ui, cx, desk, &board.ways, (free, clear, &cards));
        if let Some(id) = &board.pointed
            && let Some(name) = signs::pointed_name(cx, desk, id)
        {
            signs::at_pointer(ui, cx, free, &name);
        }
    }

    // Lower right of the scene: what was just seen, heard, refused.
    let said = (free.width() - width - 3.0 * EDGE).clamp(160.0, 460.0);
    let (pivot, corner) = if low {
        (Align2::RIGHT_TOP, free.right_top() + vec2(-EDGE, EDGE))
    } else {
        (
            Align2::RIGHT_BOTTOM,
            free.right_bottom() + vec2(-EDGE, -EDGE),
        )
    };
    card(ui, "captions", pivot, corner, said, |ui| {
        captions::show(ui, cx, desk);
    });

    if board.roll_open {
        let corner = free.center_top() + vec2(0.0, EDGE.max(free.height() * 0.08));
        let wide = (free.width() - 2.0 * EDGE).min(340.0);
        on_top(ui, "roll", corner, wide, |ui| {
            frame().show(ui, |ui| {
                if tool_roll::show(ui, cx, desk, free.height() - 2.0 * EDGE) {
                    board.show_roll(ui.ctx(), false);
                }
            });
        });
    }
    if let Some(mut wanted) = board.finder.take() {
        let corner = free.center_top() + vec2(0.0, EDGE);
        let wide = (free.width() - 2.0 * EDGE).min(1080.0);
        let mut close = false;
        on_top(ui, "finder", corner, wide, |ui| {
            let most = free.height() - 2.0 * EDGE;
            frame().show(ui, |ui| {
                close = finder::show(ui, cx, desk, &mut wanted, most)
            });
        });
        if !close {
            board.finder = Some(wanted);
        }
    }
    width + EDGE
}

/// Where a card lay when the last picture was made.
fn rect_of(ui: &Ui, id: &str) -> Option<Rect> {
    ui.ctx().memory(|m| m.area_rect(Id::new(id)))
}

/// A list that lies over all cards as long as it is open.
fn on_top(ui: &Ui, id: &str, corner: egui::Pos2, width: f32, add: impl FnOnce(&mut Ui)) {
    laid(
        ui,
        Layer::Foreground,
        id,
        Align2::CENTER_TOP,
        corner,
        width,
        add,
    );
}
