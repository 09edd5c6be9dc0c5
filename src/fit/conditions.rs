//! What a zone offers, reduced to what a plant can feel.

use std::sync::Arc;

use super::measured::{light_gain, with_kit_resolution};
use super::{Ceiling, LightLevel, Measured};
use crate::catalogue::{Footing, Placement};
use crate::tank::carbon::{self, BICARBONATE_WORTH, CarbonEstimate};
use crate::tank::file::{BedKind, TankSpec, Top, ZoneRole};
use crate::tank::{TankModel, carbon_of};
use crate::units::{
    CarbonateHardness, Concentration, Fraction, GeneralHardness, Interval, Length, Ph, Quantity, Temperature,
};

/// The water of a tank as measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Water {
    /// Temperature.
    pub temperature: Measured<Temperature>,
    /// pH.
    pub ph: Measured<Ph>,
    /// General hardness.
    pub gh: Measured<GeneralHardness>,
    /// Carbonate hardness.
    pub kh: Measured<CarbonateHardness>,
    /// Dissolved CO2, mean over the photoperiod.
    pub co2: Measured<Concentration>,
    /// Bicarbonate, already as CO2 that a bicarbonate user can make of it.
    pub bicarbonate_as_co2: Measured<Concentration>,
}

impl Water {
    /// The water of a tank whose carbon was computed as stated; ranges with the resolution of
    /// the usual kit where the file gives bare numbers.
    pub fn of(spec: &TankSpec, nominal: &CarbonEstimate) -> Self {
        let wide = with_kit_resolution(spec);
        // Widened readings may contradict each other where the stated ones do not.
        let open = carbon_of(&wide).unwrap_or_else(|_| nominal.clone());
        let co2 = |e: &CarbonEstimate| e.course.photoperiod_mean;
        let (water, stated) = (&wide.water, &spec.water);
        Self {
            temperature: Measured::new(stated.temperature.mid(), water.temperature),
            ph: Measured::new(stated.ph.mid(), water.ph),
            gh: Measured::new(stated.gh.mid(), water.gh),
            kh: Measured::new(stated.kh.mid(), water.kh),
            co2: Measured::new(co2(nominal).mid(), co2(&open)),
            bicarbonate_as_co2: Measured::new(bicarbonate(nominal).mid(), bicarbonate(&open)),
        }
    }

    /// The water at its nominal values only, as if all were known exactly.
    pub(super) fn nominal(spec: &TankSpec, carbon: &CarbonEstimate) -> Self {
        let water = &spec.water;
        Self {
            temperature: Measured::exact(water.temperature.mid()),
            ph: Measured::exact(water.ph.mid()),
            gh: Measured::exact(water.gh.mid()),
            kh: Measured::exact(water.kh.mid()),
            co2: Measured::exact(carbon.course.photoperiod_mean.mid()),
            bicarbonate_as_co2: Measured::exact(bicarbonate(carbon).mid()),
        }
    }
}

/// Bicarbonate as the CO2 that a user of it can make of it.
fn bicarbonate(estimate: &CarbonEstimate) -> Interval<Concentration> {
    let none = Interval::point(Concentration::from_mg_l(0.0));
    carbon::usable_carbon(none, estimate.bicarbonate, BICARBONATE_WORTH)
}

/// A zone as a plant meets it.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneConditions {
    /// The part of the layout.
    pub placement: Placement,
    /// What there is to hold on to.
    pub footings: Vec<Footing>,
    /// How tall a plant may stand: the zone's own limit or the water above the bed.
    pub tallest: Length,
    /// What ends that room.
    pub ceiling: Ceiling,
    /// How tall it must at least get; zero when the zone does not say.
    pub shortest: Length,
    /// Whether shoots may leave the water.
    pub open_top: bool,
    /// What the bed is made of.
    pub bed: BedKind,
    /// Mean bed thickness in the zone.
    pub bed_depth: Length,
    /// Light at rising heights above the bed; at least one level.
    pub light: Arc<[LightLevel]>,
    /// By what the light of the levels is multiplied, and what of that is open.
    pub gain: Measured<Fraction>,
    /// The water.
    pub water: Water,
}

/// The placement a zone of this role asks for.
pub fn placement_of(role: ZoneRole) -> Placement {
    match role {
        ZoneRole::Foreground => Placement::Foreground,
        ZoneRole::Midground => Placement::Midground,
        ZoneRole::Background => Placement::Background,
        ZoneRole::Epiphyte => Placement::Epiphyte,
        ZoneRole::Floating => Placement::Floating,
    }
}

fn footings_of(role: ZoneRole, bed: BedKind) -> Vec<Footing> {
    match role {
        ZoneRole::Epiphyte => vec![Footing::Hardscape],
        ZoneRole::Floating => vec![Footing::Surface, Footing::Drifting],
        _ if bed == BedKind::Bare => Vec::new(),
        _ => vec![Footing::Bed],
    }
}

impl ZoneConditions {
    /// The conditions of a zone of a tank, by its index in the file; the carbon is the mean over
    /// the photoperiod.
    ///
    /// # Panics
    /// When `index` is not a zone of the model.
    pub fn of(model: &TankModel, index: usize) -> Self {
        Self::with_water(model, index, Water::of(&model.spec, &model.carbon))
    }

    /// The conditions of every zone of a tank, in file order.
    pub fn all(model: &TankModel) -> Vec<Self> {
        let water = Water::of(&model.spec, &model.carbon);
        (0..model.zones.len()).map(|i| Self::with_water(model, i, water)).collect()
    }

    fn with_water(model: &TankModel, index: usize, water: Water) -> Self {
        let (zone, computed) = (&model.spec.zones[index], &model.zones[index]);
        let cut_short = zone.tallest.is_some_and(|limit| limit.m() <= computed.tallest.m());
        Self {
            placement: placement_of(zone.role),
            footings: footings_of(zone.role, model.spec.bed.kind),
            tallest: computed.tallest,
            ceiling: if cut_short { Ceiling::Limit } else { Ceiling::Surface },
            shortest: zone.shortest.unwrap_or(Length::from_m(0.0)),
            open_top: model.spec.glass.top == Top::Open,
            bed: model.spec.bed.kind,
            bed_depth: computed.bed_depth,
            light: computed.levels.iter().filter_map(|l| LightLevel::new(l.height, &l.cells)).collect(),
            gain: light_gain(&model.spec, &model.basis),
            water,
        }
    }

    /// The level at which a plant that stands `height` tall here is judged: half its height,
    /// where the bulk of its leaves is (our rule; for a carpet that is the bed itself), the
    /// nearest level below.
    pub fn light_at(&self, height: Length) -> Option<&LightLevel> {
        let leaf = height.base() / 2.0;
        self.light.iter().rev().find(|l| l.height.base() <= leaf + 1e-9).or(self.light.first())
    }
}
