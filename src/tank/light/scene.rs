//! What the light meets on its way: glass, water, lid, floating plants; and what is refused.

use super::water::WaterColour;
use crate::units::{Fraction, Length};

/// What a side wall does to light that meets it from the water.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Walls {
    /// Clear glass with air behind it: Fresnel reflectance, total beyond the critical angle.
    Glass,
    /// Nothing comes back, as from a wall covered in matt black or in algae.
    Black,
}

/// The tank as the light sees it. The origin is the inner front left corner of the glass on the
/// floor; x runs to the right, y to the back, z up; inner dimensions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scene {
    /// Inner length, left to right.
    pub length: Length,
    /// Inner depth, front to back.
    pub depth: Length,
    /// Height of the water surface above the floor.
    pub water_level: Length,
    /// What the water absorbs.
    pub water: WaterColour,
    /// Refractive index of the water, 1.3 to 1.4; or 1 for a tank full of air, whose walls let all
    /// light out.
    pub refractive_index: f64,
    /// The side walls.
    pub walls: Walls,
    /// Transmittance of a lid or cover glass between lamp and water, taken as the same at all
    /// angles; 1 for none.
    pub lid: Fraction,
    /// Share of the surface closed by floating plants, taken as spread evenly.
    pub floating: Fraction,
}

/// Refractive index of fresh water for visible light at room temperature (1.333 at 589 nm, 20 °C).
pub const WATER_INDEX: f64 = 1.333;

impl Scene {
    /// An open glass tank of clear water.
    pub fn open(length: Length, depth: Length, water_level: Length) -> Self {
        Self {
            length,
            depth,
            water_level,
            water: WaterColour::CLEAR,
            refractive_index: WATER_INDEX,
            walls: Walls::Glass,
            lid: Fraction::new(1.0),
            floating: Fraction::new(0.0),
        }
    }

    /// Checks every number.
    ///
    /// # Errors
    /// A value that is not finite or outside the range its field states.
    pub fn check(&self) -> Result<(), LightError> {
        let refuse = |what, value: String, expected| Err(LightError::Scene { what, value, expected });
        for (what, length) in
            [("length", self.length), ("depth", self.depth), ("water level", self.water_level)]
        {
            if !(length.m() > 0.0 && length.m().is_finite()) {
                return refuse(what, length.to_string(), "a length above zero");
            }
        }
        let air = self.refractive_index.to_bits() == 1f64.to_bits();
        if !air && !(1.3..=1.4).contains(&self.refractive_index) {
            return refuse("refractive index", self.refractive_index.to_string(), "1, or 1.3 to 1.4");
        }
        for (what, share) in [("lid transmittance", self.lid), ("floating cover", self.floating)] {
            if !(0.0..=1.0).contains(&share.value()) {
                return refuse(what, share.to_string(), "0 to 1");
            }
        }
        self.water.check()
    }
}

/// Why a light field cannot be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum LightError {
    /// A lamp has a value out of range.
    #[error("lamp {number}: {what} is {value}, expected {expected}")]
    Lamp {
        /// Counts from 1 in the order given.
        number: usize,
        /// The value that is wrong.
        what: &'static str,
        /// As given.
        value: String,
        /// The range.
        expected: &'static str,
    },
    /// The tank has a value out of range.
    #[error("{what} is {value}, expected {expected}")]
    Scene {
        /// The value that is wrong.
        what: &'static str,
        /// As given.
        value: String,
        /// The range.
        expected: &'static str,
    },
}
