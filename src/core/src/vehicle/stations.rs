//! Where one can stand at a vehicle.

use super::{Station, Vehicle};

impl Vehicle {
    /// Whether all there is stands on the bench: a board to learn on, no car.
    pub fn on_bench(&self) -> bool {
        let places = self.places.values().map(|place| place.station);
        let controls = self.controls.values().map(|control| control.station);
        places
            .chain(controls)
            .all(|station| station == Station::Bench)
    }

    /// Where one stands at first.
    pub fn first_station(&self) -> Station {
        if self.on_bench() {
            Station::Bench
        } else {
            Station::Seat
        }
    }

    /// Whether there is something to do at a station.
    pub fn has_station(&self, station: Station) -> bool {
        let bench = self
            .places
            .values()
            .any(|place| place.station == Station::Bench);
        match station {
            Station::Bench => bench,
            Station::Seat | Station::Bay | Station::Box => !self.on_bench(),
        }
    }
}
