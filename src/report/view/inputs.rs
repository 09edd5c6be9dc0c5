//! Every number that verdicts are computed from, enough to compute them anew with nothing else:
//! see `tools/fit_recompute.py`.

use schemars::JsonSchema;
use serde::Serialize;

use crate::catalogue::{Envelope, Plant};
use crate::fit::{Ceiling, Measured, REFERENCE_HOURS, ZoneConditions};
use crate::units::Quantity;

/// A measured value.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
pub struct MeasuredView {
    /// The value taken.
    pub nominal: f64,
    /// The least that the measurement leaves open.
    pub lo: f64,
    /// The greatest.
    pub hi: f64,
}

impl MeasuredView {
    fn of<Q: Quantity>(measured: Measured<Q>) -> Self {
        let (lo, hi) = measured.range().ends();
        Self { nominal: measured.nominal().base(), lo: lo.base(), hi: hi.base() }
    }
}

/// The cells of a zone at one height.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LevelInputs {
    /// Height above the bed (above the floor for hardscape and surface).
    pub height_cm: f64,
    /// Daily light of the cells, all of one area, from the dimmest.
    pub dli_mol_m2_d: Vec<f64>,
}

/// The conditions of a zone, unrounded.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ZoneInputs {
    /// Its part in the layout.
    pub placement: String,
    /// What there is to hold on to.
    pub footings: Vec<String>,
    /// How tall plants may stand.
    pub tallest_cm: f64,
    /// What ends that room: `surface` or `limit`.
    pub ceiling: String,
    /// How tall they must get; 0 when not stated.
    pub shortest_cm: f64,
    /// Whether shoots may leave the water.
    pub open_top: bool,
    /// What the bed is made of.
    pub bed: String,
    /// Mean bed thickness.
    pub bed_depth_cm: f64,
    /// Light at rising heights.
    pub light: Vec<LevelInputs>,
    /// By what all light is multiplied.
    pub light_gain: MeasuredView,
    /// Temperature.
    pub temperature_c: MeasuredView,
    /// pH.
    pub ph: MeasuredView,
    /// General hardness.
    pub gh_dgh: MeasuredView,
    /// Carbonate hardness.
    pub kh_dkh: MeasuredView,
    /// Dissolved CO2 over the photoperiod.
    pub co2_mg_l: MeasuredView,
    /// What bicarbonate adds for plants that use it.
    pub bicarbonate_as_co2_mg_l: MeasuredView,
}

/// The traits of a plant that verdicts go by, as in the catalogue.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PlantInputs {
    /// Key of the taxon.
    pub taxon: String,
    /// The habit.
    pub growth_form: String,
    /// The look of the leaf.
    pub leaf_texture: String,
    /// The places it serves.
    pub placements: Vec<String>,
    /// What it can hold on to.
    pub footings: Vec<String>,
    /// Whether it grows in air.
    pub emersed: String,
    /// Where nutrients come from.
    pub feeding: String,
    /// Heights of a grown plant.
    pub height_cm: [f64; 2],
    /// The bed it needs.
    pub bed_depth_min_cm: f64,
    /// PPFD at the leaf for a day of `reference_hours`.
    pub ppfd_umol_m2_s: [f64; 4],
    /// Which carbon it uses.
    pub carbon_use: String,
    /// Where growth stops, and from where more does not help.
    pub co2_mg_l: [f64; 2],
    /// Temperature.
    pub temperature_c: [f64; 4],
    /// pH.
    pub ph: [f64; 4],
    /// General hardness.
    pub gh_dgh: [f64; 4],
    /// Carbonate hardness.
    pub kh_dkh: [f64; 4],
}

/// A verdict, unrounded.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct VerdictOutput {
    /// Key of the taxon.
    pub taxon: String,
    /// Index of the zone.
    pub zone: usize,
    /// Suitability at the nominal values.
    pub suitability: f64,
    /// The least over all ranges.
    pub least: f64,
    /// The greatest.
    pub greatest: f64,
    /// The limiting factor.
    pub limiting: String,
    /// Share of the cells where it at least grows.
    pub grows_share: f64,
}

