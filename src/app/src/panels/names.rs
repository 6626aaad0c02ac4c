//! What things are called on screen without giving anything away.
//!
//! A fuse or relay in its slot is called by what the eye sees there, since finding the right one
//! from the lid's legend is part of the job.

use tracebay_core::session::{PointInfo, PointKind, Session, View};
use tracebay_core::vehicle::{FuseBody, Kind};

use crate::desk::socket;
use crate::desk::thing::Thing;
use crate::text::Text;

/// A thing's name.
pub fn thing(text: &Text, session: &Session, view: &View, thing: &Thing) -> String {
    let vehicle = &session.case().vehicle;
    let id = thing.id();
    match thing {
        Thing::Part(_) => {
            if thing.slot_box(vehicle).is_some() {
                return slot(text, session, view, id);
            }
            vehicle
                .parts
                .get(id)
                .map_or_else(|| id.to_owned(), |p| p.label.to_string())
        }
        Thing::Connector(_) => {
            let label = vehicle.connectors.get(id).map_or(id, |c| c.label.as_str());
            if view.unplugged.contains(id) {
                text.fill("plug-off", &[("plug", label.into())])
            } else {
                label.to_owned()
            }
        }
        Thing::Control(_) => vehicle
            .controls
            .get(id)
            .map_or_else(|| id.to_owned(), |c| c.label.to_string()),
        Thing::Box(_) => vehicle
            .boxes
            .get(id)
            .map_or_else(|| id.to_owned(), |b| b.label.to_string()),
        Thing::Place(_) => place(session, id),
    }
}

/// Things' names for a list: where two would be called the same, each says what it is.
pub fn told_apart(text: &Text, session: &Session, view: &View, things: &[Thing]) -> Vec<String> {
    let plain: Vec<String> = things
        .iter()
        .map(|t| thing(text, session, view, t))
        .collect();
    let apart = |(t, name): (&Thing, &String)| {
        if plain.iter().filter(|n| *n == name).count() < 2 {
            return name.clone();
        }
        let key = match t {
            Thing::Place(_) => "apart-place",
            Thing::Connector(_) => "apart-plug",
            Thing::Box(_) => "apart-box",
            Thing::Part(_) => "apart-terminals",
            Thing::Control(_) => return name.clone(),
        };
        text.fill(key, &[("name", name.as_str().into())])
    };
    things.iter().zip(&plain).map(apart).collect()
}

/// A place's name.
pub fn place(session: &Session, id: &str) -> String {
    session
        .case()
        .vehicle
        .places
        .get(id)
        .map_or_else(|| id.to_owned(), |p| p.label.to_string())
}

fn slot(text: &Text, session: &Session, view: &View, id: &str) -> String {
    let vehicle = &session.case().vehicle;
    let (column, row) = super::legend::place_in_box(session, id).unwrap_or((0, 0));
    let gaps = |amps: f64| {
        [
            ("id", id.into()),
            ("row", f64::from(row + 1).into()),
            ("column", f64::from(column + 1).into()),
            ("amps", amps.into()),
        ]
    };
    let kind = vehicle.parts.get(id).map(|p| &p.kind);
    let pulled = view.pulled.contains(id);
    match kind {
        Some(Kind::Relay(_)) if pulled => text.fill("slot-socket", &gaps(0.0)),
        Some(Kind::Relay(_)) => text.fill("slot-relay", &gaps(0.0)),
        Some(Kind::Fuse { amps, body }) => {
            let key = match (pulled, body) {
                (true, _) => "slot-fuse-socket",
                (false, FuseBody::Maxi) => "slot-fuse-large",
                (false, _) => "slot-fuse",
            };
            text.fill(key, &gaps(*amps))
        }
        _ => text.fill("slot-other", &gaps(0.0)),
    }
}

/// A point's name within its thing.
pub fn point(text: &Text, session: &Session, info: &PointInfo) -> String {
    let mark = info.mark.as_deref();
    if let Some(letter) = socket::letter(info) {
        let letter = letter.to_string();
        let wide = match info.blade {
            Some(tracebay_core::session::BladeSize::Wide) => text.get("blade-size-wide"),
            Some(tracebay_core::session::BladeSize::Narrow) => text.get("blade-size-narrow"),
            None => String::new(),
        };
        let where_ = text.get(match letter.as_str() {
            "a" => "cavity-upper-left",
            "b" => "cavity-upper-right",
            "c" => "cavity-lower-left",
            "d" => "cavity-lower-right",
            _ => "cavity-middle",
        });
        let key = match (info.kind, mark) {
            (PointKind::Blade, Some(_)) => "point-blade-marked",
            (PointKind::Blade, None) => "point-blade",
            (_, Some(_)) => "point-cavity-marked",
            (_, None) => "point-cavity",
        };
        return text.fill(
            key,
            &[
                ("letter", (&letter).into()),
                ("where", (&where_).into()),
                ("size", (&wide).into()),
                ("mark", mark.unwrap_or_default().into()),
            ],
        );
    }
    let key = match info.kind {
        PointKind::Cavity => "point-cavity-plain",
        PointKind::Blade => "point-blade-plain",
        PointKind::TestTab => "point-test-tab",
        PointKind::BackProbe => "point-back-probe",
        PointKind::Pin => "point-pin",
        PointKind::PlugFace => "point-plug-face",
        PointKind::Post => "point-post",
        PointKind::Stud if mark.is_some() => "point-clamp",
        PointKind::Stud => "point-stud",
        PointKind::Paint => "point-paint",
    };
    let own = info
        .id
        .rsplit(['.', ':'])
        .next()
        .unwrap_or(&info.id)
        .to_owned();
    let label = mark.map(str::to_owned).unwrap_or(own);
    let part = session
        .case()
        .vehicle
        .parts
        .get(&info.part)
        .map_or(info.part.as_str(), |p| p.label.as_str());
    text.fill(key, &[("mark", (&label).into()), ("part", part.into())])
}

/// A point's name with the thing it belongs to, for places where the thing is not in view.
pub fn point_in_full(text: &Text, session: &Session, view: &View, id: &str) -> String {
    let Some(info) = session.points().iter().find(|p| p.id == id) else {
        return id.to_owned();
    };
    let vehicle = &session.case().vehicle;
    let short = point(text, session, info);
    match Thing::find(vehicle, &info.part) {
        Some(owner) => {
            let owner = thing(text, session, view, &owner);
            text.fill(
                "point-of",
                &[("point", (&short).into()), ("thing", (&owner).into())],
            )
        }
        None => short,
    }
}
