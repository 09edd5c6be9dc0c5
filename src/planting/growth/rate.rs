//! How fast a plant grows at a leaf's light: the curve of Jassby & Platt under a ceiling.
//!
//! Jassby & Platt 1976, Limnology and Oceanography 21:540–547: gross rate Pmax·tanh(α·I/Pmax), less
//! respiration. Here the rates are shares of the taxon's best growth:
//!
//! - light is in units of the row's lower optimum, at which the curve has come to [`NEAR_FULL`] of
//!   its ceiling (our reading of "from which more does not help");
//! - respiration is set so that the net rate is 0 at the row's least light;
//! - carbon and the envelopes lower the ceiling Pmax, the least of them (Liebig); so in dim light
//!   carbon matters little and in strong light it decides;
//! - temperature acts by the row's envelope, which says what it does to growth; a Q10 on top would
//!   count it twice;
//! - strong light does no harm here: above the optimum the curve is flat (`fit` judges excess).

use libm::tanh;

use crate::catalogue::{CarbonUse, Plant};
use crate::units::{Concentration, Fraction, Ppfd};

/// Argument of tanh at the row's lower optimum of light: tanh(1.8318) = 0.95 (our reading).
const NEAR_FULL: f64 = 1.831_780_823_064_823_2;
/// Respiration at most, as a share of the ceiling: keeps rows whose least and best light are nearly
/// equal from a step (our rule).
const MOST_RESPIRATION: f64 = 0.7;

/// Net rate Pmax·tanh(α·I/Pmax) − R of Jassby & Platt, in the unit of `p_max`.
pub fn jassby_platt(p_max: f64, alpha: f64, respiration: f64, light: Ppfd) -> f64 {
    let gross = if p_max > 0.0 { p_max * tanh(alpha * light.umol_m2_s() / p_max) } else { 0.0 };
    gross - respiration
}

/// The light response of a taxon.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Response {
    /// 1 ÷ the light, in µmol m⁻² s⁻¹, at which the slope at the origin would reach the best rate.
    alpha: f64,
    respiration: f64,
    /// What turns the net rate into a share of the best.
    scale: f64,
}

impl Response {
    /// From the least light and the light from which more does not help, both at the leaf.
    pub fn new(least: Ppfd, best: Ppfd) -> Self {
        let alpha = NEAR_FULL / best.umol_m2_s().max(1e-6);
        let respiration = tanh(alpha * least.umol_m2_s()).clamp(0.0, MOST_RESPIRATION);
        Self { alpha, respiration, scale: 1.0 / (tanh(NEAR_FULL) - respiration) }
    }

    /// Growth at a leaf's light under a ceiling from 0 to 1, as a share of the best: 1 at most,
    /// below 0 where respiration takes more than the leaf makes. Never falls with more light or a
    /// higher ceiling.
    pub fn pace(&self, light: Ppfd, ceiling: Fraction) -> f64 {
        let net = jassby_platt(ceiling.value().clamp(0.0, 1.0), self.alpha, self.respiration, light);
        (net * self.scale).min(1.0)
    }
}

/// Half-saturation in usable carbon, as a share of the way from the row's `co2Min` to its `co2Opt`.
/// The papers' half-saturations (75 to 170 µmol/L, Van, Haller & Bowes 1976) are of photosynthesis
/// at 30 °C and above the row's whole range; growth in tanks saturates lower, so this is a guess.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HalfSaturation(pub f64);

/// What carbon leaves of the best growth: 0 at and below the row's `co2Min`, a saturating curve
/// (Michaelis–Menten) above, 1 from the row's `co2Opt`. Plants that take carbon from the air are
/// never short of it.
pub fn carbon(plant: &Plant, usable: Concentration, half: HalfSaturation) -> Fraction {
    if plant.carbon_use == CarbonUse::Air {
        return Fraction::new(1.0);
    }
    let (least, best) = (plant.co2_min.mg_l(), plant.co2_opt.mg_l());
    let way = if best > least {
        (usable.mg_l() - least) / (best - least)
    } else {
        f64::from(u8::from(usable.mg_l() >= best))
    };
    let way = way.clamp(0.0, 1.0);
    Fraction::new(if way > 0.0 { way * (1.0 + half.0) / (way + half.0) } else { 0.0 })
}
