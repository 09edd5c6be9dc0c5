//! One run of the tank: every drift side by side, day by day, in one case of the open parameters.

use super::canopy::{LeafArea, mean_leaf, over_leaves, passed};
use super::column::Column;
use super::course::{Cut, TrimReason};
use super::habit::{Case, Habit, SHED_DAYS};
use super::rate::{Response, carbon};
use super::sky::{Screen, Surroundings, under_floating};
use super::stand::Stand;
use super::{Ground, Start};
use crate::catalogue::{GrowthForm, Placement, Plant};
use crate::fit::{Factor, Measured, ZoneConditions, assess, suitability, suitability_bounds, usable_carbon};
use crate::tank::TankModel;
use crate::units::{Fraction, Length, Ppfd, Quantity};

/// Share of the limit at which a drift is cut: before it stands out (our rule).
const NEAR_LIMIT: f64 = 0.95;
/// Share of the full biomass from which a drift counts as full (our rule).
const FULL: f64 = 0.8;
/// Days in a week; trims are made on the weekly day of care.
pub(super) const WEEK: u32 = 7;

/// A drift at a moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Moment {
    pub cover: Fraction,
    pub height: Length,
    pub biomass: Fraction,
    pub light_share: Fraction,
    pub self_shading: Fraction,
    pub pace: Fraction,
    pub cut: Option<Cut>,
}

/// What one drift is in this run.
struct Drift<'a> {
    plant: &'a Plant,
    placement: Placement,
    habit: Habit,
    response: Response,
    /// What carbon and water leave of the best rate.
    ceiling: Fraction,
    /// By what computed light is multiplied.
    gain: f64,
    /// Height at which it is cut, and why.
    limit: Option<(Length, TrimReason)>,
    area: f64,
    column: &'a Column,
    around: &'a [Surroundings],
    stand: Stand,
    last_trim: u32,
}

/// What light does to a drift at a moment.
#[derive(Clone, Copy)]
struct Look {
    light_share: f64,
    self_shading: f64,
    pace: f64,
}

