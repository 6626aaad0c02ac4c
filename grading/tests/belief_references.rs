//! Belief against published examples of Bayes's rule, and at its edges.

use tracebay_grading::belief::{Belief, BeliefError, entropy_bits};

fn alone(priors: &[f64]) -> Belief {
    let groups: Vec<u32> = (0..priors.len() as u32).collect();
    Belief::new(priors, &groups).unwrap()
}

/// Three doors, the first picked, the third opened by a host who knows: S. Selvin,
/// "A Problem in Probability", The American Statistician 29 (1975), 67. The second
/// door has two chances in three.
#[test]
fn selvins_three_doors() {
    let mut belief = alone(&[1.0, 1.0, 1.0]);
    belief.update(&[0.5, 1.0, 0.0]).unwrap();
    let p = belief.posterior();
    assert!((p[0] - 1.0 / 3.0).abs() < 1e-15 && (p[1] - 2.0 / 3.0).abs() < 1e-15);
    assert_eq!(p[2], 0.0);
    assert_eq!(belief.most_likely().0, 1);
    assert_eq!(belief.possible(), [0, 1]);
}

/// A finding with prior 1 %, seen in 79.2 % of cases with it and 9.6 % without:
/// posterior 7.7 %. D. M. Eddy, "Probabilistic Reasoning in Clinical Medicine", in
/// Judgment under Uncertainty (1982); figures from memory.
#[test]
fn eddys_rare_finding() {
    let mut belief = alone(&[0.01, 0.99]);
    belief.update(&[0.792, 0.096]).unwrap();
    assert!((belief.posterior()[0] - 0.077).abs() < 5e-4);
}

/// A fair die holds log2(6) = 2.585 bits (Hartley 1928); grouped in odd and even, 1.
#[test]
fn bits_of_a_die() {
    let belief = Belief::new(&[1.0; 6], &[1, 2, 1, 2, 1, 2]).unwrap();
    assert!((belief.entropy_bits() - 2.585).abs() < 5e-4);
    assert!((belief.group_entropy_bits() - 1.0).abs() < 1e-12);
    assert!((belief.group_posterior(2) - 0.5).abs() < 1e-15);
    assert_eq!(belief.group_posterior(9), 0.0);
    assert_eq!(entropy_bits(&[1.0, 0.0]), 0.0);
}

/// Independent evidence may come in any order (Bayes's rule).
#[test]
fn order_of_evidence_does_not_matter() {
    let evidence = [[0.9, 0.2, 0.5], [0.3, 0.3, 0.8], [0.1, 0.6, 0.6]];
    let (mut a, mut b) = (alone(&[3.0, 2.0, 1.0]), alone(&[3.0, 2.0, 1.0]));
    for e in &evidence {
        a.update(e).unwrap();
    }
    for e in evidence.iter().rev() {
        b.update(e).unwrap();
    }
    for (x, y) in a.posterior().iter().zip(b.posterior()) {
        assert!((x - y).abs() < 1e-12);
    }
}

#[test]
fn evidence_that_rules_out_leaves_other_weights_to_the_bit() {
    let mut belief = alone(&[0.1, 0.7, 0.3]);
    belief.update_class(&[0, 1, 1], 1).unwrap();
    assert_eq!(belief.weights(), [0.0, 0.7, 0.3]);
}

#[test]
fn very_much_faint_evidence_does_not_fade_away() {
    let mut belief = alone(&[1.0, 1.0]);
    for i in 0..4000 {
        let likelihoods = if i % 2 == 0 {
            [1e-150, 2e-150]
        } else {
            [1e200, 0.5e200]
        };
        belief.update(&likelihoods).unwrap();
    }
    assert!((belief.posterior()[0] - 0.5).abs() < 1e-9);
    for _ in 0..4000 {
        belief.update(&[0.5, 1.0]).unwrap();
    }
    assert_eq!(belief.posterior(), [0.0, 1.0]);
}

#[test]
fn a_contradiction_is_told_and_changes_nothing() {
    let mut belief = alone(&[1.0, 1.0, 0.0]);
    belief.update_class(&[0, 1, 2], 0).unwrap();
    let before = belief.clone();
    for seen in [1, 2, 7] {
        assert_eq!(
            belief.update_class(&[0, 1, 2], seen),
            Err(BeliefError::Unexplained)
        );
    }
    assert!(matches!(
        belief.update(&[f64::NAN, 1.0, 1.0]),
        Err(BeliefError::Input(_))
    ));
    assert!(matches!(
        belief.update(&[-1.0, 1.0, 1.0]),
        Err(BeliefError::Input(_))
    ));
    assert!(matches!(belief.update(&[1.0]), Err(BeliefError::Input(_))));
    assert_eq!(belief, before);
    // A misread outcome is forgiven where a slip is allowed for.
    let mut careful = alone(&[1.0, 1.0, 0.0]);
    careful.update_class_with_slip(&[0, 1, 2], 0, 0.02).unwrap();
    careful.update_class(&[0, 1, 2], 1).unwrap();
    assert_eq!(careful.most_likely().0, 1);
}

#[test]
fn the_floor_decides_what_counts_as_possible() {
    let mut belief = alone(&[0.989, 0.01, 0.001]);
    assert_eq!(belief.possible(), [0, 1, 2]);
    belief.set_floor(0.005).unwrap();
    assert_eq!(belief.possible(), [0, 1]);
    // What was too unlikely counts again once others are ruled out.
    belief.update(&[0.0, 0.0, 1.0]).unwrap();
    assert_eq!(belief.possible(), [2]);
    for bad in [1.0, -0.1, f64::NAN] {
        assert!(belief.set_floor(bad).is_err());
    }
}

#[test]
fn unusable_priors_are_refused_in_words() {
    for (priors, says) in [
        (vec![], "no hypothesis"),
        (vec![0.0, 0.0], "no hypothesis"),
        (vec![1.0, f64::NAN], "prior of hypothesis 1"),
        (vec![-1.0, 2.0], "prior of hypothesis 0"),
        (vec![f64::INFINITY, 2.0], "prior of hypothesis 0"),
        (vec![f64::MAX, f64::MAX], "sum of the priors"),
    ] {
        let groups = vec![0; priors.len()];
        let told = Belief::new(&priors, &groups).unwrap_err().to_string();
        assert!(told.contains(says), "{told}");
    }
    assert!(
        Belief::new(&[1.0], &[1, 2])
            .unwrap_err()
            .to_string()
            .contains("groups")
    );
}
