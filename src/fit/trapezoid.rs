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
    let (at_lo, at_hi) = (suitability(envelope, lo), suitability(envelope, hi));
    let on_plateau = lo.base() <= envelope.opt_max().base() && hi.base() >= envelope.opt_min().base();
    let greatest = if on_plateau { 1.0 } else { at_lo.max(at_hi) };
    (at_lo.min(at_hi), greatest)
}
