//! Seeds, terms and files of assignments.

use super::*;
use crate::shop;

fn terms(catalogue: &Catalogue) -> Terms {
    Terms {
        id: "week-3".into(),
        title: "Week 3".into(),
        opens: None,
        due: Some("2026-03-01T12:00:00Z".into()),
        attempts: 2,
        counts: Counts::Best,
        hints: false,
        tasks: ["no-cold-air", "horn-silent"]
            .map(|s| Task::of(catalogue, s, None, None).unwrap())
            .to_vec(),
        rubric: Rubric::presets()[1].text.clone(),
    }
}

fn class(size: usize, secret: &str) -> (Catalogue, Assignment) {
    let catalogue = shop::catalogue(shop::car_text());
    let terms = terms(&catalogue);
    let mut sequence = Sequence::new(secret, &terms.id, &terms.tasks, terms.attempts, &catalogue);
    let learners = (0..size)
        .map(|i| {
            let id = format!("L{i:02}");
            Learner {
                name: format!("Learner {i} (invented)"),
                seeds: sequence.next(&id).unwrap(),
                id,
            }
        })
        .collect();
    let assignment = Assignment {
        format: FORMAT,
        terms,
        learners,
    };
    (catalogue, assignment)
}

#[test]
fn neighbours_share_no_fault_and_nobody_gets_one_twice() {
    let (catalogue, class) = class(40, "a class secret");
    for (t, task) in class.terms.tasks.iter().enumerate() {
        let faults: Vec<Vec<_>> = class
            .learners
            .iter()
            .map(|l| l.seeds[t].iter())
            .map(|seeds| {
                seeds
                    .map(|s| task.case(&catalogue, *s).unwrap().reveal())
                    .collect()
            })
            .collect();
        for (i, own) in faults.iter().enumerate() {
            assert_ne!(own[0], own[1], "learner {i}");
            for other in faults.iter().take(i).rev().take(NEIGHBOURS) {
                assert!(own.iter().zip(other).all(|(a, b)| a != b), "learner {i}");
            }
        }
    }
    let all: Vec<u64> = class
        .learners
        .iter()
        .flat_map(|l| l.seeds.iter().flatten().copied())
        .collect();
    let mut different = all.clone();
    different.sort_unstable();
    different.dedup();
    assert_eq!(all.len(), different.len());
}

#[test]
fn the_secret_makes_the_same_seeds_again_and_another_makes_others() {
    assert_eq!(class(5, "one secret").1, class(5, "one secret").1);
    assert_ne!(class(5, "one secret").1, class(5, "another").1);
}

/// SHA-256 of the lines, first eight bytes, by Python's hashlib (3.11).
#[test]
fn a_published_seed_never_changes() {
    assert_eq!(
        derived_seed("secret", "week-3", "L01", "no-cold-air", 0, 0),
        PUBLISHED
    );
}

const PUBLISHED: u64 = 5_339_323_037_787_266;

#[test]
fn a_file_reads_back_and_a_learners_own_has_the_same_rules() {
    let (_, class) = class(3, "a class secret");
    let text = class.to_text();
    assert_eq!(Assignment::read(text.as_bytes()).unwrap(), class);
    let own = class.only(1);
    assert_eq!(own.learners.len(), 1);
    assert_eq!(own.terms.rules(), class.terms.rules());
    assert!(!own.to_text().contains("L00"));
    assert_eq!(assignment_of(&class.terms.rules()), Some("week-3"));
    let mut easier = class.terms.clone();
    easier.hints = true;
    assert_ne!(easier.rules(), class.terms.rules());
}

#[test]
fn tools_that_are_not_allowed_are_not_in_the_roll() {
    let (catalogue, _) = class(1, "a class secret");
    let task = Task::of(
        &catalogue,
        "no-cold-air",
        Some(&[ToolKind::TestLight]),
        None,
    )
    .unwrap();
    let case = task.case(&catalogue, 5).unwrap();
    assert_eq!(case.scenario.tools, [ToolKind::TestLight]);
    let whole = Task::of(&catalogue, "no-cold-air", None, None).unwrap();
    assert_ne!(whole.sha256, task.sha256);
    assert!(task.check(&catalogue).is_ok());
    // The fault of a seed does not depend on the tools.
    let other = whole.case(&catalogue, 5).unwrap();
    assert_eq!(case.reveal(), other.reveal());
}

#[test]
fn bad_files_are_refused_in_sentences() {
    let (_, class) = class(2, "a class secret");
    let text = class.to_text();
    let refused = |text: &str| Assignment::read(text.as_bytes()).unwrap_err().to_string();
    assert!(refused("").contains("no assignment file"));
    assert!(refused("[1, 2]").contains("no assignment file"));
    let newer = text.replacen("\"format\": 1", "\"format\": 2, \"more\": true", 1);
    assert!(refused(&newer).contains("another version of the program"));
    let double = text.replace("L01", "L00");
    assert!(refused(&double).contains("twice"));
    let date = text.replace("2026-03-01T12:00:00Z", "1 March");
    assert!(refused(&date).contains("YYYY-MM-DD"));
    let escape = text.replacen("\"week-3\"", "\"../week\"", 1);
    assert!(refused(&escape).contains("letters"));
    let hidden = text.replacen("\"week-3\"", "\"..\"", 1);
    assert!(refused(&hidden).contains("letters"));
    assert!(Assignment::read(&[0xff, 0xfe, 0]).is_err());
    // Cut anywhere, it is refused and nothing panics.
    for cut in (0..text.len() - 2).step_by(97) {
        assert!(Assignment::read(&text.as_bytes()[..cut]).is_err());
    }
}
