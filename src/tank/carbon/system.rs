//! The carbonate system of one water: alkalinity, hardness and temperature known exactly.
//!
//! Constants of Plummer & Busenberg 1982, Geochim. Cosmochim. Acta 46:1011, ion pairs of calcium
//! included, and Davies activity coefficients; the same constants as in PHREEQC's `phreeqc.dat`.
//!
//! Ionic strength is taken from the two hardnesses alone, all alkalinity counted as bicarbonate:
//! cations are calcium and magnesium as far as GH goes; alkalinity beyond GH is balanced by
//! sodium, hardness beyond KH by chloride. With GH 0 this is a sodium bicarbonate water.
//! Magnesium pairs with bicarbonate much as calcium does, so all hardness is taken as calcium.
//! Litres stand for kilograms of water: CO2 and alkalinity scale together, the rest is 0.04 %.
//! Against PHREEQC: 0.1 % in sodium bicarbonate water, 1.2 % in hard water up to pH 7.8, 2.5 % at 8.4.
//!
//! With α the activity of bicarbonate, a that of hydrogen and u = 1/γ of a univalent ion, the
//! balance of charge is `alk/u + a − kw/a = α·(free + bound/a)`, and CO2 is `a·α/k1`.

use libm::{cbrt, exp10, log10, sqrt};

use super::{CO2_G_MOL, CarbonError, HCO3_G_MOL, checked_gh, checked_kh, checked_ph, kelvin};
use crate::units::{CarbonateHardness, Concentration, GeneralHardness, Ph, Temperature};

/// mol/L of charge in a German degree: 10 mg/L of CaO.
const EQUIVALENTS_PER_DEGREE: f64 = 0.356_65e-3;

/// `log10 K = a + b T + c/T + d log10 T + e/T²`, T in kelvin.
struct Fit(f64, f64, f64, f64, f64);

/// CO2 + H2O ⇌ H+ + HCO3−.
const K1: Fit = Fit(-356.3094, -0.060_919_64, 21_834.37, 126.833_9, -1_684_915.0);
/// HCO3− ⇌ H+ + CO3²−.
const K2: Fit = Fit(-107.887_1, -0.032_528_49, 5_151.79, 38.925_61, -563_713.9);
/// Ca²+ + HCO3− ⇌ CaHCO3+.
const K_CALCIUM_BICARBONATE: Fit = Fit(1_209.120, 0.312_94, -34_765.05, -478.782, 0.0);
/// Ca²+ + CO3²− ⇌ CaCO3 (dissolved).
const K_CALCIUM_CARBONATE: Fit = Fit(-1_228.732, -0.299_444, 35_512.75, 485.818, 0.0);
/// H2O ⇌ H+ + OH−.
const KW: Fit = Fit(-283.971, -0.050_698_42, 13_323.0, 102.244_47, -1_119_669.0);

impl Fit {
    fn at(&self, kelvin: f64, log_kelvin: f64) -> f64 {
        let Self(a, b, c, d, e) = *self;
        exp10(a + b * kelvin + (c + e / kelvin) / kelvin + d * log_kelvin)
    }
}

/// Relative permittivity of water, Malmberg & Maryott 1956: 78.30 at 25 °C.
pub(crate) fn permittivity(celsius: f64) -> f64 {
    87.740 + celsius * (-0.400_08 + celsius * (9.398e-4 + celsius * -1.410e-6))
}

/// Ionic strength in mol/L by the rule of this module.
fn ionic_strength(alkalinity: f64, hardness: f64) -> f64 {
    // Both arguments in equivalents; a divalent ion of c equivalents counts 4·c/2.
    let sodium = (alkalinity - hardness).max(0.0);
    let chloride = (hardness - alkalinity).max(0.0);
    0.5 * (alkalinity + 2.0 * hardness + sodium + chloride)
}

/// The carbonate system of one water.
#[derive(Debug, Clone, Copy)]
pub struct CarbonateSystem {
    kh: CarbonateHardness,
    /// Alkalinity over u, mol/L.
    alkalinity: f64,
    /// u, 1 or more.
    inverse_activity: f64,
    /// Salting-out of CO2 included.
    k1: f64,
    kw: f64,
    /// Bicarbonate, alone or with calcium.
    free: f64,
    /// Carbonate, alone or with calcium, at a = 1.
    bound: f64,
}

