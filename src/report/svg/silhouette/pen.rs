//! What leaves are drawn with: outlines in cm, x to the right and y up, smooth between points.

use libm::{atan2, cos, sin};

/// A place in cm.
pub type Point = [f64; 2];

/// A piece of a path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Step {
    /// Begins anew.
    Move(Point),
    /// Straight on.
    Line(Point),
    /// A cubic curve by its two handles and its end.
    Curve(Point, Point, Point),
    /// Back to the beginning.
    Close,
}

/// A path in cm.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Path {
    /// Its pieces in order.
    pub steps: Vec<Step>,
}

/// From `p` so far in a direction; angles are measured from straight up, to the right positive.
pub(super) fn away(p: Point, angle: f64, length: f64) -> Point {
    [p[0] + sin(angle) * length, p[1] + cos(angle) * length]
}

/// The direction from one point to another, as an angle from straight up.
pub(super) fn heading(from: Point, to: Point) -> f64 {
    atan2(to[0] - from[0], to[1] - from[1])
}

/// A point between two.
pub(super) fn mix(a: Point, b: Point, share: f64) -> Point {
    [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share]
}

impl Path {
    /// A straight stroke added.
    pub fn dash(&mut self, from: Point, to: Point) {
        self.steps.extend([Step::Move(from), Step::Line(to)]);
    }

    /// A stroke bent towards `via` added.
    pub fn arc(&mut self, from: Point, via: Point, to: Point) {
        self.steps.extend([Step::Move(from), bent(from, via, to)]);
    }

    /// A bent stroke there and back, so that a filled shape keeps no hole along it.
    pub fn rib(&mut self, from: Point, via: Point, to: Point) {
        self.arc(from, via, to);
        self.steps.push(bent(to, via, from));
    }

    /// A smooth line through points there and back, for ribs of filled shapes.
    pub fn rib_through(&mut self, points: &[Point]) {
        let there_and_back: Vec<Point> = points.iter().chain(points.iter().rev().skip(1)).copied().collect();
        self.through(&there_and_back);
    }

    /// A smooth line through points added.
    pub fn through(&mut self, points: &[Point]) {
        let Some(first) = points.first() else { return };
        self.steps.push(Step::Move(*first));
        self.smooth(points, false);
    }

    /// A smooth closed line through points added.
    pub fn around(&mut self, points: &[Point]) {
        let Some(first) = points.first() else { return };
        self.steps.push(Step::Move(*first));
        self.smooth(points, true);
        self.steps.push(Step::Close);
    }

    /// Curves through points after the first, with the tangents of Catmull & Rom 1974.
    fn smooth(&mut self, points: &[Point], closed: bool) {
        let count = points.len();
        let at = |i: isize| {
            let wrapped = i.rem_euclid(count as isize) as usize;
            let held = i.clamp(0, count as isize - 1) as usize;
            points[if closed { wrapped } else { held }]
        };
        let pieces = if closed { count } else { count - 1 };
        for i in 0..pieces as isize {
            let [before, from, to, after] = [at(i - 1), at(i), at(i + 1), at(i + 2)];
            let handle = |p: Point, a: Point, b: Point, s: f64| {
                [p[0] + s * (b[0] - a[0]) / 6.0, p[1] + s * (b[1] - a[1]) / 6.0]
            };
            let curve = Step::Curve(handle(from, before, to, 1.0), handle(to, from, after, -1.0), to);
            self.steps.push(curve);
        }
    }

    /// An ellipse with level axes added.
    pub fn ellipse(&mut self, centre: Point, half: Point) {
        /// Handle of a quarter circle of radius 1.
        const QUARTER: f64 = 0.5523;
        let p = |x: f64, y: f64| [centre[0] + x * half[0], centre[1] + y * half[1]];
        self.steps.push(Step::Move(p(1.0, 0.0)));
        for [ax, ay, bx, by] in
            [[1.0, 0.0, 0.0, 1.0], [0.0, 1.0, -1.0, 0.0], [-1.0, 0.0, 0.0, -1.0], [0.0, -1.0, 1.0, 0.0]]
        {
            let (h1, h2) = (p(ax + QUARTER * bx, ay + QUARTER * by), p(bx + QUARTER * ax, by + QUARTER * ay));
            self.steps.push(Step::Curve(h1, h2, p(bx, by)));
        }
        self.steps.push(Step::Close);
    }

