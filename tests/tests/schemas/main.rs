//! The JSON Schemas against a validator of another project (`jsonschema`, draft 2020-12): what is shipped satisfies
//! them, what is wrong does not, and a number that a schema refuses is one that the files' checks refuse.

use std::collections::BTreeSet;
use std::path::Path;

use jsonschema::Validator;
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use tracebay_core::scenario::{Catalogue, Course, Scenario, SourceFile, Texts, load};
use tracebay_core::source::parse;
use tracebay_core::vehicle::Vehicle;
use tracebay_grading::assign::Assignment;
use tracebay_grading::rubric::Rubric;
use tracebay_grading::safety::Rules;
use tracebay_grading::schema::{FileKind, schema};
use tracebay_grading::skills;

fn validator(kind: FileKind) -> Validator {
    let schema = schema(kind);
    assert_eq!(
        schema["$schema"],
        "https://json-schema.org/draft/2020-12/schema"
    );
    jsonschema::meta::validate(&schema).expect("a schema as its own standard wants it");
    jsonschema::validator_for(&schema).expect("a schema that can be used")
}

fn files(folder: &str, but: &str) -> Vec<SourceFile> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("..")
        .join(folder);
    let entries = std::fs::read_dir(&root).expect("a folder");
    let mut files: Vec<SourceFile> = entries
        .map(|e| e.expect("an entry").path())
        .filter(|p| p.extension().is_some_and(|e| e == "ron"))
        .filter(|p| but.is_empty() || !p.ends_with(but))
        .map(|p| SourceFile {
            text: std::fs::read_to_string(&p).expect("a text"),
            name: p.display().to_string(),
        })
        .collect();
    files.sort_by(|a, b| a.name.cmp(&b.name));
    assert!(!files.is_empty(), "{folder}");
    files
}

/// Files as JSON, the way serde writes the types that read them.
fn as_json<T: DeserializeOwned + Serialize>(files: &[SourceFile]) -> Vec<Value> {
    files
        .iter()
        .map(|f| {
            let read: T = parse(&f.name, &f.text).unwrap_or_else(|p| panic!("{p}"));
            serde_json::to_value(read).expect("plain data")
        })
        .collect()
}

fn shipped(kind: FileKind) -> Vec<Value> {
    match kind {
        FileKind::Vehicle => as_json::<Vehicle>(&files("scenarios/vehicles", "")),
        FileKind::Scenario => as_json::<Scenario>(&files("scenarios", "")),
        FileKind::Course => as_json::<Course>(&files("scenarios/courses", "")),
        FileKind::Skills => as_json::<skills::Course>(&files("scenarios/skills", "")),
        FileKind::Texts => as_json::<Texts>(&files("scenarios/words", "")),
        FileKind::Rubric => as_json::<Rubric>(&files("grading/rubrics", "safety.ron")),
        FileKind::SafetyRules => {
            let all = files("grading/rubrics", "");
            let only: Vec<_> = all
                .into_iter()
                .filter(|f| f.name.ends_with("safety.ron"))
                .collect();
            as_json::<Rules>(&only)
        }
        // Invented.
        FileKind::Assignment => {
            let invented = json!({
                "format": 1,
                "terms": {
                    "id": "week-3", "title": "Week 3", "due": "2027-03-01T12:00:00Z", "attempts": 2,
                    "counts": "best", "hints": false, "rubric": "Rubric(…)",
                    "tasks": [{"scenario": "no-cold-air", "version": 1, "sha256": "00", "tools": ["meter"],
                        "budget_minutes": 60.0}],
                },
                "learners": [{"id": "L07", "name": "Somebody", "seeds": [[1, 2]]}],
            });
            let read: Assignment = serde_json::from_value(invented).expect("an assignment");
            vec![serde_json::to_value(read).expect("plain data")]
        }
    }
}

#[test]
fn what_is_shipped_satisfies_its_schema() {
    for kind in FileKind::ALL {
        let validator = validator(kind);
        for file in shipped(kind) {
            let wrong: Vec<String> = validator
                .iter_errors(&file)
                .map(|e| format!("{}: {e}", e.instance_path()))
                .collect();
            assert!(wrong.is_empty(), "{}: {}", kind.name(), wrong.join("\n"));
        }
    }
}

#[test]
fn a_wrong_field_a_missing_one_and_a_wrong_choice_do_not() {
    for kind in FileKind::ALL {
        let validator = validator(kind);
        let file = shipped(kind).swap_remove(0);
        let mut extra = file.clone();
        extra["colour_of_the_seats"] = json!("red");
        assert!(
            !validator.is_valid(&extra),
            "{}: a field too many",
            kind.name()
        );
        let required = schema(kind)["required"]
            .as_array()
            .cloned()
            .unwrap_or_default();
        assert!(required.len() >= 3, "{}", kind.name());
        for field in required.iter().filter_map(Value::as_str) {
            let mut less = file.clone();
            less.as_object_mut().expect("an object").remove(field);
            assert!(
                !validator.is_valid(&less),
                "{}: without `{field}`",
                kind.name()
            );
        }
    }
    let scenarios = validator(FileKind::Scenario);
    let mut scenario = shipped(FileKind::Scenario).swap_remove(0);
    scenario["candidates"][0]["faults"][0]["what"] = json!("Haunted");
    assert!(
        !scenarios.is_valid(&scenario),
        "a fault that does not exist"
    );
    let mut scenario = shipped(FileKind::Scenario).swap_remove(0);
    scenario["candidates"][0]["faults"][0]["where"] = json!("K3");
    assert!(
        !scenarios.is_valid(&scenario),
        "a field too many, deep inside"
    );
}

