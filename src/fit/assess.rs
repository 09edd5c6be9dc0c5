//! One plant in one zone: every factor, the least of them, and its bounds.

use super::height::height;
use super::trapezoid::{trapezoid, trapezoid_bounds};
use super::{Factor, LightLevel, LightShare, Measured, Verdict, ZoneConditions};
use crate::catalogue::{CarbonUse, Envelope, Feeding, Footing, Plant};
use crate::tank::file::BedKind;
use crate::units::{Concentration, Dli, Length, Ppfd, Quantity};

/// Hours of light the catalogue's PPFD figures are stated for.
pub const REFERENCE_HOURS: f64 = 8.0;

/// Suitability of an inert bed for a root feeder, and for a plant that feeds both ways: they
/// grow there with fertiliser at the roots (common practice, no source).
const INERT_BED_ROOT: f64 = 0.7;
const INERT_BED_BOTH: f64 = 0.9;

/// A plant judged in a zone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Assessment {
    /// Mean over the cells of the least factor, 0 to 1.
    pub suitability: f64,
    /// The factor that attains the minimum; where all are 1, the one nearest to limiting.
    pub limiting: Factor,
    /// Share of the zone's area where the plant at least grows.
    pub grows_share: f64,
    /// Suitability by factor, in the order of [`Factor::ALL`]; light is the zone's mean.
    pub factors: [f64; 11],
}

impl Assessment {
    /// The verdict.
    pub fn verdict(&self) -> Verdict {
        Verdict::of(self.suitability)
    }

    /// The suitability of one factor.
    pub fn factor(&self, factor: Factor) -> f64 {
        self.factors[factor as usize]
    }
}

/// The least and the greatest suitability over the box of measurement ranges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// The least.
    pub least: f64,
    /// The greatest.
    pub greatest: f64,
}

impl Bounds {
    /// The verdict, when the whole box gives one.
    pub fn sure(self) -> Option<Verdict> {
        let (a, b) = (Verdict::of(self.least), Verdict::of(self.greatest));
        (a == b).then_some(a)
    }
}

/// Judges a plant at the nominal values of the zone's conditions.
pub fn assess(plant: &Plant, zone: &ZoneConditions) -> Assessment {
    judge(plant, zone, factors(plant, zone))
}

/// As [`assess`], but as if the zone were of a placement that the plant serves.
pub fn assess_anywhere(plant: &Plant, zone: &ZoneConditions) -> Assessment {
    let mut factors = factors(plant, zone);
    factors[Factor::Placement as usize] = 1.0;
    judge(plant, zone, factors)
}

/// Every factor but light at the nominal values; light is left at 1.
fn factors(plant: &Plant, zone: &ZoneConditions) -> [f64; 11] {
    let mut factors = [1.0; 11];
    set_fixed(plant, zone, &mut factors);
    for measured in WATER_FACTORS {
        if let Some((trapezoid_of, value)) = curve(plant, zone, measured) {
            factors[measured as usize] = trapezoid(trapezoid_of, value.nominal);
        }
    }
    factors
}

fn judge(plant: &Plant, zone: &ZoneConditions, mut factors: [f64; 11]) -> Assessment {
    let cap = factors.iter().copied().fold(1.0, f64::min);
    let (level, gain) = (level_for(plant, zone), zone.gain.nominal().value());
    let trapezoid = light_trapezoid(plant);
    let share = |cap: f64| level.map_or(LightShare::DARK, |l| l.share(trapezoid, cap, gain));
    let alone = share(1.0);
    let whole = if cap < 1.0 { share(cap) } else { alone };
    factors[Factor::Light as usize] = alone.mean;
    Assessment {
        suitability: whole.mean,
        limiting: limiting(plant, zone, &factors),
        grows_share: whole.grows,
        factors,
    }
}

/// Bounds the suitability over every combination of the zone's measurement ranges, carbon and
/// light among them. Exact over that box: each range enters one factor only, so the least
/// (greatest) minimum is the minimum of the least (greatest) factors. Carbon stands in it as a
/// measurement of its own; where it was worked out from pH, KH and temperature, it cannot be high
/// while pH is high too, so the bounds hold all the same but may be wider than any tank reaches.
pub fn bounds(plant: &Plant, zone: &ZoneConditions) -> Bounds {
    let mut fixed = [1.0; 11];
    set_fixed(plant, zone, &mut fixed);
    let fixed = fixed.iter().copied().fold(1.0, f64::min);
    if fixed <= 0.0 {
        return Bounds { least: 0.0, greatest: 0.0 };
    }
    let caps = WATER_FACTORS.iter().fold((fixed, fixed), |(least, greatest), factor| {
        let (lo, hi) = factor_bounds(plant, zone, *factor);
        (lo.min(least), hi.min(greatest))
    });
    let (least, greatest) = light_bounds(plant, zone, caps);
    Bounds { least, greatest }
}

/// The factors that the water decides.
pub(super) const WATER_FACTORS: [Factor; 5] =
    [Factor::Carbon, Factor::Temperature, Factor::Ph, Factor::Gh, Factor::Kh];

/// A measured value in its base unit: nominal and range.
#[derive(Debug, Clone, Copy)]
pub(super) struct Value {
    pub nominal: f64,
    pub range: (f64, f64),
}

impl Value {
    fn of<Q: Quantity>(measured: Measured<Q>) -> Self {
        let (lo, hi) = measured.range().ends();
        Self { nominal: measured.nominal().base(), range: (lo.base(), hi.base()) }
    }
}