/// Every number that verdicts are computed from, and the verdicts of every plant in every zone.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct InputsView {
    /// Hours of light that the catalogue's PPFD is stated for.
    pub reference_hours: f64,
    /// The zones, in file order.
    pub zones: Vec<ZoneInputs>,
    /// The plants of the list.
    pub plants: Vec<PlantInputs>,
    /// The verdicts, plant by plant, zone by zone.
    pub verdicts: Vec<VerdictOutput>,
}

/// The inputs and the verdicts of a list.
pub fn inputs_view(plants: &[&Plant], zones: &[ZoneConditions]) -> InputsView {
    let pairs = plants.iter().flat_map(|p| zones.iter().enumerate().map(move |(i, z)| (*p, i, z)));
    InputsView {
        reference_hours: REFERENCE_HOURS,
        zones: zones.iter().map(zone).collect(),
        plants: plants.iter().map(|p| plant(p)).collect(),
        verdicts: pairs.map(|(p, i, z)| verdict(p, i, z)).collect(),
    }
}

fn zone(zone: &ZoneConditions) -> ZoneInputs {
    let level = |l: &crate::fit::LightLevel| LevelInputs {
        height_cm: l.height.cm(),
        dli_mol_m2_d: l.cells().map(Quantity::base).collect(),
    };
    let water = &zone.water;
    ZoneInputs {
        placement: zone.placement.word().to_owned(),
        footings: zone.footings.iter().map(|f| f.word().to_owned()).collect(),
        tallest_cm: zone.tallest.cm(),
        ceiling: if zone.ceiling == Ceiling::Surface { "surface" } else { "limit" }.to_owned(),
        shortest_cm: zone.shortest.cm(),
        open_top: zone.open_top,
        bed: zone.bed.word().to_owned(),
        bed_depth_cm: zone.bed_depth.cm(),
        light: zone.light.iter().map(level).collect(),
        light_gain: MeasuredView::of(zone.gain),
        temperature_c: MeasuredView::of(water.temperature),
        ph: MeasuredView::of(water.ph),
        gh_dgh: MeasuredView::of(water.gh),
        kh_dkh: MeasuredView::of(water.kh),
        co2_mg_l: MeasuredView::of(water.co2),
        bicarbonate_as_co2_mg_l: MeasuredView::of(water.bicarbonate_as_co2),
    }
}

fn plant(plant: &Plant) -> PlantInputs {
    fn four<Q: Quantity>(envelope: Envelope<Q>) -> [f64; 4] {
        envelope.values().map(Quantity::base)
    }
    PlantInputs {
        taxon: plant.id.0.clone(),
        growth_form: plant.growth_form.word().to_owned(),
        leaf_texture: plant.texture.word().to_owned(),
        placements: plant.placements.iter().map(|p| p.word().to_owned()).collect(),
        footings: plant.footings.iter().map(|f| f.word().to_owned()).collect(),
        emersed: plant.emersed.word().to_owned(),
        feeding: plant.feeding.word().to_owned(),
        height_cm: [plant.height.lo().cm(), plant.height.hi().cm()],
        bed_depth_min_cm: plant.bed_depth_min.cm(),
        ppfd_umol_m2_s: four(plant.light),
        carbon_use: plant.carbon_use.word().to_owned(),
        co2_mg_l: [plant.co2_min.mg_l(), plant.co2_opt.mg_l()],
        temperature_c: four(plant.temperature),
        ph: four(plant.ph),
        gh_dgh: four(plant.gh),
        kh_dkh: four(plant.kh),
    }
}

fn verdict(plant: &Plant, index: usize, zone: &ZoneConditions) -> VerdictOutput {
    let (here, bounds) = (crate::fit::assess(plant, zone), crate::fit::bounds(plant, zone));
    VerdictOutput {
        taxon: plant.id.0.clone(),
        zone: index,
        suitability: here.suitability,
        least: bounds.least,
        greatest: bounds.greatest,
        limiting: here.limiting.word().to_owned(),
        grows_share: here.grows_share,
    }
}
