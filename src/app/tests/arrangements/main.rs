//! Every shipped vehicle in its bay: all its places and points are there, can be seen from where one
//! is led to look at them, and no lead to them runs through a body. The scene is the real one, built
//! without a window; what is measured are its triangles.

#[path = "../common/mod.rs"]
mod common;
mod scene;
mod unseen;

use std::sync::Arc;

use bevy::ecs::system::RunSystemOnce;
use bevy::prelude::*;
use scene::{Body, Scene, bodies, cars};
use tracebay::bridge::casting;
use tracebay::bridge::fuse_box::in_scene;
use tracebay::bridge::leads::lead_to;
use tracebay::desk::Thing;
use tracebay::kit::lead::CLEAR;
use tracebay::kit::{self, KitAssets, KitCache, curve};
use tracebay::stage::{self, BayLayout, Places, Station, View};
use tracebay_core::attempt::content_sha256;
use tracebay_core::scenario::{Catalogue, SourceFile};
use tracebay_core::session::{PointInfo, PointKind, Session};
use tracebay_core::source::Problem;
use tracebay_core::vehicle::{self, Arrangement, Side, Vehicle};

/// A point may lie this deep in what it sits on.
const SUNK: f32 = 0.014;
/// Width over height of the part of the picture that views are made for (bridge/picture.rs).
const WIDE: f32 = 1.15;

/// What one turns to in order to reach a point.
fn thing(vehicle: &Vehicle, point: &PointInfo) -> Thing {
    let pin = point.id.replacen(':', ".", 1);
    let plug = vehicle
        .connectors
        .iter()
        .find(|(_, c)| c.pins.contains(&pin));
    match plug {
        Some((id, _)) => Thing::Connector(id.clone()),
        None if point.part.is_empty() => Thing::Place(point.place.clone()),
        None => Thing::Part(point.part.clone()),
    }
}

/// What is off when a point is touched: a part's own pins are reached with the plug off. Where the
/// plug is drawn with its part it has the part's name.
fn own_plug(thing: &Thing, point: &PointInfo) -> String {
    match (point.kind, thing) {
        (PointKind::Pin, Thing::Connector(id)) => id.clone(),
        (PointKind::Pin, _) => point.part.clone(),
        _ => String::new(),
    }
}

/// The view that shows a thing, as the app finds it.
fn view(scene: &Scene, session: &Session, thing: &Thing) -> Option<View> {
    let vehicle = &session.case().vehicle;
    let at_box = thing.station(vehicle) == Some(vehicle::Station::Box);
    if at_box && scene.gazes.in_box(vehicle, thing) {
        return Some(Places::for_layout(&scene.layout).get(Station::Box).home);
    }
    let points: Vec<Vec3> = thing
        .points(session)
        .iter()
        .filter_map(|p| scene.points.get(&p.id).copied())
        .collect();
    scene.gazes.view(vehicle, thing, &points)
}

fn has_no(trouble: Vec<String>) {
    assert!(trouble.is_empty(), "\n{}", trouble.join("\n"));
}

#[test]
fn every_place_and_point_of_every_car_is_in_the_scene() {
    let mut trouble = Vec::new();
    for (case, session) in cars() {
        let (vehicle, scene) = (&case.vehicle, Scene::of(&case, session.points()));
        for place in vehicle.places.keys() {
            if view(&scene, &session, &Thing::Place(place.clone())).is_none() {
                trouble.push(format!("{}: no view of {place}", vehicle.id));
            }
        }
        for point in session.points().iter().filter(|p| in_scene(p.kind)) {
            if !scene.points.contains_key(&point.id) {
                trouble.push(format!("{}: {} at {}", vehicle.id, point.id, point.place));
            }
        }
        for point in scene.points.keys() {
            let known = session.points().iter().any(|p| &p.id == point);
            let port = vehicle.places.contains_key(point) || point.starts_with("port.");
            if !known && !port && !point.is_empty() {
                trouble.push(format!("{}: the scene has a point {point}", vehicle.id));
            }
        }
    }
    has_no(trouble);
}

