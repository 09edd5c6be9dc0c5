//! How the light of one lamp spreads with horizontal distance: the inner integral over the
//! angle, tabulated once a lamp, and read back for one depth as a [`View`].
//!
//! For a receiver at depth d under a lamp at height h above the water, a ray that leaves the lamp
//! at θ (in air; θw in water, sin θ = n sin θw) covers on the plan
//!
//! ```text
//! s = d tan θw          from receiver to the point of entry
//! ρ = s + h tan θ       from receiver to the point of the lamp
//! P(θ) = ∫₀^θ cosᵐθ' sinθ' T(θ') τ(d/cos θw') dθ'
//! ```
//!
//! and P is what [`super::region`] integrates along edges. It is stored as γ = P/(1 − v²) over
//! v = 1/√(1 + ρ²/b²), which is smooth from straight above (v = 1) to the horizon (v = 0), with b
//! the plan distance over which the light falls off.

use super::optics::surface_transmittance;
use super::quadrature::{four_point, gauss4, interpolate};
use super::water::PathTable;

/// Steps of v. Four-point interpolation then keeps about 1e-8.
const RADIAL: usize = 128;
/// Steps of depth, even in asinh(d/nh): fine near the surface, where h sets the scale.
const DEPTHS: usize = 40;

/// What a lamp and the water between decide, without any place.
#[derive(Debug, Clone)]
pub(super) struct Beam {
    /// Height of the lamp above the water, m.
    pub height: f64,
    /// Exponent m of the beam.
    pub exponent: f64,
    /// Refractive index of the medium under the surface.
    pub index: f64,
    /// Absorption along the path.
    pub water: PathTable,
}

impl Beam {
    /// cosᵐ · T · τ at a cosine of the angle in air, for a receiver at `depth`.
    pub fn weight(&self, cos_air: f64, depth: f64) -> f64 {
        let intensity = libm::pow(cos_air, self.exponent);
        let sin_water_squared = (1.0 - cos_air * cos_air) / (self.index * self.index);
        let cos_water = (1.0 - sin_water_squared).sqrt();
        let entering = surface_transmittance(self.index, cos_air, cos_water);
        intensity * entering * libm::exp(self.water.log_over(depth / cos_water))
    }

    /// Share of b in h + d/n: a narrow beam falls off sooner than geometry alone.
    pub fn narrowing(&self) -> f64 {
        (3.0 / (self.exponent + 2.0)).min(1.0).sqrt()
    }

    /// P/ρ² in air, `height` below the lamp: (1 − cosᵐ⁺¹θ)/((m + 1)ρ²).
    pub fn in_air(&self, rho_squared: f64, height: f64) -> f64 {
        let ratio = rho_squared / (height * height);
        if ratio < 1e-12 {
            return 0.5 / (height * height);
        }
        let power = self.exponent + 1.0;
        -libm::expm1(-0.5 * power * libm::log1p(ratio)) / (power * rho_squared)
    }

    fn reach(&self, depth: f64) -> f64 {
        (self.height + depth / self.index) * self.narrowing()
    }

    /// γ at v = 0, 1/RADIAL, …, 1 for one depth.
    fn row(&self, depth: f64) -> [f64; RADIAL + 1] {
        let reach = self.reach(depth);
        let mut row = [0.0; RADIAL + 1];
        let narrowing = self.narrowing();
        // Straight above, P ≈ T τ ρ²/2(h + d/n)².
        row[RADIAL] = self.weight(1.0, depth) * 0.5 * narrowing * narrowing;
        let (mut cos, mut sum) = (1.0, 0.0);
        for i in (0..RADIAL).rev() {
            let v = i as f64 / RADIAL as f64;
            let flatter =
                if i == 0 { 0.0 } else { self.cosine_at(reach * (1.0 / (v * v) - 1.0).sqrt(), depth) };
            sum += gauss4(flatter, cos, |c| self.weight(c, depth));
            cos = flatter;
            row[i] = sum / (1.0 - v * v);
        }
        row
    }

    /// Cosine of the angle in air at plan distance ρ. ρ is concave in t = tan θ and below both
    /// (h + d/n)·t and h·t + d/√(n² − 1), so Newton's steps from there approach it from one side.
    pub fn cosine_at(&self, rho: f64, depth: f64) -> f64 {
        let n2 = self.index * self.index;
        let k = n2 - 1.0;
        let mut t = rho / (self.height + depth / self.index);
        if k > 0.0 {
            t = t.max((rho - depth / k.sqrt()) / self.height);
        }
        for _ in 0..60 {
            let root = (n2 + k * t * t).sqrt();
            let excess = rho - self.height * t - depth * t / root;
            let step = excess / (self.height + depth * n2 / (root * root * root));
            t += step;
            if step.abs() <= 1e-8 * t {
                break;
            }
        }
        1.0 / (1.0 + t * t).sqrt()
    }
}

