//! Five scripted learners on the same car, and whether the card puts them in the order in which an
//! instructor would (common practice, no source).

mod hands;
mod people;

use std::path::Path;
use std::sync::Arc;

use tracebay_core::attempt::{HOME_RULES, Recorder, decode, encode_header, encode_line, replay};
use tracebay_core::fault::{Failure, Method};
use tracebay_core::scenario::load::SourceFile;
use tracebay_core::scenario::{Case, Catalogue};
use tracebay_core::session::Action;
use tracebay_core::vehicle::Station;
use tracebay_grading::hint::{Hint, hint};
use tracebay_grading::rubric::Rubric;
use tracebay_grading::safety::Rules;
use tracebay_grading::scorecard::{Gate, Part, Scorecard, score};
use tracebay_grading::survey::Survey;
use tracebay_words::Words;

const SCENARIO: &str = "no-cold-air";
const FAULT: &str = "relay-contacts";

fn read(path: &str) -> SourceFile {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(path);
    SourceFile {
        name: path.display().to_string(),
        text: std::fs::read_to_string(&path).expect("a shipped file"),
    }
}

fn catalogue() -> Catalogue {
    let vehicles = [read("scenarios/vehicles/ostrel-lindmoor.ron")];
    let (catalogue, problems) = Catalogue::load(&vehicles, &[read("scenarios/no-cold-air.ron")]);
    assert!(problems.is_empty(), "{problems:?}");
    catalogue
}

/// The first seed that draws a fault.
fn case_of(catalogue: &Catalogue, fault: &str) -> Arc<Case> {
    (1..2000)
        .map(|seed| catalogue.draw(SCENARIO, seed).expect("a case"))
        .find(|case| case.culprit().is_some_and(|c| c.id == fault))
        .map(Arc::new)
        .expect("a seed that draws it")
}

struct Bench {
    case: Arc<Case>,
    survey: Survey,
    rules: Rules,
    rubrics: Vec<Rubric>,
}

impl Bench {
    fn new() -> Bench {
        let case = case_of(&catalogue(), FAULT);
        let survey = Survey::of(&case).expect("a survey");
        let rules = Rules::load(&Rules::preset()).expect("the shipped rules");
        let rubrics = Rubric::presets()
            .iter()
            .map(|file| Rubric::load(file, &rules).expect("a shipped rubric"))
            .collect();
        Bench {
            case,
            survey,
            rules,
            rubrics,
        }
    }

    fn card(&self, actions: &[Action], rubric: &Rubric) -> Scorecard {
        score(&self.case, &self.survey, actions, rubric, &self.rules).expect("a card")
    }
}

/// Points of a part.
fn points(card: &Scorecard, part: Part) -> (f64, f64) {
    let found = card.parts.iter().find(|p| p.part == part).expect("a part");
    (found.points, found.most)
}

#[test]
fn five_learners_are_ranked_as_an_instructor_would() {
    let bench = Bench::new();
    let called = people::verdict(&bench.case, FAULT);
    let graded = |actions: &[Action]| bench.card(actions, &bench.rubrics[1]);
    let plan = graded(&people::best_plan(&bench.case, &bench.survey));
    let sound = graded(&people::socket_route(&bench.case, &called));
    let swapper = graded(&people::parts_swapper(&bench.case, &called));
    let random = graded(&people::random_tester(&bench.case, &called, 7));
    let careless = graded(&people::unsafe_worker(&bench.case, &called));
    let told = |card: &Scorecard| {
        let words = Words::new("en");
        words.scorecard(&bench.case, &bench.rules, card).join("\n")
    };
    for card in [&plan, &sound, &swapper, &random, &careless] {
        println!("{}\n", told(card));
    }

    assert!(plan.passed, "{}", told(&plan));
    assert!(sound.passed, "{}", told(&sound));
    assert!(plan.points >= sound.points);
    assert!(sound.points > random.points + 20.0);
    assert!(sound.points > swapper.points + 20.0);
    for failed in [&swapper, &random, &careless] {
        assert!(!failed.passed, "{}", told(failed));
    }
    // Stop-work fails whatever else was done, and however many points it earned.
    assert!(careless.gates.contains(&Gate::StopWork));
    // A sound route that is not the planner's loses next to nothing for its order, and nothing for
    // its proof and its time.
    let (order, most) = points(&sound, Part::Order);
    assert!(order >= 0.85 * most, "{}", told(&sound));
    for part in [Part::Call, Part::Proof, Part::Economy, Part::Safety] {
        let (points, most) = points(&sound, part);
        assert!(points >= 0.95 * most, "{}", told(&sound));
    }
    // Who replaces first and calls afterwards has proved nothing.
    assert_eq!(points(&swapper, Part::Proof).0, 0.0);
    assert_eq!(points(&swapper, Part::Parts).0, 0.0);
    insta::assert_snapshot!("card_of_the_socket_route", told(&sound));
}