#[test]
fn every_point_can_be_seen_from_where_one_is_led_to_look_at_it() {
    let mut trouble = Vec::new();
    for (case, session) in cars() {
        let (vehicle, scene) = (&case.vehicle, Scene::of(&case, session.points()));
        for point in session.points().iter().filter(|p| in_scene(p.kind)) {
            let Some(&at) = scene.points.get(&point.id) else {
                continue;
            };
            let thing = thing(vehicle, point);
            let Some(view) = view(&scene, &session, &thing) else {
                trouble.push(format!("{}: no view of {thing:?}", vehicle.id));
                continue;
            };
            let pose = view.transform();
            let eye = pose.translation;
            let seen = pose.compute_affine().inverse().transform_point3(at);
            let wide = (view.fov * 0.5).tan();
            if seen.z >= 0.0
                || (seen.y / seen.z).abs() > wide
                || (seen.x / seen.z).abs() > wide * WIDE
            {
                trouble.push(format!("{}: {} is outside its view", vehicle.id, point.id));
            }
            let before = at + (eye - at).normalize() * SUNK;
            let own = own_plug(&thing, point);
            if let Some(body) = scene.between(eye, before, &own) {
                trouble.push(format!("{}: {} is behind {body}", vehicle.id, point.id));
            }
        }
    }
    has_no(trouble);
}

#[test]
fn no_lead_runs_through_a_body() {
    let mut trouble = Vec::new();
    for (case, session) in cars() {
        let (vehicle, scene) = (&case.vehicle, Scene::of(&case, session.points()));
        for point in session.points().iter().filter(|p| in_scene(p.kind)) {
            let Some(&at) = scene.points.get(&point.id) else {
                continue;
            };
            let a = scene.light + Vec3::Y * 0.02;
            let lead = lead_to(&scene.gazes, vehicle, &point.place, a, at, [0, 0, 0]);
            let path = match lead.free {
                Some(free) => curve::led_over(lead.a, lead.b, free, CLEAR),
                None => curve::hanging(lead.a, lead.b, 1.25, 28),
            };
            let own = own_plug(&thing(vehicle, point), point);
            let through = path.windows(2).find_map(|step| {
                let near = |p: Vec3| p.distance(at) < SUNK * 1.5 || p.distance(a) < 0.06;
                if near(step[0]) || near(step[1]) {
                    return None;
                }
                scene.between(step[0], step[1], &own)
            });
            if let Some(body) = through {
                trouble.push(format!("{}: to {} through {body}", vehicle.id, point.id));
            }
        }
    }
    has_no(trouble);
}

/// Places round the face of a compressor's clutch plate, and the way it faces. The plate's paint mark and
/// its springs, which show whether it turns, lie there (kit/compressor.rs).
fn plate(layout: &BayLayout, clutch: &str) -> Option<(Vec<Vec3>, Vec3)> {
    let placed = layout.parts.iter().find(|p| p.id == clutch)?;
    let at = placed.transform();
    let before = kit::belt::BELT_WIDTH * 0.5 + 0.014;
    let round = (0..12).map(|i| {
        let (sin, cos) = (i as f32 / 12.0 * std::f32::consts::TAU).sin_cos();
        at * Vec3::new(0.039 * cos, 0.039 * sin, before)
    });
    Some((round.collect(), at.rotation * Vec3::Z))
}

/// Of the plate's face, the share that is seen, and how far it is turned to the eye (sine).
fn plate_seen(scene: &Scene, view: &View, clutch: &str) -> (f32, f32) {
    let (round, faces) = plate(&scene.layout, clutch).expect("a compressor");
    let pose = view.transform();
    let eye = pose.translation;
    let wide = (view.fov * 0.5).tan();
    let seen = round.iter().filter(|&&p| {
        let at = pose.compute_affine().inverse().transform_point3(p);
        let inside = at.z < 0.0 && (at.y / at.z).abs() < wide && (at.x / at.z).abs() < wide * WIDE;
        inside && scene.behind(eye, p, "", true).is_none()
    });
    let share = seen.count() as f32 / round.len() as f32;
    (share, (eye - round[0]).normalize().dot(faces))
}