/// Runs every drift for so many weeks; by drift, the moments at planting and at the end of each week.
pub(super) fn run(
    model: &TankModel,
    zones: &[ZoneConditions],
    starts: &[Start<'_>],
    grounds: &[Ground],
    weeks: u32,
    case: Case,
) -> Vec<Vec<Moment>> {
    let mut drifts: Vec<Drift<'_>> = starts
        .iter()
        .zip(grounds)
        .map(|(start, ground)| Drift::new(model, &zones[start.zone], start, ground, case))
        .collect();
    let tank = (model.volumes.surface.m2(), model.spec.light.floating_cover);
    let mut moments: Vec<Vec<Moment>> = vec![Vec::with_capacity(weeks as usize + 1); drifts.len()];
    record(&drifts, &looks(&drifts, tank), &mut moments);
    for day in 1..=weeks * WEEK {
        let seen = looks(&drifts, tank);
        for (drift, look) in drifts.iter_mut().zip(&seen) {
            drift.live(day, look.pace);
        }
        if day % WEEK == 0 {
            record(&drifts, &looks(&drifts, tank), &mut moments);
            for (drift, course) in drifts.iter_mut().zip(&mut moments) {
                let cut = drift.trim(day / WEEK);
                if let Some(moment) = course.last_mut() {
                    moment.cut = cut;
                }
            }
        }
    }
    moments
}

fn record(drifts: &[Drift<'_>], looks: &[Look], moments: &mut [Vec<Moment>]) {
    for ((drift, look), course) in drifts.iter().zip(looks).zip(moments) {
        course.push(Moment {
            cover: drift.stand.cover(),
            height: drift.stand.height(),
            biomass: drift.stand.biomass(),
            light_share: Fraction::new(look.light_share),
            self_shading: Fraction::new(look.self_shading),
            pace: Fraction::new(look.pace),
            cut: None,
        });
    }
}

/// The light on every drift: past floating plants, past neighbours, through its own leaves.
fn looks(drifts: &[Drift<'_>], (surface, floating_now): (f64, Fraction)) -> Vec<Look> {
    let floats = |d: &&Drift<'_>| d.placement == Placement::Floating;
    let covered: f64 =
        drifts.iter().filter(floats).map(|d| d.area * d.stand.cover().value()).sum::<f64>() / surface;
    let roof = under_floating(Fraction::new(covered), floating_now).value();
    let look = |drift: &Drift<'_>| {
        let screens: Vec<Screen> = drifts.iter().map(|other| other.screen(drift)).collect();
        let roof = if floats(&drift) { 1.0 } else { roof };
        let (mut free, mut met) = (0.0, 0.0);
        for (light, around) in drift.column.at(drift.stand.height()).zip(drift.around) {
            free += light.umol_m2_s();
            met += light.umol_m2_s() * around.open(&screens).value();
        }
        let count = drift.around.len().max(1) as f64;
        let top = Ppfd::from_umol_m2_s(met / count * roof * drift.gain);
        drift.look(top, if free > 0.0 { met / free * roof } else { 0.0 })
    };
    drifts.iter().map(look).collect()
}

impl<'a> Drift<'a> {
    fn new(
        model: &TankModel,
        zone: &ZoneConditions,
        start: &Start<'a>,
        ground: &'a Ground,
        case: Case,
    ) -> Self {
        let (plant, placement) = (start.plant, zone.placement);
        let habit = Habit::of(plant, placement, case);
        // The catalogue's light is that over a usual stand; its leaves see this share of it.
        let usual = mean_leaf(habit.extinction, LeafArea(habit.leaves.0 / 2.0));
        let at_leaf = |light: Ppfd| Ppfd::from_umol_m2_s(light.umol_m2_s() * usual);
        let limit = limit(model, plant, zone, start, ground.column.foot());
        let free = limit.filter(|(_, reason)| *reason == TrimReason::Surface);
        let room = free.map_or(habit.grown.m(), |(surface, _)| habit.grown.m().min(surface.m()));
        let lowest = limit.map_or(room, |(height, _)| room.min(height.m()));
        let planted = Length::from_m(habit.planted.m().min(0.8 * lowest));
        Self {
            plant,
            placement,
            habit,
            response: Response::new(at_leaf(plant.light.abs_min()), at_leaf(plant.light.opt_min())),
            ceiling: ceiling(plant, zone, &habit, case),
            gain: measured(zone.gain, case).value(),
            limit,
            area: start.area.m2(),
            column: &ground.column,
            around: &ground.around,
            stand: Stand::planted(start.cover(&habit), planted, Length::from_m(room)),
            last_trim: 0,
        }
    }

    /// Leaf area over covered ground now.
    fn leaves(&self) -> LeafArea {
        LeafArea(self.habit.leaves.0 * self.stand.height_share())
    }

    /// How this drift's canopy stands before the leaves on top of another.
    fn screen(&self, other: &Drift<'_>) -> Screen {
        let top = self.column.foot().m() + self.stand.height().m();
        let leaf = other.column.foot().m() + other.stand.height().m();
        let above = top - leaf;
        let height = self.stand.height().m();
        let part = if height > 0.0 { (above / height).clamp(0.0, 1.0) } else { 0.0 };
        let opacity = self.stand.cover().value()
            * (1.0 - passed(self.habit.extinction, LeafArea(self.leaves().0 * part)));
        Screen { above: Length::from_m(above), opacity: Fraction::new(opacity) }
    }

    fn look(&self, top: Ppfd, light_share: f64) -> Look {
        let (k, leaves) = (self.habit.extinction, self.leaves());
        let pace = over_leaves(k, leaves, |share| {
            self.response.pace(Ppfd::from_umol_m2_s(top.umol_m2_s() * share), self.ceiling)
        });
        Look { light_share, self_shading: mean_leaf(k, leaves), pace }
    }

    fn live(&mut self, day: u32, pace: f64) {
        if f64::from(day) <= SHED_DAYS {
            // The same share every day, so that it adds up to the whole.
            self.stand.shed(1.0 - libm::pow(1.0 - self.habit.shed, 1.0 / SHED_DAYS));
        }
        if f64::from(day) > self.habit.lag_days {
            self.stand.grow(self.habit.vigour * self.plant.growth_per_day * pace, &self.habit);
        }
    }

    fn trim(&mut self, week: u32) -> Option<Cut> {
        let (reason, limit) = self.trim_due(week)?;
        self.stand.trim(self.plant.growth_form, limit);
        self.last_trim = week;
        Some(Cut { reason, height: self.stand.height(), cover: self.stand.cover() })
    }

    fn trim_due(&self, week: u32) -> Option<(TrimReason, Length)> {
        let height = self.stand.height();
        if let Some((limit, reason)) = self.limit.filter(|(l, _)| height.m() >= NEAR_LIMIT * l.m()) {
            return Some((reason, limit));
        }
        let rested = week >= self.last_trim + self.plant.trim_every_weeks;
        let full = self.stand.biomass().value() >= FULL;
        (rested && full).then_some((TrimReason::Full, height))
    }
}

/// The height at which a drift is cut: the zone's own limit, or the surface for what does not grow
/// out of it; nothing for what floats.
fn limit(
    model: &TankModel,
    plant: &Plant,
    zone: &ZoneConditions,
    start: &Start<'_>,
    foot: Length,
) -> Option<(Length, TrimReason)> {
    if zone.placement == Placement::Floating || plant.growth_form == GrowthForm::Floater {
        return None;
    }
    let surface = Length::from_m((model.spec.glass.water.m() - foot.m()).max(0.01));
    let set = model.spec.zones[start.zone].tallest.filter(|t| t.m() < surface.m());
    if let Some(limit) = set {
        return Some((limit, TrimReason::Limit));
    }
    let leaves_water = zone.open_top && plant.emersed == crate::catalogue::Emersed::OpenTop;
    (!leaves_water).then_some((surface, TrimReason::Surface))
}

/// What carbon, water and bed leave of the best rate: the least of them.
fn ceiling(plant: &Plant, zone: &ZoneConditions, habit: &Habit, case: Case) -> Fraction {
    let usable = measured(usable_carbon(plant, zone), case);
    let judged = assess(plant, zone);
    let bed = [Factor::Footing, Factor::BedDepth, Factor::Feeding].map(|f| judged.factor(f));
    let water = &zone.water;
    let envelopes = [
        within(plant.temperature, water.temperature, case),
        within(plant.ph, water.ph, case),
        within(plant.gh, water.gh, case),
        within(plant.kh, water.kh, case),
    ];
    let least = bed.into_iter().chain(envelopes).fold(carbon(plant, usable, habit.half).value(), f64::min);
    Fraction::new(least)
}

/// The suitability of a measured value: the least, that of the value taken, the greatest.
fn within<Q: Quantity>(envelope: crate::catalogue::Envelope<Q>, value: Measured<Q>, case: Case) -> f64 {
    let (least, greatest) = suitability_bounds(envelope, value.range());
    case.of([least, suitability(envelope, value.nominal()), greatest])
}

/// The low end, the value taken, or the high end of a measurement.
fn measured<Q: Quantity>(value: Measured<Q>, case: Case) -> Q {
    case.of([value.range().lo(), value.nominal(), value.range().hi()])
}
