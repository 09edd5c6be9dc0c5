//! The outlines of patches: rings along the cells, drawn to the exact edge of the ground, with
//! smooth borders between patches that leave every patch its area.
//!
//! A corner of the grid has one place on the plan, shared by all rings that pass it, so patches
//! meet without gap or overlap whatever is done to the places.

use super::ground::Raster;
use super::shore::{Point, Shore, apart};
use super::split::OUTSIDE;

/// A corner of the grid: cells from the origin.
pub(super) type Corner = (i64, i64);

/// East, north, west, south: steps from corner to corner.
const STEPS: [(i64, i64); 4] = [(1, 0), (0, 1), (-1, 0), (0, -1)];
/// The cell to the left of a step, from the corner it leaves.
const LEFT: [(i64, i64); 4] = [(0, 0), (-1, 0), (-1, -1), (0, -1)];
/// How often corners between patches move half way towards the middle of their neighbours: waves
/// shorter than about six cells vanish.
const SMOOTHINGS: usize = 40;
/// A corner of the ground is drawn to from within this many cells.
const REACH: f64 = 3.0;

/// The patches on the grid, and where its corners lie on the plan.
pub(super) struct Net<'a> {
    raster: &'a Raster,
    label: &'a [u32],
    places: Vec<Point>,
}

impl<'a> Net<'a> {
    /// The net of patches, its outer corners on the edge of the ground, its inner ones smoothed.
    pub fn of(raster: &'a Raster, label: &'a [u32], shore: &Shore<'_>) -> Self {
        let plain = |n: usize| raster.at((n % (raster.nx + 1)) as f64, (n / (raster.nx + 1)) as f64);
        let places = (0..(raster.nx + 1) * (raster.ny + 1)).map(plain).collect();
        let mut net = Self { raster, label, places };
        net.draw_to(shore);
        net.smooth(shore);
        net
    }

    fn cell(&self, i: i64, j: i64) -> u32 {
        let inside = i >= 0 && j >= 0 && i < self.raster.nx as i64 && j < self.raster.ny as i64;
        if inside { self.label[j as usize * self.raster.nx + i as usize] } else { OUTSIDE }
    }

    fn left(&self, corner: Corner, way: usize) -> u32 {
        self.cell(corner.0 + LEFT[way].0, corner.1 + LEFT[way].1)
    }

    fn right(&self, corner: Corner, way: usize) -> u32 {
        self.left(corner, (way + 3) % 4)
    }

    fn number(&self, corner: Corner) -> usize {
        (corner.1 * (self.raster.nx as i64 + 1) + corner.0) as usize
    }

    /// Where a corner lies on the plan.
    pub fn place(&self, corner: Corner) -> Point {
        self.places[self.number(corner)]
    }

    /// Where corners lie on the plan.
    pub fn line(&self, corners: &[Corner]) -> Vec<Point> {
        corners.iter().map(|c| self.place(*c)).collect()
    }

    /// Moves a corner.
    pub fn put(&mut self, corner: Corner, place: Point) {
        let number = self.number(corner);
        self.places[number] = place;
    }

    fn corners(&self) -> impl Iterator<Item = Corner> + use<> {
        let (nx, ny) = (self.raster.nx as i64, self.raster.ny as i64);
        (0..=ny).flat_map(move |j| (0..=nx).map(move |i| (i, j)))
    }

    /// Whether the corner touches both ground and what is none.
    fn is_outer(&self, corner: Corner) -> bool {
        let outside = (0..4).filter(|w| self.left(corner, *w) == OUTSIDE).count();
        (1..4).contains(&outside)
    }

    /// The ways from a corner along a border between two patches; none when it touches the edge.
    pub fn borders(&self, corner: Corner) -> Vec<usize> {
        if (0..4).any(|w| self.left(corner, w) == OUTSIDE) {
            return Vec::new();
        }
        (0..4).filter(|w| self.left(corner, *w) != self.right(corner, *w)).collect()
    }

    /// Whether a way from a corner runs between two patches.
    pub fn between_patches(&self, corner: Corner, way: usize) -> Option<(u32, u32)> {
        let (left, right) = (self.left(corner, way), self.right(corner, way));
        (left != right && left != OUTSIDE && right != OUTSIDE).then_some((left, right))
    }

    /// Every corner.
    pub fn all(&self) -> Vec<Corner> {
        self.corners().collect()
    }

    /// The corner one step on.
    pub fn step(corner: Corner, way: usize) -> Corner {
        (corner.0 + STEPS[way].0, corner.1 + STEPS[way].1)
    }

