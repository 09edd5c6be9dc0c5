//! What water takes from the light on its way: pure water and dissolved organic colour.
//!
//! The attenuation of PAR is not one coefficient: red goes first in clear water, blue first in
//! stained water, and what is left goes further. So the room carries the transmission over a path
//! for the lamp's own spectrum and needs no single K. Scattering is left out: tank water is clear
//! of particles, or it is a case for the filter.

use super::quadrature::interpolate;
use super::scene::LightError;
use super::spectrum::PhotonBands;
use crate::tank::file::Tint;
use crate::units::{Attenuation, Fraction, Length};

/// Wavelengths at 400, 405, … 700 nm.
const KNOTS: usize = 61;

/// Absorption of pure water at the knots, natural logarithm, per metre. Pope & Fry 1997, Applied
/// Optics 36:8710–8723, table 3 (integrating cavity, 22 °C). A constant of nature, not a setting:
/// hence code rather than a data file.
#[rustfmt::skip]
const PURE_WATER: [f64; KNOTS] = [
    0.00663, 0.0053, 0.00473, 0.00444, 0.00454, 0.00478, 0.00495, 0.0053, 0.00635, 0.00751, 0.00922,
    0.00962, 0.00979, 0.01011, 0.0106, 0.0114, 0.0127, 0.0136, 0.015, 0.0173, 0.0204, 0.0256, 0.0325,
    0.0396, 0.0409, 0.0417, 0.0434, 0.0452, 0.0474, 0.0511, 0.0565, 0.0596, 0.0619, 0.0642, 0.0695,
    0.0772, 0.0896, 0.11, 0.1351, 0.1672, 0.2224, 0.2577, 0.2644, 0.2678, 0.2755, 0.2834, 0.2916,
    0.3012, 0.3108, 0.325, 0.34, 0.371, 0.41, 0.429, 0.439, 0.448, 0.465, 0.486, 0.516, 0.559, 0.624,
];

/// Absorption of pure water at a wavelength, linear between the tabulated points; `None` outside
/// 400–700 nm.
pub fn pure_water_absorption(wavelength_nm: f64) -> Option<Attenuation> {
    if !(400.0..=700.0).contains(&wavelength_nm) {
        return None;
    }
    let x = (wavelength_nm - 400.0) / 5.0;
    let cell = (x as usize).min(KNOTS - 2);
    let t = x - cell as f64;
    Some(Attenuation::from_per_m(PURE_WATER[cell] * (1.0 - t) + PURE_WATER[cell + 1] * t))
}

/// What the water absorbs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WaterColour {
    /// Pure water and dissolved organic matter with a(λ) = a440·exp(−slope·(λ − 440 nm)).
    Stained {
        /// Absorption of the dissolved matter at 440 nm; 0 or more.
        a440: Attenuation,
        /// Slope per nm, 0 to 0.1.
        slope_per_nm: f64,
    },
    /// One coefficient for every colour, for a measured K or a worked example.
    Grey(Attenuation),
}

/// Slope of dissolved organic colour in fresh water, per nm: Markager & Vincent 2000 (0.0171).
const FRESHWATER_SLOPE: f64 = 0.017;

impl WaterColour {
    /// Pure water.
    pub const CLEAR: Self =
        Self::Stained { a440: Attenuation::from_per_m(0.0), slope_per_nm: FRESHWATER_SLOPE };

    /// The water a tint of the tank file stands for: a440 of 0, 1, 5 and 10 /m. Over 0.4 m that
    /// takes 0.11, 0.41, 1.29 and 2.0 /m on average from a white LED of 6600 K (CIE LED-B5).
    pub const fn of_tint(tint: Tint) -> Self {
        Self::stained(Attenuation::from_per_m(match tint {
            Tint::Clear => 0.0,
            Tint::Faint => 1.0,
            Tint::Tea => 5.0,
            Tint::Dark => 10.0,
        }))
    }

    /// Water with the organic colour of fresh water.
    pub const fn stained(a440: Attenuation) -> Self {
        Self::Stained { a440, slope_per_nm: FRESHWATER_SLOPE }
    }

