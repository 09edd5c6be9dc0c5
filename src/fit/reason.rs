//! The reason behind a factor: the value here, the value from which the plant grows, and the
//! room between them.

use super::assess::{curve, factor_bounds, level_for, light_bounds, light_trapezoid};
use super::height::room_wanted;
use super::trapezoid::at_least;
use super::{Factor, Verdict, ZoneConditions};
use crate::catalogue::Plant;
use crate::units::{Length, Quantity};

/// Which side of a limit a plant has to stay on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Edge {
    /// The value must not fall below the limit.
    AtLeast,
    /// The value must not rise above the limit.
    AtMost,
}

/// A factor in numbers; `unit` is the base unit of the quantity, as printed.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Reason {
    /// The factor.
    pub factor: Factor,
    /// The nominal value here.
    pub value: f64,
    /// The value at which suitability is one half: where the plant begins or ceases to grow.
    pub limit: f64,
    /// Which side is the right one.
    pub edge: Edge,
    /// The unit of both.
    pub unit: &'static str,
}

impl Reason {
    /// How far the value is on the right side of the limit; negative on the wrong side.
    pub fn margin(&self) -> f64 {
        match self.edge {
            Edge::AtLeast => self.value - self.limit,
            Edge::AtMost => self.limit - self.value,
        }
    }
}

/// A graded factor in full: the curve of the plant and the value that meets it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Graded {
    /// 0 at and beyond the outer values, 1 between the inner ones; infinite where more does no
    /// harm.
    pub curve: [f64; 4],
    /// The nominal value; for light, the zone's mean.
    pub value: f64,
    /// What the measurement leaves open.
    pub range: (f64, f64),
    /// Suitability at its least and at its greatest over the range; for light, of the zone.
    pub suitability: (f64, f64),
}

impl Graded {
    /// The values at which the plant grows by this factor alone.
    pub fn grows(&self) -> (f64, f64) {
        at_least(self.curve, Verdict::GROWS)
    }
}

/// A graded factor in full; `None` for the others, and where nothing can limit.
pub fn graded(plant: &Plant, zone: &ZoneConditions, factor: Factor) -> Option<Graded> {
    if factor == Factor::Light {
        let mean = level_for(plant, zone)?.mean().base();
        let (lo, hi) = zone.gain.range().ends();
        return Some(Graded {
            curve: light_trapezoid(plant),
            value: mean * zone.gain.nominal().value(),
            range: (mean * lo.value(), mean * hi.value()),
            suitability: light_bounds(plant, zone, (1.0, 1.0)),
        });
    }
    let (curve, value) = curve(plant, zone, factor)?;
    let suitability = factor_bounds(plant, zone, factor);
    Some(Graded { curve, value: value.nominal, range: value.range, suitability })
}

/// The numbers behind a factor; `None` for factors that are words (placement, footing,
/// feeding) and where nothing can limit (carbon for leaves in air).
pub fn reason(plant: &Plant, zone: &ZoneConditions, factor: Factor) -> Option<Reason> {
    match factor {
        Factor::Placement | Factor::Footing | Factor::Feeding => None,
        Factor::Height => Some(height_reason(plant, zone)),
        Factor::BedDepth => {
            // Suitability is one half at two thirds of the depth needed.
            let limit = plant.bed_depth_min.cm() * 2.0 / 3.0;
            let value = zone.bed_depth.cm();
            Some(Reason { factor, value, limit, edge: Edge::AtLeast, unit: factor.unit() })
        }
        Factor::Light => {
            let mean = level_for(plant, zone)?.mean().base() * zone.gain.nominal().value();
            Some(nearer_edge(factor, light_trapezoid(plant), mean))
        }
        Factor::Carbon | Factor::Temperature | Factor::Ph | Factor::Gh | Factor::Kh => {
            let (trapezoid, value) = curve(plant, zone, factor)?;
            Some(nearer_edge(factor, trapezoid, value.nominal))
        }
    }
}

fn height_reason(plant: &Plant, zone: &ZoneConditions) -> Reason {
    let hi = plant.height.hi();
    let [none, full] = room_wanted(plant, zone.ceiling).map(Length::cm);
    let too_short = hi.base() < zone.shortest.base();
    let (value, limit, edge) = if too_short {
        (hi.cm(), 0.75 * zone.shortest.cm(), Edge::AtLeast)
    } else {
        (zone.tallest.cm(), f64::midpoint(none, full), Edge::AtLeast)
    };
    Reason { factor: Factor::Height, value, limit, edge, unit: Factor::Height.unit() }
}

/// The limit on the side of the envelope where the value has less room.
fn nearer_edge(factor: Factor, trapezoid: [f64; 4], value: f64) -> Reason {
    let (low, high) = at_least(trapezoid, Verdict::GROWS);
    let edge = if value - low <= high - value { Edge::AtLeast } else { Edge::AtMost };
    let limit = if edge == Edge::AtLeast { low } else { high };
    Reason { factor, value, limit, edge, unit: factor.unit() }
}

/// Among factors that all score 1, the one whose value is relatively nearest to its limit.
pub(super) fn tightest(plant: &Plant, zone: &ZoneConditions) -> Factor {
    let room = |factor: Factor| {
        reason(plant, zone, factor).map_or(f64::INFINITY, |r| {
            let scale = r.limit.abs().max(r.value.abs()).max(1e-9);
            // pH is already a logarithm: its room is compared with one unit.
            let scale = if factor == Factor::Ph { 1.0 } else { scale };
            r.margin() / scale
        })
    };
    let graded = [Factor::Light, Factor::Carbon, Factor::Temperature, Factor::Ph, Factor::Gh, Factor::Kh];
    let mut best = (f64::INFINITY, Factor::Light);
    for factor in graded {
        let room = room(factor);
        if room < best.0 {
            best = (room, factor);
        }
    }
    best.1
}
