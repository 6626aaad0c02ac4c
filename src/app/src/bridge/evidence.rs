//! What the learner has seen of fuses and plugs, as long as it is true for what they have done since.
//!
//! The scene shows evidence that somebody has seen and no other. Knows the log, and nothing of the faults.

use std::collections::{BTreeMap, BTreeSet};

use tracebay_core::fault::Method;
use tracebay_core::session::{Action, Finding, Item, Observation};
use tracebay_core::vehicle::Vehicle;

/// What stands to be seen.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Evidence {
    /// Slots whose fuse was seen to have no element left, that fuse being in them now or last.
    pub blown: BTreeSet<String>,
    /// Plugs that were seen not to be seated.
    pub loose: BTreeSet<String>,
}

impl Evidence {
    /// What stands to be seen after this log.
    pub fn of(vehicle: &Vehicle, log: &[(Action, Vec<Observation>)]) -> Evidence {
        let mut item_in: BTreeMap<&str, Item> = BTreeMap::new();
        let mut blown: BTreeSet<(&str, bool)> = BTreeSet::new();
        let mut loose: BTreeSet<&str> = BTreeSet::new();
        for (action, seen) in log {
            match action {
                Action::Fit { part, item, .. } => {
                    item_in.insert(part, *item);
                }
                // A new one is the car's own from then on.
                Action::Repair { target, method } => {
                    if *method == Method::Replace {
                        item_in.insert(target, Item::Original);
                        blown.remove(&(target.as_str(), false));
                    }
                    loose.retain(|plug| plug != target && !feeds(vehicle, plug, target));
                }
                _ => {}
            }
            for o in seen {
                let Observation::Seen { place, finding, .. } = o else {
                    continue;
                };
                let spare = item_in.get(place.as_str()) == Some(&Item::Spare);
                match finding {
                    Finding::ElementGone => _ = blown.insert((place, spare)),
                    Finding::ElementWhole => _ = blown.remove(&(place.as_str(), spare)),
                    Finding::NotSeated => loose.extend(only_plug(vehicle, place)),
                    _ => {}
                }
            }
            // Pressed home, whatever was seen before.
            if let Action::Plug(plug) = action {
                loose.remove(plug.as_str());
            }
        }
        let spare = |slot: &str| item_in.get(slot) == Some(&Item::Spare);
        Evidence {
            blown: blown
                .into_iter()
                .filter(|(slot, was_spare)| spare(slot) == *was_spare)
                .map(|(slot, _)| slot.to_owned())
                .collect(),
            loose: loose.into_iter().map(str::to_owned).collect(),
        }
    }
}

/// Whether a plug has a pin of this part.
pub fn feeds(vehicle: &Vehicle, plug: &str, part: &str) -> bool {
    vehicle
        .connectors
        .get(plug)
        .is_some_and(|c| c.pins.iter().any(|pin| pin.split('.').next() == Some(part)))
}

/// The plug of this name, or the only one at the place of this name: with several, looking does not tell
/// which.
fn only_plug<'v>(vehicle: &'v Vehicle, place: &str) -> Option<&'v str> {
    if let Some((plug, _)) = vehicle.connectors.get_key_value(place) {
        return Some(plug);
    }
    let mut there = vehicle.connectors.iter().filter(|(_, c)| c.place == place);
    let first = there.next()?;
    there.next().is_none().then_some(first.0.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;
    use tracebay_shelf::Data;

    fn vehicle(id: &str) -> std::sync::Arc<Vehicle> {
        Data::built_in().catalogue().0.vehicles[id].clone()
    }

    fn sees(place: &str, finding: Finding) -> Vec<Observation> {
        vec![Observation::Seen {
            place: place.into(),
            finding,
            lamp: None,
        }]
    }

    fn inspects(slot: &str, finding: Finding) -> (Action, Vec<Observation>) {
        (Action::Inspect(slot.into()), sees(slot, finding))
    }

    fn fits(slot: &str, item: Item) -> (Action, Vec<Observation>) {
        let fit = Action::Fit {
            part: slot.into(),
            item,
            turned: false,
        };
        (fit, Vec::new())
    }

    fn repairs(target: &str, method: Method) -> (Action, Vec<Observation>) {
        let repair = Action::Repair {
            target: target.into(),
            method,
        };
        (repair, Vec::new())
    }

    #[test]
    fn a_blown_fuse_shows_until_another_is_in_its_slot() {
        let vehicle = vehicle("ostrel-lindmoor");
        let mut log = vec![inspects("F5", Finding::ElementGone)];
        let blown = |log: &[_]| Evidence::of(&vehicle, log).blown.contains("F5");
        assert!(blown(&log));
        log.push(fits("F5", Item::Spare));
        assert!(!blown(&log), "the spare was never seen to have blown");
        log.push(inspects("F5", Finding::ElementGone));
        assert!(blown(&log), "now it was");
        log.push(fits("F5", Item::Original));
        assert!(blown(&log), "and so was the one before");
        log.push(repairs("F5", Method::Replace));
        assert!(!blown(&log), "a new one");
        log.push(inspects("F5", Finding::ElementWhole));
        assert!(!blown(&log));
        log.push(fits("F5", Item::Spare));
        assert!(blown(&log), "the spare is still the same");
    }

    #[test]
    fn a_loose_plug_shows_until_it_is_pressed_home() {
        let vehicle = vehicle("ostrel-lindmoor");
        let plug = vehicle.connectors.keys().next().unwrap().clone();
        let looked = (
            Action::Look(vehicle.connectors[&plug].place.clone()),
            sees(&plug, Finding::NotSeated),
        );
        let loose = |log: &[_]| Evidence::of(&vehicle, log).loose.contains(&plug);
        let mut log = vec![looked];
        assert!(loose(&log));
        for mended in [
            (Action::Plug(plug.clone()), Vec::new()),
            repairs(&plug, Method::Reseat),
        ] {
            log.push(mended);
            assert!(!loose(&log));
            log.pop();
        }
    }

    #[test]
    fn of_several_plugs_at_a_place_none_shows_before_it_is_known_which() {
        let vehicle = vehicle("pellam-quist");
        for place in vehicle.places.keys() {
            let there = vehicle.connectors.values().filter(|c| c.place == *place);
            let looked = (Action::Look(place.clone()), sees(place, Finding::NotSeated));
            let shown = Evidence::of(&vehicle, &[looked]).loose.len();
            assert_eq!(shown, usize::from(there.count() == 1), "{place}");
        }
    }
}