    pub(super) fn check(&self) -> Result<(), LightError> {
        let (a, slope) = match *self {
            Self::Stained { a440, slope_per_nm } => (a440, slope_per_nm),
            Self::Grey(k) => (k, 0.0),
        };
        if !(a.per_m() >= 0.0 && a.per_m().is_finite()) {
            let (what, expected) = ("absorption of the water", "zero or more");
            return Err(LightError::Scene { what, value: a.to_string(), expected });
        }
        if !(0.0..=0.1).contains(&slope) {
            let (what, expected) = ("slope of the water's colour", "0 to 0.1 per nm");
            return Err(LightError::Scene { what, value: slope.to_string(), expected });
        }
        Ok(())
    }

    /// Absorption at each knot, per metre.
    fn spectrum(&self) -> [f64; KNOTS] {
        match *self {
            Self::Grey(k) => [k.per_m(); KNOTS],
            Self::Stained { a440, slope_per_nm } => std::array::from_fn(|i| {
                let from_440 = 5.0 * i as f64 - 40.0;
                PURE_WATER[i] + a440.per_m() * libm::exp(-slope_per_nm * from_440)
            }),
        }
    }
}

/// Share of a lamp's photons left after a path through the water: the photon-weighted mean of
/// exp(−a(λ)·path), trapezoid over 5 nm with photons even within each 20 nm band.
///
/// For LED-B5 over 0.4 m: 0.95522 clear, 0.59701 at a440 = 5 /m, 0.44985 at 10 /m.
#[derive(Debug, Clone, PartialEq)]
pub struct PathTransmission {
    absorption: [f64; KNOTS],
    photons: [f64; KNOTS],
}

impl PathTransmission {
    /// For a lamp's spectrum in this water.
    pub fn new(water: &WaterColour, bands: &PhotonBands) -> Self {
        let mut photons = [0.0; KNOTS];
        for (band, (_, fraction)) in bands.iter().enumerate() {
            for (step, weight) in [0.125, 0.25, 0.25, 0.25, 0.125].into_iter().enumerate() {
                photons[4 * band + step] += weight * fraction.value();
            }
        }
        Self { absorption: water.spectrum(), photons }
    }

    /// The share left after `path`.
    pub fn over(&self, path: Length) -> Fraction {
        Fraction::new(self.over_m(path.m()))
    }

    /// The single coefficient that would take as much over this path; at a path of 0 the mean
    /// absorption.
    pub fn mean_attenuation(&self, path: Length) -> Attenuation {
        let k = if path.m() > 0.0 {
            -libm::log(self.over_m(path.m())) / path.m()
        } else {
            self.absorption.iter().zip(&self.photons).map(|(a, w)| a * w).sum()
        };
        Attenuation::from_per_m(k)
    }

    pub(super) fn over_m(&self, path: f64) -> f64 {
        self.absorption.iter().zip(&self.photons).map(|(a, w)| w * libm::exp(-a * path)).sum()
    }
}

/// Steps of [`PathTable`]: the logarithm is so smooth that 64 keep 1e-8.
const STEPS: usize = 64;

/// Less is no light at all, and has no logarithm.
const DARKEST: f64 = 1e-250;

/// [`PathTransmission`] tabulated up to a longest path, for the inner loops.
#[derive(Debug, Clone)]
pub(super) struct PathTable {
    steps_per_m: f64,
    log: [f64; STEPS + 1],
}

impl PathTable {
    pub(super) fn new(water: &PathTransmission, longest: f64) -> Self {
        let steps_per_m = STEPS as f64 / longest;
        let log = std::array::from_fn(|i| libm::log(water.over_m(i as f64 / steps_per_m).max(DARKEST)));
        Self { steps_per_m, log }
    }

    /// Natural logarithm of the share left after `path` metres.
    pub(super) fn log_over(&self, path: f64) -> f64 {
        interpolate(&self.log, path * self.steps_per_m)
    }
}
