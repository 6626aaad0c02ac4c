//! Agreement of two rankings: Kendall's tau-b.
//!
//! Knows two lists of numbers and nothing of what they rank.

use thiserror::Error;

/// Why two lists have no tau-b.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum RankError {
    /// The lists do not pair up.
    #[error("the rankings have {0} and {1} entries; they must rank the same things")]
    Length(usize, usize),
    /// An entry is not a number.
    #[error("entry {0} of the rankings is not a number; leave it out of both")]
    NotANumber(usize),
    /// A list in which no two entries differ ranks nothing.
    #[error(
        "a ranking in which no two entries differ agrees or disagrees with nothing; give at least two different entries in each"
    )]
    NoOrder,
}

/// Kendall's tau-b of two rankings of the same things: 1 for the same order, -1
/// for the opposite one, ties allowed.
///
/// tau-b = (P - Q) / sqrt((n0 - n1)(n0 - n2)), where P and Q count the pairs in the
/// same and in opposite order, n0 = n(n - 1)/2, and n1 and n2 count the pairs tied
/// in the first and the second ranking: M. G. Kendall, "The Treatment of Ties in
/// Ranking Problems", Biometrika 33 (1945), 239-251.
///
/// # Errors
/// Lists of different length, entries that are not numbers, or a list that is all
/// one tie (so also one with fewer than two entries).
pub fn kendall_tau_b(a: &[f64], b: &[f64]) -> Result<f64, RankError> {
    if a.len() != b.len() {
        return Err(RankError::Length(a.len(), b.len()));
    }
    if let Some(i) = (0..a.len()).find(|&i| a[i].is_nan() || b[i].is_nan()) {
        return Err(RankError::NotANumber(i));
    }
    let (mut balance, mut ordered_a, mut ordered_b) = (0_i64, 0_u64, 0_u64);
    for i in 0..a.len() {
        for j in 0..i {
            let in_a = order(a[i], a[j]);
            let in_b = order(b[i], b[j]);
            balance += in_a * in_b;
            ordered_a += in_a.unsigned_abs();
            ordered_b += in_b.unsigned_abs();
        }
    }
    if ordered_a == 0 || ordered_b == 0 {
        return Err(RankError::NoOrder);
    }
    // Two roots rather than the root of a product: exact for lists without ties.
    Ok(balance as f64 / ((ordered_a as f64).sqrt() * (ordered_b as f64).sqrt()))
}

fn order(x: f64, y: f64) -> i64 {
    i64::from(x > y) - i64::from(x < y)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The example in the documentation of scipy.stats.kendalltau (SciPy 1.x
    /// reference guide): tau = -0.47140452079103173.
    #[test]
    fn scipys_documented_example() {
        let tau = kendall_tau_b(&[12.0, 2.0, 1.0, 12.0, 2.0], &[1.0, 4.0, 7.0, 1.0, 0.0]).unwrap();
        assert!((tau - -0.471_404_520_791_031_73).abs() < 1e-12, "{tau}");
    }

    #[test]
    fn same_and_opposite_order() {
        let up = [1.0, 2.0, 2.0, 5.0];
        let down = [9.0, 3.0, 3.0, 1.0];
        assert!((kendall_tau_b(&up, &up).unwrap() - 1.0).abs() < 1e-12);
        assert!((kendall_tau_b(&up, &down).unwrap() + 1.0).abs() < 1e-12);
    }

    #[test]
    fn what_has_no_tau_is_refused_in_words() {
        assert_eq!(
            kendall_tau_b(&[1.0], &[1.0, 2.0]),
            Err(RankError::Length(1, 2))
        );
        assert_eq!(kendall_tau_b(&[], &[]), Err(RankError::NoOrder));
        assert_eq!(
            kendall_tau_b(&[1.0, 1.0], &[1.0, 2.0]),
            Err(RankError::NoOrder)
        );
        assert_eq!(
            kendall_tau_b(&[1.0, f64::NAN], &[1.0, 2.0]),
            Err(RankError::NotANumber(1))
        );
    }
}
