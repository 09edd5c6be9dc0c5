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
use super::quadrature::{gauss4, gauss8};

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
    let entry_reach = view.reach * view.depth / (view.depth + view.hn);
    let mut sum = 0.0;
    for ((lamp_across, lamp_along), (surface_across, surface_along)) in
        [((lamp.x, lamp.y), (surface.x, surface.y)), ((lamp.y, lamp.x), (surface.y, surface.x))]
    {
        for (side, outward) in [(0, -1.0), (1, 1.0)] {
            let e = lamp_across[side];
            for [a, b] in lamp_parts(view, e, lamp_along, surface_across, surface_along) {
                sum += outward * along_edge(e, a, b, view.reach, |w| view.over_lamp(w));
            }
            let e = surface_across[side];
            for [a, b] in surface_parts(view, e, surface_along, lamp_across, lamp_along) {
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

/// The stretches of `low..high` along an edge at distance `e` that lie within the ring.
fn within_ring(e: f64, low: f64, high: f64, ring: Ring) -> Parts {
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

/// The parts of a lamp edge whose rays enter through the surface. The point of entry of the lamp
/// point at (e, u) is σ·(e, u), σ = s/ρ falling with ρ.
fn lamp_parts(view: &View<'_>, e: f64, along: [f64; 2], across: [f64; 2], entry_along: [f64; 2]) -> Parts {
    let Some(ring) = ring_of_share(view, share_range(e, across), Plane::Lamp) else { return NOTHING };
    let limit = |at: f64| {
        if at.abs() >= view.farthest_entry() {
            at.signum() * f64::INFINITY
        } else {
            at / share_where(view, e, at)
        }
    };
    let (low, high) = (along[0].max(limit(entry_along[0])), along[1].min(limit(entry_along[1])));
    within_ring(e, low, high, ring)
}

/// The parts of an edge of the surface whose rays come from the lamp: as [`lamp_parts`], the other
/// way round.
fn surface_parts(view: &View<'_>, e: f64, along: [f64; 2], across: [f64; 2], lamp_along: [f64; 2]) -> Parts {
    if e.abs() >= view.farthest_entry() {
        return NOTHING;
    }
    let [low, high] = share_range(e, across);
    let inverse = |share: f64| if share == 0.0 { f64::INFINITY } else { 1.0 / share };
    // The bounds are on 1/σ here: e/σ within `across`.
    let shares = [if high > 0.0 { inverse(high) } else { f64::INFINITY }, inverse(low.max(0.0))];
    if high <= 0.0 {
        return NOTHING;
    }
    let Some(ring) = ring_of_share(view, shares, Plane::Surface) else { return NOTHING };
    let limit = |at: f64| at * share_where(view, at, e);
    let (low, high) = (along[0].max(limit(lamp_along[0])), along[1].min(limit(lamp_along[1])));
    within_ring(e, low, high, ring)
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
    let steepest = view.depth / (view.depth + view.hn);
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
/// In y² the equation is convex and falling, so Newton's steps from 0 never overshoot.
fn share_where(view: &View<'_>, lamp: f64, entry: f64) -> f64 {
    let (d, hn) = (view.depth, view.hn);
    if view.k <= 0.0 {
        return d / (d + hn);
    }
    let per_k = d * d / view.k;
    let (a, e) = (entry * entry, lamp * lamp);
    let eta = hn / d;
    let mut q: f64 = 0.0;
    for _ in 0..60 {
        let root = q.sqrt();
        let far = root + eta;
        let excess = per_k * (1.0 - q) - a - e * q / (far * far);
        let step = excess / (per_k + e * eta / (far * far * far));
        q += step;
        if step.abs() <= 1e-13 {
            break;
        }
    }
    view.share_at(q)
}
