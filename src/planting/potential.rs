//! The potential of water that seeps through an uneven ground from one cell to another.
//!
//! Div(k grad u) = 0 on the cells, no flow through the edge of the ground, k uneven. Between its
//! two ends u has neither peak nor pit (the maximum principle holds for the five-point scheme), so
//! the cells below any level hang together, and so do those above.

use super::banded::Banded;
use super::ground::Raster;

/// How strongly the two ends are held, against a permeability of about 1.
const HELD: f64 = 1e4;
/// The natural logarithm of the permeability varies by this much up and down.
const UNEVEN: f64 = 3.5;
/// Width of the grain, in sides of a square as large as the ground, and in breadths of the ground.
const COARSE: f64 = 0.22;
const BROAD: f64 = 0.4;
/// The slant of the grain against the front glass, in radians, and how much longer than wide it is.
const SLANT: f64 = 0.8;
const DRAWN_OUT: f64 = 5.0;

/// The level of each of `cells`, in their order, rising from `source` to `sink`. `cells` hang
/// together and ascend.
pub(super) fn potential(raster: &Raster, cells: &[usize], source: usize, sink: usize, seed: u64) -> Vec<f64> {
    let numbers = Numbers::of(raster, cells);
    let side = (cells.len() as f64).sqrt();
    let width = raster.cell * (COARSE * side).min(BROAD * numbers.band as f64);
    let passes = |c: usize| libm::exp(UNEVEN * grain(raster, c, width, seed));
    let permeable: Vec<f64> = numbers.order.iter().map(|&c| passes(c)).collect();
    let mut matrix = Banded::new(cells.len(), numbers.band);
    let mut right = vec![0.0; cells.len()];
    for (row, &cell) in numbers.order.iter().enumerate() {
        if cell == source || cell == sink {
            matrix.add(row, row, HELD);
            right[row] = if cell == sink { HELD } else { 0.0 };
        }
        for column in raster.beside(cell).filter_map(|c| numbers.number(c)).filter(|n| *n < row) {
            let flow = (permeable[row] * permeable[column]).sqrt();
            matrix.add(row, row, flow);
            matrix.add(column, column, flow);
            matrix.add(row, column, -flow);
        }
    }
    let level = matrix.solve(right);
    cells.iter().map(|&c| numbers.number(c).map_or(0.0, |n| level[n])).collect()
}

const NONE: u32 = u32::MAX;

/// Numbers for the cells, row by row along the longer side, so that neighbours have near ones.
struct Numbers {
    order: Vec<usize>,
    of: Vec<u32>,
    band: usize,
}

impl Numbers {
    fn of(raster: &Raster, cells: &[usize]) -> Self {
        let nx = raster.nx;
        let span = |at: fn(usize, usize) -> usize| {
            let ends =
                cells.iter().fold((usize::MAX, 0), |(lo, hi), &c| (lo.min(at(c, nx)), hi.max(at(c, nx))));
            ends.1.saturating_sub(ends.0)
        };
        let mut order = cells.to_vec();
        if span(|c, nx| c % nx) >= span(|c, nx| c / nx) {
            order.sort_unstable_by_key(|&c| (c % nx, c / nx));
        }
        let mut of = vec![NONE; raster.cover.len()];
        order.iter().enumerate().for_each(|(number, &cell)| of[cell] = number as u32);
        let mut numbers = Self { order, of, band: 0 };
        let reach = |(number, &cell): (usize, &usize)| {
            raster
                .beside(cell)
                .filter_map(|c| numbers.number(c))
                .map(|n| n.abs_diff(number))
                .max()
                .unwrap_or(0)
        };
        numbers.band = numbers.order.iter().enumerate().map(reach).max().unwrap_or(0);
        numbers
    }

    fn number(&self, cell: usize) -> Option<usize> {
        Some(self.of[cell]).filter(|n| *n != NONE).map(|n| n as usize)
    }
}

/// Smooth noise between −1 and 1, by the place of the cell on the plan: chance at the knots of a
/// net `width` metres wide, a smooth blend between. The net lies aslant and is drawn out along
/// its slant, so the ground is grained like wood and level lines run aslant too.
fn grain(raster: &Raster, cell: usize, width: f64, seed: u64) -> f64 {
    let [x, y] = raster.at((cell % raster.nx) as f64 + 0.5, (cell / raster.nx) as f64 + 0.5);
    let slant = if chance(seed, 0, 0) > 0.0 { SLANT } else { -SLANT };
    let (sin, cos) = (libm::sin(slant), libm::cos(slant));
    let (u, v) = ((x * cos + y * sin) / (width * DRAWN_OUT), (y * cos - x * sin) / width);
    let (i, j) = (u.floor(), v.floor());
    let smooth = |t: f64| t * t * (3.0 - 2.0 * t);
    let (s, t) = (smooth(u - i), smooth(v - j));
    let knot = |di: f64, dj: f64| chance(seed, (i + di) as i64, (j + dj) as i64);
    let front = knot(0.0, 0.0) * (1.0 - s) + knot(1.0, 0.0) * s;
    let back = knot(0.0, 1.0) * (1.0 - s) + knot(1.0, 1.0) * s;
    front * (1.0 - t) + back * t
}

/// A number between −1 and 1 that looks like chance: the finaliser of SplitMix64 (Steele, Lea &
/// Flood 2014).
fn chance(seed: u64, i: i64, j: i64) -> f64 {
    let mut z = seed
        ^ (i as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15)
        ^ (j as u64).wrapping_mul(0xC2B2_AE3D_27D4_EB4F);
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    (z ^ (z >> 31)) as f64 / u64::MAX as f64 * 2.0 - 1.0
}
