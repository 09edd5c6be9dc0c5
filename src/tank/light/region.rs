//! ∬ dP dφ over the directions in which a receiver sees a lamp through the water surface.
//!
//! On the plan, centred on the receiver, the lamp is a rectangle in ρ and the open water a
//! rectangle in s (see [`super::potential`]); both planes share the direction φ. The region is
//! where both hold, and by Green's theorem
//!
//! ```text
//! ∬ dP dφ = ∮ P dφ = Σ ± e ∫ P/(e² + u²) du
//! ```
//!
//! over the parts of lamp edges whose rays enter through the water surface and the parts of the
//! surface's edges whose rays come from the lamp, e being the distance of the edge and u the
//! place along it.

use super::potential::View;
use super::quadrature::{gauss4, gauss6, gauss8};

/// A rectangle relative to the receiver on the plan: `[low, high]` along x and along y, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rect {
    pub x: [f64; 2],
    pub y: [f64; 2],
}

impl Rect {
    /// With the axes swapped.
    pub fn turned(&self) -> Self {
        Self { x: self.y, y: self.x }
    }

    /// Mirrored left to right.
    pub fn flipped(&self) -> Self {
        Self { x: [-self.x[1], -self.x[0]], y: self.y }
    }

    fn holds_origin(&self) -> bool {
        self.x[0] <= 0.0 && self.x[1] >= 0.0 && self.y[0] <= 0.0 && self.y[1] >= 0.0
    }

    fn holds(&self, other: &Self) -> bool {
        self.x[0] <= other.x[0]
            && self.x[1] >= other.x[1]
            && self.y[0] <= other.y[0]
            && self.y[1] >= other.y[1]
    }
}

/// A ring of plan distances from the receiver.
#[derive(Debug, Clone, Copy)]
struct Ring {
    inner: f64,
    outer: f64,
}

/// The whole lamp, nothing in the way of its light: receivers in air, and lamps within the glass
/// seen without a wall between, because then the point of entry lies between lamp and receiver.
/// `potential` gives P/ρ² at a squared plan distance, `reach` the distance over which it falls off.
pub(super) fn whole(reach: f64, lamp: &Rect, potential: impl Fn(f64) -> f64) -> f64 {
    let mut sum = 0.0;
    for (edges, along) in [(lamp.x, lamp.y), (lamp.y, lamp.x)] {
        for (e, outward) in [(edges[0], -1.0), (edges[1], 1.0)] {
            sum += outward * along_edge(e, along[0], along[1], reach, &potential);
        }
    }
    sum
}

/// The part of the lamp whose rays enter through `surface`.
pub(super) fn through(view: &View<'_>, lamp: &Rect, surface: &Rect) -> f64 {
    if surface.holds_origin() && surface.holds(lamp) {
        return whole(view.reach, lamp, |w| view.over_lamp(w));
    }
    let entry_reach = view.reach * view.steepest_share();
    let mut crossings = Crossings::new(view, lamp, surface);
    let mut sum = 0.0;
    for axis in [0, 1] {
        for (side, outward) in [(0, -1.0), (1, 1.0)] {
            let e = crossings.lamp[axis][side];
            for [a, b] in crossings.lamp_parts(axis, side) {
                sum += outward * along_edge(e, a, b, view.reach, |w| view.over_lamp(w));
            }
            let e = crossings.surface[axis][side];
            for [a, b] in crossings.surface_parts(axis, side) {
                sum += outward * along_edge(e, a, b, entry_reach, |w| view.over_surface(w));
            }
        }
    }
    sum
}

