//! Light through leaves: Monsi & Saeki's canopy.
//!
//! Monsi & Saeki 1953, Japanese Journal of Botany 14:22–52 (English translation 2005, Annals of
//! Botany 95:549–567): light under leaf area index L is exp(−k·L) of that above.

use libm::exp;

/// Leaf area over ground area, both in the same unit; 0 or more.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct LeafArea(pub f64);

/// Extinction coefficient for each unit of leaf area index.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Extinction(pub f64);

/// The share of light that passes: 0.3679 for k = 0.5 and L = 2.
pub fn passed(k: Extinction, leaves: LeafArea) -> f64 {
    exp(-k.0 * leaves.0)
}

/// The light on the mean leaf as a share of that on top: the mean of exp(−k·l) over l from 0 to L.
pub fn mean_leaf(k: Extinction, leaves: LeafArea) -> f64 {
    let depth = k.0 * leaves.0;
    // The series where the quotient would lose its digits.
    if depth < 1e-6 { 1.0 - depth / 2.0 } else { (1.0 - exp(-depth)) / depth }
}

/// Nodes and weights of Gauss–Legendre on 0 to 1 with four points.
const NODES: [(f64, f64); 4] = [
    (0.069_431_844_202_973_71, 0.173_927_422_568_726_93),
    (0.330_009_478_207_571_87, 0.326_072_577_431_273_07),
    (0.669_990_521_792_428_1, 0.326_072_577_431_273_07),
    (0.930_568_155_797_026_3, 0.173_927_422_568_726_93),
];

/// The mean over the leaves of a canopy of what a leaf does at its share of the light on top.
pub fn over_leaves(k: Extinction, leaves: LeafArea, of_leaf: impl Fn(f64) -> f64) -> f64 {
    NODES.iter().map(|(at, weight)| weight * of_leaf(exp(-k.0 * leaves.0 * at))).sum()
}
