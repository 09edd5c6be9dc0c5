//! Light in the tank: the PPFD on a level leaf at any point, and maps of it.
//!
//! Rectangular lamps with a cosᵐ beam shine through a flat water surface: refraction and the
//! unpolarised Fresnel loss at the surface, absorption along each path by the photons' colour,
//! and mirror images for the side walls with the reflectance of a water-to-air boundary.
//!
//! How it is computed. Seen from a receiving point, a lamp fills a region of directions, and
//!
//! ```text
//! E = Φ/A · (m+1)/2π · ∬ cosᵐθ sinθ T(θ) τ(d/cosθw) dθ dφ        (θ in air, θw in water)
//! ```
//!
//! The inner integral over θ depends on direction only through the horizontal distance, so it is
//! tabulated once a lamp (`potential`); Green's theorem turns what is left into integrals along
//! the straight edges of the lamp and of the water surface (`region`). No grid of lamp points,
//! no sampling of directions. The little that leaves through the glass is taken off
//! afterwards (`leak`).
//!
//! Left out: waves and bubbles, algae and scale on the glass, scattering in the water, light
//! coming back from the bed or the room, the glass above the water line, the shade of hardscape
//! and plants, and hot spots of single diodes. A bed steeper than 41° could shade itself; that is
//! left out too, because refracted light is never flatter than that.

mod field;
mod lamp;
mod lamplight;
mod leak;
mod map;
mod optics;
mod potential;
mod quadrature;
mod readings;
mod region;
mod scene;
mod spectrum;
mod water;

pub use field::LightField;
pub use lamp::Lamp;
pub use map::{Cell, LightMap, Summary};
pub use optics::{Fresnel, fresnel};
pub use readings::{Comparison, Contradiction, Reading, ReadingError};
pub use scene::{LightError, Scene, WATER_INDEX, Walls};
pub use spectrum::{PhotonBands, Spectrum, SpectrumError, daily_integral, photon_flux_of_power};
pub use water::{PathTransmission, WaterColour, pure_water_absorption};
