//! One plant in one zone: every factor, the least of them, and its bounds.

use super::trapezoid::trapezoid;
use super::{Factor, LightLevel, LightShare, Verdict, ZoneConditions, suitability, suitability_bounds};
use crate::catalogue::{CarbonUse, Emersed, Feeding, Footing, GrowthForm, Placement, Plant};
use crate::tank::file::BedKind;
use crate::units::{Concentration, Dli, Interval, Length, Ppfd, Quantity};

/// Hours of light the catalogue's PPFD figures are stated for.
pub(super) const REFERENCE_HOURS: f64 = 8.0;

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

/// Judges a plant at the nominal values (midpoints) of the zone's conditions.
pub fn assess(plant: &Plant, zone: &ZoneConditions) -> Assessment {
    let water = &zone.water;
    let mut factors = [1.0; 11];
    set_fixed(plant, zone, &mut factors);
    factors[Factor::Carbon as usize] = carbon(plant, nominal_carbon(plant, zone));
    factors[Factor::Temperature as usize] = suitability(plant.temperature, water.temperature.mid());
    factors[Factor::Ph as usize] = suitability(plant.ph, water.ph.mid());
    factors[Factor::Gh as usize] = suitability(plant.gh, water.gh.mid());
    factors[Factor::Kh as usize] = suitability(plant.kh, water.kh.mid());
    let cap = factors.iter().copied().fold(1.0, f64::min);
    let level = level_for(plant, zone);
    let (whole, alone) = light(plant, level, cap);
    factors[Factor::Light as usize] = alone.mean;
    Assessment {
        suitability: whole.mean,
        limiting: limiting(plant, zone, &factors),
        grows_share: whole.grows,
        factors,
    }
}

/// Bounds the suitability over every combination of the zone's measurement ranges. Exact:
/// each range enters one factor only, so the least (greatest) minimum is the minimum of the
/// least (greatest) factors.
pub fn bounds(plant: &Plant, zone: &ZoneConditions) -> Bounds {
    let water = &zone.water;
    let mut fixed = [1.0; 11];
    set_fixed(plant, zone, &mut fixed);
    let fixed = fixed.iter().copied().fold(1.0, f64::min);
    let pairs = [
        carbon_bounds(plant, zone),
        suitability_bounds(plant.temperature, water.temperature),
        suitability_bounds(plant.ph, water.ph),
        suitability_bounds(plant.gh, water.gh),
        suitability_bounds(plant.kh, water.kh),
    ];
    let least = pairs.iter().map(|p| p.0).fold(fixed, f64::min);
    let greatest = pairs.iter().map(|p| p.1).fold(fixed, f64::min);
    let level = level_for(plant, zone);
    Bounds { least: light(plant, level, least).0.mean, greatest: light(plant, level, greatest).0.mean }
}

/// The factors that measurement ranges do not touch.
fn set_fixed(plant: &Plant, zone: &ZoneConditions, factors: &mut [f64; 11]) {
    let yes = |b: bool| f64::from(u8::from(b));
    factors[Factor::Placement as usize] = yes(plant.placements.contains(&zone.placement));
    factors[Factor::Footing as usize] = yes(plant.footings.iter().any(|f| zone.footings.contains(f)));
    factors[Factor::Height as usize] = height(plant, zone);
    if zone.footings.contains(&Footing::Bed) {
        factors[Factor::BedDepth as usize] = bed_depth(plant, zone);
        factors[Factor::Feeding as usize] = feeding(plant, zone.bed);
    }
}

/// The room a plant wants: none suits it below the first height, it suits from the second.
///
/// Stems are cut to size: the lower end of their usual height suits, half of it does not. What
/// cannot be cut needs room for its usual middle, and fails where even its smallest form would
/// have to lose a quarter (our rule; common practice, no source).
pub(super) fn room_wanted(plant: &Plant) -> [Length; 2] {
    let (lo, hi) = plant.height.ends();
    match plant.growth_form {
        GrowthForm::Stem => [Length::from_m(0.5 * lo.m()), lo],
        _ => [Length::from_m(0.75 * lo.m()), Length::from_m(f64::midpoint(lo.m(), hi.m()))],
    }
}