#[test]
fn a_wrong_repair_first_does_not_spoil_what_is_proved_afterwards() {
    let bench = Bench::new();
    let called = people::verdict(&bench.case, FAULT);
    let mut hands = hands::Hands::new(&bench.case);
    hands.act(Action::Call {
        target: "clutch_coil".into(),
        failure: Failure::Coil,
    });
    hands.repair("clutch_coil", Method::Replace);
    hands.go(Station::Seat);
    let mut actions = hands.done;
    // He puts on his glasses once only.
    let worn = actions.contains(&Action::Protect);
    let route = people::socket_route(&bench.case, &called);
    actions.extend(
        route
            .into_iter()
            .filter(|a| !(worn && *a == Action::Protect)),
    );
    let card = bench.card(&actions, &bench.rubrics[0]);
    let (proof, most) = points(&card, Part::Proof);
    assert_eq!(proof, most, "{:?}", card.judged.calls);
    // The wrong call and the sound part still cost.
    assert!(points(&card, Part::Call).0 < points(&card, Part::Call).1);
    assert!(points(&card, Part::Parts).0 < points(&card, Part::Parts).1);
}

#[test]
fn the_same_attempt_gives_the_same_card_and_an_edited_one_is_found() {
    let bench = Bench::new();
    let called = people::verdict(&bench.case, FAULT);
    let actions = people::socket_route(&bench.case, &called);
    let json = |card: &Scorecard| serde_json::to_string(card).expect("a card as JSON");
    // A second survey, since what is cached must not matter either.
    let again = Survey::of(&bench.case).expect("a survey");
    let one = bench.card(&actions, &bench.rubrics[0]);
    let other = score(
        &bench.case,
        &again,
        &actions,
        &bench.rubrics[0],
        &bench.rules,
    );
    assert_eq!(json(&one), json(&other.expect("a card")));

    let mut recorder =
        Recorder::start(bench.case.clone(), HOME_RULES, None, None).expect("a session");
    let mut text = encode_header(recorder.header());
    for action in actions {
        let (line, _) = recorder.perform(action, None).expect("as before");
        text.push_str(&encode_line(&line));
    }
    let read = decode(text.as_bytes()).expect("an attempt");
    assert!(replay(bench.case.clone(), &read.header, &read.lines).is_ok());
    // A longer wait shows nothing by itself; the chain tells all the same.
    let edited = text.replacen("{\"wait\":600}", "{\"wait\":601}", 1);
    assert_ne!(edited, text);
    let read = decode(edited.as_bytes()).expect("an attempt");
    let found = replay(bench.case.clone(), &read.header, &read.lines);
    let at = read
        .lines
        .iter()
        .position(|line| line.action == Action::Wait(601));
    let error = found.err().expect("an edit that is found");
    assert_eq!(Some(error.line), at.map(|i| i + 2));
}

#[test]
fn the_walk_back_says_why_in_plain_words() {
    let bench = Bench::new();
    let called = people::verdict(&bench.case, FAULT);
    let actions = people::random_tester(&bench.case, &called, 7);
    let card = bench.card(&actions, &bench.rubrics[0]);
    let words = Words::new("en");
    let walk = words.walk_back(&bench.case, &bench.survey, &card);
    assert_eq!(walk.len(), actions.len());
    let poor: Vec<_> = walk.iter().filter(|step| step.poor.is_some()).collect();
    assert!(!poor.is_empty());
    for step in &poor {
        assert!(step.why.is_some(), "{step:?}");
        println!("{}\n", step.lines(&words).join("\n"));
    }
    // No raw id of a wire or plug, no key without a sentence.
    for line in walk.iter().flat_map(|step| step.lines(&words)) {
        for raw in ["w_", "score-", "_plug"] {
            assert!(!line.contains(raw), "{line}");
        }
    }
}

#[test]
fn no_hint_depends_on_the_hidden_fault() {
    let bench = Bench::new();
    for level in 1..=3 {
        let told: Vec<Hint> = [0, 7, 27]
            .map(|fault| {
                let other = bench.case.with_candidate(fault);
                hint(&other, &bench.survey, &[], level).expect("a hint")
            })
            .to_vec();
        println!("{}", Words::new("en").hint(&bench.case, &told[0]));
        assert!(told.iter().all(|h| *h == told[0]), "{told:?}");
    }
}

#[test]
fn putting_back_what_was_off_is_no_test() {
    let bench = Bench::new();
    let called = people::verdict(&bench.case, FAULT);
    let actions = people::random_tester(&bench.case, &called, 7);
    let card = bench.card(&actions, &bench.rubrics[0]);
    let mut off: Vec<&str> = Vec::new();
    let mut put_back = 0;
    for step in &card.judged.steps {
        match &step.action {
            Action::Unplug(plug) => off.push(plug),
            Action::Plug(plug) if off.contains(&plug.as_str()) => {
                put_back += 1;
                assert_eq!(step.poor, None, "action {}", step.n + 1);
            }
            _ => {}
        }
    }
    assert!(put_back > 0);
}
