//! The exact edge of a ground: outlines of land less what is blocked.

use crate::tank::file::Spot;
use crate::tank::outline::Outline;
use crate::units::Length;

/// A point on the plan, in metres.
pub(super) type Point = [f64; 2];

/// Points nearer than this are one, in metres.
const SAME: f64 = 1e-9;
/// How far beside an edge is looked for ground, in metres.
const BESIDE: f64 = 2e-6;

/// A ground as outlines: inside any of `land`, outside all of `blocked`.
#[derive(Debug, Clone)]
pub(super) struct Shore<'a> {
    /// What belongs to it.
    pub land: Vec<&'a Outline>,
    /// What does not.
    pub blocked: Vec<&'a Outline>,
    /// The straight sides of its edge, in no order, each with the ground on its left.
    sides: Vec<(Point, Point)>,
}

impl<'a> Shore<'a> {
    /// The ground inside any of `land` and outside all of `blocked`.
    pub fn of(land: Vec<&'a Outline>, blocked: Vec<&'a Outline>) -> Self {
        let mut shore = Self { land, blocked, sides: Vec::new() };
        let all: Vec<(Point, Point)> =
            shore.land.iter().chain(&shore.blocked).flat_map(|o| sides(o)).collect();
        for &(a, b) in &all {
            let mut cuts: Vec<f64> = all.iter().filter_map(|&(c, d)| crossing(a, b, c, d)).collect();
            cuts.extend([0.0, 1.0]);
            cuts.sort_by(f64::total_cmp);
            for pair in cuts.windows(2).filter(|p| p[1] - p[0] > 1e-9) {
                let (from, to) = (between(a, b, pair[0]), between(a, b, pair[1]));
                let [left, right] = shore.beside(from, to);
                if left != right {
                    shore.sides.push(if left { (from, to) } else { (to, from) });
                }
            }
        }
        shore
    }

    /// Whether there is ground on the left of a line, and on its right.
    fn beside(&self, a: Point, b: Point) -> [bool; 2] {
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let step = BESIDE / libm::hypot(dx, dy).max(BESIDE);
        let middle = between(a, b, 0.5);
        [1.0, -1.0].map(|way| self.contains([middle[0] - way * step * dy, middle[1] + way * step * dx]))
    }

    /// Whether a point is on the ground.
    pub fn contains(&self, p: Point) -> bool {
        let spot: Spot = (Length::from_m(p[0]), Length::from_m(p[1]));
        self.land.iter().any(|o| o.contains(spot)) && !self.blocked.iter().any(|o| o.contains(spot))
    }

    /// The nearest point of the edge; the point itself when there is no edge.
    pub fn nearest(&self, p: Point) -> Point {
        self.nearest_side(p).map_or(p, |(a, b)| between(a, b, along(a, b, p)))
    }

    /// The nearest point of those sides of the edge that look the way `out` does, so that the two sides
    /// of a thin strip are not mixed up; of any side when none does.
    pub fn nearest_facing(&self, p: Point, out: Point) -> Point {
        let facing = self.sides.iter().copied().filter(|side| looks(*side, out));
        let side = nearest_of(p, facing).or_else(|| self.nearest_side(p));
        side.map_or(p, |(a, b)| between(a, b, along(a, b, p)))
    }

    /// Whether the sides that meet at a corner of the edge, taken together, look the way `out` does.
    pub fn faces(&self, corner: Point, out: Point) -> bool {
        let ends = |&&(a, b): &&(Point, Point)| apart(a, corner).min(apart(b, corner)) < SAME;
        let looks = self.sides.iter().filter(ends).map(|&(a, b)| {
            let length = apart(a, b).max(f64::MIN_POSITIVE);
            ((b[1] - a[1]) * out[0] - (b[0] - a[0]) * out[1]) / length
        });
        looks.sum::<f64>() > 1e-9
    }

    /// The side of the edge that comes nearest.
    pub fn nearest_side(&self, p: Point) -> Option<(Point, Point)> {
        nearest_of(p, self.sides.iter().copied())
    }

    /// How far inside a point lies; below zero outside.
    pub fn room(&self, p: Point) -> f64 {
        let far = apart(self.nearest(p), p);
        if self.contains(p) { far } else { -far }
    }

    /// Whether the edge comes to a sharp end here, with ground between its two sides.
    pub fn is_tip(&self, corner: Point) -> bool {
        let away = |&(a, b): &(Point, Point)| {
            let other = if apart(a, corner) < SAME {
                b
            } else if apart(b, corner) < SAME {
                a
            } else {
                return None;
            };
            let length = apart(other, corner).max(f64::MIN_POSITIVE);
            Some([(other[0] - corner[0]) / length, (other[1] - corner[1]) / length])
        };
        let ways: Vec<Point> = self.sides.iter().filter_map(away).collect();
        let &[u, v] = ways.as_slice() else { return false };
        let middle = [u[0] + v[0], u[1] + v[1]];
        let inside = [corner[0] + middle[0] * 1e-4, corner[1] + middle[1] * 1e-4];
        u[0] * v[0] + u[1] * v[1] > 0.5 && self.contains(inside)
    }

    /// The corners of the edge.
    pub fn corners(&self) -> impl Iterator<Item = Point> + '_ {
        self.sides.iter().flat_map(|s| [s.0, s.1])
    }
}

/// Whether a side with the ground on its left looks the way `out` does.
fn looks((a, b): (Point, Point), out: Point) -> bool {
    (b[1] - a[1]) * out[0] - (b[0] - a[0]) * out[1] >= 0.0
}

fn nearest_of(p: Point, sides: impl Iterator<Item = (Point, Point)>) -> Option<(Point, Point)> {
    let far = |&(a, b): &(Point, Point)| apart(between(a, b, along(a, b, p)), p);
    sides.min_by(|a, b| far(a).total_cmp(&far(b)))
}

/// The sides of an outline.
fn sides(outline: &Outline) -> Vec<(Point, Point)> {
    let points: Vec<Point> = outline.spots().map(|(x, y)| [x.m(), y.m()]).collect();
    (0..points.len()).map(|k| (points[k], points[(k + 1) % points.len()])).collect()
}

/// The distance of two points.
pub(super) fn apart(a: Point, b: Point) -> f64 {
    libm::hypot(a[0] - b[0], a[1] - b[1])
}

/// The point a share of the way from `a` to `b`.
pub(super) fn between(a: Point, b: Point, share: f64) -> Point {
    [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share]
}

/// Where on `a → b` the nearest point to `p` lies, from 0 to 1.
pub(super) fn along(a: Point, b: Point, p: Point) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let square = dx * dx + dy * dy;
    if square > 0.0 { (((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square).clamp(0.0, 1.0) } else { 0.0 }
}

/// Where on `a → b` it meets the line piece `c → d`, from 0 to 1; parallels do not meet.
fn crossing(a: Point, b: Point, c: Point, d: Point) -> Option<f64> {
    let (u, v) = ([b[0] - a[0], b[1] - a[1]], [d[0] - c[0], d[1] - c[1]]);
    let across = u[0] * v[1] - u[1] * v[0];
    let w = [c[0] - a[0], c[1] - a[1]];
    if across.abs() < 1e-15 {
        return None;
    }
    let (s, t) = ((w[0] * v[1] - w[1] * v[0]) / across, (w[0] * u[1] - w[1] * u[0]) / across);
    ((0.0..=1.0).contains(&s) && (-1e-9..=1.0 + 1e-9).contains(&t)).then_some(s)
}
