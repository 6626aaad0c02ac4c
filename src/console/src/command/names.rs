//! The names a car has for its things, and which of them a person means.

use tracebay_core::session::Session;
use tracebay_core::source::Told;
use tracebay_core::vehicle::{Kind, Role, Vehicle};
use tracebay_words::fold;

/// An id and its label, which may be typed as it is shown and as it was written.
pub type Named = (String, Told);

/// Ids with labels, by what a command may be about.
#[derive(Clone, Debug, Default)]
pub struct Names {
    /// Places.
    pub places: Vec<Named>,
    /// Places by what stands there: place, and the id or label of a part or plug.
    pub standing: Vec<Named>,
    /// Relays and fuses.
    pub slots: Vec<Named>,
    /// Relays.
    pub relays: Vec<Named>,
    /// Plugs.
    pub plugs: Vec<Named>,
    /// Covers and caps.
    pub covers: Vec<Named>,
    /// Points.
    pub points: Vec<Named>,
    /// Controls.
    pub controls: Vec<Named>,
    /// What may be called and repaired.
    pub targets: Vec<Named>,
    /// Positions of each control.
    pub positions: Vec<(String, Vec<String>)>,
    /// The ignition key's id.
    pub key: Option<String>,
}

impl Names {
    /// The names of the car at hand.
    pub fn of(session: &Session) -> Names {
        let case = session.case();
        let vehicle = &case.vehicle;
        // A relay's or fuse's label says what it is for; finding that out is the learner's work,
        // so it is no name here.
        let slots = |relays_only: bool| {
            let parts = vehicle
                .parts
                .iter()
                .filter(move |(_, part)| match part.kind {
                    Kind::Relay(_) => true,
                    Kind::Fuse { .. } => !relays_only,
                    _ => false,
                });
            parts.map(|(id, _)| (id.clone(), Told::default())).collect()
        };
        let mut covers: Vec<_> = session
            .covers()
            .map(|c| (c.to_owned(), Told::default()))
            .collect();
        covers.dedup();
        Names {
            places: labelled(vehicle.places.iter().map(|(id, it)| (id, &it.label))),
            standing: standing(vehicle),
            slots: slots(false),
            relays: slots(true),
            plugs: labelled(vehicle.connectors.iter().map(|(id, it)| (id, &it.label))),
            covers,
            points: session
                .points()
                .iter()
                .map(|p| (p.id.clone(), Told::default()))
                .collect(),
            controls: labelled(vehicle.controls.iter().map(|(id, it)| (id, &it.label))),
            targets: targets(vehicle, &case.scenario.suspects),
            positions: vehicle
                .controls
                .iter()
                .map(|(id, control)| (id.clone(), control.positions.clone()))
                .collect(),
            key: vehicle
                .controls
                .iter()
                .find(|(_, control)| control.role == Role::Key)
                .map(|(id, _)| id.clone()),
        }
    }

    /// The place a person means: by its own name, or by that of a part or plug that stands there.
    pub fn place(&self, typed: &str) -> String {
        let place = pick(typed, &self.places);
        if self.places.iter().any(|(id, _)| *id == place) {
            return place;
        }
        let folded = fold(typed);
        let mut found = self
            .standing
            .iter()
            .filter(|(_, name)| fold(name) == folded || fold(name.as_written()) == folded);
        match found.next() {
            Some((first, _)) if found.all(|(other, _)| other == first) => first.clone(),
            _ => place,
        }
    }

    /// The control a person means: by its name, or by one word of its id that no other has
    /// (`hose` for `exhaust_hose`).
    pub fn control(&self, typed: &str) -> String {
        let control = pick(typed, &self.controls);
        let folded = fold(typed);
        let has_word = |id: &str| fold(id).split('-').any(|word| word == folded);
        let mut found = self.controls.iter().filter(|(id, _)| has_word(id));
        match (
            self.controls.iter().any(|(id, _)| *id == control),
            found.next(),
            found.next(),
        ) {
            (false, Some((id, _)), None) => id.clone(),
            _ => control,
        }
    }

    /// Positions of a control.
    pub fn positions_of(&self, control: &str) -> &[String] {
        let found = self.positions.iter().find(|(id, _)| id == control);
        found.map_or(&[], |(_, positions)| positions)
    }
}

/// What a person means by a typed name: the id itself, the id or label written another way, or
/// else the typed text as it is, which the session refuses with the nearest name.
pub fn pick(typed: &str, among: &[Named]) -> String {
    let typed = typed.trim();
    let folded = fold(typed);
    let by = |same: &dyn Fn(&str, &Told) -> bool| {
        let mut found = among.iter().filter(|(id, label)| same(id, label));
        match (found.next(), found.next()) {
            (Some((id, _)), None) => Some(id.clone()),
            _ => None,
        }
    };
    by(&|id, _| id == typed)
        .or_else(|| by(&|id, _| fold(id) == folded))
        .or_else(|| by(&|_, label| fold(label) == folded))
        .or_else(|| by(&|_, label| fold(label.as_written()) == folded))
        .unwrap_or_else(|| typed.to_owned())
}

fn labelled<'a>(things: impl Iterator<Item = (&'a String, &'a Told)>) -> Vec<Named> {
    things
        .map(|(id, label)| (id.clone(), label.clone()))
        .collect()
}

/// Parts and plugs with the places they stand at. Relays and fuses are left out: all of them
/// stand in the box.
fn standing(vehicle: &Vehicle) -> Vec<Named> {
    let mut all = Vec::new();
    let mut add = |place: &String, id: &String, label: &Told| {
        all.push((place.clone(), id.as_str().into()));
        all.push((place.clone(), label.clone()));
    };
    for (id, part) in &vehicle.parts {
        if !matches!(part.kind, Kind::Relay(_) | Kind::Fuse { .. }) {
            add(&part.place, id, &part.label);
        }
    }
    for (id, plug) in &vehicle.connectors {
        add(&plug.place, id, &plug.label);
    }
    all
}

/// The scenario's suspects, or everything of the car that can fail.
fn targets(vehicle: &Vehicle, suspects: &[String]) -> Vec<Named> {
    let known = |id: &str| match vehicle.parts.get(id) {
        Some(part) if !matches!(part.kind, Kind::Relay(_) | Kind::Fuse { .. }) => {
            part.label.clone()
        }
        _ => Told::default(),
    };
    if !suspects.is_empty() {
        return suspects.iter().map(|id| (id.clone(), known(id))).collect();
    }
    let parts = vehicle.parts.keys();
    let others = vehicle.wires.keys().chain(vehicle.connectors.keys());
    let all = parts.chain(others).map(|id| (id.clone(), known(id)));
    all.chain([("refrigerant".to_owned(), Told::default())])
        .collect()
}
