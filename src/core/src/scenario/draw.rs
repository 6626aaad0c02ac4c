//! The seeded draw.
//!
//! Random bits come from ChaCha20 keyed by SHA-256 of scenario, version, seed and purpose; turning
//! bits into choices is done here, by a mapping that is written down and never changes, so that an
//! update of a random-number crate cannot change a published seed's case.

use rand_chacha::ChaCha20Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use sha2::{Digest, Sha256};

/// Largest seed a person may ask for: what a spreadsheet cell keeps exactly.
pub const MAX_SEED: u64 = 9_007_199_254_740_991;

/// A stream of random bits for one purpose.
pub(crate) struct Draw {
    rng: ChaCha20Rng,
}

impl Draw {
    /// Opens the stream.
    pub fn new(scenario: &str, version: u32, seed: u64, purpose: &str) -> Draw {
        let text = format!("tracebay draw 1\n{scenario}\n{version}\n{seed}\n{purpose}\n");
        let key: [u8; 32] = Sha256::digest(text.as_bytes()).into();
        Draw {
            rng: ChaCha20Rng::from_seed(key),
        }
    }

    /// Next 64 bits.
    pub fn next(&mut self) -> u64 {
        self.rng.next_u64()
    }

    /// A number from 0 (included) to 1 (excluded): the upper 53 bits.
    pub fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / 9_007_199_254_740_992.0
    }

    /// An index below `n`: the high half of a 64 by 64 bit product. The bias of at most `n`/2⁶⁴ is
    /// no concern here.
    pub fn index(&mut self, n: usize) -> usize {
        ((u128::from(self.next()) * n as u128) >> 64) as usize
    }

    /// An index with the given weights.
    pub fn weighted(&mut self, weights: &[f64]) -> usize {
        let total: f64 = weights.iter().sum();
        let mut left = self.unit() * total;
        for (i, w) in weights.iter().enumerate() {
            left -= w;
            if left < 0.0 {
                return i;
            }
        }
        weights.len().saturating_sub(1)
    }
}

/// A number from −1 to 1 that belongs to a name: FNV-1a of the name, mixed with the key by the
/// finaliser of SplitMix64 (both published, written from their descriptions).
pub(crate) fn spread(key: u64, name: &str) -> f64 {
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    for byte in name.bytes() {
        hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
    }
    let mut z = hash ^ key;
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^= z >> 31;
    (z >> 11) as f64 / 4_503_599_627_370_496.0 - 1.0
}
