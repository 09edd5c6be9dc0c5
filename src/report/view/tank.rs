//! The tank as answered: light, carbon, water and zones.

use schemars::JsonSchema;
use serde::Serialize;

use super::rounded;
use crate::fit::LightLevel;
use crate::tank::TankModel;
use crate::units::{Interval, Quantity};

/// A range of a quantity; equal ends when known exactly.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
pub struct RangeView {
    /// Lower end.
    pub lo: f64,
    /// Upper end.
    pub hi: f64,
}

impl RangeView {
    /// In the base unit of the quantity, rounded.
    pub fn of<Q: Quantity>(range: Interval<Q>, decimals: i32) -> Self {
        Self { lo: rounded(range.lo().base(), decimals), hi: rounded(range.hi().base(), decimals) }
    }
}

/// A zone as computed.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ZoneView {
    /// The person's name for it.
    pub name: String,
    /// Its part in the layout.
    pub placement: String,
    /// Area to plant.
    pub area_cm2: f64,
    /// How tall plants may stand.
    pub tallest_cm: f64,
    /// Mean bed thickness.
    pub bed_depth_cm: f64,
    /// Mean daily light, at the bed, the hardscape or the surface.
    pub dli_mean_mol_m2_d: f64,
    /// A tenth of the zone gets less.
    pub dli_p10_mol_m2_d: f64,
    /// A tenth of the zone gets more.
    pub dli_p90_mol_m2_d: f64,
}

/// A tank as computed.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct TankView {
    /// The person's name for it.
    pub name: String,
    /// Inner length.
    pub length_cm: f64,
    /// Inner depth, front to back.
    pub depth_cm: f64,
    /// Inner height.
    pub height_cm: f64,
    /// Water level above the floor.
    pub water_cm: f64,
    /// Hours of light a day.
    pub light_hours: f64,
    /// Mean PPFD on the bed.
    pub ppfd_mean_umol_m2_s: f64,
    /// A tenth of the bed gets less.
    pub ppfd_p10_umol_m2_s: f64,
    /// A tenth of the bed gets more.
    pub ppfd_p90_umol_m2_s: f64,
    /// Mean daily light on the bed.
    pub dli_mean_mol_m2_d: f64,
    /// How gas is injected.
    pub gas: String,
    /// Dissolved CO2, mean over the photoperiod.
    pub co2_mg_l: RangeView,
    /// What bicarbonate adds for plants that use it, as CO2.
    pub bicarbonate_as_co2_mg_l: RangeView,
    /// Temperature.
    pub temperature_c: RangeView,
    /// pH.
    pub ph: RangeView,
    /// General hardness.
    pub gh_dgh: RangeView,
    /// Carbonate hardness.
    pub kh_dkh: RangeView,
    /// What is doubtful about the carbon.
    pub carbon_notes: Vec<String>,
    /// The zones, in file order.
    pub zones: Vec<ZoneView>,
}

/// The view of a computed tank.
pub fn tank_view(model: &TankModel) -> TankView {
    let spec = &model.spec;
    let map = &model.bed_light;
    let hours = spec.light.hours;
    let cm = |q: crate::units::Length| rounded(q.cm(), 1);
    let ppfd = |q: crate::units::Ppfd| rounded(q.base(), 1);
    TankView {
        name: spec.name.clone(),
        length_cm: cm(spec.glass.length),
        depth_cm: cm(spec.glass.depth),
        height_cm: cm(spec.glass.height),
        water_cm: cm(spec.glass.water),
        light_hours: rounded(hours.hours(), 2),
        ppfd_mean_umol_m2_s: ppfd(map.mean()),
        ppfd_p10_umol_m2_s: ppfd(map.percentile(0.1)),
        ppfd_p90_umol_m2_s: ppfd(map.percentile(0.9)),
        dli_mean_mol_m2_d: rounded(crate::tank::light::daily_integral(map.mean(), hours).base(), 2),
        gas: spec.gas.injection.word().to_owned(),
        co2_mg_l: RangeView::of(model.carbon.course.photoperiod_mean, 1),
        bicarbonate_as_co2_mg_l: RangeView::of(model.bicarbonate_as_co2(), 1),
        temperature_c: RangeView::of(spec.water.temperature, 1),
        ph: RangeView::of(spec.water.ph, 2),
        gh_dgh: RangeView::of(spec.water.gh, 1),
        kh_dkh: RangeView::of(spec.water.kh, 1),
        carbon_notes: model.carbon.notes.iter().map(ToString::to_string).collect(),
        zones: (0..model.zones.len()).map(|i| zone_view(model, i)).collect(),
    }
}

fn zone_view(model: &TankModel, index: usize) -> ZoneView {
    let (zone, computed) = (&model.spec.zones[index], &model.zones[index]);
    let level = computed.levels.first().and_then(|l| LightLevel::new(l.height, &l.cells));
    let dli = |f: &dyn Fn(&LightLevel) -> crate::units::Dli| {
        level.as_ref().map_or(0.0, |l| rounded(f(l).base(), 2))
    };
    ZoneView {
        name: zone.name.clone(),
        placement: zone.role.word().to_owned(),
        area_cm2: rounded(computed.ground.area.cm2(), 0),
        tallest_cm: rounded(computed.tallest.cm(), 1),
        bed_depth_cm: rounded(computed.bed_depth.cm(), 1),
        dli_mean_mol_m2_d: dli(&|l| l.mean()),
        dli_p10_mol_m2_d: dli(&|l| l.percentile(0.1)),
        dli_p90_mol_m2_d: dli(&|l| l.percentile(0.9)),
    }
}
