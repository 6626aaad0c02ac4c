//! Lower bounds on the work of telling things apart.
//!
//! Knows only weights and branch counts; nothing of what is being told apart.

/// Least expected number of questions, times the total weight, when each question
/// has at most `branches` answers and any question may be asked: D. A. Huffman,
/// "A Method for the Construction of Minimum-Redundancy Codes", Proc. IRE 40 (1952).
///
/// Weights of zero need no code and are passed over.
#[must_use]
pub fn huffman(weights: &[f64], branches: usize) -> f64 {
    let mut sorted: Vec<f64> = weights.iter().copied().filter(|&w| w > 0.0).collect();
    sorted.sort_by(f64::total_cmp);
    huffman_sorted(&sorted, branches.max(2), &mut Vec::new())
}

/// As [`huffman`] for weights above zero in rising order; `joined` is scratch space.
///
/// Two queues, leaves and joined nodes, each in rising order: the next smallest is
/// at one of their heads.
pub(crate) fn huffman_sorted(leaves: &[f64], branches: usize, joined: &mut Vec<f64>) -> f64 {
    joined.clear();
    if leaves.len() < 2 {
        return 0.0;
    }
    // The first join takes fewer, so that all later ones are full.
    let spare = (leaves.len() - 1) % (branches - 1);
    let mut take = if spare == 0 { branches } else { spare + 1 };
    let (mut leaf, mut node) = (0, 0);
    let mut total = 0.0;
    while (leaves.len() - leaf) + (joined.len() - node) > 1 {
        let mut sum = 0.0;
        for _ in 0..take {
            let from_leaves =
                leaf < leaves.len() && (node >= joined.len() || leaves[leaf] <= joined[node]);
            if from_leaves {
                sum += leaves[leaf];
                leaf += 1;
            } else {
                sum += joined[node];
                node += 1;
            }
        }
        total += sum;
        joined.push(sum);
        take = branches;
    }
    total
}

/// Shannon's entropy in bits, times the total weight, of weights above zero.
pub(crate) fn entropy(weights: &[f64]) -> f64 {
    let total: f64 = weights.iter().sum();
    let sum: f64 = weights.iter().map(|&w| w * libm::log2(total / w)).sum();
    sum.max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Binary example of Huffman's 1952 paper, Table I (13 messages): average
    /// length 3.42 digits (figures from memory of the paper).
    #[test]
    fn huffmans_own_example() {
        let p = [
            0.20, 0.18, 0.10, 0.10, 0.10, 0.06, 0.06, 0.04, 0.04, 0.04, 0.04, 0.03, 0.01,
        ];
        assert!((huffman(&p, 2) - 3.42).abs() < 1e-9);
    }

    /// Four-way example of the same paper, Table III (8 messages): the first join
    /// takes two, the later ones four (figures from memory of the paper).
    #[test]
    fn huffmans_four_digit_example() {
        let p = [0.22, 0.20, 0.18, 0.15, 0.10, 0.08, 0.05, 0.02];
        assert!((huffman(&p, 4) - (0.07 + 0.40 + 1.0)).abs() < 1e-9);
    }

    #[test]
    fn one_or_none_needs_no_question() {
        assert_eq!(huffman(&[], 2), 0.0);
        assert_eq!(huffman(&[3.0, 0.0], 2), 0.0);
        assert_eq!(entropy(&[3.0]), 0.0);
    }
}
