//! Absolute and gauge pressure as types, and the units gauges are marked in.
//!
//! A service gauge reads zero in open air. Mixing gauge and absolute values up
//! is the classic mistake with refrigerant tables, so the two are different
//! types here and are converted in one place. Knows nothing of refrigerants.

/// Standard atmosphere in kPa (ISO 2533; exact by definition).
pub const ATMOSPHERE_KPA: f64 = 101.325;

/// One pound-force per square inch in kPa (NIST SP 811: 6.894 757 kPa).
pub const PSI_KPA: f64 = 6.894_757_293_168;

/// One bar in kPa (exact).
pub const BAR_KPA: f64 = 100.0;

/// Pressure above vacuum, in kPa.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct AbsoluteKpa(pub f64);

/// Pressure above the surrounding air at sea level, in kPa.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct GaugeKpa(pub f64);

impl AbsoluteKpa {
    /// What a gauge in air of [`ATMOSPHERE_KPA`] shows.
    pub fn gauge(self) -> GaugeKpa {
        GaugeKpa(self.0 - ATMOSPHERE_KPA)
    }
}

impl GaugeKpa {
    /// Pressure above vacuum.
    pub fn absolute(self) -> AbsoluteKpa {
        AbsoluteKpa(self.0 + ATMOSPHERE_KPA)
    }

    /// In pounds per square inch, gauge (psig).
    pub fn psi(self) -> f64 {
        self.0 / PSI_KPA
    }

    /// From pounds per square inch, gauge (psig).
    pub fn from_psi(psi: f64) -> Self {
        Self(psi * PSI_KPA)
    }

    /// In bar, gauge.
    pub fn bar(self) -> f64 {
        self.0 / BAR_KPA
    }

    /// From bar, gauge.
    pub fn from_bar(bar: f64) -> Self {
        Self(bar * BAR_KPA)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn conversions_match_the_tables() {
        // NIST SP 811, appendix B.9: 1 psi = 6.894 757 kPa; 1 bar = 14.5038 psi.
        assert!((GaugeKpa::from_psi(40.0).0 - 275.790).abs() < 0.001);
        assert!((GaugeKpa::from_bar(1.0).psi() - 14.5038).abs() < 1e-4);
        let back = GaugeKpa(276.0).absolute().gauge();
        assert!((back.0 - 276.0).abs() < 1e-9);
        assert!((GaugeKpa(0.0).absolute().0 - 101.325).abs() < 1e-12);
    }
}
