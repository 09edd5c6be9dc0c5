//! Whether light supports more growth than carbon does, for a typical submerged plant.
//!
//! Shares of the rate at full light and full carbon. For the tank as a whole; a plant's own needs
//! are judged elsewhere, by its own envelope.

use crate::units::{Concentration, Duration, Fraction, Interval, Ppfd};

/// Where the figures come from.
pub const ORIGIN: &str = "CO2: half rate at 75 to 170 µmol/L, Van, Haller & Bowes 1976, none at 2.5 µmol/L, \
                          Sand-Jensen 1983; light: common practice, no source";

/// PPFD where a saturating light response bends, for an 8 h day. Common practice, no source.
const BEND_UMOL_M2_S: f64 = 100.0;
const DAY_HOURS: f64 = 8.0;
/// mg/L of CO2: 110 µmol/L, the middle of Van, Haller & Bowes 1976, Plant Physiol. 58:761.
const HALF_RATE: f64 = 4.84;
/// mg/L of CO2: 2.5 µmol/L, Sand-Jensen 1983, J. Exp. Bot. 34:198.
const NO_GAIN: f64 = 0.110;

/// The share of the full rate that light allows: tanh of the light over the bend (Jassby & Platt
/// 1976), a longer day counted as more light.
pub fn light_support(light: Ppfd, photoperiod: Duration) -> Fraction {
    let as_eight_hours = light.umol_m2_s() * photoperiod.hours() / DAY_HOURS;
    Fraction::new(libm::tanh(as_eight_hours.max(0.0) / BEND_UMOL_M2_S))
}

/// The share of the full rate that CO2 allows: half at `HALF_RATE`, none below compensation.
pub fn carbon_support(co2: Interval<Concentration>) -> Interval<Fraction> {
    co2.map_monotone(|c| {
        let gain = (c.mg_l() - NO_GAIN).max(0.0);
        Fraction::new(gain / (gain + HALF_RATE - NO_GAIN))
    })
}