/// The trapezoid of a water factor and the value that meets it; `None` where nothing can limit.
pub(super) fn curve(plant: &Plant, zone: &ZoneConditions, factor: Factor) -> Option<([f64; 4], Value)> {
    fn of<Q: Quantity>(envelope: Envelope<Q>, value: Measured<Q>) -> ([f64; 4], Value) {
        (envelope.values().map(Quantity::base), Value::of(value))
    }
    let water = &zone.water;
    match factor {
        Factor::Carbon => carbon_trapezoid(plant).map(|t| (t, Value::of(usable_carbon(plant, zone)))),
        Factor::Temperature => Some(of(plant.temperature, water.temperature)),
        Factor::Ph => Some(of(plant.ph, water.ph)),
        Factor::Gh => Some(of(plant.gh, water.gh)),
        Factor::Kh => Some(of(plant.kh, water.kh)),
        _ => None,
    }
}

/// The least and the greatest suitability of a water factor over its range.
pub(super) fn factor_bounds(plant: &Plant, zone: &ZoneConditions, factor: Factor) -> (f64, f64) {
    curve(plant, zone, factor).map_or((1.0, 1.0), |(t, value)| trapezoid_bounds(t, value.range))
}

/// The least and the greatest mean over the zone, all factors but light capping it at `caps`.
pub(super) fn light_bounds(plant: &Plant, zone: &ZoneConditions, caps: (f64, f64)) -> (f64, f64) {
    let (lo, hi) = zone.gain.range().ends();
    level_for(plant, zone)
        .map_or((0.0, 0.0), |l| l.mean_bounds(light_trapezoid(plant), caps, (lo.value(), hi.value())))
}

/// The factors that measurement ranges do not touch.
pub(super) fn set_fixed(plant: &Plant, zone: &ZoneConditions, factors: &mut [f64; 11]) {
    let yes = |b: bool| f64::from(u8::from(b));
    factors[Factor::Placement as usize] = yes(plant.placements.contains(&zone.placement));
    factors[Factor::Footing as usize] = yes(plant.footings.iter().any(|f| zone.footings.contains(f)));
    factors[Factor::Height as usize] = height(plant, zone);
    if zone.footings.contains(&Footing::Bed) {
        factors[Factor::BedDepth as usize] = bed_depth(plant, zone);
        factors[Factor::Feeding as usize] = feeding(plant, zone.bed);
    }
}

/// The bed a plant wants: none suits it at the first depth, it suits from the second, which is
/// three times as deep (our rule).
pub fn bed_wanted(plant: &Plant) -> [Length; 2] {
    let full = plant.bed_depth_min;
    [Length::from_m(full.m() / 3.0), full]
}

/// Bed depth by [`bed_wanted`].
fn bed_depth(plant: &Plant, zone: &ZoneConditions) -> f64 {
    let [none, full] = bed_wanted(plant).map(Length::m);
    if full <= 0.0 {
        return 1.0;
    }
    let far = f64::INFINITY;
    trapezoid([none, full, far, far], zone.bed_depth.m())
}

fn feeding(plant: &Plant, bed: BedKind) -> f64 {
    match (plant.feeding, bed) {
        (Feeding::Root, BedKind::Sand | BedKind::Gravel) => INERT_BED_ROOT,
        (Feeding::Both, BedKind::Sand | BedKind::Gravel) => INERT_BED_BOTH,
        _ => 1.0,
    }
}

/// Carbon the plant can use.
pub fn usable_carbon(plant: &Plant, zone: &ZoneConditions) -> Measured<Concentration> {
    let water = &zone.water;
    match plant.carbon_use {
        CarbonUse::Bicarbonate => water.co2.plus(water.bicarbonate_as_co2),
        CarbonUse::Co2 | CarbonUse::Air => water.co2,
    }
}

/// Plants that take carbon from the air are never short of it.
pub(super) fn carbon_trapezoid(plant: &Plant) -> Option<[f64; 4]> {
    let far = f64::INFINITY;
    (plant.carbon_use != CarbonUse::Air).then(|| [plant.co2_min.mg_l(), plant.co2_opt.mg_l(), far, far])
}

/// The catalogue's PPFD as daily light.
pub(super) fn reference_dli(ppfd: Ppfd) -> Dli {
    Dli::from_mol_m2_d(ppfd.umol_m2_s() * REFERENCE_HOURS * 0.0036)
}

pub(super) fn light_trapezoid(plant: &Plant) -> [f64; 4] {
    plant.light.values().map(|p| reference_dli(p).base())
}

/// The level of light at which the plant is judged here: see [`ZoneConditions::light_at`].
pub fn level_for<'a>(plant: &Plant, zone: &'a ZoneConditions) -> Option<&'a LightLevel> {
    let stands = Length::from_m(plant.height.hi().base().min(zone.tallest.base()));
    zone.light_at(stands)
}

/// The factor with the least suitability; among several at 1, the one with the least room.
fn limiting(plant: &Plant, zone: &ZoneConditions, factors: &[f64; 11]) -> Factor {
    let least = factors.iter().copied().fold(1.0, f64::min);
    if least < 1.0 {
        let found = Factor::ALL.iter().zip(factors).find(|(_, s)| **s <= least);
        return found.map_or(Factor::Light, |(f, _)| *f);
    }
    super::reason::tightest(plant, zone)
}
