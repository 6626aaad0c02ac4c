//! Relays: coil, pull-in and drop-out, contacts, and what is wrong with them.
//!
//! A coil pulls by its ampere-turns, so pull-in and drop-out are currents; the
//! volts in a datasheet hold at 20 °C and rise with the copper's resistance.
//! Terminals are those of ISO 7588 / DIN 72552. Typical values are of the size
//! datasheets of 12 V car relays give (from memory): coil 50 to 120 Ω, pull-in at
//! most 8 V, drop-out at least 1.2 V, contact drop of some milliohms.

use super::bounds::Bounds;
use super::copper;
use super::range::{Accepted, OutOfRange};
use super::spark::{Release, Suppression, release};

/// Accepted coil resistance.
pub const COIL_OHMS: Accepted = Accepted::new("relay coil resistance", "Ω", 20.0, 1000.0);
/// Accepted pull-in voltage.
pub const PULL_IN_V: Accepted = Accepted::new("relay pull-in voltage", "V", 2.0, 20.0);
/// Accepted drop-out voltage.
pub const DROP_OUT_V: Accepted = Accepted::new("relay drop-out voltage", "V", 0.5, 12.0);

/// Time constant `L/R` of a car relay's coil, s (common practice, no source).
pub(crate) const COIL_TIME_S: f64 = 0.005;

/// Resistance of a good closed contact, Ω.
pub const GOOD_CONTACT_OHMS: f64 = 0.004;
/// Resistance of a pitted contact that still passes a voltage check, Ω.
pub const PITTED_CONTACT_OHMS: f64 = 1.5;

/// A relay's datasheet, at 20 °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RelaySpec {
    coil_ohms_20c: f64,
    pull_in_v_20c: f64,
    drop_out_v_20c: f64,
}

impl Default for RelaySpec {
    /// An invented small 12 V relay: 85 Ω, pulls in at 7.2 V, drops out at 2.0 V.
    fn default() -> Self {
        Self {
            coil_ohms_20c: 85.0,
            pull_in_v_20c: 7.2,
            drop_out_v_20c: 2.0,
        }
    }
}

/// What is wrong with a relay's coil.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, serde::Deserialize)]
pub enum CoilState {
    /// As made.
    Good,
    /// The winding is broken.
    Open,
    /// Part of the turns are bridged, 0..1 of them.
    ShortedTurns {
        /// Share of the turns bridged.
        share: f64,
    },
}

/// What is wrong with a contact.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, serde::Deserialize)]
pub enum ContactState {
    /// As made.
    Good,
    /// Burnt: closes with a resistance, Ω.
    Pitted {
        /// Resistance when closed.
        ohms: f64,
    },
    /// Stuck closed.
    Welded,
    /// Never closes: burnt away or bent.
    NeverCloses,
}

/// A coil as the circuit sees it at one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoilValues {
    /// Resistance, Ω; `None` for a broken winding.
    pub ohms: Option<f64>,
    /// Current at which it pulls in, A.
    pub pull_in_a: f64,
    /// Current below which it drops out, A.
    pub drop_out_a: f64,
}

impl RelaySpec {
    /// A relay by its datasheet.
    ///
    /// # Errors
    /// A value outside its range, or a drop-out not below the pull-in.
    pub fn new(
        coil_ohms_20c: f64,
        pull_in_v_20c: f64,
        drop_out_v_20c: f64,
    ) -> Result<Self, OutOfRange> {
        COIL_OHMS.check(coil_ohms_20c)?;
        PULL_IN_V.check(pull_in_v_20c)?;
        let below = Accepted {
            most: 0.8 * pull_in_v_20c,
            ..DROP_OUT_V
        };
        below.check(drop_out_v_20c)?;
        Ok(Self {
            coil_ohms_20c,
            pull_in_v_20c,
            drop_out_v_20c,
        })
    }

