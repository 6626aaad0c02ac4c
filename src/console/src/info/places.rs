//! Where things are: stations, places, plugs, points, fuse boxes and their legend.

use serde_json::json;
use tracebay_core::session::PointInfo;
use tracebay_core::vehicle::{FuseBox, Kind};

use super::{Desk, Found};

pub fn here(desk: &Desk) -> Found {
    let words = desk.words;
    let station = desk.view.station;
    let mut lines = vec![words.get("say-you-are", &[("station", words.value(station).into())])];
    lines.extend(place_lines(desk, true));
    lines.extend(cover_lines(desk));
    ("where", lines, json!({ "station": station }))
}

pub fn places(desk: &Desk) -> Found {
    let vehicle = &desk.session.case().vehicle;
    let ids: Vec<_> = vehicle.places.keys().collect();
    ("places", place_lines(desk, false), json!(ids))
}

fn place_lines(desk: &Desk, here_only: bool) -> Vec<String> {
    let vehicle = &desk.session.case().vehicle;
    let shown = vehicle
        .places
        .iter()
        .filter(|(_, place)| !here_only || place.station == desk.view.station);
    shown
        .map(|(id, place)| {
            let key = if place.dark {
                "say-place-dark"
            } else {
                "say-place"
            };
            let args = [
                ("id", id.as_str().into()),
                ("label", place.label.as_str().into()),
            ];
            desk.words.get(key, &args)
        })
        .collect()
}

pub fn cover_lines(desk: &Desk) -> Vec<String> {
    let covers = desk.session.covers();
    covers
        .map(|cover| {
            let off = desk.view.uncovered.contains(cover);
            let key = if off { "say-cover-off" } else { "say-cover-on" };
            desk.words.get(key, &[("cover", cover.into())])
        })
        .collect()
}

pub fn plugs(desk: &Desk) -> Found {
    let vehicle = &desk.session.case().vehicle;
    let line = |(id, plug): (&String, &tracebay_core::vehicle::Connector)| {
        let key = if plug.off_limits {
            "say-plug-off-limits"
        } else {
            "say-plug"
        };
        let args = [
            ("id", id.as_str().into()),
            ("label", plug.label.as_str().into()),
            ("place", desk.words.name(vehicle, &plug.place).into()),
        ];
        desk.words.get(key, &args)
    };
    let lines = vehicle.connectors.iter().map(line).collect();
    let ids: Vec<_> = vehicle.connectors.keys().collect();
    ("plugs", lines, json!(ids))
}

/// Points within reach, or all of one part with what is in the way.
pub fn points(desk: &Desk, part: Option<&str>) -> Found {
    let words = desk.words;
    let vehicle = &desk.session.case().vehicle;
    let all = desk.session.points();
    let mut lines = Vec::new();
    let mut data = Vec::new();
    for point in all {
        let reach = desk.session.reach(&point.id);
        let asked = match part {
            Some(part) => is_of(point, part),
            None => reach.is_ok(),
        };
        if !asked {
            continue;
        }
        let mut facts = vec![words.value(point.kind)];
        if let Some(blade) = point.blade {
            facts.push(words.value(blade));
        }
        if let Some(mark) = &point.mark {
            facts.push(words.get("say-point-marked", &[("mark", mark.as_str().into())]));
        }
        let id = words.point(vehicle, &point.id);
        let args = [("id", id.into()), ("facts", facts.join(", ").into())];
        let mut line = words.get("say-point", &args);
        if part.is_some() {
            let way = match &reach {
                Ok(()) => words.text("say-point-in-reach"),
                Err(refusal) => words.refusal(vehicle, refusal),
            };
            line = format!("{line}. {way}");
        }
        lines.push(line);
        data.push(json!({ "point": point, "refused": reach.err() }));
    }
    if lines.is_empty() {
        lines.push(match part {
            None => words.text("say-no-points"),
            Some(part) => words.refusal(
                vehicle,
                &tracebay_core::session::Refusal::Unknown {
                    name: part.to_owned(),
                    nearest: tracebay_core::source::nearest(
                        part,
                        all.iter().map(|point| point.part.as_str()),
                    )
                    .map(str::to_owned),
                },
            ),
        });
    }
    ("points", lines, json!(data))
}

