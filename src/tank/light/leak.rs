//! What the side walls let out.
//!
//! Under a flat surface no ray is flatter than the critical angle allows, so nearly every ray that
//! meets a wall is totally reflected. Only rays with a direction cosine towards the wall above
//! √(1 − 1/n²) leak: they came into the water more than 61.8° from the vertical. [`super::region`]
//! counts every wall as a perfect mirror; here the lost part is integrated and taken off. It is
//! about a hundredth of the light, so 12 angles suffice.

use super::optics::wall_reflectance;
use super::potential::View;
use super::quadrature::{gauss4, gauss12_nodes, interpolate};
use super::region::Rect;

const ANGLES: usize = 12;
const STEPS: usize = 32;

/// One angle of the rays that may leak, and what is lost up to a direction φ off the wall normal.
#[derive(Debug, Clone)]
struct Angle {
    cos_air: f64,
    /// Weight of the rule in the cosine.
    share: f64,
    tan_air: f64,
    tan_water: f64,
    /// Cosine and sine of the largest φ that leaks.
    cos_edge: f64,
    sin_edge: f64,
    /// For 1, 2, … reflections: ∫₀^φ (1 − Rⁱ) dφ' over sin φ / sin φ_edge.
    lost: Vec<[f64; STEPS + 1]>,
}

/// The loss for each angle, the same for every lamp and place.
#[derive(Debug, Clone)]
pub(super) struct Leak {
    angles: Vec<Angle>,
}

impl Leak {
    /// For up to `reflections` at one wall pair, and an index from 1.3 to 1.4: a ray then leaks
    /// through one pair of walls only, and some rays do.
    pub fn new(index: f64, reflections: usize) -> Self {
        let steepest = 2.0 - index * index;
        let angles = gauss12_nodes(0.0, steepest.sqrt())
            .map(|(cos, share)| Angle::new(index, cos, share, reflections));
        Self { angles: angles.into() }
    }

    /// Readies one lamp at one depth.
    pub fn for_view(&self, view: &View<'_>) -> Rays {
        std::array::from_fn(|i| {
            let angle = &self.angles[i];
            let s = view.depth * angle.tan_water;
            LeakRay {
                per_s: 1.0 / s,
                per_rho: 1.0 / (s + view.beam.height * angle.tan_air),
                weight: angle.share * view.beam.weight(angle.cos_air, view.depth),
            }
        })
    }

    /// What the x walls take from the light through `surface` after `reflections` on them; for the
    /// y walls swap the axes.
    pub fn lost(&self, rays: &Rays, lamp: &Rect, surface: &Rect, reflections: usize) -> f64 {
        let (lamp_x, surface_x) = if surface.x[0] + surface.x[1] > 0.0 {
            (lamp.x, surface.x)
        } else {
            ([-lamp.x[1], -lamp.x[0]], [-surface.x[1], -surface.x[0]])
        };
        let mut sum = 0.0;
        for (angle, ray) in self.angles.iter().zip(rays) {
            let least = (lamp_x[0] * ray.per_rho).max(surface_x[0] * ray.per_s).max(angle.cos_edge);
            let most = (lamp_x[1] * ray.per_rho).min(surface_x[1] * ray.per_s).min(1.0);
            if least >= most {
                continue;
            }
            let inner = (1.0 - most * most).sqrt();
            let outer = (1.0 - least * least).sqrt();
            let low = (lamp.y[0] * ray.per_rho).max(surface.y[0] * ray.per_s);
            let high = (lamp.y[1] * ray.per_rho).min(surface.y[1] * ray.per_s);
            let right = angle.lost_between(low.max(inner), high.min(outer), reflections);
            let left = angle.lost_between((-high).max(inner), (-low).min(outer), reflections);
            sum += ray.weight * (right + left);
        }
        sum
    }
}

/// All angles for one lamp and depth.
pub(super) type Rays = [LeakRay; ANGLES];

/// One angle for one lamp and depth.
#[derive(Debug, Clone, Copy)]
pub(super) struct LeakRay {
    per_s: f64,
    per_rho: f64,
    weight: f64,
}

impl Angle {
    fn new(index: f64, cos_air: f64, share: f64, reflections: usize) -> Self {
        let sin_air = (1.0 - cos_air * cos_air).sqrt();
        let sin_water = sin_air / index;
        let cos_edge = (1.0 - 1.0 / (index * index)).sqrt() / sin_water;
        let sin_edge = (1.0 - cos_edge * cos_edge).max(0.0).sqrt();
        let phi = |step: usize| libm::asin(sin_edge * step as f64 / STEPS as f64);
        let table = |count: usize| {
            let escaping =
                |phi: f64| 1.0 - wall_reflectance(index, sin_water * libm::cos(phi)).powi(count as i32);
            let mut row = [0.0; STEPS + 1];
            for i in 1..=STEPS {
                row[i] = row[i - 1] + gauss4(phi(i - 1), phi(i), escaping);
            }
            row
        };
        Self {
            cos_air,
            share,
            tan_air: sin_air / cos_air,
            tan_water: sin_water / (1.0 - sin_water * sin_water).sqrt(),
            cos_edge,
            sin_edge,
            lost: (1..=reflections).map(table).collect(),
        }
    }

    /// ∫ (1 − Rⁱ) dφ between two sines of φ, both ≥ 0; 0 when they run backwards.
    fn lost_between(&self, low: f64, high: f64, reflections: usize) -> f64 {
        if low >= high {
            return 0.0;
        }
        let at = |sine: f64| {
            interpolate(&self.lost[reflections - 1], (sine / self.sin_edge).min(1.0) * STEPS as f64)
        };
        at(high) - at(low)
    }
}