/// Pointers to every number of a document, one for each way through it that differs in more than indices.
fn numbers(
    value: &Value,
    at: &str,
    way: &str,
    seen: &mut BTreeSet<String>,
    found: &mut Vec<String>,
) {
    match value {
        Value::Number(_) if seen.insert(way.to_owned()) => found.push(at.to_owned()),
        Value::Object(fields) => {
            for (key, inner) in fields {
                let escaped = key.replace('~', "~0").replace('/', "~1");
                // Ids of parts, wires and the like are no fields.
                let named = [
                    "/parts",
                    "/wires",
                    "/connectors",
                    "/places",
                    "/controls",
                    "/boxes",
                    "/overrides",
                ];
                let name = if named.contains(&way) { "*" } else { key };
                numbers(
                    inner,
                    &format!("{at}/{escaped}"),
                    &format!("{way}/{name}"),
                    seen,
                    found,
                );
            }
        }
        Value::Array(items) => {
            for (i, inner) in items.iter().enumerate() {
                numbers(
                    inner,
                    &format!("{at}/{i}"),
                    &format!("{way}/[]"),
                    seen,
                    found,
                );
            }
        }
        _ => {}
    }
}

/// Puts numbers far outside and just outside into a document: whatever the schema refuses, the check must refuse.
/// Returns the ways at which the check refuses far outside and the schema does not.
fn schema_and_check<T: DeserializeOwned + Serialize>(
    kind: FileKind,
    docs: &[Value],
    check: &dyn Fn(&str) -> bool,
) -> (usize, Vec<String>) {
    let validator = validator(kind);
    let (mut seen, mut compared, mut schema_silent) = (BTreeSet::new(), 0, Vec::new());
    for doc in docs {
        let mut ways = Vec::new();
        numbers(doc, "", "", &mut seen, &mut ways);
        for at in ways {
            for far in [1e9, -1e9] {
                let mut spoilt = doc.clone();
                let spot = spoilt
                    .pointer_mut(&at)
                    .expect("a pointer that was just made");
                let whole = spot.is_u64();
                if whole && far < 0.0 {
                    continue;
                }
                *spot = if whole { json!(200_u64) } else { json!(far) };
                let schema_refuses = !validator.is_valid(&spoilt);
                let read: Result<T, _> = serde_json::from_value(spoilt);
                let check_refuses = match read {
                    Ok(read) => !check(&ron::to_string(&read).expect("RON")),
                    Err(_) => true,
                };
                compared += 1;
                assert!(
                    !schema_refuses || check_refuses,
                    "{}: the schema refuses {far} at {at}, the check does not",
                    kind.name()
                );
                if check_refuses && !schema_refuses {
                    schema_silent.push(at.clone());
                }
            }
        }
    }
    (compared, schema_silent)
}

#[test]
fn ranges_are_those_of_the_checks() {
    let text = |text: &str| SourceFile {
        name: "spoilt.ron".into(),
        text: text.to_owned(),
    };
    let (catalogue, problems) =
        Catalogue::load(&files("scenarios/vehicles", ""), &files("scenarios", ""));
    assert!(problems.is_empty());
    let vehicle = |t: &str| load::vehicle(&text(t)).is_ok();
    let (n, silent) =
        schema_and_check::<Vehicle>(FileKind::Vehicle, &shipped(FileKind::Vehicle), &vehicle);
    assert!(n > 100, "{n}");
    // What the check says of numbers in lists and choices, the schema leaves to it.
    let left = |at: &String| {
        [
            "/at/",
            "/size/",
            "/bias/",
            "/suppression/",
            // Fuses come in ratings, not in a range.
            "/Fuse/amps",
            "/lugs",
            "/ways",
            "/cavities",
            "/grid/",
            "/group",
        ]
        .iter()
        .any(|part| at.contains(part))
    };
    let forgotten: Vec<_> = silent.iter().filter(|at| !left(at)).collect();
    assert!(
        forgotten.is_empty(),
        "the schema knows no range of {forgotten:?}"
    );
    let scenario = |t: &str| load::scenario(&text(t), &catalogue).is_ok();
    let (n, silent) =
        schema_and_check::<Scenario>(FileKind::Scenario, &shipped(FileKind::Scenario), &scenario);
    assert!(n > 20, "{n}");
    let left = |at: &String| {
        ["/ambient_c/", "/minutes/", "/Wait", "/LeakTo/"]
            .iter()
            .any(|part| at.contains(part))
    };
    let forgotten: Vec<_> = silent.iter().filter(|at| !left(at)).collect();
    assert!(
        forgotten.is_empty(),
        "the schema knows no range of {forgotten:?}"
    );
    let rules = Rules::load(&Rules::preset()).expect("rules");
    let rubric = |t: &str| Rubric::load(&text(t), &rules).is_ok();
    let (n, silent) =
        schema_and_check::<Rubric>(FileKind::Rubric, &shipped(FileKind::Rubric), &rubric);
    assert!(n > 30, "{n}");
    let left = |at: &String| {
        ["/plausible/", "/overrides/", "/over_budget/"]
            .iter()
            .any(|part| at.contains(part))
    };
    let forgotten: Vec<_> = silent.iter().filter(|at| !left(at)).collect();
    assert!(
        forgotten.is_empty(),
        "the schema knows no range of {forgotten:?}"
    );
}
