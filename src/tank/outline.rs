//! Outlines on the plan: simple polygons, concave ones included.
//!
//! Area, first moments, point test, and cutting by straight lines. Not here: union of outlines.

use std::fmt;

use super::file::Spot;
use crate::units::{Area, Length};

/// Why points do not make an outline.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum OutlineError {
    /// Fewer than three points apart from each other.
    #[error("an outline of {0} points encloses nothing")]
    TooFewPoints(usize),
    /// NaN or infinity.
    #[error("point {0} of the outline is not a place")]
    NotFinite(usize),
    /// All points on a line.
    #[error("the points of the outline lie on a line")]
    NoArea,
    /// Two sides, counted from 1 by their first point, meet where they should not.
    #[error("side {0} of the outline crosses or touches side {1}")]
    Crossing(usize, usize),
}

/// A point in metres.
type Point = [f64; 2];

/// A simple polygon; no two sides meet but neighbours at their common point.
#[derive(Clone, PartialEq)]
pub struct Outline {
    /// Counter-clockwise, not closed. After a cut, sides may lie on each other along it.
    points: Vec<Point>,
}

/// Twice the area of the triangle, positive when `c` lies to the left of `a → b`.
fn turn(a: Point, b: Point, c: Point) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/// Whether `p` lies on the segment, given that it lies on its line.
fn between(a: Point, b: Point, p: Point) -> bool {
    (0..2).all(|i| a[i].min(b[i]) <= p[i] && p[i] <= a[i].max(b[i]))
}

/// Whether two segments have a point in common.
fn meet(a: Point, b: Point, c: Point, d: Point) -> bool {
    let (c_side, d_side) = (turn(a, b, c), turn(a, b, d));
    let (a_side, b_side) = (turn(c, d, a), turn(c, d, b));
    let apart = |u: f64, v: f64| (u > 0.0 && v < 0.0) || (u < 0.0 && v > 0.0);
    (apart(c_side, d_side) && apart(a_side, b_side))
        || (c_side == 0.0 && between(a, b, c))
        || (d_side == 0.0 && between(a, b, d))
        || (a_side == 0.0 && between(c, d, a))
        || (b_side == 0.0 && between(c, d, b))
}

impl Outline {
    /// The outline through `spots` in order, either way round, closed or not.
    ///
    /// # Errors
    /// Fewer than three distinct points, no area, or sides that cross or touch.
    pub fn new(spots: &[Spot]) -> Result<Self, OutlineError> {
        let mut points: Vec<Point> = spots.iter().map(|(x, y)| [x.m(), y.m()]).collect();
        if let Some(n) = points.iter().position(|p| !(p[0].is_finite() && p[1].is_finite())) {
            return Err(OutlineError::NotFinite(n + 1));
        }
        points.dedup();
        if points.len() > 1 && points.first() == points.last() {
            points.pop();
        }
        if points.len() < 3 {
            return Err(OutlineError::TooFewPoints(points.len()));
        }
        if points.iter().all(|p| turn(points[0], points[1], *p) == 0.0) {
            return Err(OutlineError::NoArea);
        }
        let mut outline = Self { points };
        outline.refuse_crossing()?;
        if outline.doubled_area() < 0.0 {
            outline.points.reverse();
        }
        Ok(outline)
    }

    /// The rectangle between two opposite corners.
    ///
    /// # Errors
    /// Corners on one line along x or y, or not places.
    pub fn rectangle(a: Spot, b: Spot) -> Result<Self, OutlineError> {
        Self::new(&[a, (b.0, a.1), b, (a.0, b.1)])
    }

    fn refuse_crossing(&self) -> Result<(), OutlineError> {
        let n = self.points.len();
        let side = |i: usize| (self.points[i], self.points[(i + 1) % n]);
        for i in 0..n {
            for j in i + 1..n {
                let ((a, b), (c, d)) = (side(i), side(j));
                let wrong = if j == i + 1 {
                    folds_back(a, b, d)
                } else if i == 0 && j == n - 1 {
                    folds_back(c, d, b)
                } else {
                    meet(a, b, c, d)
                };
                if wrong {
                    return Err(OutlineError::Crossing(i + 1, j + 1));
                }
            }
        }
        Ok(())
    }

