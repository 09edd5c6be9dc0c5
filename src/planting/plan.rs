//! The planting plan: its types, and the way from a chosen list to them.

use super::density::Density;
use super::zone::Bed;
use crate::catalogue::{Footing, Plant, TaxonId};
use crate::tank::TankModel;
use crate::tank::file::Spot;
use crate::units::{Area, Fraction, Length};

/// The smallest share of a zone.
const LEAST_SHARE: f64 = 0.001;

/// A taxon chosen for a zone.
#[derive(Debug, Clone, Copy)]
pub struct Chosen<'a> {
    /// The plant.
    pub plant: &'a Plant,
    /// The zone, by index in the tank file.
    pub zone: usize,
    /// Its share of the zone's area; those without one share equally what the
    /// others leave. Where all have one, they are taken in proportion.
    pub share: Option<Fraction>,
}

/// A closed ring of the plan, the last point joined to the first.
#[derive(Debug, Clone, PartialEq)]
pub struct Ring {
    /// Its points: counter-clockwise around ground, clockwise around a hole.
    pub points: Vec<Spot>,
    /// Whether it runs around a hole.
    pub hole: bool,
}

/// Where one piece is planted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// On the plan.
    pub at: Spot,
    /// Height of its foot above the floor of the glass: bed, hardscape or water surface.
    pub foot: Length,
}

/// The patch of a zone that one taxon is planted in.
#[derive(Debug, Clone, PartialEq)]
pub struct Drift {
    /// The zone, by index in the tank file.
    pub zone: usize,
    /// The taxon.
    pub taxon: TaxonId,
    /// What the pieces hold on to.
    pub footing: Footing,
    /// Its area. The drifts of a zone sum to the area of its free ground within 0.1 %, but for wedges
    /// between rocks that are narrower than half a cell.
    pub area: Area,
    /// Side of its cells.
    pub cell: Length,
    /// Centres of the square cells that it takes, row by row from the front.
    pub cells: Vec<Spot>,
    /// Its outline as smooth closed rings, neighbours sharing their border: outer rings first (one,
    /// unless the ground is in separate pieces), then holes.
    pub outline: Vec<Ring>,
    /// Least distance between its places: the spacing of the catalogue at the density of the plan.
    pub spacing: Length,
    /// The places, all inside the outline, row by row from the front.
    pub places: Vec<Place>,
    /// Pieces that a bought portion is split into (common practice, no source).
    pub pieces_per_portion: u32,
    /// Portions to buy for the places.
    pub portions: u32,
}

/// Who stands where.
#[derive(Debug, Clone, PartialEq)]
pub struct Planting {
    /// How close the pieces stand.
    pub density: Density,
    /// The drifts, by zone and then in the order in which the taxa were given.
    pub drifts: Vec<Drift>,
    /// What the person should know about the plan.
    pub remarks: Vec<Remark>,
}

/// Something about a plan that is not as the person may think.
#[derive(Debug, Clone, PartialEq)]
pub enum Remark {
    /// Zones of one layer overlap; the ground goes to the one that stands first in the file.
    Overlap {
        /// The zone that keeps the ground.
        first: usize,
        /// The zone that loses it.
        second: usize,
        /// How much.
        area: Area,
    },
    /// The ground of a zone is in separate pieces, so that a drift may be in parts.
    Apart {
        /// The zone.
        zone: usize,
        /// How many pieces.
        pieces: usize,
    },
    /// A drift is too narrow or too small for the places that its area would hold.
    Few {
        /// The zone.
        zone: usize,
        /// The taxon.
        taxon: TaxonId,
        /// Places that fit.
        places: u32,
        /// Places by the area.
        by_area: u32,
    },
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PlantingError {
    /// There is no such zone.
    #[error("zone {0} is not in the tank")]
    NoZone(usize),
    /// A taxon stands twice in the list of a zone.
    #[error("{taxon} stands twice in the list of the zone `{zone}`")]
    Twice {
        /// The zone.
        zone: String,
        /// The taxon.
        taxon: TaxonId,
    },
    /// A share is too small, or the shares of a zone are more than the whole.
    #[error("the shares in the zone `{0}` are not each 0.1 % or more and together at most 100 %")]
    Shares(String),
    /// The ground of a zone is covered by hardscape or by zones before it.
    #[error("the zone `{0}` has no free ground to plant")]
    NoGround(String),
}

/// Plans the planting of a tank with the chosen taxa.
///
/// # Errors
/// All that is wrong with the list: a zone that is not there, a taxon twice in a zone, shares that
/// are no shares, a zone without ground.
pub fn plant_out(
    model: &TankModel,
    chosen: &[Chosen<'_>],
    density: Density,
) -> Result<Planting, Vec<PlantingError>> {
    let mut planting = Planting { density, drifts: Vec::new(), remarks: Vec::new() };
    let mut errors = Vec::new();
    let beyond = chosen.iter().filter(|c| c.zone >= model.zones.len());
    errors.extend(beyond.map(|c| PlantingError::NoZone(c.zone)));
    for zone in 0..model.zones.len() {
        let here: Vec<&Chosen<'_>> = chosen.iter().filter(|c| c.zone == zone).collect();
        let name = &model.spec.zones[zone].name;
        let wrong = faults(name, &here);
        if here.is_empty() || !wrong.is_empty() {
            errors.extend(wrong);
            continue;
        }
        match (Bed { model, zone, chosen: &here, density }).planted() {
            Some((drifts, remarks)) => {
                planting.drifts.extend(drifts);
                planting.remarks.extend(remarks);
            }
            None => errors.push(PlantingError::NoGround(name.clone())),
        }
    }
    if errors.is_empty() { Ok(planting) } else { Err(errors) }
}

/// What is wrong with the list of one zone.
fn faults(zone: &str, here: &[&Chosen<'_>]) -> Vec<PlantingError> {
    let mut found = Vec::new();
    for (n, chosen) in here.iter().enumerate() {
        let taxon = &chosen.plant.id;
        if here[..n].iter().any(|c| c.plant.id == *taxon) {
            found.push(PlantingError::Twice { zone: zone.to_owned(), taxon: taxon.clone() });
        }
    }
    let stated: Vec<f64> = here.iter().filter_map(|c| c.share).map(Fraction::value).collect();
    let left = 1.0 - stated.iter().sum::<f64>();
    let none_left = left < -1e-9 || (stated.len() < here.len() && left < LEAST_SHARE);
    if stated.iter().any(|s| s.is_nan() || *s < LEAST_SHARE) || none_left {
        found.push(PlantingError::Shares(zone.to_owned()));
    }
    found
}
