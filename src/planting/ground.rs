//! The ground of a zone as a grid of square cells, each with the share of it that belongs to the
//! zone. Exact along x; across, eight lines a cell.

use crate::tank::file::Spot;
use crate::tank::outline::Outline;
use crate::units::Length;

/// Lines on which a row of cells is measured.
const LINES: usize = 8;
/// Cells over the ground, about.
const CELLS: f64 = 2400.0;
/// Where something thin stands on the ground, a cell is this much finer than it, down to half its side:
/// what is thinner than a cell would be planted over.
const THIN: f64 = 0.8;
/// Sides of a cell, in metres: the finest and the coarsest.
const FINEST: f64 = 0.0005;
const COARSEST: f64 = 0.015;

/// A grid over the ground. Lengths in metres.
#[derive(Debug, Clone)]
pub(super) struct Raster {
    /// The corner at the left in front.
    pub origin: [f64; 2],
    /// The side of a cell.
    pub cell: f64,
    /// Cells from left to right.
    pub nx: usize,
    /// Cells from front to back.
    pub ny: usize,
    /// Share of each cell that is ground, row by row from the front.
    pub cover: Vec<f64>,
}

impl Raster {
    /// The ground inside any of `land` and outside all of `blocked`; `None` when there is none.
    pub fn of(land: &[&Outline], blocked: &[&Outline]) -> Option<Self> {
        let (lo, hi) = extent(land)?;
        let (width, depth) = (hi[0] - lo[0], hi[1] - lo[1]);
        let rough: f64 = land.iter().map(|o| o.area().m2()).sum();
        let cell = (rough / CELLS).sqrt().clamp(FINEST, COARSEST);
        let thin = |o: &&&Outline| meets(o, (lo, hi));
        let thinnest = blocked.iter().filter(thin).map(|o| thickness(o)).fold(f64::INFINITY, f64::min);
        let cell = cell.min((THIN * thinnest).max(cell / 2.0)).max(FINEST);
        // A whole number of cells from left to right.
        let nx = (width / cell - 1e-6).ceil().max(1.0) as usize;
        let cell = width / nx as f64;
        let ny = (depth / cell - 1e-6).ceil().max(1.0) as usize;
        let mut raster = Self { origin: lo, cell, nx, ny, cover: vec![0.0; nx * ny] };
        for row in 0..ny * LINES {
            let y = lo[1] + (row as f64 + 0.5) * cell / LINES as f64;
            let free = without(&spans(land, y), &spans(blocked, y));
            for span in &free {
                raster.add(row / LINES, *span);
            }
        }
        (raster.area() > 0.0).then_some(raster)
    }

    fn add(&mut self, row: usize, (from, to): (f64, f64)) {
        let place = |x: f64| ((x - self.origin[0]) / self.cell).clamp(0.0, self.nx as f64);
        let (from, to) = (place(from), place(to));
        let last = (to.ceil() as usize).min(self.nx);
        for i in from.floor() as usize..last {
            let part = (to.min(i as f64 + 1.0) - from.max(i as f64)).max(0.0);
            self.cover[row * self.nx + i] += part / LINES as f64;
        }
    }

    /// The area, in square metres.
    pub fn area(&self) -> f64 {
        self.cover.iter().sum::<f64>() * self.cell * self.cell
    }

    /// Where a point between the cells lies: `i`, `j` count cells from the origin.
    pub fn at(&self, i: f64, j: f64) -> [f64; 2] {
        [self.origin[0] + i * self.cell, self.origin[1] + j * self.cell]
    }

    /// The cells that share a side with a cell.
    pub fn beside(&self, cell: usize) -> impl Iterator<Item = usize> + use<> {
        let (nx, ny) = (self.nx, self.ny);
        let (i, j) = (cell % nx, cell / nx);
        let ways = [
            (i > 0).then(|| cell - 1),
            (i + 1 < nx).then(|| cell + 1),
            (j > 0).then(|| cell - nx),
            (j + 1 < ny).then(|| cell + nx),
        ];
        ways.into_iter().flatten()
    }

    /// The centre of a cell.
    pub fn centre(&self, index: usize) -> Spot {
        let [x, y] = self.at((index % self.nx) as f64 + 0.5, (index / self.nx) as f64 + 0.5);
        (Length::from_m(x), Length::from_m(y))
    }
}

type Corners = ([f64; 2], [f64; 2]);

/// How thick an outline is: of a long one its breadth, of a square half its side.
fn thickness(outline: &Outline) -> f64 {
    let points: Vec<[f64; 2]> = outline.spots().map(|(x, y)| [x.m(), y.m()]).collect();
    let sides = points.iter().zip(points.iter().cycle().skip(1));
    let around: f64 = sides.map(|(a, b)| libm::hypot(b[0] - a[0], b[1] - a[1])).sum();
    2.0 * outline.area().m2() / around.max(f64::MIN_POSITIVE)
}

/// Whether an outline comes near an extent.
fn meets(outline: &Outline, (lo, hi): Corners) -> bool {
    extent(&[outline]).is_some_and(|(from, to)| (0..2).all(|i| from[i] < hi[i] && to[i] > lo[i]))
}

fn extent(land: &[&Outline]) -> Option<Corners> {
    let points = || land.iter().flat_map(|o| o.spots()).map(|(x, y)| [x.m(), y.m()]);
    points().next()?;
    let far = f64::INFINITY;
    let lo = points().fold([far; 2], |a, p| [a[0].min(p[0]), a[1].min(p[1])]);
    let hi = points().fold([-far; 2], |a, p| [a[0].max(p[0]), a[1].max(p[1])]);
    Some((lo, hi))
}

/// Where the line across the tank at `y` runs inside any of the outlines, from left to right.
fn spans(outlines: &[&Outline], y: f64) -> Vec<(f64, f64)> {
    let mut all: Vec<(f64, f64)> = Vec::new();
    for outline in outlines {
        let points: Vec<[f64; 2]> = outline.spots().map(|(x, y)| [x.m(), y.m()]).collect();
        let mut cuts: Vec<f64> = Vec::new();
        for (k, a) in points.iter().enumerate() {
            let b = points[(k + 1) % points.len()];
            if (a[1] > y) != (b[1] > y) {
                cuts.push(a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]));
            }
        }
        cuts.sort_by(f64::total_cmp);
        all.extend(cuts.chunks_exact(2).map(|c| (c[0], c[1])));
    }
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut merged: Vec<(f64, f64)> = Vec::new();
    for span in all {
        match merged.last_mut() {
            Some(last) if span.0 <= last.1 => last.1 = last.1.max(span.1),
            _ => merged.push(span),
        }
    }
    merged
}

/// The spans less those of `taken`; both in order and apart.
fn without(spans: &[(f64, f64)], taken: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut left = Vec::new();
    for &(mut from, to) in spans {
        for &(a, b) in taken {
            if a > from {
                left.push((from, a.min(to)));
            }
            from = from.max(b);
            if from >= to {
                break;
            }
        }
        if from < to {
            left.push((from, to));
        }
    }
    left
}
