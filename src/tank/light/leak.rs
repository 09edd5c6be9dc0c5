//! What the side walls let out.
//!
//! Under a flat surface no ray is flatter than the critical angle allows, so nearly every ray that
//! meets a wall is totally reflected. Only rays with a direction cosine towards the wall above
//! √(1 − 1/n²) leak: they came into the water more than 61.8° from the vertical. [`super::region`]
//! counts every wall as a perfect mirror; here the lost part is integrated and taken off. It is
//! about a hundredth of the light, and all of it where only flat rays arrive.
//!
//! For an angle in air with cosine c, the rays within φ_edge of the wall normal leak. The share
//! lost up to φ is the same for all lamps and places, and is tabulated over c and sin φ/sin φ_edge.

use super::optics::{surface_transmittance, wall_reflectance};
use super::potential::{Beam, View};
use super::quadrature::{gauss4, gauss6, interpolate};
use super::region::Rect;

/// Steps of the cosine in the table of losses, and of sin φ/sin φ_edge.
const COSINES: usize = 32;
const STEPS: usize = 64;
/// Steps of the cosine for what a lamp sends at flat angles.
const FLAT: usize = 12;

/// The loss, the same for every lamp and place.
#[derive(Debug, Clone)]
pub(super) struct Leak {
    index: f64,
    /// Sine of the critical angle's complement, √(1 − 1/n²).
    critical_sine: f64,
    /// Cosine in air of the steepest rays that leak.
    steepest: f64,
    /// tan θw and tan θ of those rays.
    steepest_tangents: (f64, f64),
    /// Least cosine of φ of any ray that leaks.
    least_cos: f64,
    /// For 1, 2, … reflections, over cosine and φ: ∫₀^φ (1 − Rⁱ) dφ' / sin²φ_edge, which is smooth
    /// even where the leak begins.
    lost: Vec<[[f64; STEPS + 1]; COSINES + 1]>,
}

/// cosᵐ·T of one lamp at the tabulated cosines.
pub(super) type FlatRays = [f64; FLAT + 1];

impl Leak {
    /// For up to `reflections` at one wall pair, and an index from 1.3 to 1.4: a ray then leaks
    /// through one pair of walls only, and some rays do.
    pub fn new(index: f64, reflections: usize) -> Self {
        let n2 = index * index;
        let steepest = (2.0 - n2).sqrt();
        let mut leak = Self {
            index,
            critical_sine: (1.0 - 1.0 / n2).sqrt(),
            steepest,
            steepest_tangents: ((n2 - 1.0).sqrt(), (n2 - 1.0).sqrt() / steepest),
            least_cos: (n2 - 1.0).sqrt(),
            lost: Vec::new(),
        };
        leak.lost = (1..=reflections).map(|count| leak.table(count as i32)).collect();
        leak
    }

    fn cosine(&self, step: usize) -> f64 {
        // At the last step nothing leaks and 0/0 would follow; just before it the limit stands.
        self.steepest * (step as f64 / COSINES as f64).min(1.0 - 1e-5)
    }

    fn table(&self, reflections: i32) -> [[f64; STEPS + 1]; COSINES + 1] {
        std::array::from_fn(|step| {
            let (sin_water, sin_edge) = self.edge(self.cosine(step));
            let phi = |i: usize| libm::asin(sin_edge * i as f64 / STEPS as f64);
            let escaping =
                |phi: f64| 1.0 - wall_reflectance(self.index, sin_water * libm::cos(phi)).powi(reflections);
            let mut row = [0.0; STEPS + 1];
            for i in 1..=STEPS {
                row[i] = row[i - 1] + gauss4(phi(i - 1), phi(i), escaping) / (sin_edge * sin_edge);
            }
            row
        })
    }

    /// Sine of the angle in water, and sine of the largest φ that leaks.
    fn edge(&self, cos_air: f64) -> (f64, f64) {
        let n2 = self.index * self.index;
        let sin_water_squared = (1.0 - cos_air * cos_air) / n2;
        let cos_edge_squared = (1.0 - 1.0 / n2) / sin_water_squared;
        (sin_water_squared.sqrt(), (1.0 - cos_edge_squared).max(0.0).sqrt())
    }

    /// Readies a lamp: what its beam and the water surface do to flat rays.
    pub fn flat_rays(&self, beam: &Beam) -> FlatRays {
        std::array::from_fn(|step| {
            let cos = self.steepest * step as f64 / FLAT as f64;
            let cos_water = (1.0 - (1.0 - cos * cos) / (self.index * self.index)).sqrt();
            libm::pow(cos, beam.exponent) * surface_transmittance(self.index, cos, cos_water)
        })
    }

    /// The same with the absorption down to one depth.
    pub fn at_depth(&self, rays: &FlatRays, view: &View<'_>) -> FlatRays {
        std::array::from_fn(|step| {
            let cos = self.steepest * step as f64 / FLAT as f64;
            let cos_water = (1.0 - (1.0 - cos * cos) / (self.index * self.index)).sqrt();
            rays[step] * libm::exp(view.beam.water.log_over(view.depth / cos_water))
        })
    }