    /// The coil at `t_c`, in the state given.
    ///
    /// Bridged turns take their share of the resistance away, and as many turns
    /// no longer pull, so more current is needed for the same ampere-turns.
    pub fn coil(&self, t_c: f64, state: CoilState) -> CoilValues {
        let left = match state {
            CoilState::ShortedTurns { share } => 1.0 - share.at_least(0.0).at_most(0.95),
            CoilState::Good | CoilState::Open => 1.0,
        };
        let ohms = self.coil_ohms_20c * copper::factor(t_c) * left;
        CoilValues {
            ohms: (state != CoilState::Open).then_some(ohms),
            pull_in_a: self.pull_in_v_20c / self.coil_ohms_20c / left,
            drop_out_a: self.drop_out_v_20c / self.coil_ohms_20c / left,
        }
    }

    /// Inductance with the armature pulled in, H.
    pub fn henries(&self) -> f64 {
        COIL_TIME_S * self.coil_ohms_20c
    }

    /// What comes of cutting the coil's current.
    pub fn release(&self, amps: f64, supply_v: f64, suppression: Suppression) -> Release {
        release(self.henries(), amps, supply_v, suppression)
    }
}

impl ContactState {
    /// Resistance between the contact's terminals, or `None` when it is open.
    /// `pulled` says whether the mechanism asks it to be closed.
    pub fn ohms(&self, pulled: bool) -> Option<f64> {
        match (*self, pulled) {
            (Self::Welded, _) => Some(GOOD_CONTACT_OHMS / 2.0),
            (Self::Good, true) => Some(GOOD_CONTACT_OHMS),
            (Self::Pitted { ohms }, true) => Some(ohms.at_least(GOOD_CONTACT_OHMS)),
            (Self::NeverCloses, true) | (_, false) => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn default_is_an_ordinary_relay() {
        // Size of values in datasheets of 12 V car relays, from memory.
        let coil = RelaySpec::default().coil(20.0, CoilState::Good);
        let ohms = coil.ohms.unwrap();
        assert!((50.0..=120.0).contains(&ohms));
        assert!(coil.pull_in_a * ohms <= 8.0);
        assert!(coil.drop_out_a * ohms >= 1.2);
        assert!(coil.drop_out_a < coil.pull_in_a);
    }

    #[test]
    fn a_hot_coil_needs_more_volts() {
        // IEC 60028: copper at 85 °C has 1.255 times its resistance at 20 °C.
        let spec = RelaySpec::default();
        let volts = |t| {
            let coil = spec.coil(t, CoilState::Good);
            coil.pull_in_a * coil.ohms.unwrap()
        };
        let rise = volts(85.0) / volts(20.0);
        assert!((rise - 1.2555).abs() < 1e-3, "{rise}");
        // Still pulls in on a car's 12 V: what the design of a relay must hold.
        assert!(volts(85.0) < 10.0);
    }

    #[test]
    fn shorted_turns_draw_more_and_pull_less() {
        let spec = RelaySpec::default();
        let (good, bad) = (
            spec.coil(20.0, CoilState::Good),
            spec.coil(20.0, CoilState::ShortedTurns { share: 0.5 }),
        );
        let pull = |c: CoilValues| 12.0 / c.ohms.unwrap() / c.pull_in_a;
        assert!(12.0 / bad.ohms.unwrap() > 12.0 / good.ohms.unwrap());
        // Half the turns at twice the current give the same ampere-turns; it is
        // the doubled heat that ends such a coil.
        assert!((pull(bad) - pull(good)).abs() < 1e-12);
        assert_eq!(spec.coil(20.0, CoilState::Open).ohms, None);
    }

    #[test]
    fn contacts() {
        assert_eq!(ContactState::Good.ohms(false), None);
        assert_eq!(ContactState::NeverCloses.ohms(true), None);
        assert!(ContactState::Welded.ohms(false).is_some());
        assert!(ContactState::Pitted { ohms: 1.5 }.ohms(true).unwrap() > 1.0);
    }

    #[test]
    fn refuses_a_drop_out_above_the_pull_in() {
        assert!(RelaySpec::new(85.0, 7.2, 7.0).is_err());
        assert!(RelaySpec::new(f64::NAN, 7.2, 2.0).is_err());
        assert!(RelaySpec::new(85.0, 7.2, 2.0).is_ok());
    }
}