/// e ∫ f(e² + u²) du over a..b. The integrand is smooth on the scale √(e² + reach²) around u = 0
/// and ever smoother away from it, so the panels grow outward.
fn along_edge(e: f64, a: f64, b: f64, reach: f64, f: impl Fn(f64) -> f64) -> f64 {
    if e == 0.0 || b <= a {
        return 0.0;
    }
    let e_squared = e * e;
    let scale = (e_squared + reach * reach).sqrt();
    let g = |u: f64| f(e_squared + u * u);
    if b - a < 0.6 * scale {
        return e * gauss4(a, b, g);
    }
    if b - a < 1.2 * scale {
        return e * gauss6(a, b, g);
    }
    if b - a < 1.6 * scale {
        return e * gauss8(a, b, g);
    }
    let mut sum = 0.0;
    if a < 0.0 {
        sum += outward_panels((-b).max(0.0), -a, scale, &g);
    }
    if b > 0.0 {
        sum += outward_panels(a.max(0.0), b, scale, &g);
    }
    e * sum
}

/// ∫ g over a..b, 0 ≤ a ≤ b, for an even g.
fn outward_panels(a: f64, b: f64, scale: f64, g: &impl Fn(f64) -> f64) -> f64 {
    let (mut from, mut sum) = (a, 0.0);
    while from < b {
        let to = b.min(1.5 * scale + 4.0 * from);
        sum += if to - from < 0.6 * (scale + from) { gauss4(from, to, g) } else { gauss8(from, to, g) };
        from = to;
    }
    sum
}

/// Up to two stretches of an edge; an empty one runs backwards.
type Parts = [[f64; 2]; 2];
const NOTHING: Parts = [[0.0, -1.0]; 2];

/// The parts of the stretch `low..high` along an edge at distance `e` that lie within the ring.
fn within_ring(e: f64, [low, high]: [f64; 2], ring: Ring) -> Parts {
    if ring.outer <= e.abs() {
        return NOTHING;
    }
    let reach = |r: f64| ((r - e) * (r + e)).max(0.0).sqrt();
    let (inner, outer) = (reach(ring.inner), reach(ring.outer));
    if inner <= 0.0 {
        return [[low.max(-outer), high.min(outer)], NOTHING[1]];
    }
    [[low.max(-outer), high.min(-inner)], [low.max(inner), high.min(outer)]]
}

/// Where the edges of the lamp and of the surface cross, found as they are asked for. An edge is
/// named by the axis it stands across (0 for x) and its side (0 for the low one).
struct Crossings<'a> {
    view: &'a View<'a>,
    lamp: [[f64; 2]; 2],
    surface: [[f64; 2]; 2],
    /// s/ρ where a lamp edge (axis, side) meets a surface edge (side) of the other axis.
    shares: [[[Option<f64>; 2]; 2]; 2],
}

impl<'a> Crossings<'a> {
    fn new(view: &'a View<'a>, lamp: &Rect, surface: &Rect) -> Self {
        let (lamp, surface) = ([lamp.x, lamp.y], [surface.x, surface.y]);
        Self { view, lamp, surface, shares: [[[None; 2]; 2]; 2] }
    }

    /// The parts of a lamp edge whose rays enter through the surface. The point of entry of the
    /// lamp point at (e, u) is σ·(e, u), σ = s/ρ falling with ρ.
    fn lamp_parts(&mut self, axis: usize, side: usize) -> Parts {
        let view = self.view;
        let (e, along) = (self.lamp[axis][side], self.lamp[1 - axis]);
        let shares = share_range(e, self.surface[axis]);
        let Some(ring) = ring_of_share(view, shares, Plane::Lamp) else { return NOTHING };
        let mut stretch = along;
        for (end, sign) in [(0, 1.0), (1, -1.0)] {
            // Looking along `sign`: the edge runs from `near` to `far`, the entry must pass `bound`.
            let (near, far) = (sign * along[end], sign * along[1 - end]);
            let bound = sign * self.surface[1 - axis][end];
            if bound <= (near * view.steepest_share()).min(0.0) {
                continue;
            }
            if bound >= (far * view.steepest_share()).max(0.0).min(view.farthest_entry()) {
                return NOTHING;
            }
            if -bound < view.farthest_entry() {
                let crossing = bound / self.share(axis, side, end);
                stretch[end] = sign * near.max(crossing);
            }
        }
        within_ring(e, stretch, ring)
    }

