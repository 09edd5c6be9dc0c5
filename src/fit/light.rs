//! The light over a zone as sorted cells, so that a whole zone is judged by a few look-ups.
//!
//! The suitability of a zone is the mean over its cells of `min(s(light), cap)`, where `cap`
//! is the least suitability of all other factors. Every piece of that mean is linear in the
//! light, so sorted values and their running sums give it exactly in O(log n).

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

    /// The cells judged by the trapezoid `[a, b, c, d]` (in mol m⁻² d⁻¹), capped at `cap`.
    pub(super) fn share(&self, [a, b, c, d]: [f64; 4], cap: f64) -> LightShare {
        if cap <= 0.0 {
            return LightShare { mean: 0.0, grows: 0.0 };
        }
        // Where the slopes meet the cap.
        let rise_end = a + cap * (b - a);
        let fall_start = d - cap * (d - c);
        let [i_a, i_rise, i_fall, i_d] = [a, rise_end, fall_start, d].map(|x| self.below(x));
        let (i_rise, i_fall) = (i_rise.max(i_a), i_fall.max(i_rise));
        let i_d = i_d.max(i_fall);
        let sum = |from: usize, to: usize| self.sums[to] - self.sums[from];
        let mut total = (i_fall - i_rise) as f64 * cap;
        if b > a {
            total += (sum(i_a, i_rise) - (i_rise - i_a) as f64 * a) / (b - a);
        }
        if d > c {
            total += ((i_d - i_fall) as f64 * d - sum(i_fall, i_d)) / (d - c);
        }
        let n = self.len() as f64;
        LightShare { mean: (total / n).clamp(0.0, cap), grows: self.grows_share([a, b, c, d], cap) }
    }

    fn grows_share(&self, [a, b, c, d]: [f64; 4], cap: f64) -> f64 {
        let half = super::Verdict::GROWS;
        if cap < half {
            return 0.0;
        }
        let (from, to) = (a + half * (b - a), d - half * (d - c));
        let first = self.below(from);
        let last = self.sorted.partition_point(|v| *v <= to);
        last.saturating_sub(first) as f64 / self.len() as f64
    }
}
