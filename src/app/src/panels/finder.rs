//! All that is within reach, place by place, and the finding of a thing of the car by its name.

use tracebay_core::vehicle::Station;

use super::{Cx, names, say, widgets};
use crate::desk::thing::{self, Thing};
use crate::desk::{Desk, Order};
use crate::egui::{self, Event, Id, Key, RichText, ScrollArea, Ui};
use crate::look::theme;

const STATIONS: [Station; 4] = [Station::Seat, Station::Bay, Station::Box, Station::Bench];

/// All things of the car whose name holds all words of `wanted`, those at this station first.
pub fn matching(cx: &Cx<'_>, desk: &Desk, wanted: &str) -> Vec<(Thing, String)> {
    let session = desk.session();
    let vehicle = &session.case().vehicle;
    let here = desk.view().station;
    let mut stations = vec![here];
    stations.extend(STATIONS.into_iter().filter(|s| *s != here));
    let words: Vec<String> = wanted.split_whitespace().map(str::to_lowercase).collect();
    stations
        .into_iter()
        .flat_map(|s| thing::within_reach(vehicle, s))
        .map(|t| {
            let name = names::thing(cx.text, session, desk.view(), &t);
            (t, name)
        })
        .filter(|(_, name)| {
            let name = name.to_lowercase();
            words.iter().all(|w| name.contains(w.as_str()))
        })
        .collect()
}

/// A finder that is open.
#[derive(Clone, Debug, Default)]
pub struct Finder {
    /// What is looked for.
    pub wanted: String,
    /// Its field is to take the focus.
    take_focus: bool,
    /// What had the focus before it opened, and gets it back.
    before: Option<Id>,
}

impl Finder {
    /// Opened now: what has the focus gets it back when it is closed without a choice.
    pub fn opened(ctx: &egui::Context) -> Finder {
        // Opened by a finger it waits: a tablet's keyboard would come up over the list.
        let finger = |e: &Event| matches!(e, Event::Touch { .. });
        Finder {
            take_focus: !ctx.input(|i| i.events.iter().any(finger)),
            before: ctx.memory(|m| m.focused()),
            ..Finder::default()
        }
    }
}

/// A line of the list: a heading, or a thing to turn to.
enum Row {
    Heading(String),
    Thing(Thing, String),
}

/// What is within reach at a station, place by place: first places where several things are, each
/// under its own name, then all others.
fn within_reach(cx: &Cx<'_>, desk: &Desk) -> Vec<Row> {
    let (session, view) = (desk.session(), desk.view());
    let vehicle = &session.case().vehicle;
    let things = thing::within_reach(vehicle, view.station);
    let called = names::told_apart(cx.text, session, view, &things);
    let mut groups: Vec<(Option<String>, Vec<(Thing, String)>)> = Vec::new();
    for (thing, name) in things.into_iter().zip(called) {
        let place = thing.place(vehicle).map(str::to_owned);
        match groups.last_mut() {
            Some((last, list)) if *last == place => list.push((thing, name)),
            _ => groups.push((place, vec![(thing, name)])),
        }
    }
    let (several, alone): (Vec<_>, Vec<_>) = groups
        .into_iter()
        .partition(|(place, list)| place.is_none() || list.len() > 1);
    let mut rows = Vec::new();
    for (place, list) in several {
        rows.push(Row::Heading(match place {
            Some(place) => names::place(session, &place),
            None => cx.t("reach-controls"),
        }));
        rows.extend(list.into_iter().map(|(t, n)| Row::Thing(t, n)));
    }
    if !alone.is_empty() {
        let others = !rows.is_empty();
        rows.extend(others.then(|| Row::Heading(cx.t("reach-others"))));
        let list = alone.into_iter().flat_map(|(_, list)| list);
        rows.extend(list.map(|(t, n)| Row::Thing(t, n)));
    }
    rows
}

/// What was found by name, with a heading where another station begins.
fn found(cx: &Cx<'_>, desk: &Desk, list: Vec<(Thing, String)>) -> Vec<Row> {
    let vehicle = &desk.session().case().vehicle;
    let mut rows = Vec::new();
    let mut at = Some(desk.view().station);
    for (thing, name) in list {
        let station = thing.station(vehicle);
        if station != at {
            at = station;
            rows.extend(at.map(|s| Row::Heading(say::station(cx, s))));
        }
        rows.push(Row::Thing(thing, name));
    }
    rows
}

/// Least width of a column, points.
const COLUMN: f32 = 240.0;
/// Rows that are too few to be worth a further column.
const FEW: usize = 6;

