//! The light field of a tank: what the rest of the program asks.

use super::lamp::Lamp;
use super::lamplight::{Lamplight, Layer};
use super::map::LightMap;
use super::readings::{Comparison, Interpolation, Reading, ReadingError};
use super::scene::{LightError, Scene};
use super::spectrum::PhotonBands;
use crate::units::{Length, Ppfd};

/// PPFD on a level leaf anywhere in the tank. Pure: the same input gives the same bits.
#[derive(Debug, Clone)]
pub struct LightField {
    scene: Scene,
    origin: Origin,
    factor: f64,
}

// One of them a tank, and never moved in a loop: a box would only add a step.
#[allow(clippy::large_enum_variant)]
#[derive(Debug, Clone)]
enum Origin {
    Lamps(Lamplight),
    Readings(Interpolation),
}

impl LightField {
    /// The field of these lamps; no lamp gives darkness.
    ///
    /// # Errors
    /// A lamp or the scene has a value out of range; see [`Lamp`] and [`Scene`].
    pub fn new(lamps: &[Lamp], scene: &Scene) -> Result<Self, LightError> {
        scene.check()?;
        Ok(Self { scene: *scene, origin: Origin::Lamps(Lamplight::new(lamps, scene)?), factor: 1.0 })
    }

    /// The field of readings alone, for a tank whose lamp is not known. Between readings the
    /// logarithm of the light is weighted by 1/distance² on the plan (Shepard 1968); from the depth
    /// of a reading to another only the absorption is followed, straight down, for light of the
    /// colour `bands`. How a beam spreads is not known, so the field is good near the readings and
    /// at their heights.
    ///
    /// # Errors
    /// No reading, a reading outside the water or without light, or a scene out of range.
    pub fn from_readings(
        readings: &[Reading],
        scene: &Scene,
        bands: &PhotonBands,
    ) -> Result<Self, ReadingError> {
        scene.check()?;
        let between = Interpolation::new(readings, scene, bands)?;
        Ok(Self { scene: *scene, origin: Origin::Readings(between), factor: 1.0 })
    }

    /// The same field with all light multiplied by `factor` (0 or more), as when readings set the
    /// output or a lamp is dimmed.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        Self { factor: self.factor * factor, ..self.clone() }
    }

    /// By what the light of the lamps (or the readings) is multiplied.
    pub fn factor(&self) -> f64 {
        self.factor
    }

    /// Sets readings beside this field: the factor that would fit them best, what is left over at
    /// each, and whether they contradict the lamps or each other.
    ///
    /// # Errors
    /// No reading, a reading outside the water or without light, or one where this field is dark.
    pub fn compare(&self, readings: &[Reading]) -> Result<Comparison, ReadingError> {
        Comparison::new(readings, &self.scene, |x, y, z| self.at(x, y, z))
    }

    /// The scene it was made for.
    pub fn scene(&self) -> &Scene {
        &self.scene
    }

    /// PPFD on a level surface facing up at `x` from the left, `y` from the front, `z` above the
    /// floor. At the water level and above it is the light in air, as a floating leaf gets it.
    /// Under water and outside the glass it is 0; below the floor it is the light at the floor.
    pub fn at(&self, x: Length, y: Length, z: Length) -> Ppfd {
        Ppfd::from_umol_m2_s(self.value(x.m(), y.m(), z.m(), &mut None))
    }

    /// The field over the plan at the height that `surface` gives for each point, in cells of
    /// about `cell` by `cell`, sampled at their centres. The PPFD is on the level even where the
    /// surface slopes.
    pub fn map(&self, surface: impl Fn(Length, Length) -> Length + Sync, cell: Length) -> LightMap {
        LightMap::sample(self.scene.length, self.scene.depth, cell, |x, y, layer| {
            self.value(x.m(), y.m(), surface(x, y).m(), layer)
        })
    }

    /// The light at a point; `layer` keeps what points of the same depth share.
    fn value<'a>(&'a self, x: f64, y: f64, z: f64, layer: &mut Option<Layer<'a>>) -> f64 {
        let depth = self.scene.water_level.m() - z.max(0.0);
        let light = match &self.origin {
            Origin::Readings(between) => between.at(x, y, depth),
            Origin::Lamps(lamps) if depth <= 0.0 => lamps.in_air(x, y, -depth),
            Origin::Lamps(lamps) => {
                let same = layer.take().filter(|known| known.depth.to_bits() == depth.to_bits());
                let known = layer.insert(same.unwrap_or_else(|| lamps.layer(depth)));
                lamps.in_water(x, y, known)
            }
        };
        self.factor * light
    }
}
