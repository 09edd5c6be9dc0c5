//! The light over a zone as sorted cells, so that a whole zone is judged by a few look-ups.
//!
//! The suitability of a zone is the mean over its cells of `min(s(light), cap)`, where `cap`
//! is the least suitability of all other factors. Every piece of that mean is linear in the
//! light, so sorted values and their running sums give it exactly in O(log n). When all light is
//! multiplied by a gain, the trapezoid divided by the gain gives the same.

use crate::units::{Dli, Length, Quantity};

/// The cells of a zone at one height above the bed, equal in area.
#[derive(Debug, Clone, PartialEq)]
pub struct LightLevel {
    /// Height above the bed (or above the floor for hardscape and surface).
    pub height: Length,
    sorted: Vec<f64>,
    sums: Vec<f64>,
}

/// What the cells of a zone say together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LightShare {
    /// Mean over the cells of `min(s(light), cap)`.
    pub mean: f64,
    /// Share of the cells where that is 0.5 or more.
    pub grows: f64,
}

impl LightShare {
    pub(super) const DARK: Self = Self { mean: 0.0, grows: 0.0 };
}

impl LightLevel {
    /// From the daily light of each cell; `None` without cells.
    pub fn new(height: Length, cells: &[Dli]) -> Option<Self> {
        let mut sorted: Vec<f64> = cells.iter().map(|d| d.base()).collect();
        sorted.sort_by(f64::total_cmp);
        let mut sums = Vec::with_capacity(sorted.len() + 1);
        let mut sum = 0.0;
        sums.push(sum);
        for value in &sorted {
            sum += value;
            sums.push(sum);
        }
        (!sorted.is_empty()).then_some(Self { height, sorted, sums })
    }

    /// How many cells.
    pub fn len(&self) -> usize {
        self.sorted.len()
    }

    /// Never true: a level has at least one cell.
    pub fn is_empty(&self) -> bool {
        self.sorted.is_empty()
    }

    /// The daily light of the cells, from the dimmest to the brightest.
    pub fn cells(&self) -> impl Iterator<Item = Dli> + '_ {
        self.sorted.iter().map(|v| Dli::from_mol_m2_d(*v))
    }

    /// The mean daily light.
    pub fn mean(&self) -> Dli {
        Dli::from_mol_m2_d(self.sums[self.len()] / self.len() as f64)
    }

    /// The light that a share of the cells stays under, 0 to 1, nearest rank.
    pub fn percentile(&self, share: f64) -> Dli {
        let rank = (share * self.len() as f64).ceil().max(1.0) as usize;
        Dli::from_mol_m2_d(self.sorted[rank.min(self.len()) - 1])
    }

    fn below(&self, x: f64) -> usize {
        self.sorted.partition_point(|v| *v < x)
    }

    fn up_to(&self, x: f64) -> usize {
        self.sorted.partition_point(|v| *v <= x)
    }

    fn dimmest(&self) -> f64 {
        self.sorted[0]
    }

    fn brightest(&self) -> f64 {
        self.sorted[self.sorted.len() - 1]
    }

    /// The cells under all their light times `gain`, judged by the trapezoid `[a, b, c, d]` (in
    /// mol m⁻² d⁻¹), capped at `cap`.
    pub(super) fn share(&self, trapezoid: [f64; 4], cap: f64, gain: f64) -> LightShare {
        // Without light nothing grows: no plant of the catalogue lives in the dark.
        if cap <= 0.0 || gain <= 0.0 {
            return LightShare::DARK;
        }
        let trapezoid = trapezoid.map(|v| v / gain);
        LightShare { mean: self.mean_under(trapezoid, cap), grows: self.grows_share(trapezoid, cap) }
    }

    fn mean_under(&self, [a, b, c, d]: [f64; 4], cap: f64) -> f64 {
        // Where the slopes meet the cap.
        let (rise_end, fall_start) = (a + cap * (b - a), d - cap * (d - c));
        let (dark, bright) = (self.dimmest(), self.brightest());
        if dark >= rise_end && bright <= fall_start {
            return cap;
        }
        if bright < a || dark > d {
            return 0.0;
        }
        let [i_a, i_rise, i_d] = [a, rise_end, d].map(|x| self.below(x));
        let i_rise = i_rise.max(i_a);
        let i_fall = self.up_to(fall_start).max(i_rise);
        let i_d = i_d.max(i_fall);
        let sum = |from: usize, to: usize| self.sums[to] - self.sums[from];
        let mut total = (i_fall - i_rise) as f64 * cap;
        if b > a {
            total += (sum(i_a, i_rise) - (i_rise - i_a) as f64 * a) / (b - a);
        }
        if d > c {
            total += ((i_d - i_fall) as f64 * d - sum(i_fall, i_d)) / (d - c);
        }
        (total / self.len() as f64).clamp(0.0, cap)
    }

    fn grows_share(&self, [a, b, c, d]: [f64; 4], cap: f64) -> f64 {
        let half = super::Verdict::GROWS;
        if cap < half {
            return 0.0;
        }
        let (from, to) = (a + half * (b - a), d - half * (d - c));
        if self.dimmest() >= from && self.brightest() <= to {
            return 1.0;
        }
        let first = self.below(from);
        let last = self.up_to(to);
        last.saturating_sub(first) as f64 / self.len() as f64
    }

    /// The least mean under the cap `least` and the greatest under the cap `greatest`, over all
    /// gains from `lo` to `hi`. Exact: while every cell is on the rising side or the plateau the
    /// mean rises with the gain (likewise it falls on the other side); else it is linear in the
    /// gain between the gains at which a cell passes a corner, so its extremes are among those.
    pub(super) fn mean_bounds(
        &self,
        trapezoid: [f64; 4],
        (least, greatest): (f64, f64),
        (lo, hi): (f64, f64),
    ) -> (f64, f64) {
        let mean = |cap: f64, gain: f64| self.share(trapezoid, cap, gain).mean;
        let extremes = |cap: f64| {
            let [a, b, c, d] = trapezoid;
            let (rise_end, fall_start) = (a + cap * (b - a), d - cap * (d - c));
            if hi * self.brightest() <= fall_start {
                return (mean(cap, lo), mean(cap, hi));
            }
            if lo * self.dimmest() >= rise_end {
                return (mean(cap, hi), mean(cap, lo));
            }
            self.corner_gains([a, rise_end, fall_start, d], (lo, hi))
                .map(|gain| mean(cap, gain))
                .fold((f64::INFINITY, 0.0), |(least, most), m| (m.min(least), m.max(most)))
        };
        if least.to_bits() == greatest.to_bits() {
            extremes(least)
        } else {
            (extremes(least).0, extremes(greatest).1)
        }
    }

    /// The gains within `lo..=hi` at which a cell passes a corner, the ends included; each with a
    /// neighbour to either side, for envelopes with a step.
    fn corner_gains(&self, corners: [f64; 4], (lo, hi): (f64, f64)) -> impl Iterator<Item = f64> + '_ {
        const NEXT: f64 = 1e-12;
        let of_corner = move |corner: f64| {
            let (first, last) = (self.below(corner / hi), self.up_to(corner / lo));
            self.sorted[first..last.max(first)].iter().map(move |cell| corner / cell)
        };
        let near = |gain: f64| [gain * (1.0 - NEXT), gain, gain * (1.0 + NEXT)];
        corners
            .into_iter()
            .flat_map(of_corner)
            .flat_map(near)
            .filter(move |gain| (lo..=hi).contains(gain))
            .chain([lo, hi])
    }
}
