//! Places on a hexagonal lattice, inside rings.

use super::border::doubled_area;
use super::shore::{Point, along, apart, between};
use crate::tank::file::Spot;
use crate::units::{Angle, Length};

/// Turns of the lattice that are tried, a sixth of its symmetry of 60° apart.
const TURNS: usize = 6;
/// Shifts of the lattice that are tried in each direction.
const SHIFTS: usize = 10;
/// A place is inside when it is at least this far from the edge, in metres.
const INSIDE: f64 = 1e-5;
/// What a lattice loses for each metre that its middle lies off that of the ground, against the
/// metres that it keeps from the edge.
const LOPSIDED: f64 = 0.5;
/// Distances between places and edges that may be measured to choose among lattices.
const MEASUREMENTS: usize = 150_000;

/// The points of a hexagonal lattice in a box: rows along x, points `spacing` apart, rows
/// `spacing`·√3/2 apart, every other row shifted by half; one point at `anchor`. Row by row.
pub fn lattice(spacing: Length, anchor: Spot, lo: Spot, hi: Spot) -> Vec<Spot> {
    let lattice = Lattice { spacing: spacing.m(), anchor: [anchor.0.m(), anchor.1.m()] };
    let mut spots = Vec::new();
    for row in lattice.rows(lo.1.m(), hi.1.m()) {
        let (y, start) = lattice.row(row);
        let span = (lo.0.m(), hi.0.m());
        spots.extend(lattice.on(start, span).map(|x| (Length::from_m(x), Length::from_m(y))));
    }
    spots
}

/// A lattice with rows along x. Metres.
#[derive(Debug, Clone, Copy)]
struct Lattice {
    spacing: f64,
    anchor: Point,
}

impl Lattice {
    fn pitch(&self) -> f64 {
        self.spacing * 3.0_f64.sqrt() / 2.0
    }

    /// The rows between two heights.
    fn rows(&self, lo: f64, hi: f64) -> std::ops::RangeInclusive<i64> {
        let row = |y: f64| (y - self.anchor[1]) / self.pitch();
        (row(lo).ceil() as i64)..=(row(hi).floor() as i64)
    }

    /// Where a row lies, and one of its points.
    fn row(&self, row: i64) -> (f64, f64) {
        let shift = if row.rem_euclid(2) == 1 { self.spacing / 2.0 } else { 0.0 };
        (self.anchor[1] + row as f64 * self.pitch(), self.anchor[0] + shift)
    }

    /// The points of a row in a span.
    fn on(&self, start: f64, (from, to): (f64, f64)) -> impl Iterator<Item = f64> + use<> {
        let spacing = self.spacing;
        let first = ((from - start) / spacing).ceil() as i64;
        let last = ((to - start) / spacing).floor() as i64;
        (first..=last).map(move |n| start + n as f64 * spacing)
    }
}

/// Rings turned so that the rows of a lattice run along x.
struct Turned {
    turn: Angle,
    rings: Vec<Vec<Point>>,
    lo: f64,
    hi: f64,
}

impl Turned {
    fn of(rings: &[Vec<Point>], turn: Angle) -> Self {
        let back = Angle::from_radians(-turn.radians());
        let rings: Vec<Vec<Point>> =
            rings.iter().map(|ring| ring.iter().map(|p| turned(*p, back)).collect()).collect();
        let heights = || rings.iter().flatten().map(|p| p[1]);
        let (lo, hi) = (heights().fold(f64::INFINITY, f64::min), heights().fold(f64::NEG_INFINITY, f64::max));
        Self { turn, rings, lo, hi }
    }

    /// Where a row lies inside the rings, from left to right.
    fn spans(&self, y: f64) -> Vec<(f64, f64)> {
        let mut cuts: Vec<f64> = Vec::new();
        for ring in &self.rings {
            for (k, a) in ring.iter().enumerate() {
                let b = ring[(k + 1) % ring.len()];
                if (a[1] > y) != (b[1] > y) {
                    cuts.push(a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]));
                }
            }
        }
        cuts.sort_by(f64::total_cmp);
        cuts.chunks_exact(2).map(|c| (c[0] + INSIDE, c[1] - INSIDE)).collect()
    }

    fn points(&self, lattice: Lattice) -> Vec<Point> {
        let mut points = Vec::new();
        for row in lattice.rows(self.lo, self.hi) {
            let (y, start) = lattice.row(row);
            for span in self.spans(y) {
                points.extend(lattice.on(start, span).map(|x| turned([x, y], self.turn)));
            }
        }
        points
    }
}

fn turned(p: Point, by: Angle) -> Point {
    let (sin, cos) = (libm::sin(by.radians()), libm::cos(by.radians()));
    [p[0] * cos - p[1] * sin, p[0] * sin + p[1] * cos]
}