    /// A blade added, its midrib with it where `ribbed`.
    pub(super) fn blade(&mut self, blade: &Blade) {
        let (base, tip) = (blade.at(0.0, 0.0), blade.at(1.0, 0.0));
        // A cubic with both handles at one height reaches three quarters of it.
        let reach = blade.width / 2.0 / 0.75;
        let (low, high) = ((blade.widest - 0.34).max(0.03), (blade.widest + 0.28).min(0.98));
        let side = |s: f64| (blade.at(low, s * reach), blade.at(high, s * reach));
        let ((l1, l2), (r1, r2)) = (side(-1.0), side(1.0));
        self.steps.extend([
            Step::Move(base),
            Step::Curve(l1, l2, tip),
            Step::Curve(r2, r1, base),
            Step::Close,
        ]);
        if blade.ribbed {
            self.rib(base, blade.at(0.5, 0.0), blade.at(0.9, 0.0));
        }
    }

    /// A ribbon along a middle line added; `width` gives its width from base 0 to tip 1.
    pub fn ribbon(&mut self, middle: &[Point], width: impl Fn(f64) -> f64) {
        self.margins(middle, |share, side| side * width(share) / 2.0);
    }

    /// A leaf along a middle line; `margin` gives how far each side (−1 left, 1 right) lies off it.
    pub fn margins(&mut self, middle: &[Point], margin: impl Fn(f64, f64) -> f64) {
        let last = middle.len() - 1;
        let off = |i: usize, side: f64| {
            let angle = heading(middle[i.saturating_sub(1)], middle[(i + 1).min(last)]);
            away(middle[i], angle + std::f64::consts::FRAC_PI_2, margin(i as f64 / last as f64, side))
        };
        let left: Vec<Point> = (0..last).map(|i| off(i, -1.0)).chain([middle[last]]).collect();
        let right: Vec<Point> =
            [middle[last]].into_iter().chain((0..last).rev().map(|i| off(i, 1.0))).collect();
        self.steps.push(Step::Move(left[0]));
        self.smooth(&left, false);
        self.smooth(&right, false);
        self.steps.push(Step::Close);
    }

    /// Every place multiplied, across and up.
    pub fn stretch(&mut self, by: [f64; 2]) {
        let moved = |p: Point| [p[0] * by[0], p[1] * by[1]];
        for step in &mut self.steps {
            *step = match *step {
                Step::Move(p) => Step::Move(moved(p)),
                Step::Line(p) => Step::Line(moved(p)),
                Step::Curve(a, b, c) => Step::Curve(moved(a), moved(b), moved(c)),
                Step::Close => Step::Close,
            };
        }
    }

    /// All points that bound the path, handles included.
    pub fn points(&self) -> impl Iterator<Item = Point> + '_ {
        self.steps.iter().flat_map(|step| match *step {
            Step::Move(p) | Step::Line(p) => vec![p],
            Step::Curve(a, b, c) => vec![a, b, c],
            Step::Close => Vec::new(),
        })
    }
}

/// The cubic of a quadratic curve.
fn bent(from: Point, via: Point, to: Point) -> Step {
    Step::Curve(mix(from, via, 2.0 / 3.0), mix(to, via, 2.0 / 3.0), to)
}

/// A simple leaf blade around a bent midrib.
#[derive(Debug, Clone, Copy)]
pub(super) struct Blade {
    pub base: Point,
    /// At the base, from straight up.
    pub angle: f64,
    /// By how much the tip turns further.
    pub bend: f64,
    pub length: f64,
    pub width: f64,
    /// Where it is widest, from base 0 to tip 1.
    pub widest: f64,
    pub ribbed: bool,
}

impl Blade {
    /// A point at a share of the midrib, so far to the right of it.
    pub fn at(&self, share: f64, side: f64) -> Point {
        let via = away(self.base, self.angle, self.length / 2.0);
        let tip = away(via, self.angle + self.bend, self.length / 2.0);
        let (a, b) = (mix(self.base, via, share), mix(via, tip, share));
        away(mix(a, b, share), heading(a, b) + std::f64::consts::FRAC_PI_2, side)
    }
}

/// The middle line of a leaf that rises from `base`, droops by `droop` radians over its length, and
/// streams along under `ceiling`.
pub(super) fn rising(base: Point, angle: f64, droop: f64, length: f64, ceiling: f64) -> Vec<Point> {
    const STEPS: usize = 9;
    let step = length / STEPS as f64;
    let side = if angle >= 0.0 { 1.0 } else { -1.0 };
    let (mut at, mut turn) = (base, angle);
    let mut points = vec![base];
    for i in 0..STEPS {
        let share = i as f64 / STEPS as f64;
        turn += side * droop * (0.4 + 1.2 * share) / STEPS as f64;
        // What would break the surface lies down under it instead.
        let room = ((ceiling - at[1]) / (1.6 * step)).clamp(0.0, 1.0);
        let flattest = side * libm::acos((room * room).clamp(-0.05, 1.0));
        let heading = if turn.abs() < flattest.abs() { flattest } else { turn };
        let next = away(at, heading, step);
        at = [next[0], next[1].min(ceiling)];
        points.push(at);
    }
    points
}
