//! What a zone offers, reduced to what a plant can feel.

use super::LightLevel;
use crate::catalogue::{Footing, Placement};
use crate::tank::TankModel;
use crate::tank::file::{BedKind, Top, ZoneRole};
use crate::units::{
    CarbonateHardness, Concentration, GeneralHardness, Interval, Length, Ph, Quantity, Temperature,
};

/// The water of a tank as intervals; midpoints are the nominal values.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Water {
    /// Temperature.
    pub temperature: Interval<Temperature>,
    /// pH.
    pub ph: Interval<Ph>,
    /// General hardness.
    pub gh: Interval<GeneralHardness>,
    /// Carbonate hardness.
    pub kh: Interval<CarbonateHardness>,
    /// Dissolved CO2.
    pub co2: Interval<Concentration>,
    /// Bicarbonate, already as CO2 that a bicarbonate user can make of it.
    pub bicarbonate_as_co2: Interval<Concentration>,
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
    /// How tall it must at least get; zero when the zone does not say.
    pub shortest: Length,
    /// Whether shoots may leave the water.
    pub open_top: bool,
    /// What the bed is made of.
    pub bed: BedKind,
    /// Mean bed thickness in the zone.
    pub bed_depth: Length,
    /// Light at rising heights above the bed; at least one level.
    pub light: Vec<LightLevel>,
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
        let (zone, computed) = (&model.spec.zones[index], &model.zones[index]);
        let water = &model.spec.water;
        Self {
            placement: placement_of(zone.role),
            footings: footings_of(zone.role, model.spec.bed.kind),
            tallest: computed.tallest,
            shortest: zone.shortest.unwrap_or(Length::from_m(0.0)),
            open_top: model.spec.glass.top == Top::Open,
            bed: model.spec.bed.kind,
            bed_depth: computed.bed_depth,
            light: computed.levels.iter().filter_map(|l| LightLevel::new(l.height, &l.cells)).collect(),
            water: Water {
                temperature: water.temperature,
                ph: water.ph,
                gh: water.gh,
                kh: water.kh,
                co2: model.carbon.course.photoperiod_mean,
                bicarbonate_as_co2: model.bicarbonate_as_co2(),
            },
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
