//! Agreement and correlation against SciPy. `reference/ranks.json` holds the values and SciPy's
//! version; `reference/ranks.py` made it.

use serde_json::Value;
use tracebay_grade::agreement::agreement;
use tracebay_grade::items::correlation;

fn reference() -> Value {
    serde_json::from_str(include_str!("reference/ranks.json")).unwrap()
}

#[test]
fn tau_b_of_every_two_raters_is_scipys() {
    let reference = reference();
    let raters = reference["raters"].as_object().unwrap();
    let names: Vec<&String> = raters.keys().collect();
    let mut text = "attempt".to_owned();
    for name in &names {
        text += &format!(",{name}");
    }
    for i in 0..8 {
        text += &format!("\n{i}");
        for name in &names {
            text += &format!(",{}", raters[*name][i]);
        }
    }
    let found = agreement(text.as_bytes()).unwrap();
    assert_eq!(found.pairs.len(), 6);
    for pair in &found.pairs {
        let taus = &reference["tau_b"];
        let wanted = taus[format!("{} {}", pair.a, pair.b)]
            .as_f64()
            .or(taus[format!("{} {}", pair.b, pair.a)].as_f64())
            .unwrap();
        assert!((pair.tau_b.unwrap() - wanted).abs() < 1e-12, "{pair:?}");
    }
    let with: Vec<f64> = found
        .pairs
        .iter()
        .filter(|p| p.a == "grader" || p.b == "grader")
        .map(|p| p.tau_b.unwrap())
        .collect();
    assert_eq!(with.len(), 3);
    assert!((found.with_grader.unwrap() - with.iter().sum::<f64>() / 3.0).abs() < 1e-12);
}

#[test]
fn pearson_is_scipys() {
    let reference = reference();
    let list = |key: &str| -> Vec<f64> {
        let list = reference["pearson"][key].as_array().unwrap();
        list.iter().map(|v| v.as_f64().unwrap()).collect()
    };
    let pairs: Vec<(f64, f64)> = list("x").into_iter().zip(list("y")).collect();
    let r = reference["pearson"]["r"].as_f64().unwrap();
    assert!((correlation(&pairs).unwrap() - r).abs() < 1e-12);
}

#[test]
fn gaps_are_left_out_and_nonsense_is_refused() {
    let found = agreement(b"attempt,grader,A\n1,10,1\n2,20,\n3,30,2\n").unwrap();
    assert_eq!(found.pairs[0].attempts, 2);
    assert_eq!(found.pairs[0].tau_b, Some(1.0));
    assert!(agreement(b"attempt,grader\n1,10\n").is_err());
    let refused = agreement(b"attempt,grader,A\n1,10,good\n").unwrap_err();
    assert!(
        refused.contains("line 2") && refused.contains("good"),
        "{refused}"
    );
}