    /// Moves outer corners onto the edge of the ground, and the nearest ones onto its corners.
    fn draw_to(&mut self, shore: &Shore<'_>) {
        let outer: Vec<Corner> = self.corners().filter(|c| self.is_outer(*c)).collect();
        let plain: Vec<Point> = outer.iter().map(|c| self.place(*c)).collect();
        for (corner, place) in outer.iter().zip(&plain) {
            self.put(*corner, shore.nearest(*place));
        }
        for target in shore.corners() {
            let near =
                (0..outer.len()).min_by(|a, b| apart(plain[*a], target).total_cmp(&apart(plain[*b], target)));
            if let Some(n) = near.filter(|n| apart(plain[*n], target) <= REACH * self.raster.cell) {
                self.put(outer[n], target);
            }
        }
    }

    /// Smooths the borders between patches; what would leave the ground stays where it was.
    fn smooth(&mut self, shore: &Shore<'_>) {
        let moving: Vec<(Corner, Vec<Corner>)> = self
            .corners()
            .map(|c| (c, self.borders(c)))
            .filter(|(_, ways)| ways.len() >= 2)
            .map(|(c, ways)| (c, ways.into_iter().map(|w| Self::step(c, w)).collect()))
            .collect();
        let plain: Vec<Point> = moving.iter().map(|(c, _)| self.place(*c)).collect();
        for _ in 0..SMOOTHINGS {
            let mean = |(corner, beside): &(Corner, Vec<Corner>)| {
                let own = self.place(*corner);
                let sum = |axis: usize| beside.iter().map(|c| self.place(*c)[axis]).sum::<f64>();
                let half = |axis: usize| f64::midpoint(own[axis], sum(axis) / beside.len() as f64);
                [half(0), half(1)]
            };
            let next: Vec<Point> = moving.iter().map(mean).collect();
            moving.iter().zip(next).for_each(|((corner, _), place)| self.put(*corner, place));
        }
        for ((corner, _), place) in moving.iter().zip(plain) {
            if !shore.contains(self.place(*corner)) {
                self.put(*corner, place);
            }
        }
    }

    /// The rings of every patch, by its number, as corners with the patch on their left.
    pub fn rings(&self, patches: usize) -> Vec<Vec<Vec<Corner>>> {
        let mut seen = vec![false; self.places.len() * 4];
        let mut found = vec![Vec::new(); patches];
        for start in self.corners() {
            for way in 0..4 {
                let own = self.left(start, way);
                let fresh = own != OUTSIDE && self.right(start, way) != own;
                if fresh && !seen[self.number(start) * 4 + way] {
                    found[own as usize].push(self.ring(start, way, &mut seen));
                }
            }
        }
        found
    }

    fn ring(&self, start: Corner, way: usize, seen: &mut [bool]) -> Vec<Corner> {
        let own = self.left(start, way);
        let (mut corner, mut way, mut ring) = (start, way, Vec::new());
        while !std::mem::replace(&mut seen[self.number(corner) * 4 + way], true) {
            ring.push(corner);
            corner = Self::step(corner, way);
            // Left first, so that patches that touch at a corner stay apart.
            let on = |w: &usize| self.left(corner, *w) == own && self.right(corner, *w) != own;
            way = [1, 0, 3].map(|turn| (way + turn) % 4).into_iter().find(on).unwrap_or(way);
        }
        ring
    }
}

/// Twice the area enclosed, above zero when it lies on the left.
pub(super) fn doubled_area(points: &[Point]) -> f64 {
    let Some(&o) = points.first() else { return 0.0 };
    let turn = |a: Point, b: Point| (a[0] - o[0]) * (b[1] - o[1]) - (b[0] - o[0]) * (a[1] - o[1]);
    (0..points.len()).map(|k| turn(points[k], points[(k + 1) % points.len()])).sum()
}

/// The points without those that add nothing: repeated ones and those on a straight line.
pub(super) fn tidy(mut points: Vec<Point>) -> Vec<Point> {
    loop {
        let before = points.len();
        let mut kept: Vec<Point> = Vec::with_capacity(before);
        for (k, &p) in points.iter().enumerate() {
            let last = kept.last().copied().unwrap_or(points[before - 1]);
            let next = points[(k + 1) % before];
            let area = doubled_area(&[last, p, next]).abs();
            if apart(last, p) > 1e-7 && area > 1e-11 {
                kept.push(p);
            }
        }
        points = kept;
        if points.len() == before || points.len() < 3 {
            return points;
        }
    }
}