    /// The points, counter-clockwise.
    pub fn spots(&self) -> impl ExactSizeIterator<Item = Spot> + '_ {
        self.points.iter().map(|p| (Length::from_m(p[0]), Length::from_m(p[1])))
    }

    fn sides(&self) -> impl Iterator<Item = (Point, Point)> + '_ {
        let next = self.points.iter().cycle().skip(1);
        self.points.iter().copied().zip(next.copied())
    }

    fn doubled_area(&self) -> f64 {
        // From the first point, so that a small outline far from the origin loses no digits.
        let origin = self.points[0];
        self.sides().map(|(a, b)| turn(origin, a, b)).sum()
    }

    /// The area enclosed.
    pub fn area(&self) -> Area {
        Area::from_m2(self.doubled_area().max(0.0) / 2.0)
    }

    /// The centre of area.
    pub fn centre(&self) -> Spot {
        let origin = self.points[0];
        let mut sum = [0.0; 2];
        for (a, b) in self.sides() {
            let doubled = turn(origin, a, b);
            for i in 0..2 {
                sum[i] += doubled * (a[i] + b[i] - 2.0 * origin[i]) / 3.0;
            }
        }
        let total = self.doubled_area();
        let at = |i: usize| Length::from_m(origin[i] + if total > 0.0 { sum[i] / total } else { 0.0 });
        (at(0), at(1))
    }

    /// Whether the point lies inside or on the outline.
    pub fn contains(&self, spot: Spot) -> bool {
        let p = [spot.0.m(), spot.1.m()];
        let mut inside = false;
        for (a, b) in self.sides() {
            let side = turn(a, b, p);
            if side == 0.0 && between(a, b, p) {
                return true;
            }
            // A side counts from its lower end on, its upper end excluded.
            if (a[1] > p[1]) != (b[1] > p[1]) && (side > 0.0) == (b[1] > a[1]) {
                inside = !inside;
            }
        }
        inside
    }

    /// What lies inside the rectangle between two opposite corners; `None` when nothing does.
    pub fn clipped(&self, a: Spot, b: Spot) -> Option<Self> {
        let ((x0, x1), (y0, y1)) = (ordered(a.0, b.0), ordered(a.1, b.1));
        self.kept(|p| p[0] - x0)?.kept(|p| x1 - p[0])?.kept(|p| p[1] - y0)?.kept(|p| y1 - p[1])
    }

    /// What lies in front of (`y` up to) the line across the tank; `None` when nothing does.
    pub(crate) fn in_front_of(&self, y: f64) -> Option<Self> {
        self.kept(|p| y - p[1])
    }

    /// What lies behind the line across the tank; `None` when nothing does.
    pub(crate) fn behind(&self, y: f64) -> Option<Self> {
        self.kept(|p| p[1] - y)
    }

    /// The part where the linear function is not below zero (Sutherland & Hodgman 1974).
    fn kept(&self, level: impl Fn(Point) -> f64) -> Option<Self> {
        let mut points: Vec<Point> = Vec::with_capacity(self.points.len() + 2);
        for (a, b) in self.sides() {
            let (from, to) = (level(a), level(b));
            if from >= 0.0 {
                points.push(a);
            }
            if (from > 0.0 && to < 0.0) || (from < 0.0 && to > 0.0) {
                let share = from / (from - to);
                points.push([a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share]);
            }
        }
        points.dedup();
        let part = Self { points };
        (part.points.len() >= 3 && part.doubled_area() > 0.0).then_some(part)
    }
}

/// Whether `b → c` runs back over `a → b`.
fn folds_back(a: Point, b: Point, c: Point) -> bool {
    let ahead = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]);
    turn(a, b, c) == 0.0 && ahead < 0.0
}

fn ordered(a: Length, b: Length) -> (f64, f64) {
    (a.m().min(b.m()), a.m().max(b.m()))
}

impl fmt::Debug for Outline {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_list().entries(&self.points).finish()
    }
}