    /// The parts of an edge of the surface whose rays come from the lamp: as for the lamp, the
    /// other way round.
    fn surface_parts(&mut self, axis: usize, side: usize) -> Parts {
        let view = self.view;
        let (e, along) = (self.surface[axis][side], self.surface[1 - axis]);
        let [least, most] = share_range(e, self.lamp[axis]);
        if e.abs() >= view.farthest_entry() || most <= 0.0 {
            return NOTHING;
        }
        // e/σ within the lamp bounds 1/σ.
        let shares = [1.0 / most, if least > 0.0 { 1.0 / least } else { f64::INFINITY }];
        let Some(ring) = ring_of_share(view, shares, Plane::Surface) else { return NOTHING };
        let mut stretch = along;
        for (end, sign) in [(0, 1.0), (1, -1.0)] {
            // The entry from this end of the lamp lies between 0 and `bound`·σ straight above.
            let (near, bound) = (sign * along[end], sign * self.lamp[1 - axis][end]);
            if near < (bound * view.steepest_share()).max(0.0) {
                let crossing = bound * self.share(1 - axis, end, side);
                stretch[end] = sign * near.max(crossing);
            }
        }
        within_ring(e, stretch, ring)
    }

    fn share(&mut self, lamp_axis: usize, lamp_side: usize, surface_side: usize) -> f64 {
        let known = &mut self.shares[lamp_axis][lamp_side][surface_side];
        let (lamp, entry) = (self.lamp[lamp_axis][lamp_side], self.surface[1 - lamp_axis][surface_side]);
        *known.get_or_insert_with(|| share_where(self.view, lamp, entry))
    }
}

/// The factors q with e·q within `bounds`, for e ≠ 0.
fn share_range(e: f64, bounds: [f64; 2]) -> [f64; 2] {
    if e > 0.0 { [bounds[0] / e, bounds[1] / e] } else { [bounds[1] / e, bounds[0] / e] }
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Plane {
    Lamp,
    Surface,
}

/// The ring in which s/ρ lies within `shares`; `None` when nowhere.
fn ring_of_share(view: &View<'_>, shares: [f64; 2], plane: Plane) -> Option<Ring> {
    let steepest = view.steepest_share();
    let [least, most] = shares;
    if least > steepest || most <= 0.0 || most < least {
        return None;
    }
    if view.k <= 0.0 {
        // In air s/ρ is the same everywhere.
        return (most >= steepest).then_some(Ring { inner: 0.0, outer: f64::INFINITY });
    }
    let distance = |share: f64| {
        let y_squared = view.at_share(share);
        let s = view.entry_at(y_squared);
        if plane == Plane::Lamp { s / share } else { s }
    };
    let inner = if most >= steepest { 0.0 } else { distance(most) };
    let outer = if least <= 0.0 { f64::INFINITY } else { distance(least) };
    Some(Ring { inner, outer })
}

/// s/ρ where the lamp's line at distance `lamp` crosses the surface's line, at right angles to it,
/// at distance `entry` (nearer than the farthest entry): s² = entry² + lamp²·(s/ρ)².
///
/// In y² the equation is convex and falling, so Newton's steps from below never overshoot; the
/// start takes s/ρ as large as it can be.
fn share_where(view: &View<'_>, lamp: f64, entry: f64) -> f64 {
    let (d, hn) = (view.depth, view.hn);
    if view.k <= 0.0 {
        return d / (d + hn);
    }
    let (a, e, eta) = (entry * entry, lamp * lamp, hn / d);
    let per_k = d * d / view.k;
    let most = view.steepest_share();
    let mut q = (1.0 - (a + e * most * most) / per_k).max(0.0);
    for _ in 0..60 {
        let root = q.sqrt();
        let per_far = 1.0 / (root + eta);
        let slope = e * per_far * per_far;
        let excess = per_k * (1.0 - q) - a - slope * q;
        let step = excess / (per_k + slope * per_far * eta);
        q += step;
        if step.abs() <= 1e-7 {
            break;
        }
    }
    view.share_at(q)
}
