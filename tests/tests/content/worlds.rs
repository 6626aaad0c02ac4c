//! Every candidate makes its complaint true, the sound car does not show it, and any two
//! candidates can be told apart by the scenario's states, probes and spares, or are declared as
//! one group.

use std::collections::BTreeMap;
use std::sync::Arc;

use tracebay_core::scenario::{CarState, Case, Scenario};
use tracebay_core::session::{Action, Item, MeterDisplay, Observation, PointKind, Session};
use tracebay_core::tools::{Dial, Glow, Lead, ToolKind};
use tracebay_core::vehicle::Station;
use tracebay_grading::survey::Survey;

use crate::load;

fn session(case: Case) -> Session {
    Session::new(Arc::new(case)).expect("an operating point")
}

#[test]
fn the_complaint_is_true_under_every_candidate_and_only_then() {
    for (scenario, vehicle) in load::scenarios() {
        for seed in [1, 2, 3, 4] {
            let case = Case::draw(scenario.clone(), vehicle.clone(), seed);
            let at = format!("{} seed {seed}, {} \u{b0}C", scenario.id, case.ambient_c);
            let shows = session(case.sound()).complaint_shows();
            assert_eq!(shows, Ok(false), "{at}: sound car");
            for (i, candidate) in scenario.candidates.iter().enumerate() {
                let shows = session(case.with_candidate(i)).complaint_shows();
                assert_eq!(shows, Ok(true), "{at}: {}", candidate.id);
            }
        }
    }
}

/// What a person makes of a reading: four steps of light, a quarter of a volt, a third of a decade
/// of ohms.
fn as_seen(shown: Option<Observation>) -> Option<String> {
    Some(match shown? {
        Observation::Light { glow, .. } => match glow {
            Glow::Dark => "dark".into(),
            Glow::Faint => "faint".into(),
            Glow::Dim => "dim".into(),
            Glow::Bright => "bright".into(),
        },
        Observation::Meter { display, .. } => match display {
            MeterDisplay::Value {
                dial: Dial::Ohms,
                value,
                ..
            } => {
                format!("{:.0} thirds", (value.max(1.0).log10() * 3.0).round())
            }
            MeterDisplay::Value { value, .. } => format!("{:.0} quarters", (value * 4.0).round()),
            MeterDisplay::Nonsense { .. } => return None,
            other => format!("{other:?}"),
        },
        other => format!("{other:?}"),
    })
}

type Signature = BTreeMap<String, String>;

fn readings(car: &mut Session, scenario: &Scenario, state: &str, seen: &mut Signature) {
    let mut points = scenario.probes.clone();
    let cavities = car.points().iter().filter(|p| p.kind == PointKind::Cavity);
    points.extend(
        cavities
            .filter(|p| Some(&p.part) == scenario.socket.as_ref())
            .map(|p| p.id.clone()),
    );
    let mut note = |what: &str, car: &mut Session, tool| {
        for point in &points {
            if let Some(value) = as_seen(car.would_show(tool, point)) {
                seen.insert(format!("{state}: {what} {point}"), value);
            }
        }
    };
    let (light, meter) = (ToolKind::TestLight, ToolKind::Meter);
    for post in ["bat:neg", "bat:pos"] {
        let put = Action::Put {
            tool: light,
            lead: Lead::Clip,
            point: post.into(),
        };
        car.perform(&put).expect("the clip reaches the battery");
        note(&format!("light from {post}"), car, light);
        car.perform(&Action::Lift {
            tool: light,
            lead: Lead::Clip,
        })
        .expect("lifted");
    }
    car.perform(&Action::Put {
        tool: meter,
        lead: Lead::Black,
        point: "bat:neg".into(),
    })
    .expect("the lead reaches the battery");
    for dial in [Dial::Volts, Dial::Ohms] {
        car.perform(&Action::Dial(dial)).expect("the dial turns");
        note(&format!("{dial:?}"), car, meter);
    }
    car.perform(&Action::Lift {
        tool: meter,
        lead: Lead::Black,
    })
    .expect("lifted");
}