impl CarbonateSystem {
    /// A water by its alkalinity, hardness and temperature.
    ///
    /// # Errors
    /// KH 0 or above 60 dKH, GH below 0 or above 100 dGH, temperature outside 0 to 40 °C.
    pub fn new(kh: CarbonateHardness, gh: GeneralHardness, t: Temperature) -> Result<Self, CarbonError> {
        if checked_kh(kh)? > 0.0 { Self::with_any_kh(kh, gh, t) } else { Err(CarbonError::NoAlkalinity) }
    }

    /// As [`Self::new`], KH 0 allowed: the lower end of a range.
    pub(crate) fn with_any_kh(
        kh: CarbonateHardness,
        gh: GeneralHardness,
        t: Temperature,
    ) -> Result<Self, CarbonError> {
        let alkalinity = checked_kh(kh)? * EQUIVALENTS_PER_DEGREE;
        let hardness = checked_gh(gh)? * EQUIVALENTS_PER_DEGREE;
        let kelvin = kelvin(t)?;
        let log_kelvin = log10(kelvin);
        let strength = ionic_strength(alkalinity, hardness);
        let root = sqrt(strength);
        let et = permittivity(t.celsius()) * kelvin;
        // Davies 1962, log10 of the reciprocal activity of a univalent ion.
        let davies = 1.824_83e6 / (et * sqrt(et)) * (root / (1.0 + root) - 0.3 * strength);
        let u = exp10(davies);
        let activity_of_two = u.powi(-4);
        let pairing = K_CALCIUM_BICARBONATE.at(kelvin, log_kelvin) * activity_of_two;
        // Calcium that pairs with bicarbonate is not there to pair again.
        let calcium = hardness / 2.0 / (1.0 + pairing * alkalinity);
        let with_carbonate = K_CALCIUM_CARBONATE.at(kelvin, log_kelvin) * activity_of_two * calcium;
        Ok(Self {
            kh,
            alkalinity: alkalinity / u,
            inverse_activity: u,
            k1: K1.at(kelvin, log_kelvin) * exp10(0.1 * strength),
            kw: KW.at(kelvin, log_kelvin),
            free: 1.0 + pairing * calcium,
            bound: 2.0 * K2.at(kelvin, log_kelvin) * (u.powi(3) + with_carbonate / u),
        })
    }

    /// Activity of bicarbonate at hydrogen-ion activity `a`; not above zero when there is none.
    fn bicarbonate_activity(&self, a: f64) -> f64 {
        (self.alkalinity + a - self.kw / a) / (self.free + self.bound / a)
    }

    fn checked_bicarbonate(&self, ph: Ph) -> Result<(f64, f64), CarbonError> {
        let a = exp10(-checked_ph(ph)?);
        let bicarbonate = self.bicarbonate_activity(a);
        if bicarbonate > 0.0 {
            Ok((a, bicarbonate))
        } else {
            Err(CarbonError::AllHydroxide { ph, kh: self.kh })
        }
    }

    /// Dissolved CO2. At pH 7, 4 dKH and 25 °C 13.51 mg/L.
    ///
    /// # Errors
    /// pH outside 3.5 to 10.5, or more hydroxide than alkalinity.
    pub fn co2(&self, ph: Ph) -> Result<Concentration, CarbonError> {
        let (a, bicarbonate) = self.checked_bicarbonate(ph)?;
        Ok(self.co2_from(a, bicarbonate))
    }

    fn co2_from(&self, a: f64, bicarbonate_activity: f64) -> Concentration {
        Concentration::from_mg_l(a * bicarbonate_activity / self.k1 * CO2_G_MOL * 1e3)
    }

    /// Free bicarbonate. 1 dKH at neutral pH is 21.7 mg/L in soft water.
    ///
    /// # Errors
    /// As [`Self::co2`].
    pub fn bicarbonate(&self, ph: Ph) -> Result<Concentration, CarbonError> {
        let (_, activity) = self.checked_bicarbonate(ph)?;
        Ok(self.bicarbonate_from(activity))
    }