/// Cuts rows into so many columns of about the same length; none ends with a heading.
fn columns(rows: Vec<Row>, most: usize) -> Vec<Vec<Row>> {
    let n = most.min(rows.len().div_ceil(FEW)).max(1);
    let long = rows.len().div_ceil(n);
    let mut all: Vec<Vec<Row>> = vec![Vec::new()];
    for row in rows {
        let full = all.last().is_some_and(|c| c.len() >= long) && all.len() < n;
        if full {
            let last = all.last_mut().and_then(|c| {
                let heading = matches!(c.last(), Some(Row::Heading(_)));
                heading.then(|| c.pop()).flatten()
            });
            all.push(last.into_iter().collect());
        }
        if let Some(column) = all.last_mut() {
            column.push(row);
        }
    }
    all
}

/// Draws the finder, at most so high. True when it is to be closed.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, finder: &mut Finder, height: f32) -> bool {
    theme::on_steel(ui, cx.look);
    let mut close = false;
    let title = cx.text.fill(
        "reach-title",
        &[("station", (&say::station(cx, desk.view().station)).into())],
    );
    widgets::headed(ui, &title, true, |ui| {
        close = widgets::key_button(ui, &cx.t("close"), Some("Esc")).clicked();
    });
    let wanted = &mut finder.wanted;
    let field = widgets::field(ui, &cx.t("find"), wanted, 1, 60);
    if std::mem::take(&mut finder.take_focus) {
        field.request_focus();
    }
    let enter = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    let list = matching(cx, desk, wanted);
    let first = list.first().map(|(thing, _)| thing.clone());
    let rows = if wanted.trim().is_empty() {
        within_reach(cx, desk)
    } else {
        found(cx, desk, list)
    };
    ui.add_space(4.0);
    let mut chosen = first.filter(|_| enter);
    ScrollArea::vertical()
        .max_height((height - 110.0).max(80.0))
        // The card remembers how small it once was; the list may grow again all the same.
        .min_scrolled_height((height - 110.0).max(80.0))
        .auto_shrink([false, true])
        .show(ui, |ui| {
            if rows.is_empty() {
                ui.label(cx.t("find-nothing"));
            }
            let most = (ui.available_width() / COLUMN).max(1.0) as usize;
            let lists = columns(rows, most);
            ui.columns(most.max(lists.len()), |uis| {
                for (ui, list) in uis.iter_mut().zip(lists) {
                    ui.spacing_mut().item_spacing.y = 3.0;
                    ui.with_layout(egui::Layout::top_down_justified(egui::Align::Min), |ui| {
                        for row in list {
                            if let Some(thing) = draw(ui, cx, row) {
                                chosen = Some(thing);
                            }
                        }
                    });
                }
            });
        });
    if let Some(thing) = chosen {
        cx.order(Order::Focus(Some(thing.id().to_owned())));
        return true;
    }
    close |= ui.input(|i| i.key_pressed(Key::Escape));
    if close && let Some(before) = finder.before {
        ui.memory_mut(|m| m.request_focus(before));
    }
    close
}

fn draw(ui: &mut Ui, cx: &Cx<'_>, row: Row) -> Option<Thing> {
    match row {
        Row::Heading(words) => {
            ui.add_space(5.0);
            let text = RichText::new(&words)
                .font(theme::narrow(14.5))
                .color(cx.look.steel_chosen);
            let response = widgets::ragged(ui, |ui| ui.add(egui::Label::new(text).wrap()));
            ui.ctx().accesskit_node_builder(response.id, |node| {
                node.set_role(egui::accesskit::Role::Heading);
            });
            None
        }
        Row::Thing(thing, name) => {
            let button = egui::Button::new(&name)
                .wrap()
                .min_size(egui::vec2(0.0, theme::TARGET));
            let response = ui.add(button);
            response.clicked().then_some(thing)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(name: &str) -> Row {
        match name.strip_prefix('#') {
            Some(heading) => Row::Heading(heading.into()),
            None => Row::Thing(Thing::Place(name.into()), name.into()),
        }
    }

    #[test]
    fn columns_hold_every_row_once_and_none_ends_with_a_heading() {
        for (headings, most) in [(3, 3), (5, 4), (2, 1), (7, 2)] {
            let rows: Vec<Row> = (0..41)
                .map(|i| row(&format!("{}{i}", if i % headings == 0 { "#" } else { "" })))
                .collect();
            let cut = columns(rows, most);
            assert!(cut.len() <= most);
            assert_eq!(cut.iter().map(Vec::len).sum::<usize>(), 41);
            let last = cut.len() - 1;
            for column in &cut[..last] {
                assert!(!matches!(column.last(), Some(Row::Heading(_))));
            }
        }
        assert_eq!(columns(Vec::new(), 3).len(), 1);
        assert_eq!(
            columns(vec![row("a")], 3).len(),
            1,
            "few rows stay together"
        );
    }
}
