//! Water itself: its mass, the oxygen it holds, its hardness in other words, salts, and mixing.
//!
//! Not here: the carbonate system, see [`super::carbon`].

use libm::exp;

use crate::units::{
    CarbonateHardness, Concentration, Fraction, GeneralHardness, Mass, Pressure, Quantity, Temperature,
    Volume,
};

/// Temperatures the fits hold for: liquid water that plants live in, the first excluded. Benson &
/// Krause 1984 and Weiss 1974 end at 40 °C.
pub const TEMPERATURE_LIMITS: (Temperature, Temperature) =
    (Temperature::from_celsius(0.0), Temperature::from_celsius(40.0));

/// Why there is no figure for a water.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum WaterError {
    /// Ice, hot water, or not a number.
    #[error("a water temperature of {0} is not above 0 °C and up to 40 °C")]
    Temperature(Temperature),
    /// Air too thin or too dense for any dwelling.
    #[error("an air pressure of {0} is not between 50 and 120 kPa")]
    AirPressure(Pressure),
    /// The target lies outside the two waters.
    #[error("no mixture of these two waters reaches it")]
    OutOfReach,
    /// The salt has nothing of what is wanted.
    #[error("this salt does not raise it")]
    WrongSalt,
}

/// The temperature in °C, checked.
fn celsius(t: Temperature) -> Result<f64, WaterError> {
    let (lo, hi) = (TEMPERATURE_LIMITS.0.celsius(), TEMPERATURE_LIMITS.1.celsius());
    let c = t.celsius();
    // A comparison with NaN is false.
    if c > lo && c <= hi { Ok(c) } else { Err(WaterError::Temperature(t)) }
}

/// The mass of a volume of fresh water at 1 atm. Kell 1975, J. Chem. Eng. Data 20:97; within
/// 0.004 kg/m³ of IAPWS-95. A cubic metre at 25 °C: 997.048 kg.
///
/// # Errors
/// A temperature outside 0 to 40 °C.
pub fn mass(volume: Volume, t: Temperature) -> Result<Mass, WaterError> {
    let t = celsius(t)?;
    let above = 999.839_52
        + t * (16.945_176
            + t * (-7.987_040_1e-3 + t * (-46.170_461e-6 + t * (105.563_02e-9 + t * -280.542_53e-12))));
    Ok(Mass::from_kg(above / (1.0 + 16.879_850e-3 * t) * volume.litres() / 1e3))
}

/// Oxygen that fresh water holds in equilibrium with moist air at a total `pressure`. Benson &
/// Krause 1984, Limnol. Oceanogr. 29:620, as in APHA 4500-O. 8.263 mg/L at 25 °C and 1 atm.
///
/// # Errors
/// A temperature outside 0 to 40 °C, a pressure outside 50 to 120 kPa.
pub fn oxygen_saturation(t: Temperature, pressure: Pressure) -> Result<Concentration, WaterError> {
    let c = celsius(t)?;
    if !(50.0..=120.0).contains(&pressure.kpa()) {
        return Err(WaterError::AirPressure(pressure));
    }
    let k = c + 273.15;
    let at_one =
        exp(-139.344_11 + (1.575_701e5 + (-6.642_308e7 + (1.243_800e10 - 8.621_949e11 / k) / k) / k) / k);
    let vapour = exp(11.857_1 - (3_840.70 + 216_961.0 / k) / k);
    let theta = 0.000_975 - 1.426e-5 * c + 6.436e-8 * c * c;
    let p = pressure.kpa() / 101.325;
    let factor = p * (1.0 - vapour / p) * (1.0 - theta * p) / ((1.0 - vapour) * (1.0 - theta));
    Ok(Concentration::from_mg_l(at_one * factor))
}

/// What adds up when waters are mixed. pH does not.
pub trait Mixes: Quantity {}
impl Mixes for GeneralHardness {}
impl Mixes for CarbonateHardness {}
impl Mixes for Concentration {}

/// The mixture of two waters, `share` of it being the second.
pub fn mixed<Q: Mixes>(first: Q, second: Q, share: Fraction) -> Q {
    Q::from_base(first.base() + (second.base() - first.base()) * share.value())
}

/// The share of soft water (rain, demineralised) in a mixture with tap water that reaches `target`.
///
/// # Errors
/// A target outside the two waters, two waters alike, NaN.
pub fn soft_share<Q: Mixes>(tap: Q, soft: Q, target: Q) -> Result<Fraction, WaterError> {
    let share = (tap.base() - target.base()) / (tap.base() - soft.base());
    if (0.0..=1.0).contains(&share) { Ok(Fraction::new(share)) } else { Err(WaterError::OutOfReach) }
}