/// Whether the clutch plate stands or turns is what a look at the compressor is for (common practice, no
/// source): its face is seen from there, and not only from its edge.
#[test]
fn the_clutch_plate_is_seen_by_who_looks_at_the_compressor() {
    let mut trouble = Vec::new();
    for (case, session) in cars() {
        let (vehicle, scene) = (&case.vehicle, Scene::of(&case, session.points()));
        let Some(ac) = &vehicle.air_conditioning else {
            continue;
        };
        let place = vehicle.parts[&ac.clutch].place.clone();
        for thing in [Thing::Place(place), Thing::Part(ac.clutch.clone())] {
            let view = view(&scene, &session, &thing).expect("a view");
            let (share, turned) = plate_seen(&scene, &view, &ac.clutch);
            if share < 0.6 || turned < 0.25 {
                trouble.push(format!(
                    "{}: {thing:?}: {share} seen, {turned} turned",
                    vehicle.id
                ));
            }
        }
    }
    has_no(trouble);
}

/// Parts that are built into each other, as on a car.
const JOINED: [(&str, &str); 4] = [
    ("engine", "belt"),
    ("engine", "compressor"),
    ("belt", "compressor"),
    ("radiator", "fan"),
];

#[test]
fn the_lamp_s_shadows_hold_the_whole_car() {
    let (middle, half) = stage::shadows::CAR;
    let mut trouble = Vec::new();
    for (case, session) in cars() {
        let scene = Scene::of(&case, session.points());
        if scene.layout.on_bench {
            continue;
        }
        // The shell behind the seats, where there is nothing to reach, may end outside.
        for body in scene.bodies.iter().filter(|b| b.name != "scenery") {
            let out = (middle - half - body.min).max(body.max - middle - half);
            if out.max_element() > 0.0 {
                let name = &body.name;
                trouble.push(format!("{}: {name} by {out} m", case.vehicle.id));
            }
        }
    }
    has_no(trouble);
}

#[test]
fn no_large_part_stands_in_another() {
    let mut trouble = Vec::new();
    let rows = [
        ("petrol along", stage::bays::longitudinal_petrol()),
        ("petrol across", stage::bays::transverse_petrol()),
        ("diesel along", stage::bays::longitudinal_diesel()),
    ];
    const LARGE: [&str; 15] = [
        "belt",
        "compressor",
        "radiator",
        "condenser",
        "fan",
        "fan2",
        "battery",
        "airbox",
        "coolant",
        "brakes",
        "horn",
        "unit",
        "starter",
        "washer",
        "pressure",
    ];
    for (name, layout) in rows {
        let mut app = App::new();
        app.add_plugins((MinimalPlugins, AssetPlugin::default(), TransformPlugin));
        app.init_asset::<Mesh>()
            .init_asset::<StandardMaterial>()
            .init_asset::<Image>()
            .init_resource::<KitCache>();
        let bay = app
            .world_mut()
            .run_system_once(move |mut commands: Commands, mut kit: KitAssets| {
                stage::spawn_bay(&mut commands, &mut kit, &layout, Transform::IDENTITY)
            })
            .expect("a scene");
        app.update();
        let all = bodies(app.world_mut(), &bay);
        let mut large: Vec<&Body> = all
            .iter()
            .filter(|b| LARGE.contains(&b.name.as_str()))
            .collect();
        // Of the engine the block counts: its wires and pipes reach far.
        let at = bay.places["engine"].compute_affine();
        let corners = [Vec3::new(-0.15, -0.58, -0.50), Vec3::new(0.15, 0.0, 0.0)];
        let corners = corners.map(|c| at.transform_point3(c));
        let block = Body {
            tool: false,
            name: "engine".into(),
            comes_off: false,
            plug: false,
            min: corners[0].min(corners[1]),
            max: corners[0].max(corners[1]),
            triangles: Vec::new(),
        };
        large.push(&block);
        for (i, one) in large.iter().enumerate() {
            for other in &large[..i] {
                let joined = JOINED.iter().any(|(a, b)| {
                    (one.name.starts_with(a) && other.name.starts_with(b))
                        || (one.name.starts_with(b) && other.name.starts_with(a))
                });
                let share = one.max.min(other.max) - one.min.max(other.min);
                // Hoses and wires that belong to a part reach further than its body.
                if !joined && share.min_element() > 0.06 {
                    let deep = share.min_element() * 1000.0;
                    trouble.push(format!(
                        "{name}: {} in {} {deep:.0} mm",
                        one.name, other.name
                    ));
                }
            }
        }
    }
    has_no(trouble);
}