    /// What the x walls take from the light through `surface` after `reflections` on them; for the
    /// y walls swap the axes.
    pub fn lost(
        &self,
        view: &View<'_>,
        rays: &FlatRays,
        lamp: &Rect,
        surface: &Rect,
        reflections: usize,
    ) -> f64 {
        let facing = |r: &Rect| if surface.x[0] + surface.x[1] > 0.0 { *r } else { r.flipped() };
        let (lamp, surface) = (facing(lamp), facing(surface));
        let (low, high) = self.cosines(view, &lamp, &surface);
        if low >= high {
            return 0.0;
        }
        let table = &self.lost[reflections - 1];
        gauss6(low, high, |cos| {
            let share = cos / self.steepest;
            let beam = interpolate(rays, share * FLAT as f64);
            beam * self.lost_at(view, cos, &between_rows(table, share), (&lamp, &surface))
        })
    }

    /// The cosines in air between which rays through the surface and towards the lamp may leak.
    fn cosines(&self, view: &View<'_>, lamp: &Rect, surface: &Rect) -> (f64, f64) {
        let (tan_water, tan_air) = self.steepest_tangents;
        let nearest = length(lamp.x[0].max(0.0), lamp.y[0].max(-lamp.y[1]).max(0.0));
        let farthest = lamp.x[1] / self.least_cos;
        let steepest_rho = view.depth * tan_water + view.beam.height * tan_air;
        if farthest <= steepest_rho || surface.x[0] >= view.farthest_entry() {
            return (0.0, 0.0);
        }
        let corner = length(lamp.x[1], lamp.y[1].max(-lamp.y[0]));
        let mut high = self.steepest;
        if nearest > steepest_rho {
            high = view.beam.cosine_at(nearest, view.depth);
        }
        let tan = surface.x[0].max(0.0) / view.depth;
        if tan > tan_water {
            high = high.min(((1.0 - view.k * tan * tan) / (1.0 + tan * tan)).max(0.0).sqrt());
        }
        (view.beam.cosine_at(farthest.min(corner), view.depth), high)
    }

    /// ∫ (1 − Rⁱ) dφ at one cosine over the directions through the surface and towards the lamp.
    fn lost_at(
        &self,
        view: &View<'_>,
        cos: f64,
        lost: &impl Fn(f64) -> f64,
        (lamp, surface): (&Rect, &Rect),
    ) -> f64 {
        let sin2_water = (1.0 - cos * cos) / (self.index * self.index);
        let (sin_water, cos_water) = (sin2_water.sqrt(), (1.0 - sin2_water).sqrt());
        // s = d sin/cos_water and ρ = s + h n sin/cos, by one division for both.
        let both = view.depth * cos + view.hn * cos_water;
        let part = 1.0 / (sin_water * both);
        let (per_rho, per_sin) = (cos_water * cos * part, both * part);
        let per_s = cos_water * per_sin / view.depth;
        let cos_edge = self.critical_sine * per_sin;
        let least = (lamp.x[0] * per_rho).max(surface.x[0] * per_s).max(cos_edge);
        let most = (lamp.x[1] * per_rho).min(surface.x[1] * per_s).min(1.0);
        if least >= most {
            return 0.0;
        }
        let sin_edge = (1.0 - cos_edge * cos_edge).sqrt();
        let per_edge = 1.0 / sin_edge;
        let low = (lamp.y[0] * per_rho).max(surface.y[0] * per_s) * per_edge;
        let high = (lamp.y[1] * per_rho).min(surface.y[1] * per_s) * per_edge;
        let between = |limit: f64| {
            let within = |sine: f64| lost(sine.abs().min(limit)).copysign(sine);
            within(high) - within(low)
        };
        let mut sum = between((1.0 - least * least).sqrt() * per_edge);
        if most < 1.0 {
            sum -= between((1.0 - most * most).sqrt() * per_edge);
        }
        sum.max(0.0) * sin_edge * sin_edge
    }
}

fn length(a: f64, b: f64) -> f64 {
    (a * a + b * b).sqrt()
}

/// The losses at one cosine, over sin φ/sin φ_edge; linear in both, for a small correction.
fn between_rows(table: &[[f64; STEPS + 1]; COSINES + 1], share: f64) -> impl Fn(f64) -> f64 {
    let split = |share: f64, steps: usize| {
        let place = share * steps as f64;
        let cell = (place as usize).min(steps - 1);
        (cell, place - cell as f64)
    };
    let (row, down) = split(share, COSINES);
    move |sine| {
        let (column, across) = split(sine, STEPS);
        let along = |r: &[f64; STEPS + 1]| r[column] + across * (r[column + 1] - r[column]);
        let (upper, lower) = (along(&table[row]), along(&table[row + 1]));
        upper + down * (lower - upper)
    }
}