fn senses(car: &mut Session, state: &str, seen: &mut Signature) {
    let view = car.view();
    seen.insert(format!("{state}: heard"), format!("{:?}", view.sounds));
    for station in [Station::Seat, Station::Bay] {
        let _ = car.perform(&Action::Go(station));
        for place in car
            .case()
            .vehicle
            .places
            .keys()
            .cloned()
            .collect::<Vec<_>>()
        {
            let look = Action::Look(place.clone());
            if car.check(&look).is_err() {
                continue;
            }
            let _ = car.perform(&Action::Light(Some(place.clone())));
            let found = car.perform(&look);
            seen.insert(format!("{state}: look {place}"), format!("{found:?}"));
            let felt = car.perform(&Action::Feel(place.clone()));
            seen.insert(format!("{state}: feel {place}"), format!("{felt:?}"));
        }
        for what in view.pulled.iter().chain(&view.unplugged) {
            if let Ok(found) = car.perform(&Action::Inspect(what.clone())) {
                seen.insert(format!("{state}: inspect {what}"), format!("{found:?}"));
            }
        }
    }
    if let Ok(found) = car.perform(&Action::Gauge(true)) {
        seen.insert(format!("{state}: gauge"), format!("{found:?}"));
    }
}

fn in_state(case: &Case, state: &CarState, seen: &mut Signature) {
    let mut car = session(case.clone());
    car.drive(&state.steps);
    let _ = car.perform(&Action::Go(Station::Bay));
    for cover in car.covers().map(str::to_owned).collect::<Vec<_>>() {
        let _ = car.perform(&Action::Uncover(cover));
    }
    readings(&mut car, &case.scenario, &state.id, seen);
    senses(&mut car, &state.id, seen);
}

fn with_spares(case: &Case, seen: &mut Signature) {
    for part in &case.scenario.spares {
        let mut car = session(case.clone());
        car.drive(&[tracebay_core::scenario::Step::Pull(part.clone())]);
        let fit = Action::Fit {
            part: part.clone(),
            item: Item::Spare,
            turned: false,
        };
        if car.perform(&fit).is_ok() {
            seen.insert(
                format!("spare {part}"),
                format!("{:?}", car.complaint_shows()),
            );
        }
    }
}

#[test]
fn candidates_can_be_told_apart() {
    for (scenario, vehicle) in load::scenarios() {
        let case = Case::draw(scenario.clone(), vehicle, 1);
        let signatures: Vec<Signature> = (0..scenario.candidates.len())
            .map(|i| {
                let case = case.with_candidate(i);
                let mut seen = Signature::new();
                scenario
                    .states
                    .iter()
                    .for_each(|state| in_state(&case, state, &mut seen));
                with_spares(&case, &mut seen);
                seen
            })
            .collect();
        for (i, a) in scenario.candidates.iter().enumerate() {
            for (j, b) in scenario.candidates.iter().enumerate().skip(i + 1) {
                let declared = a.group.is_some() && a.group == b.group;
                assert_eq!(
                    signatures[i] == signatures[j],
                    declared,
                    "{}: {} and {}: alike to every test, or declared alike and not",
                    scenario.id,
                    a.id,
                    b.id
                );
            }
        }
    }
}

#[test]
fn the_planner_can_tell_candidates_apart() {
    // The judgement of order rests on the planner's own survey, which takes fewer readings than a
    // person could: it too must be able to reach the end of every case.
    for (scenario, vehicle) in load::scenarios() {
        for seed in [1, 2, 3] {
            let case = Case::draw(scenario.clone(), vehicle.clone(), seed);
            let survey = Survey::of(&case).expect("an operating point");
            for (i, a) in scenario.candidates.iter().enumerate() {
                for (j, b) in scenario.candidates.iter().enumerate().skip(i + 1) {
                    let told = survey
                        .problem
                        .tests
                        .iter()
                        .any(|t| t.outcomes[i] != t.outcomes[j]);
                    let declared = a.group.is_some() && a.group == b.group;
                    assert!(
                        told || declared,
                        "{} seed {seed}: {} and {} end alike",
                        scenario.id,
                        a.id,
                        b.id
                    );
                }
            }
        }
    }
}