fn is_of(point: &PointInfo, part: &str) -> bool {
    let same = |a: &str| tracebay_words::fold(a) == tracebay_words::fold(part);
    same(&point.part) || same(&point.place) || same(&point.id)
}

/// Slots of a box as one sees them: position in the box, what sits there.
pub fn boxes(desk: &Desk) -> Found {
    let words = desk.words;
    let case = desk.session.case();
    let mut lines = Vec::new();
    let mut data = Vec::new();
    for fuse_box in case.vehicle.boxes.values() {
        let (columns, rows) = fuse_box.grid;
        let args = [
            ("label", fuse_box.label.as_str().into()),
            ("columns", columns.to_string().into()),
            ("rows", rows.to_string().into()),
        ];
        lines.push(words.get("say-box", &args));
        let mut last_row = None;
        for ((row, column), id) in in_reading_order(desk, fuse_box, false) {
            if last_row != Some(row) {
                last_row = Some(row);
                lines.push(words.get("say-box-row", &[("row", (row + 1).to_string().into())]));
            }
            let out = if desk.view.pulled.contains(&id) {
                "yes"
            } else {
                "no"
            };
            let mut args = vec![
                ("column", (column + 1).to_string().into()),
                ("id", id.as_str().into()),
                ("out", out.into()),
            ];
            let key = match case.vehicle.parts.get(&id).map(|part| &part.kind) {
                Some(Kind::Fuse { amps, .. }) => {
                    let decimals = usize::from(amps.fract() != 0.0);
                    args.push(("amps", words.number(*amps, decimals).into()));
                    "say-slot-fuse"
                }
                _ => "say-slot-relay",
            };
            lines.push(words.get(key, &args));
            data.push(json!({ "part": id, "row": row + 1, "column": column + 1 }));
        }
    }
    ("box", lines, json!(data))
}

/// The legend as printed: its rows and columns are the print's own. Where the print is turned
/// against the box, putting the two together is the reader's work.
pub fn legend(desk: &Desk) -> Found {
    let words = desk.words;
    let vehicle = &desk.session.case().vehicle;
    let mut lines = Vec::new();
    let mut data = Vec::new();
    for fuse_box in vehicle.boxes.values() {
        let cover = vehicle
            .places
            .get(&fuse_box.place)
            .and_then(|p| p.cover.clone());
        if let Some(cover) = cover.filter(|cover| !desk.view.uncovered.contains(cover)) {
            lines.push(words.get("say-lid-on", &[("cover", cover.into())]));
            continue;
        }
        lines.push(words.get("say-legend", &[("label", fuse_box.label.as_str().into())]));
        lines.push(words.text(if fuse_box.legend_turned {
            "say-legend-turned"
        } else {
            "say-legend-upright"
        }));
        let mut last_row = None;
        for ((row, column), id) in in_reading_order(desk, fuse_box, fuse_box.legend_turned) {
            let Some(slot) = fuse_box.slots.iter().find(|slot| slot.part == id) else {
                continue;
            };
            if last_row != Some(row) {
                last_row = Some(row);
                lines.push(words.get("say-box-row", &[("row", (row + 1).to_string().into())]));
            }
            let args = [
                ("column", (column + 1).to_string().into()),
                ("legend", slot.legend.as_str().into()),
            ];
            lines.push(words.get("say-legend-entry", &args));
            data.push(json!({ "legend": slot.legend, "row": row + 1, "column": column + 1 }));
        }
    }
    ("legend", lines, json!(data))
}

/// Slots as `((row, column), part)` from the upper left, turned half round if asked for.
fn in_reading_order(desk: &Desk, fuse_box: &FuseBox, turned: bool) -> Vec<((u32, u32), String)> {
    let (columns, rows) = fuse_box.grid;
    let placed = &desk.session.case().slots;
    let mut slots: Vec<_> = fuse_box
        .slots
        .iter()
        .map(|slot| {
            let (column, row) = placed.get(&slot.part).copied().unwrap_or(slot.at);
            let at = if turned {
                (
                    rows.saturating_sub(1).saturating_sub(row),
                    columns.saturating_sub(1).saturating_sub(column),
                )
            } else {
                (row, column)
            };
            (at, slot.part.clone())
        })
        .collect();
    slots.sort();
    slots
}
