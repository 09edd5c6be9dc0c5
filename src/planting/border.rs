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
/// shorter than about six cells vanish. The later figures serve where smooth rings would cross.
pub(super) const SMOOTHINGS: [usize; 4] = [40, 15, 5, 0];
/// Points of a ring nearer than this are one, in metres.
const SAME: f64 = 1e-7;
/// A loop of a ring of at most this many points is cut off.
const LONGEST_LOOP: usize = 6;
/// A border keeps this many cells away from the edge of the ground, but at its ends.
pub(super) const CLEAR: f64 = 0.4;
/// A corner of the ground is drawn to from within this many cells, the end of a tip from farther.
const NEAR: f64 = 2.0;
const TIP: f64 = 15.0;
/// Cells within which a corner lies beside the edge.
const BESIDE: f64 = 0.7;

/// The patches on the grid, and where its corners lie on the plan.
pub(super) struct Net<'a> {
    raster: &'a Raster,
    label: &'a [u32],
    places: Vec<Point>,
}

impl<'a> Net<'a> {
    /// The net of patches, its outer corners on the edge of the ground, its inner ones smoothed.
    pub fn of(raster: &'a Raster, label: &'a [u32], shore: &Shore<'_>, smoothings: usize) -> Self {
        let mut net = Self::plain(raster, label);
        net.draw_to(shore);
        net.smooth(shore, smoothings);
        net
    }

    /// The net of patches along their cells, with those outer corners on the edge of the ground that lie
    /// beside it.
    pub fn near(raster: &'a Raster, label: &'a [u32], shore: &Shore<'_>) -> Self {
        let mut net = Self::plain(raster, label);
        let outer: Vec<Corner> = net.corners().filter(|c| net.is_outer(*c)).collect();
        for corner in outer {
            let edge = shore.nearest_facing(net.place(corner), net.outward(corner));
            if apart(edge, net.place(corner)) <= BESIDE * raster.cell {
                net.put(corner, edge);
            }
        }
        net
    }

