//! What a complaint is about, as a customer would say it: told by what the complaint itself says does
//! not work, never by what is behind it.

use tracebay_core::scenario::{Scenario, Shows};
use tracebay_core::vehicle::{Acts, Drives, Kind, Vehicle};

/// Groups of complaints.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Area {
    /// A board on the bench: for beginning.
    Bench,
    /// Cold air, warm air, fans.
    Air,
    /// Starts, runs.
    Engine,
    /// Lamps.
    Lights,
    /// Windows, wipers, washers, horn.
    View,
    /// What fits none of these.
    Other,
}

impl Area {
    /// All, in the order in which they are listed.
    pub const ALL: [Area; 6] = [
        Area::Bench,
        Area::Air,
        Area::Engine,
        Area::Lights,
        Area::View,
        Area::Other,
    ];

    /// Key of its name; with `-learn` at its end, of what one practises there.
    pub fn key(self) -> &'static str {
        match self {
            Area::Bench => "area-bench",
            Area::Air => "area-air",
            Area::Engine => "area-engine",
            Area::Lights => "area-lights",
            Area::View => "area-view",
            Area::Other => "area-other",
        }
    }

    /// The area of a scenario's complaint.
    pub fn of(scenario: &Scenario, vehicle: Option<&Vehicle>) -> Area {
        let Some(vehicle) = vehicle else {
            return Area::Other;
        };
        if vehicle.on_bench() {
            return Area::Bench;
        }
        let part = match &scenario.symptom.shows {
            Shows::NoColdAir { .. } => return Area::Air,
            Shows::NoStart => return Area::Engine,
            Shows::Weak { part, .. } | Shows::Unwanted { part } => vehicle.parts.get(part),
        };
        match part.map(|p| &p.kind) {
            Some(Kind::ClutchCoil { .. }) => Area::Air,
            Some(Kind::Lamp { .. }) => Area::Lights,
            Some(Kind::Motor { drives, .. }) => match drives {
                Drives::Blower | Drives::CoolingFan => Area::Air,
                Drives::FuelPump | Drives::Starter => Area::Engine,
                Drives::Washer | Drives::Wiper => Area::View,
            },
            Some(Kind::Resistor { acts, .. }) => match acts {
                Acts::Horn | Acts::WindowHeater => Area::View,
                Acts::Engine | Acts::GlowPlug => Area::Engine,
                Acts::Nothing => Area::Other,
            },
            _ => Area::Other,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every shipped complaint has an area, and none of the areas is empty (the shipped files).
    #[test]
    fn every_shipped_complaint_is_about_something() {
        let (catalogue, _) = tracebay_shelf::Data::built_in().catalogue();
        let mut found = std::collections::BTreeSet::new();
        for scenario in catalogue.scenarios.values() {
            let vehicle = catalogue.vehicles.get(&scenario.vehicle);
            let area = Area::of(scenario, vehicle.map(|v| &**v));
            assert_ne!(area, Area::Other, "{}", scenario.id);
            found.insert(area);
        }
        assert_eq!(found.len(), Area::ALL.len() - 1);
    }
}
