//! What of the light reaches a drift past its neighbours and under floating plants.
//!
//! Light under water comes from above within Snell's window: a cone of 48.6° around the vertical,
//! sin θ ≤ 1/n. It is taken as equally bright in every direction of that cone. Around each of some
//! spots of a drift the directions of the compass are cut into [`SECTORS`]; in a sector, a canopy
//! whose nearest ground is `d` away and whose top stands `Δ` above the leaf hides what comes from
//! below its top: zenith angles beyond atan(d/Δ). On a level leaf that is the share
//! 1 − n²·d²/(d² + Δ²) of the sector's light (the projected solid angle goes with sin²θ), and
//! nothing where d/Δ is beyond the edge of the window. The hidden light is lost as far as the
//! canopy is closed and dense: cover × (1 − exp(−k·L)), L being its leaf area above the leaf.
//!
//! Floating plants hide their share of the surface, spread evenly, as everywhere in the model; what
//! the tank file says of plants already there is not hidden twice.
//!
//! Left out: light mirrored by the glass counts as coming from the window too, lamps are not
//! told apart, and a canopy shades by its top alone, not by its thickness.

use libm::{asin, atan2, hypot};

use crate::tank::file::Spot;
use crate::tank::light::WATER_INDEX;
use crate::units::{Fraction, Length};

/// Directions of the compass around a spot.
pub const SECTORS: usize = 16;
/// Spots of a drift at which its light is followed, at most.
const MOST_SPOTS: usize = 9;
/// Cells of a shading drift looked at, at most.
const MOST_CELLS: usize = 160;

/// A canopy near a spot: which drift, and how far its nearest ground is in one sector.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Near {
    drift: usize,
    distance: f64,
}

/// The drifts around one spot.
#[derive(Debug, Clone)]
pub struct Surroundings {
    sectors: Vec<Vec<Near>>,
}

/// What a drift's canopy takes from a leaf: how far its top stands above it, and what share of the
/// light that meets it does not come through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Screen {
    /// Height of the canopy's top above the leaf; nothing is hidden from 0 down.
    pub above: Length,
    /// Share of the light that is kept off, 0 to 1.
    pub opacity: Fraction,
}

/// The share of a sector's light that a canopy at this distance and height hides: 0 to 1, more for
/// a taller and a nearer one. `above` 0 or less hides nothing.
pub fn hidden(distance: Length, above: Length) -> Fraction {
    let (d, up) = (distance.m().max(0.0), above.m());
    if up <= 0.0 {
        return Fraction::new(0.0);
    }
    let far = WATER_INDEX * WATER_INDEX * d * d / (d * d + up * up);
    Fraction::new((1.0 - far).max(0.0))
}

/// The share of light left under floating plants, relative to what the light field already has:
/// `now` of the surface is closed there, `cover` is closed by the floating drifts. Never above 1.
pub fn under_floating(cover: Fraction, now: Fraction) -> Fraction {
    let now = now.value().clamp(0.0, 0.99);
    let cover = cover.value().clamp(now, 0.99);
    Fraction::new((1.0 - cover) / (1.0 - now))
}

/// Some of the cells of a drift, evenly.
pub fn spots(cells: &[Spot]) -> Vec<Spot> {
    let step = cells.len().div_ceil(MOST_SPOTS).max(1);
    cells.iter().skip(step / 2).step_by(step).copied().collect()
}

/// The surroundings of every spot of every drift; floating drifts neither shade nor are shaded here.
/// `cell` is the width of a cell.
pub fn surroundings(grounds: &[&[Spot]], floating: &[bool], cell: Length) -> Vec<Vec<Surroundings>> {
    let thinned: Vec<Vec<Spot>> = grounds
        .iter()
        .map(|cells| cells.iter().step_by(cells.len().div_ceil(MOST_CELLS).max(1)).copied().collect())
        .collect();
    let around = |(drift, cells): (usize, &&[Spot])| {
        let others: Vec<(usize, &[Spot], f64)> = thinned
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != drift && !floating[*other] && !floating[drift])
            .map(|(other, seen)| {
                // A cell left in stands for those left out around it.
                let stands_for = grounds[other].len() as f64 / seen.len().max(1) as f64;
                (other, seen.as_slice(), cell.m() / 2.0 * stands_for.sqrt())
            })
            .collect();
        spots(cells).into_iter().map(|spot| Surroundings::of(spot, &others)).collect()
    };
    grounds.iter().enumerate().map(around).collect()
}

impl Surroundings {
    /// `others`: drift, cells, half the width a cell stands for.
    fn of(spot: Spot, others: &[(usize, &[Spot], f64)]) -> Self {
        let mut sectors: Vec<Vec<Near>> = vec![Vec::new(); SECTORS];
        for &(drift, cells, half) in others {
            let mut nearest = [f64::INFINITY; SECTORS];
            for cell in cells {
                let (dx, dy) = (cell.0.m() - spot.0.m(), cell.1.m() - spot.1.m());
                let distance = hypot(dx, dy);
                for sector in covered(atan2(dy, dx), distance, half) {
                    nearest[sector] = nearest[sector].min((distance - half).max(0.0));
                }
            }
            for (sector, &distance) in nearest.iter().enumerate() {
                if distance.is_finite() {
                    sectors[sector].push(Near { drift, distance });
                }
            }
        }
        Self { sectors }
    }

    /// The share of the light that reaches the spot past the canopies of the other drifts; `screens`
    /// by drift.
    pub fn open(&self, screens: &[Screen]) -> Fraction {
        let left = |near: &Near| {
            let screen = &screens[near.drift];
            1.0 - hidden(Length::from_m(near.distance), screen.above).value() * screen.opacity.value()
        };
        let sector = |nears: &Vec<Near>| nears.iter().map(left).product::<f64>();
        Fraction::new(self.sectors.iter().map(sector).sum::<f64>() / SECTORS as f64)
    }
}

/// The sectors that a disc of radius `half` at this bearing and distance touches with its middle
/// half.
fn covered(bearing: f64, distance: f64, half: f64) -> impl Iterator<Item = usize> {
    let width = std::f64::consts::TAU / SECTORS as f64;
    let spread = if distance > half { asin(half / distance) } else { std::f64::consts::FRAC_PI_2 };
    let first = ((bearing - spread) / width).round() as i64;
    let last = ((bearing + spread) / width).round() as i64;
    (first..=last).map(|s| s.rem_euclid(SECTORS as i64) as usize)
}
