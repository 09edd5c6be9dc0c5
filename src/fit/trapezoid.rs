//! The suitability of one value inside an envelope.

use crate::catalogue::Envelope;
use crate::units::{Interval, Quantity};

/// 0 at and beyond the absolute limits, 1 between the optimal ones, linear between.
///
/// Where an absolute limit equals its optimal one there is a step, and the value itself
/// scores 1. Source: the envelope method of agronomic suitability models; reference rows
/// `suitability.csv` (28 °C in 15, 20, 28, 32 scores 1; 16 °C scores 0.2).
pub fn suitability<Q: Quantity>(envelope: Envelope<Q>, value: Q) -> f64 {
    trapezoid(envelope.values().map(Quantity::base), value.base())
}

pub(super) fn trapezoid([a, b, c, d]: [f64; 4], x: f64) -> f64 {
    if x < b {
        if x <= a { 0.0 } else { (x - a) / (b - a) }
    } else if x <= c {
        1.0
    } else if x >= d {
        0.0
    } else {
        (d - x) / (d - c)
    }
}

/// The least and the greatest suitability over an interval: exact, as a trapezoid rises to a
/// plateau and falls.
pub fn suitability_bounds<Q: Quantity>(envelope: Envelope<Q>, value: Interval<Q>) -> (f64, f64) {
    let (lo, hi) = value.ends();
    trapezoid_bounds(envelope.values().map(Quantity::base), (lo.base(), hi.base()))
}

pub(super) fn trapezoid_bounds(t: [f64; 4], (lo, hi): (f64, f64)) -> (f64, f64) {
    let (at_lo, at_hi) = (trapezoid(t, lo), trapezoid(t, hi));
    let on_plateau = lo <= t[2] && hi >= t[1];
    let greatest = if on_plateau { 1.0 } else { at_lo.max(at_hi) };
    (at_lo.min(at_hi), greatest)
}

/// The values at which a trapezoid is `level` or more, 0 < `level` <= 1: from the first to the
/// second.
pub(super) fn at_least([a, b, c, d]: [f64; 4], level: f64) -> (f64, f64) {
    // An open side has no slope: infinity times zero is no number.
    let high = if d.is_finite() { d - level * (d - c) } else { d };
    (a + level * (b - a), high)
}
