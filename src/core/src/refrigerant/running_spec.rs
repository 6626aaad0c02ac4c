//! The sizes of a running refrigerant loop: what a vehicle file may set.
//!
//! The defaults are those of an invented small car, of ordinary size in the
//! trade (common practice, no source). Knows no state and no time.

use super::saturation::Refrigerant;
use crate::elements::{Accepted, OutOfRange};

/// Sizes of one car's refrigerant loop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoopSpec {
    /// What it is filled with.
    pub refrigerant: Refrigerant,
    /// The label's charge, kg.
    pub charge_kg: f64,
    /// Inner volume of the whole loop, m³.
    pub volume_m3: f64,
    /// Share of that volume on the high-pressure side, 0..1.
    pub high_side_share: f64,
    /// Compressor swept volume per turn, cm³.
    pub displacement_cm3: f64,
    /// Air through the evaporator with the blower at full, kg/s.
    pub blower_air_kg_s: f64,
    /// Air through the condenser with airflow 1 (fan on, standing), kg/s.
    pub condenser_air_kg_s: f64,
    /// Evaporator: transfer units (NTU) on the air side with the blower at full.
    pub evaporator_ntu: f64,
    /// Condenser: transfer units (NTU) on the air side at airflow 1.
    pub condenser_ntu: f64,
    /// Share of the evaporator's heat that cools the air rather than drying it,
    /// 0..1 (sensible heat ratio).
    pub sensible_share: f64,
}

impl Default for LoopSpec {
    fn default() -> Self {
        Self {
            refrigerant: Refrigerant::R134a,
            charge_kg: 0.55,
            volume_m3: 0.0032,
            high_side_share: 0.45,
            displacement_cm3: 106.0,
            blower_air_kg_s: 0.11,
            condenser_air_kg_s: 0.27,
            evaporator_ntu: 1.4,
            condenser_ntu: 0.75,
            sensible_share: 0.75,
        }
    }
}

impl LoopSpec {
    /// The range accepted for each field, in the order of the fields.
    const RANGES: [Accepted; 9] = [
        Accepted::new("label charge", "kg", 0.1, 3.0),
        Accepted::new("loop volume", "m³", 0.0008, 0.02),
        Accepted::new("high-side share of the volume", "", 0.1, 0.9),
        Accepted::new("compressor displacement", "cm³", 20.0, 400.0),
        Accepted::new("blower air", "kg/s", 0.02, 0.5),
        Accepted::new("condenser air", "kg/s", 0.05, 2.0),
        Accepted::new("evaporator NTU", "", 0.3, 4.0),
        Accepted::new("condenser NTU", "", 0.2, 4.0),
        Accepted::new("sensible share", "", 0.4, 1.0),
    ];

    /// Refuses sizes no car has.
    ///
    /// # Errors
    /// The first field outside its accepted range.
    pub fn checked(self) -> Result<Self, OutOfRange> {
        let fields = [
            self.charge_kg,
            self.volume_m3,
            self.high_side_share,
            self.displacement_cm3,
            self.blower_air_kg_s,
            self.condenser_air_kg_s,
            self.evaporator_ntu,
            self.condenser_ntu,
            self.sensible_share,
        ];
        for (range, value) in Self::RANGES.iter().zip(fields) {
            range.check(value)?;
        }
        Ok(self)
    }
}