    /// The net of patches along their cells.
    pub fn plain(raster: &'a Raster, label: &'a [u32]) -> Self {
        let plain = |n: usize| raster.at((n % (raster.nx + 1)) as f64, (n / (raster.nx + 1)) as f64);
        let places = (0..(raster.nx + 1) * (raster.ny + 1)).map(plain).collect();
        Self { raster, label, places }
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

    /// The way out of the ground at an outer corner: from its cells that are ground to those that are none.
    fn outward(&self, corner: Corner) -> Point {
        let sign = |way: usize| if self.left(corner, way) == OUTSIDE { 1.0 } else { -1.0 };
        (0..4).fold([0.0, 0.0], |[x, y], way| {
            let [dx, dy] = [LEFT[way].0, LEFT[way].1].map(|d| 2.0 * d as f64 + 1.0);
            [x + sign(way) * dx, y + sign(way) * dy]
        })
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
        let outward: Vec<Point> = outer.iter().map(|c| self.outward(*c)).collect();
        for (n, corner) in outer.iter().enumerate() {
            self.put(*corner, shore.nearest_facing(plain[n], outward[n]));
        }
        for target in shore.corners() {
            let facing = (0..outer.len()).filter(|n| shore.faces(target, outward[*n]));
            let near = facing.min_by(|a, b| apart(plain[*a], target).total_cmp(&apart(plain[*b], target)));
            let Some(n) = near else { continue };
            // A thin tip ends beyond its last cell; what else is far belongs to another piece.
            let far = apart(plain[n], target) / self.raster.cell;
            let ends = |(a, b)| apart(a, target).min(apart(b, target)) < 1e-9;
            let tip = || shore.nearest_side(plain[n]).is_some_and(ends) && shore.is_tip(target);
            if far <= NEAR || (far <= TIP && tip()) {
                self.put(outer[n], target);
            }
        }
    }

    /// Smooths the borders between patches; a corner that would come too near the edge of the ground
    /// stays.
    fn smooth(&mut self, shore: &Shore<'_>, smoothings: usize) {
        let moving: Vec<(Corner, Vec<Corner>)> = self
            .corners()
            .map(|c| (c, self.borders(c)))
            .filter(|(_, ways)| ways.len() >= 2)
            .map(|(c, ways)| (c, ways.into_iter().map(|w| Self::step(c, w)).collect()))
            .collect();
        let least = CLEAR * self.raster.cell;
        let mut rooms: Vec<f64> = moving.iter().map(|(c, _)| shore.room(self.place(*c)).min(least)).collect();
        for _ in 0..smoothings {
            let next: Vec<Point> = moving.iter().map(|(c, beside)| self.half_way(*c, beside)).collect();
            for (n, place) in next.into_iter().enumerate() {
                let room = shore.room(place);
                if room >= rooms[n] {
                    rooms[n] = room.min(least);
                    self.put(moving[n].0, place);
                }
            }
        }
    }

    /// Half way from a corner to the middle of its neighbours.
    fn half_way(&self, corner: Corner, beside: &[Corner]) -> Point {
        let own = self.place(corner);
        let mean =
            |axis: usize| beside.iter().map(|c| self.place(*c)[axis]).sum::<f64>() / beside.len() as f64;
        [f64::midpoint(own[0], mean(0)), f64::midpoint(own[1], mean(1))]
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
                    found[own as usize].extend(untwined(self.ring(start, way, &mut seen)));
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

/// A ring in loops that pass each corner once: a patch that closes around a rock and touches itself at a
/// corner there has an outer ring and a hole.
fn untwined(ring: Vec<Corner>) -> Vec<Vec<Corner>> {
    let mut loops = Vec::new();
    let mut path: Vec<Corner> = Vec::new();
    for corner in ring {
        if let Some(first) = path.iter().position(|c| *c == corner) {
            loops.push(path.split_off(first));
        }
        path.push(corner);
    }
    loops.push(path);
    loops
}

/// Twice the area enclosed, above zero when it lies on the left.
pub(super) fn doubled_area(points: &[Point]) -> f64 {
    let Some(&o) = points.first() else { return 0.0 };
    let turn = |a: Point, b: Point| (a[0] - o[0]) * (b[1] - o[1]) - (b[0] - o[0]) * (a[1] - o[1]);
    (0..points.len()).map(|k| turn(points[k], points[(k + 1) % points.len()])).sum()
}

/// The points without those that add nothing: repeated ones, those on a straight line, and little
/// loops, smaller than a cell, where corners were drawn to the edge of the ground in another order
/// than they stand.
pub(super) fn tidy(points: Vec<Point>, cell: f64) -> Vec<Point> {
    let mut points = spare(points);
    let mut start = 0;
    while points.len() > 5 && start < points.len() {
        let n = points.len();
        points.rotate_left(1);
        let small = |k: usize| {
            let place = meeting(points[0], points[1], points[k], points[k + 1])?;
            let cut: Vec<Point> = std::iter::once(place).chain(points[1..=k].iter().copied()).collect();
            (doubled_area(&cut).abs() < 2.0 * cell * cell).then_some((k, place))
        };
        let met = (2..=LONGEST_LOOP.min(n - 3)).rev().find_map(small);
        if let Some((k, place)) = met {
            points.splice(1..=k, [place]);
            start = 0;
        } else {
            start += 1;
        }
    }
    spare(points)
}

/// Where two line pieces cross or touch.
fn meeting(a: Point, b: Point, c: Point, d: Point) -> Option<Point> {
    let (u, v, w) = ([b[0] - a[0], b[1] - a[1]], [d[0] - c[0], d[1] - c[1]], [c[0] - a[0], c[1] - a[1]]);
    let across = u[0] * v[1] - u[1] * v[0];
    if across.abs() < 1e-14 {
        return None;
    }
    let (s, t) = ((w[0] * v[1] - w[1] * v[0]) / across, (w[0] * u[1] - w[1] * u[0]) / across);
    let on = -1e-9..=1.0 + 1e-9;
    (on.contains(&s) && on.contains(&t)).then(|| [a[0] + s * u[0], a[1] + s * u[1]])
}

fn spare(mut points: Vec<Point>) -> Vec<Point> {
    loop {
        let before = points.len();
        points.dedup_by(|next, last| apart(*last, *next) <= SAME);
        while points.len() > 1 && apart(points[0], points[points.len() - 1]) <= SAME {
            points.pop();
        }
        let count = points.len();
        let mut kept: Vec<Point> = Vec::with_capacity(count);
        for (k, &p) in points.iter().enumerate() {
            let last = kept.last().copied().unwrap_or(points[count - 1]);
            if doubled_area(&[last, p, points[(k + 1) % count]]).abs() > 1e-11 {
                kept.push(p);
            }
        }
        points = kept;
        if points.len() == before || points.len() < 3 {
            return points;
        }
    }
}
