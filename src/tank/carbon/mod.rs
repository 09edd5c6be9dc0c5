//! Carbon dissolved in the tank water: how much CO2 and bicarbonate a leaf meets, and how sure that is.
//!
//! - [`system`]: the carbonate system of one water (pH, alkalinity, temperature → CO2, and back).
//! - [`range`]: the same over measured ranges, with exact bounds.
//! - [`spread`]: bounds of bicarbonate, which has them not always at corners.
//! - [`air`]: the CO2 that water holds in equilibrium with air.
//! - [`supply`]: gas supply and its course over a day.
//! - [`mod@estimate`]: all of it together, with what is doubtful about the answer.
//!
//! Not here: what plants make of it, and what they take out of it. The course over a day is that
//! of the supply alone.

pub mod air;
pub mod estimate;
mod note;
pub mod range;
pub mod spread;
pub mod supply;
pub mod system;

pub use air::Air;
pub use estimate::{AcidSource, CarbonEstimate, CarbonInputs, CarbonRoute, RuleOfThumb, estimate};
pub use note::CarbonNote;
pub use range::CarbonateRange;
pub use supply::{DailyCourse, GasHours, GasPace, GasSupply};
pub use system::{CarbonateSystem, product_rule};

use super::water::TEMPERATURE_LIMITS;
use crate::units::{
    CarbonateHardness, Concentration, Duration, Fraction, GeneralHardness, Interval, Ph, Pressure, Quantity,
    Temperature,
};

/// pH values for which alkalinity can be read as carbonate.
pub const PH_LIMITS: (Ph, Ph) = (Ph::new(3.5), Ph::new(10.5));
/// The hardest carbonate water taken; Davies activities stay sound well beyond.
pub const KH_LIMIT: CarbonateHardness = CarbonateHardness::from_dkh(60.0);
/// The hardest water taken.
pub const GH_LIMIT: GeneralHardness = GeneralHardness::from_dgh(100.0);
/// The share of bicarbonate, mole for mole, that counts as CO2 for a bicarbonate user. Fitted so
/// that users at air equilibrium reach a third to a half of their saturated rate (Sand-Jensen 1983).
pub const BICARBONATE_WORTH: Fraction = Fraction::new(0.04);

/// kg/kmol: CO2 and bicarbonate, IUPAC atomic weights.
pub(crate) const CO2_G_MOL: f64 = 44.0095;
pub(crate) const HCO3_G_MOL: f64 = 61.0168;
pub(crate) const KELVIN: f64 = 273.15;

/// Why there is no carbon figure.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum CarbonError {
    /// Ice, hot water, or not a number.
    #[error("a water temperature of {0} is not above 0 °C and up to 40 °C")]
    Temperature(Temperature),
    /// Outside 3.5 to 10.5, or not a number.
    #[error("a pH of {0} is not between 3.5 and 10.5")]
    Ph(Ph),
    /// Below zero, absurd, or not a number.
    #[error("a carbonate hardness of {0} is not between 0 and 60 dKH")]
    CarbonateHardness(CarbonateHardness),
    /// Below zero, absurd, or not a number.
    #[error("a general hardness of {0} is not between 0 and 100 dGH")]
    GeneralHardness(GeneralHardness),
    /// Without alkalinity pH says nothing about CO2.
    #[error("with a carbonate hardness of 0, pH says nothing about CO2")]
    NoAlkalinity,
    /// Hydroxide alone is more than the alkalinity stated.
    #[error("a pH of {ph} needs more alkalinity than {kh}: the two readings contradict each other")]
    AllHydroxide {
        /// The pH, at its lowest.
        ph: Ph,
        /// The alkalinity, at its highest.
        kh: CarbonateHardness,
    },
    /// Not above zero, or not reachable between pH 3.5 and 10.5.
    #[error("no pH between 3.5 and 10.5 gives {0} of CO2 in this water")]
    Target(Concentration),
    /// The share of CO2 in the air is not between 0 and 10 %.
    #[error("a share of CO2 in the air of {0} is not above 0 and up to 10 %")]
    AirShare(Fraction),
    /// Air too thin or too dense for any dwelling.
    #[error("an air pressure of {0} is not between 50 and 120 kPa")]
    AirPressure(Pressure),
    /// A photoperiod, a lead or a time constant that is no length of a day.
    #[error("a time of {0} does not fit into a day")]
    Time(Duration),
    /// Gas that stops before it starts.
    #[error("the gas timer never opens: it would stop {0} after it starts")]
    GasNeverOn(Duration),
    /// Gas without a target, and no pH to judge it by.
    #[error("with gas, either a CO2 target or pH and KH are needed")]
    NothingToGoBy,
}

fn check<Q: Quantity>(
    q: Q,
    sound: impl Fn(f64) -> bool,
    error: impl Fn(Q) -> CarbonError,
) -> Result<f64, CarbonError> {
    // A comparison with NaN is false, so NaN is refused here as well.
    if sound(q.base()) { Ok(q.base()) } else { Err(error(q)) }
}

/// The temperature in kelvin, checked.
pub(crate) fn kelvin(t: Temperature) -> Result<f64, CarbonError> {
    let (lo, hi) = (TEMPERATURE_LIMITS.0.base(), TEMPERATURE_LIMITS.1.base());
    check(t, |c| c > lo && c <= hi, CarbonError::Temperature).map(|c| c + KELVIN)
}

pub(crate) fn checked_ph(ph: Ph) -> Result<f64, CarbonError> {
    check(ph, |p| (PH_LIMITS.0.base()..=PH_LIMITS.1.base()).contains(&p), CarbonError::Ph)
}

pub(crate) fn checked_kh(kh: CarbonateHardness) -> Result<f64, CarbonError> {
    check(kh, |k| (0.0..=KH_LIMIT.base()).contains(&k), CarbonError::CarbonateHardness)
}

pub(crate) fn checked_gh(gh: GeneralHardness) -> Result<f64, CarbonError> {
    check(gh, |g| (0.0..=GH_LIMIT.base()).contains(&g), CarbonError::GeneralHardness)
}

/// CO2 plus the bicarbonate that a user of it can make good, as mg/L of CO2: `CO2 + worth·HCO3`,
/// counted in moles. `worth` is [`BICARBONATE_WORTH`] for users and 0 for plants that take CO2 only.
/// 1 dKH (21.76 mg/L of bicarbonate) is worth 0.628 mg/L of CO2.
pub fn usable_carbon(
    co2: Interval<Concentration>,
    bicarbonate: Interval<Concentration>,
    worth: Fraction,
) -> Interval<Concentration> {
    let sum = |c: Concentration, b: Concentration| {
        Concentration::from_mg_l(c.mg_l() + worth.value() * b.mg_l() / HCO3_G_MOL * CO2_G_MOL)
    };
    Interval::spanning(sum(co2.lo(), bicarbonate.lo()), sum(co2.hi(), bicarbonate.hi()))
}