/// Height window: by [`room_wanted`], and down to 0 for a plant that reaches only half of what
/// the zone asks for (our rule).
fn height(plant: &Plant, zone: &ZoneConditions) -> f64 {
    if zone.placement == Placement::Floating {
        return 1.0;
    }
    let (lo, hi) = plant.height.ends();
    let leaves_water = zone.open_top && plant.emersed == Emersed::OpenTop;
    let under = if leaves_water && zone.tallest.base() >= lo.base() {
        1.0
    } else {
        let far = f64::INFINITY;
        let [none, full] = room_wanted(plant).map(Length::m);
        trapezoid([none, full, far, far], zone.tallest.m())
    };
    let over = if zone.shortest.base() <= 0.0 {
        1.0
    } else {
        (2.0 * hi.base() / zone.shortest.base() - 1.0).clamp(0.0, 1.0)
    };
    under.min(over)
}

/// Bed depth: 1 from the depth the plant needs, 0 at a third of it (our rule).
fn bed_depth(plant: &Plant, zone: &ZoneConditions) -> f64 {
    let need = plant.bed_depth_min.base();
    if need <= 0.0 {
        return 1.0;
    }
    ((zone.bed_depth.base() / need - 1.0 / 3.0) * 1.5).clamp(0.0, 1.0)
}

fn feeding(plant: &Plant, bed: BedKind) -> f64 {
    match (plant.feeding, bed) {
        (Feeding::Root, BedKind::Sand | BedKind::Gravel) => INERT_BED_ROOT,
        (Feeding::Both, BedKind::Sand | BedKind::Gravel) => INERT_BED_BOTH,
        _ => 1.0,
    }
}

/// Carbon the plant can use, nominal.
fn nominal_carbon(plant: &Plant, zone: &ZoneConditions) -> Concentration {
    let water = &zone.water;
    match plant.carbon_use {
        CarbonUse::Bicarbonate => {
            Concentration::from_mg_l(water.co2.mid().mg_l() + water.bicarbonate_as_co2.mid().mg_l())
        }
        CarbonUse::Co2 | CarbonUse::Air => water.co2.mid(),
    }
}

/// Carbon the plant can use, over the ranges.
pub(super) fn usable_carbon(plant: &Plant, zone: &ZoneConditions) -> Interval<Concentration> {
    let water = &zone.water;
    let extra = |c: Concentration| match plant.carbon_use {
        CarbonUse::Bicarbonate => c.mg_l(),
        CarbonUse::Co2 | CarbonUse::Air => 0.0,
    };
    Interval::spanning(
        Concentration::from_mg_l(water.co2.lo().mg_l() + extra(water.bicarbonate_as_co2.lo())),
        Concentration::from_mg_l(water.co2.hi().mg_l() + extra(water.bicarbonate_as_co2.hi())),
    )
}

/// Plants that take carbon from the air are never short of it.
fn carbon(plant: &Plant, usable: Concentration) -> f64 {
    if plant.carbon_use == CarbonUse::Air {
        return 1.0;
    }
    let far = f64::INFINITY;
    trapezoid([plant.co2_min.mg_l(), plant.co2_opt.mg_l(), far, far], usable.mg_l())
}

fn carbon_bounds(plant: &Plant, zone: &ZoneConditions) -> (f64, f64) {
    let usable = usable_carbon(plant, zone);
    (carbon(plant, usable.lo()), carbon(plant, usable.hi()))
}

/// The catalogue's PPFD as daily light.
pub(super) fn reference_dli(ppfd: Ppfd) -> Dli {
    Dli::from_mol_m2_d(ppfd.umol_m2_s() * REFERENCE_HOURS * 0.0036)
}

pub(super) fn light_trapezoid(plant: &Plant) -> [f64; 4] {
    plant.light.values().map(|p| reference_dli(p).base())
}

/// The level of light at which the plant is judged here.
pub(super) fn level_for<'a>(plant: &Plant, zone: &'a ZoneConditions) -> Option<&'a LightLevel> {
    let stands = Length::from_m(plant.height.hi().base().min(zone.tallest.base()));
    zone.light_at(stands)
}

/// The cells under the cap of the other factors, and by light alone.
fn light(plant: &Plant, level: Option<&LightLevel>, cap: f64) -> (LightShare, LightShare) {
    let dark = LightShare { mean: 0.0, grows: 0.0 };
    let Some(level) = level else { return (dark, dark) };
    let trapezoid = light_trapezoid(plant);
    (level.share(trapezoid, cap), level.share(trapezoid, 1.0))
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
