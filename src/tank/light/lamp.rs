//! A lamp: a level rectangle that shines down, evenly over its area.

use super::scene::LightError;
use super::spectrum::PhotonBands;
use crate::units::{Angle, Length, PhotonFlux, Quantity};

/// A rectangular lamp over the tank, its long and short sides along the glass. Uniform over its
/// area; its intensity falls with the angle θ from straight down as cosᵐθ. It may overhang the glass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lamp {
    /// Centre: from the left, from the front (inner corner of the glass).
    pub centre: (Length, Length),
    /// Size: left to right, front to back. Above zero.
    pub size: (Length, Length),
    /// Height of the emitting face above the water surface, at least 1 mm.
    pub above_water: Length,
    /// Full width of the beam at half intensity; above 0° and below 180°. 120° is m = 1, the
    /// even radiance of a bare diode or a matt screen.
    pub beam: Angle,
    /// Photons of 400–700 nm emitted, all of them downward.
    pub flux: PhotonFlux,
    /// Colour of the photons; matters only through the water's colour.
    pub bands: PhotonBands,
}

/// Nearer to the water than this is "under water": the face of a real lamp has a cover.
const NEAREST_M: f64 = 0.001;

impl Lamp {
    /// The exponent m of the beam: ln ½ / ln cos(half the beam angle).
    pub fn exponent(&self) -> f64 {
        libm::log(0.5) / libm::log(libm::cos(0.5 * self.beam.radians()))
    }

    /// Checks every number; `index` counts lamps from 0 and names the lamp in the error.
    ///
    /// # Errors
    /// A value that is not finite or outside the range its field states.
    pub fn check(&self, index: usize) -> Result<(), LightError> {
        let number = index + 1;
        let refuse = |what, value: String, expected| Err(LightError::Lamp { number, what, value, expected });
        let finite = [self.centre.0.m(), self.centre.1.m()].iter().all(|v| v.is_finite());
        if !finite {
            return refuse("position", format!("{}, {}", self.centre.0, self.centre.1), "two finite lengths");
        }
        for side in [self.size.0, self.size.1] {
            if !(side.m() > 0.0 && side.m().is_finite()) {
                return refuse("size", side.to_string(), "lengths above zero");
            }
        }
        if !(self.above_water.m() >= NEAREST_M && self.above_water.m().is_finite()) {
            return refuse("height above the water", self.above_water.to_string(), "at least 1 mm");
        }
        if !(self.beam.degrees() > 0.0 && self.beam.degrees() < 180.0) {
            return refuse("beam angle", self.beam.to_string(), "above 0° and below 180°");
        }
        if !(self.flux.base() >= 0.0 && self.flux.base().is_finite()) {
            return refuse("photon flux", self.flux.to_string(), "zero or more");
        }
        Ok(())
    }

    /// Whether light spreads from it as from `other`, wherever they hang and however strong.
    pub(super) fn shines_like(&self, other: &Self) -> bool {
        (self.above_water, self.beam, self.bands) == (other.above_water, other.beam, other.bands)
    }

    /// Photon flux per area of lamp times (m+1)/2π: the factor before the integral over directions.
    pub(super) fn strength(&self) -> f64 {
        let area = self.size.0.m() * self.size.1.m();
        self.flux.umol_s() / area * (self.exponent() + 1.0) / (2.0 * std::f64::consts::PI)
    }
}