/// Places inside the rings at `spacing` metres, as near to `goal` as a lattice comes, and at most
/// `most` of them. Counts within a sixteenth of the goal are as good as it; of equally good
/// lattices the one is taken that keeps farthest from the edge and lies most evenly. At least one
/// place when there is any room.
pub(super) fn set_out(rings: &[Vec<Point>], spacing: f64, goal: usize, most: usize) -> Vec<Point> {
    let miss = |count: usize| {
        count.abs_diff(goal).saturating_sub(goal / 16) + if count > most { most + goal } else { 0 }
    };
    let middle = centre(rings);
    let mut best: (usize, Vec<(usize, Lattice)>) = (usize::MAX, Vec::new());
    let turns: Vec<Turned> =
        (0..TURNS).map(|n| Turned::of(rings, Angle::from_degrees(60.0 * n as f64 / TURNS as f64))).collect();
    for (n, turned) in turns.iter().enumerate() {
        for (lattice, count) in counts(turned, spacing) {
            if count > 0 && miss(count) < best.0 {
                best = (miss(count), vec![(n, lattice)]);
            } else if count > 0 && miss(count) == best.0 {
                best.1.push((n, lattice));
            }
        }
    }
    let edges: usize = rings.iter().map(Vec::len).sum();
    let tried = (MEASUREMENTS / (edges * goal.max(1)).max(1)).clamp(1, 400);
    let every = best.1.len().div_ceil(tried).max(1);
    let mut chosen: Option<(f64, Vec<Point>)> = None;
    for (n, lattice) in best.1.iter().step_by(every) {
        let mut points = turns[*n].points(*lattice);
        let room = keep(&mut points, rings, most).min(spacing / 2.0);
        let mean = |axis: usize| points.iter().map(|p| p[axis]).sum::<f64>() / points.len().max(1) as f64;
        let worth = room - LOPSIDED * apart([mean(0), mean(1)], middle);
        if chosen.as_ref().is_none_or(|(before, _)| worth > *before + 1e-9) {
            chosen = Some((worth, points));
        }
    }
    let mut points = chosen.map(|(_, points)| points).unwrap_or_default();
    points.sort_by(|a, b| a[1].total_cmp(&b[1]).then(a[0].total_cmp(&b[0])));
    points
}

/// How many points each lattice has inside.
fn counts(turned: &Turned, spacing: f64) -> Vec<(Lattice, usize)> {
    let mut found = Vec::new();
    for up in 0..SHIFTS {
        let at = |n: usize| Lattice {
            spacing,
            anchor: [
                spacing * n as f64 / SHIFTS as f64,
                turned.lo + spacing * 3.0_f64.sqrt() / 2.0 * up as f64 / SHIFTS as f64,
            ],
        };
        let first = at(0);
        let rows: Vec<(i64, Vec<(f64, f64)>)> =
            first.rows(turned.lo, turned.hi).map(|r| (r, turned.spans(first.row(r).0))).collect();
        for lattice in (0..SHIFTS).map(at) {
            let in_row = |(row, spans): &(i64, Vec<(f64, f64)>)| -> usize {
                let start = lattice.row(*row).1;
                spans.iter().map(|s| lattice.on(start, *s).count()).sum()
            };
            found.push((lattice, rows.iter().map(in_row).sum()));
        }
    }
    found
}

/// The centre of area.
fn centre(rings: &[Vec<Point>]) -> Point {
    let (mut sum, mut whole) = ([0.0; 2], 0.0);
    for ring in rings {
        let o = ring[0];
        for (k, a) in ring.iter().enumerate() {
            let b = ring[(k + 1) % ring.len()];
            let part = doubled_area(&[o, *a, b]);
            whole += part;
            (0..2).for_each(|axis| sum[axis] += part * (o[axis] + a[axis] + b[axis]) / 3.0);
        }
    }
    sum.map(|s| if whole > 0.0 { s / whole } else { 0.0 })
}

/// Drops the points nearest the edge until `most` are left; how far the nearest of them is from it.
fn keep(points: &mut Vec<Point>, rings: &[Vec<Point>], most: usize) -> f64 {
    let mut rooms: Vec<(f64, Point)> = points.iter().map(|p| (room(*p, rings), *p)).collect();
    if rooms.len() > most {
        rooms.sort_by(|a, b| b.0.total_cmp(&a.0));
        rooms.truncate(most);
        *points = rooms.iter().map(|r| r.1).collect();
    }
    rooms.iter().map(|r| r.0).fold(f64::INFINITY, f64::min)
}

/// The distance of a point from the rings.
fn room(p: Point, rings: &[Vec<Point>]) -> f64 {
    let to = |ring: &Vec<Point>| {
        let side = |k: usize| {
            let (a, b) = (ring[k], ring[(k + 1) % ring.len()]);
            apart(p, between(a, b, along(a, b, p)))
        };
        (0..ring.len()).map(side).fold(f64::INFINITY, f64::min)
    };
    rings.iter().map(to).fold(f64::INFINITY, f64::min)
}
