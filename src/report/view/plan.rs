//! The planting plan as answered by `plan`: who stands where, what to buy.

use schemars::JsonSchema;
use serde::Serialize;

use super::{TankView, rounded};
use crate::catalogue::Plant;
use crate::planting::{Density, Drift, Planting, Remark};
use crate::tank::TankModel;
use crate::units::Length;

/// How close the pieces stand on the first day.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DensityView {
    /// `sparse`, `usual` or `dense`.
    pub word: String,
    /// Factor on the spacing of the catalogue.
    pub spacing_factor: f64,
    /// Places against those of dense planting.
    pub share_of_dense: f64,
}

/// The patch of a zone that one taxon is planted in.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DriftView {
    /// Its number in every list and drawing of the plan, from 1.
    pub number: usize,
    /// The zone, by index.
    pub zone: usize,
    /// The person's name for the zone.
    pub zone_name: String,
    /// Key of the taxon.
    pub taxon: String,
    /// Accepted name.
    pub name: String,
    /// The usual English name.
    pub vernacular: String,
    /// `bed`, `hardscape` or `surface`.
    pub footing: String,
    /// Its area.
    pub area_cm2: f64,
    /// Least distance between places.
    pub spacing_cm: f64,
    /// How many places it has.
    pub places: u32,
    /// What its pieces are called, so many of them.
    pub piece_word: String,
    /// Pieces that a bought portion is split into (common practice, no source).
    pub pieces_per_portion: u32,
    /// Portions to buy.
    pub portions: u32,
    /// How it is planted (common practice, no source).
    pub how: String,
    /// Its outline: rings from the left and from the front, outer ones counter-clockwise.
    pub outline_cm: Vec<Vec<[f64; 2]>>,
    /// The places: from the left, from the front, height of the foot above the floor of the glass.
    pub places_cm: Vec<[f64; 3]>,
}

/// A line of the shopping list.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PurchaseView {
    /// Key of the taxon.
    pub taxon: String,
    /// Accepted name: the one that laws go by.
    pub name: String,
    /// Author of the name.
    pub authorship: String,
    /// Names it is offered under.
    pub trade_names: Vec<String>,
    /// Portions to buy.
    pub portions: u32,
    /// Pieces to plant.
    pub pieces: u32,
    /// What the pieces are called, so many of them.
    pub piece_word: String,
    /// Price of a portion; `null` when the list has none.
    pub price: Option<String>,
    /// Portions times price; `null` without a price.
    pub subtotal: Option<String>,
    /// What to look at when it arrives (common practice, no source).
    pub on_arrival: String,
    /// Law, registers and hazards.
    pub flags: Vec<String>,
}

/// Sums of the shopping list.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PurchaseTotalsView {
    /// Taxa.
    pub taxa: usize,
    /// Portions.
    pub portions: u32,
    /// Pieces to plant.
    pub pieces: u32,
    /// Cost of the portions that have a price.
    pub cost: String,
    /// The currency, when stated.
    pub currency: String,
    /// Plants without a price.
    pub without_price: Vec<String>,
    /// Where the prices come from, as the price list says.
    pub price_origins: Vec<String>,
}

/// What `plan` answers.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PlanView {
    /// The tank.
    pub tank: TankView,
    /// How close the pieces stand.
    pub density: DensityView,
    /// The drifts, by zone.
    pub drifts: Vec<DriftView>,
    /// What to buy, by name.
    pub purchases: Vec<PurchaseView>,
    /// The sums.
    pub totals: PurchaseTotalsView,
    /// What is not as one may think.
    pub remarks: Vec<String>,
    /// What the plan takes for granted, and on what ground.
    pub assumed: Vec<String>,
    /// What to know before acting.
    pub cautions: Vec<String>,
}

/// The density in numbers.
pub fn density_view(density: Density) -> DensityView {
    DensityView {
        word: density.word().to_owned(),
        spacing_factor: density.factor(),
        share_of_dense: rounded(density.share_of_dense().value(), 2),
    }
}

/// A drift and its plant; `number` counts from 1.
pub fn drift_view(model: &TankModel, number: usize, drift: &Drift, plant: &Plant) -> DriftView {
    let cm = |length: Length| rounded(length.cm(), 2);
    let spot = |s: &(Length, Length)| [cm(s.0), cm(s.1)];
    DriftView {
        number,
        zone: drift.zone,
        zone_name: model.spec.zones[drift.zone].name.clone(),
        taxon: plant.id.0.clone(),
        name: plant.display_name(),
        vernacular: plant.vernacular.clone(),
        footing: drift.footing.word().to_owned(),
        area_cm2: rounded(drift.area.cm2(), 1),
        spacing_cm: rounded(drift.spacing.cm(), 1),
        places: drift.places.len() as u32,
        piece_word: super::piece_word(plant.growth_form, drift.places.len()).to_owned(),
        pieces_per_portion: drift.pieces_per_portion,
        portions: drift.portions,
        how: super::how_to_plant(plant, drift.footing).to_owned(),
        outline_cm: drift.outline.iter().map(|r| r.points.iter().map(spot).collect()).collect(),
        places_cm: drift.places.iter().map(|p| [cm(p.at.0), cm(p.at.1), cm(p.foot)]).collect(),
    }
}

/// The remarks of a plan in words.
pub fn remarks(model: &TankModel, planting: &Planting, name: impl Fn(&str) -> String) -> Vec<String> {
    let zone = |n: usize| model.spec.zones.get(n).map_or("", |z| z.name.as_str());
    let words = |remark: &Remark| match remark {
        Remark::Overlap { first, second, area } => format!(
            "“{}” and “{}” overlap on {:.0} cm²; that ground goes to “{}”, which stands first in the file",
            zone(*first),
            zone(*second),
            area.cm2(),
            zone(*first)
        ),
        Remark::Apart { zone: z, pieces } => format!(
            "the ground of “{}” is in {pieces} separate pieces: a drift there may be in parts, and areas may \
             differ a little",
            zone(*z)
        ),
        Remark::Few { zone: z, taxon, places, by_area } => format!(
            "{} in “{}” has room for {places} places, where its area alone would hold {by_area}: the patch is \
             narrow or small for its spacing",
            name(&taxon.0),
            zone(*z)
        ),
    };
    planting.remarks.iter().map(words).collect()
}

/// What every plan takes for granted.
pub fn assumed(density: Density) -> Vec<String> {
    vec![
        format!(
            "Density “{}”: {} × the spacing of the catalogue, {:.0} % of the places of dense planting. Dense from \
             the first day is the default, as much plant early leaves algae less (common practice, no source); \
             sparse is 1.6 ×, usual 1.25 ×.",
            density.word(),
            density.factor(),
            density.share_of_dense().value() * 100.0
        ),
        "Pieces in a portion, by growth form: creepers 15; floaters and small runners 10; mosses, liverworts and \
         small ferns 8; stems 6; other runners 4; small rosettes and rhizomes 3; all others 1 (common practice, \
         no source)."
            .to_owned(),
        "Who stands where in a zone: taller behind in a deep zone, taller towards the nearer side glass in a wide \
         one (our rule). Floating plants are started on a quarter of their surface (common practice, no source)."
            .to_owned(),
        "Wood and rock are taken to rise like a loaf from their outline to their top (our assumption).".to_owned(),
    ]
}
