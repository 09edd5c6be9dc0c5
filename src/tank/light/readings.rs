//! PPFD readings: they set the output of a model, or stand alone.

use super::scene::{LightError, Scene};
use super::spectrum::PhotonBands;
use super::water::PathTransmission;
use crate::units::{Interval, Length, Ppfd};

/// A PPFD reading under water, the sensor held level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// From the left, from the front, above the floor of the glass.
    pub at: (Length, Length, Length),
    /// What the sensor showed; above 0.
    pub ppfd: Interval<Ppfd>,
}

/// Readings set beside a light field.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// By what the field is to be multiplied: least squares of the logarithms, so that a reading
    /// of half and one of double weigh the same.
    pub factor: f64,
    /// The factor if every reading is as low, and as high, as its range allows.
    pub factor_range: (f64, f64),
    /// For each reading, reading ÷ (factor × field): what the factor does not explain.
    pub residuals: Vec<f64>,
    /// What makes the readings doubtful, if anything; the worst of it.
    pub contradiction: Option<Contradiction>,
}

/// Readings this many times above or below the lamps, or each other, are not noise: something is
/// mis-stated.
const CONTRADICTION: f64 = 5.0;

/// A disagreement of more than five times.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Contradiction {
    /// All readings together are `factor` times what the lamps give.
    Lamps {
        /// Above 5 or below 1/5.
        factor: f64,
    },
    /// One reading is `ratio` times what the others and the lamps lead to expect.
    Reading {
        /// Counts from 1 in the order given.
        number: usize,
        /// Above 5 or below 1/5.
        ratio: f64,
    },
}

/// Why readings cannot be used.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ReadingError {
    /// There are none.
    #[error("there is no reading")]
    None,
    /// It was not taken in the tank.
    #[error("reading {number} was not taken under water within the glass")]
    Outside {
        /// Counts from 1 in the order given.
        number: usize,
    },
    /// It shows no light.
    #[error("reading {number} is {value}, expected a PPFD above 0")]
    Value {
        /// Counts from 1 in the order given.
        number: usize,
        /// As given.
        value: Ppfd,
    },
    /// The lamps send no light to where it was taken.
    #[error("the lamps send no light to reading {number}")]
    Dark {
        /// Counts from 1 in the order given.
        number: usize,
    },
    /// The tank has a value out of range.
    #[error(transparent)]
    Scene(#[from] LightError),
}

fn check(readings: &[Reading], scene: &Scene) -> Result<(), ReadingError> {
    if readings.is_empty() {
        return Err(ReadingError::None);
    }
    for (index, reading) in readings.iter().enumerate() {
        let number = index + 1;
        let (x, y, z) = reading.at;
        let inside = [(x, scene.length), (y, scene.depth), (z, scene.water_level)]
            .iter()
            .all(|(place, extent)| (0.0..=extent.m()).contains(&place.m()));
        if !inside {
            return Err(ReadingError::Outside { number });
        }
        let value = reading.ppfd.mid();
        if reading.ppfd.lo().umol_m2_s() < 0.0 || value.umol_m2_s() <= 0.0 {
            return Err(ReadingError::Value { number, value });
        }
    }
    Ok(())
}

impl Comparison {
    /// `field` is the PPFD at a point, before any scaling.
    pub(super) fn new(
        readings: &[Reading],
        scene: &Scene,
        field: impl Fn(Length, Length, Length) -> Ppfd,
    ) -> Result<Self, ReadingError> {
        check(readings, scene)?;
        let mut modelled = Vec::with_capacity(readings.len());
        for (index, &Reading { at: (x, y, z), .. }) in readings.iter().enumerate() {
            let light = field(x, y, z).umol_m2_s();
            if light <= 0.0 {
                return Err(ReadingError::Dark { number: index + 1 });
            }
            modelled.push(light);
        }
        let best = |shown: fn(Interval<Ppfd>) -> Ppfd| {
            let pairs = readings.iter().zip(&modelled);
            let sum: f64 = pairs.map(|(r, m)| libm::log(shown(r.ppfd).umol_m2_s() / m)).sum();
            libm::exp(sum / readings.len() as f64)
        };
        let factor = best(Interval::mid);
        let pairs = readings.iter().zip(&modelled);
        let residuals: Vec<f64> = pairs.map(|(r, m)| r.ppfd.mid().umol_m2_s() / (factor * m)).collect();
        Ok(Self {
            factor,
            factor_range: (best(Interval::lo), best(Interval::hi)),
            contradiction: contradiction(factor, &residuals),
            residuals,
        })
    }
}

fn contradiction(factor: f64, residuals: &[f64]) -> Option<Contradiction> {
    let apart = |ratio: f64| ratio.max(1.0 / ratio);
    let lamps = (apart(factor), Contradiction::Lamps { factor });
    let each = residuals
        .iter()
        .enumerate()
        .map(|(index, &ratio)| (apart(ratio), Contradiction::Reading { number: index + 1, ratio }));
    let worst = each.fold(lamps, |worst, next| if next.0 > worst.0 { next } else { worst });
    (worst.0 > CONTRADICTION).then_some(worst.1)
}

/// Readings without a lamp, interpolated.
#[derive(Debug, Clone)]
pub(super) struct Interpolation {
    extent: (f64, f64),
    water: PathTransmission,
    /// Place on the plan in metres; logarithm of the reading carried up to the surface.
    points: Vec<(f64, f64, f64)>,
}

/// Nearer than this, in metres, a reading speaks alone.
const SAME_PLACE: f64 = 1e-6;

impl Interpolation {
    pub fn new(readings: &[Reading], scene: &Scene, bands: &PhotonBands) -> Result<Self, ReadingError> {
        check(readings, scene)?;
        let water = PathTransmission::new(&scene.water, bands);
        let points = readings.iter().map(|reading| {
            let (x, y, z) = reading.at;
            let taken = water.over_m(scene.water_level.m() - z.m());
            (x.m(), y.m(), libm::log(reading.ppfd.mid().umol_m2_s() / taken))
        });
        Ok(Self { extent: (scene.length.m(), scene.depth.m()), points: points.collect(), water })
    }

    /// The light at a point, under water 0 outside the glass. In air it is the light just under
    /// the surface.
    pub fn at(&self, x: f64, y: f64, depth: f64) -> f64 {
        let inside = (0.0..=self.extent.0).contains(&x) && (0.0..=self.extent.1).contains(&y);
        if !inside && depth > 0.0 {
            return 0.0;
        }
        let (mut sum, mut weights) = (0.0, 0.0);
        for &(px, py, log) in &self.points {
            let squared = (x - px) * (x - px) + (y - py) * (y - py);
            let weight = 1.0 / squared.max(SAME_PLACE * SAME_PLACE);
            sum += weight * log;
            weights += weight;
        }
        libm::exp(sum / weights) * self.water.over_m(depth.max(0.0))
    }
}
