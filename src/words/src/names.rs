//! What things of a car are called.

use tracebay_core::fault::Failure;
use tracebay_core::vehicle::{Kind, Vehicle};

use crate::Words;

impl Words {
    /// What a part, terminal, wire, connector, place, control, box or cover is called.
    ///
    /// Relays and fuses go by their id: what each is for is to be found out from the legend.
    pub fn name(&self, vehicle: &Vehicle, id: &str) -> String {
        if id == "refrigerant" {
            return self.text("name-refrigerant");
        }
        if let Some(part) = vehicle.parts.get(id) {
            return match part.kind {
                Kind::Relay(_) => self.get("name-relay", &[("id", id.into())]),
                Kind::Fuse { .. } => self.get("name-fuse", &[("id", id.into())]),
                _ => part.label.to_string(),
            };
        }
        if let Some(wire) = vehicle.wires.get(id) {
            let args = [("id", id.into()), ("colour", wire.colour.as_str().into())];
            return self.get("name-wire", &args);
        }
        let label = None
            .or_else(|| vehicle.places.get(id).map(|place| &place.label))
            .or_else(|| vehicle.connectors.get(id).map(|plug| &plug.label))
            .or_else(|| vehicle.controls.get(id).map(|control| &control.label))
            .or_else(|| vehicle.boxes.get(id).map(|fuse_box| &fuse_box.label));
        if let Some(label) = label {
            return label.to_string();
        }
        if part_of(vehicle, id).is_some() {
            return self.get("name-terminal", &[("id", id.into())]);
        }
        id.to_owned()
    }

    /// A point, with its part where the id alone does not tell.
    pub fn point(&self, vehicle: &Vehicle, id: &str) -> String {
        let plain = || id.to_owned();
        let Some(part) = part_of(vehicle, id) else {
            // A plug that was taken off, a fuse that was pulled.
            return self.name(vehicle, id);
        };
        match vehicle.parts.get(part).map(|part| &part.kind) {
            None | Some(Kind::Relay(_) | Kind::Fuse { .. }) => plain(),
            Some(_) => {
                let name = self.name(vehicle, part);
                self.get("name-point", &[("id", id.into()), ("part", name.into())])
            }
        }
    }

    /// What is wrong with a thing: a lamp has a bulb that blows, no fuse.
    pub fn failure(&self, vehicle: &Vehicle, at: &str, failure: Failure) -> String {
        let kind = vehicle.parts.get(at).map(|part| &part.kind);
        match (failure, kind) {
            (Failure::Blown, Some(Kind::Lamp { .. })) => self.text("failure-blown-bulb"),
            _ => self.value(failure),
        }
    }

    /// What a failure's word means, where it is not said of what: in a list of words.
    pub fn failure_meaning(&self, failure: Failure) -> String {
        match failure {
            Failure::Blown => self.text("failure-blown-any"),
            _ => self.value(failure),
        }
    }

    /// A wire with both its ends.
    pub fn wire(&self, vehicle: &Vehicle, id: &str) -> String {
        let Some(wire) = vehicle.wires.get(id) else {
            return id.to_owned();
        };
        let end = |pin: &str| match pin.split_once('.') {
            Some((part, _)) => self.name(vehicle, part),
            None => pin.to_owned(),
        };
        let args = [
            ("id", id.into()),
            ("colour", wire.colour.as_str().into()),
            ("from", end(&wire.from).into()),
            ("to", end(&wire.to).into()),
        ];
        self.get("name-wire-between", &args)
    }
}

/// The part a point or terminal belongs to: what stands before its `.` or `:`.
fn part_of<'a>(vehicle: &Vehicle, id: &'a str) -> Option<&'a str> {
    let (part, _) = id.split_once(['.', ':'])?;
    vehicle.parts.contains_key(part).then_some(part)
}