/// The tabulated potential of one lamp for all depths of the tank.
#[derive(Debug, Clone)]
pub(super) struct Potential {
    beam: Beam,
    /// Steps per unit of asinh(d/nh); 0 where depth does not matter.
    per_depth: f64,
    /// γ divided by its value at v = 1.
    rows: Vec<[f64; RADIAL + 1]>,
    /// Logarithm of γ at v = 1.
    log_axis: Vec<f64>,
}

impl Potential {
    /// For receivers down to `deepest` metres under the surface.
    pub fn new(beam: Beam, deepest: f64) -> Self {
        let scale = beam.index * beam.height;
        let per_depth = DEPTHS as f64 / libm::asinh(deepest / scale);
        let mut made = Self { beam, per_depth, rows: Vec::new(), log_axis: Vec::new() };
        for step in 0..=DEPTHS {
            made.push_row(scale * libm::sinh(step as f64 / per_depth));
        }
        made
    }

    fn push_row(&mut self, depth: f64) {
        let mut row = self.beam.row(depth);
        let axis = row[RADIAL];
        for g in &mut row {
            *g /= axis;
        }
        self.rows.push(row);
        self.log_axis.push(libm::log(axis));
    }

    /// What a receiver at `depth` (0 to the deepest) sees.
    pub fn view(&self, depth: f64) -> View<'_> {
        let x = self.per_depth * libm::asinh(depth / (self.beam.index * self.beam.height));
        let (cell, weights) = four_point(x, DEPTHS);
        let mut gamma = [0.0; RADIAL + 1];
        for (row, weight) in self.rows[cell..cell + 4].iter().zip(weights) {
            for (g, r) in gamma.iter_mut().zip(row) {
                *g += weight * r;
            }
        }
        let axis = libm::exp(interpolate(&self.log_axis, x));
        for g in &mut gamma {
            *g *= axis;
        }
        let beam = &self.beam;
        let reach = beam.reach(depth);
        View {
            beam,
            depth,
            reach,
            k: beam.index * beam.index - 1.0,
            hn: beam.height * beam.index,
            per_reach_squared: 1.0 / (reach * reach),
            gamma,
        }
    }

    /// The lamp's beam.
    pub fn beam(&self) -> &Beam {
        &self.beam
    }
}

/// One lamp as seen from one depth.
#[derive(Debug, Clone)]
pub(super) struct View<'a> {
    pub beam: &'a Beam,
    /// Depth of the receiver, m.
    pub depth: f64,
    /// Plan distance over which the light falls off, m.
    pub reach: f64,
    /// n² − 1.
    pub k: f64,
    /// h·n.
    pub hn: f64,
    per_reach_squared: f64,
    gamma: [f64; RADIAL + 1],
}

impl View<'_> {
    /// P/ρ² at a squared plan distance ρ² on the lamp.
    #[inline]
    pub fn over_lamp(&self, rho_squared: f64) -> f64 {
        let v_squared = 1.0 / (1.0 + rho_squared * self.per_reach_squared);
        interpolate(&self.gamma, v_squared.sqrt() * RADIAL as f64) * v_squared * self.per_reach_squared
    }

    /// P/s² at a squared plan distance s² on the water surface.
    #[inline]
    pub fn over_surface(&self, s_squared: f64) -> f64 {
        let y = (1.0 - self.k * s_squared / (self.depth * self.depth)).max(1e-30).sqrt();
        let stretch = 1.0 + self.hn / (self.depth * y);
        self.over_lamp(s_squared * stretch * stretch) * stretch * stretch
    }

    /// Farthest plan distance from which refracted light can enter: d/√(n² − 1).
    pub fn farthest_entry(&self) -> f64 {
        if self.k > 0.0 { self.depth / self.k.sqrt() } else { f64::INFINITY }
    }

    /// s/ρ straight above, its largest.
    pub fn steepest_share(&self) -> f64 {
        self.depth / (self.depth + self.hn)
    }

    /// s/ρ, the share of the way that lies under water on the plan, by y² = 1 − (n² − 1) tan²θw.
    pub fn share_at(&self, y_squared: f64) -> f64 {
        let dy = self.depth * y_squared.max(0.0).sqrt();
        dy / (dy + self.hn)
    }

    /// s by y².
    pub fn entry_at(&self, y_squared: f64) -> f64 {
        self.depth * ((1.0 - y_squared) / self.k).max(0.0).sqrt()
    }

    /// y² by the share s/ρ; above 1 where no ray has so large a share.
    pub fn at_share(&self, share: f64) -> f64 {
        let y = share * self.hn / (self.depth * (1.0 - share));
        y * y
    }
}
