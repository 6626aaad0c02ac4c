//! The first steps at the bench are ticked off by doing them, by nothing else, and can be put away.

mod common;

use common::{Bench, harness};
use egui_kittest::kittest::Queryable;
use tracebay::desk::first_steps::{Step, steps};
use tracebay::desk::{Desk, Order};
use tracebay::panels::first_steps;
use tracebay_core::session::Action;
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_core::vehicle::Station;

fn at_bench() -> Bench {
    let bench = Bench::new("bench-relay", 1);
    assert_eq!(bench.desk.view().station, Station::Bench);
    bench
}

fn done(desk: &Desk) -> Vec<Step> {
    let steps = steps(desk).expect("at the bench");
    steps
        .into_iter()
        .filter(|(_, done)| *done)
        .map(|(step, _)| step)
        .collect()
}

#[test]
fn each_step_is_ticked_by_doing_it() {
    let mut bench = at_bench();
    let desk = &mut bench.desk;
    let mut expected = Vec::new();
    assert_eq!(done(desk), expected);
    desk.obey(&Order::Take(Some(ToolKind::TestLight)));
    expected.push(Step::TakeLight);
    assert_eq!(done(desk), expected);
    let (tool, lead) = (ToolKind::TestLight, Lead::Clip);
    let point = |name: &str| name.to_owned();
    assert!(desk.perform(&Action::Put {
        tool,
        lead,
        point: point("bat:neg")
    }));
    expected.push(Step::Clip);
    assert_eq!(done(desk), expected);
    // Dark proves nothing.
    assert!(desk.perform(&Action::Touch {
        tool,
        point: point("button.1")
    }));
    assert_eq!(done(desk), expected);
    assert!(desk.perform(&Action::Touch {
        tool,
        point: point("bat:pos")
    }));
    expected.push(Step::Prove);
    assert_eq!(done(desk), expected);
    let set = |control: &str, to: &str| Action::Set {
        control: control.into(),
        to: to.into(),
    };
    assert!(desk.perform(&set("key", "on")));
    assert_eq!(done(desk), expected, "the main switch alone is no press");
    assert!(desk.perform(&set("push", "pressed")));
    expected.push(Step::Press);
    assert_eq!(done(desk), expected);
    assert!(desk.perform(&Action::Look("board".into())));
    expected.push(Step::Look);
    assert!(desk.perform(&set("push", "off")) && desk.perform(&set("key", "off")));
    assert!(desk.perform(&Action::Pull("K1".into())));
    expected.push(Step::Pull);
    assert_eq!(done(desk), expected);
    let (tool, lead) = (ToolKind::Meter, Lead::Black);
    assert!(desk.perform(&Action::Dial(Dial::Ohms)));
    assert!(desk.perform(&Action::Put {
        tool,
        lead,
        point: point("K1:a")
    }));
    assert!(desk.perform(&Action::Touch {
        tool,
        point: point("K1:b")
    }));
    assert_eq!(done(desk), Step::ALL);
}

#[test]
fn away_from_the_bench_there_are_none() {
    assert_eq!(steps(&Bench::new("no-cold-air", 1).desk), None);
}

#[test]
fn the_card_can_be_put_away_for_good() {
    let mut h = harness((600.0, 700.0), (at_bench(), Vec::new()), |ui, state| {
        let (bench, given): &mut (Bench, Vec<Order>) = state;
        bench.draw(|cx, desk| {
            if first_steps::wanted(cx, desk) {
                first_steps::show(ui, cx, desk);
            }
        });
        given.extend(bench.carry_out());
    });
    h.run();
    h.get_by_label("Put this card away").click_accesskit();
    h.run();
    let (bench, given) = h.state_mut();
    let Some(Order::Settings(changed)) = given.pop() else {
        panic!("{given:?}");
    };
    assert!(changed.first_steps_done);
    bench.settings = *changed;
    h.run();
    assert!(h.query_by_label("Put this card away").is_none());
}