/// An author's van: no word about its arrangement, a place with a name of its own.
fn authors(change: impl Fn(&str) -> String) -> (Catalogue, Vec<Problem>) {
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../../scenarios");
    let read = |name: &str| SourceFile {
        name: name.into(),
        text: std::fs::read_to_string(format!("{root}/{name}")).expect("a shipped file"),
    };
    let mut car = read("vehicles/tolmer-hake.ron");
    car.text = change(&car.text);
    Catalogue::load(&[car], &[read("hake-no-cold-air.ron")])
}

#[test]
fn a_car_without_an_arrangement_finds_room_for_all_it_has() {
    let (catalogue, problems) = authors(|text| {
        text.replace("    arrangement: LongitudinalDiesel,\n", "")
            .replace("\"receiver\"", "\"my_nook\"")
            .replace(
                "place: \"relay_shelf\", grid",
                "place: \"relay_shelf\", side: Passenger, grid",
            )
    });
    assert!(problems.is_empty(), "{problems:?}");
    let case = Arc::new(catalogue.draw("hake-no-cold-air", 3).expect("a case"));
    let session = Session::new(case.clone()).expect("a car that settles");
    let scene = Scene::of(&case, session.points());
    assert!(case.vehicle.places.contains_key("my_nook"));
    assert!(scene.gazes.spot("my_nook").is_some());
    let missing: Vec<String> = session
        .points()
        .iter()
        .filter(|p| in_scene(p.kind) && !scene.points.contains_key(&p.id))
        .map(|p| p.id.clone())
        .collect();
    has_no(missing);
    // The driver sits at x > 0 in the scene's frame (kit/cabin.rs).
    let shelf = scene.layout.boxes.iter().find(|b| b.id == "box");
    assert!(shelf.is_some_and(|b| b.stand.at.x < 0.0 && b.stand.at.z < -0.7));
}

#[test]
fn an_unknown_arrangement_is_refused_with_line_and_column() {
    let (_, problems) =
        authors(|text| text.replace("arrangement: LongitudinalDiesel", "arrangement: Sideways"));
    let problem = problems.first().expect("a refusal");
    let text = std::fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../scenarios/vehicles/tolmer-hake.ron"
    ))
    .expect("a shipped file");
    let line = text.lines().position(|l| l.contains("arrangement:"));
    let line = line.expect("it names one");
    let column = text
        .lines()
        .nth(line)
        .and_then(|l| l.find("LongitudinalDiesel"));
    assert_eq!(problem.line as usize, line + 1, "{problem}");
    assert_eq!(Some(problem.column as usize - 1), column, "{problem}");
    assert!(problem.message.contains("Sideways"), "{problem}");
}

#[test]
fn boxes_stand_where_the_file_says() {
    for (case, session) in cars() {
        let layout = casting::cast(&case, session.points());
        for placed in &layout.boxes {
            let place = &case.vehicle.places[&case.vehicle.boxes[&placed.id].place];
            let below_dash = placed.stand.at.z < -0.7;
            let at_seat = place.station == vehicle::Station::Seat;
            assert_eq!(below_dash, at_seat, "{} {}", case.vehicle.id, placed.id);
        }
    }
}

#[test]
fn how_a_car_is_drawn_changes_no_attempt() {
    for (case, _) in cars() {
        let before = content_sha256(&case.scenario, &case.vehicle);
        let mut other = (*case.vehicle).clone();
        other.arrangement = match other.arrangement {
            Arrangement::TransversePetrol => Arrangement::LongitudinalDiesel,
            _ => Arrangement::TransversePetrol,
        };
        for fuse_box in other.boxes.values_mut() {
            fuse_box.side = Side::Passenger;
        }
        assert_eq!(content_sha256(&case.scenario, &other), before);
    }
}