    fn bicarbonate_from(&self, activity: f64) -> Concentration {
        Concentration::from_mg_l(activity * self.inverse_activity * HCO3_G_MOL * 1e3)
    }

    /// CO2, 0 where hydroxide takes all the alkalinity. `ph` must be checked.
    pub(crate) fn co2_or_none(&self, ph: Ph) -> Concentration {
        let a = exp10(-ph.value());
        self.co2_from(a, self.bicarbonate_activity(a).max(0.0))
    }

    /// Free bicarbonate at hydrogen-ion activity `a`; 0 where hydroxide takes all the alkalinity.
    pub(super) fn bicarbonate_at(&self, a: f64) -> Concentration {
        self.bicarbonate_activated_as(self, a)
    }

    /// A bound of [`Self::bicarbonate_at`] over all hardness and warmth between this water and `other`,
    /// which has the same alkalinity: pairing and kw are this one's, activity is whichever of the
    /// two goes further the way that they do. An upper bound where `other` is harder and warmer and
    /// `a` is its, a lower one where it is softer and cooler.
    pub(super) fn bicarbonate_activated_as(&self, other: &Self, a: f64) -> Concentration {
        let acid = a - self.kw / a;
        // Free acid adds by the activity of `other`, hydroxide takes by this one's.
        let u = if acid >= 0.0 { other.inverse_activity } else { self.inverse_activity };
        let charge = self.alkalinity * self.inverse_activity + u * acid;
        let ratio = (charge / (self.free + self.bound / a)).max(0.0);
        Concentration::from_mg_l(ratio * HCO3_G_MOL * 1e3)
    }

    /// How far apart two waters are in what bounds of bicarbonate go by.
    pub(super) fn apart(&self, other: &Self) -> f64 {
        (self.inverse_activity - other.inverse_activity).abs() + (self.free - other.free).abs()
    }

    /// The pH at which this water holds `target` of CO2. 25 mg/L at 4 dKH and 25 °C: pH 6.73.
    ///
    /// # Errors
    /// A target that no pH between 3.5 and 10.5 gives.
    pub fn ph_for(&self, target: Concentration) -> Result<Ph, CarbonError> {
        let unreachable = CarbonError::Target(target);
        if !(target.mg_l() > 0.0 && target.mg_l().is_finite()) {
            return Err(unreachable);
        }
        // The balance of charge as a cubic in a, with c = k1·[CO2]:
        // a³ + alk/u·a² − (kw + c·free)·a − c·bound = 0.
        let c = target.mg_l() * 1e-3 / CO2_G_MOL * self.k1;
        let b = self.alkalinity;
        let (linear, constant) = (self.kw + c * self.free, c * self.bound);
        // One positive root (one change of sign). Convex to its right, where this start lies, so
        // Newton's steps fall towards it without passing it. The second start serves where there is
        // hardly any alkalinity.
        let mut a = (linear / b + sqrt(constant / b)).min(sqrt(linear) + cbrt(constant));
        for _ in 0..60 {
            let value = ((a + b) * a - linear) * a - constant;
            let step = value / ((3.0 * a + 2.0 * b) * a - linear);
            if step <= a * 1e-15 {
                break;
            }
            a -= step;
        }
        checked_ph(Ph::new(-log10(a))).map(Ph::new).map_err(|_| unreachable)
    }
}

/// The trade's product rule, `3·KH·10^(7−pH)` mg/L. Without activity or temperature: 11 % low at
/// 25 °C, 17 % low at 20 °C against [`CarbonateSystem::co2`].
///
/// # Errors
/// pH outside 3.5 to 10.5, KH outside 0 to 60 dKH.
pub fn product_rule(ph: Ph, kh: CarbonateHardness) -> Result<Concentration, CarbonError> {
    Ok(Concentration::from_mg_l(3.0 * checked_kh(kh)? * exp10(7.0 - checked_ph(ph)?)))
}
