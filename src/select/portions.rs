//! How much of a plant a zone takes: places at hexagonal spacing, portions to buy, minutes of
//! trimming. Figures marked as common practice have no source and say so in the output.

use crate::catalogue::{GrowthForm, Placement, Plant};
use crate::units::{Area, Length};

/// Share of the surface that floating plants are started with; they fill the rest themselves
/// (common practice, no source).
const FLOATING_START: f64 = 0.25;

/// Planting places in `area` at the plant's spacing: density 2/(√3·s²) of the hexagonal
/// lattice, one at least. 187 places for 5 cm in 90 × 45 cm.
pub fn places(plant: &Plant, placement: Placement, area: Area) -> u32 {
    lattice_places(lattice_spacing(plant, placement), area)
}

/// Distance between neighbours of the planting lattice: the plant's spacing, and for floating
/// plants so much more that they cover their starting share.
pub fn lattice_spacing(plant: &Plant, placement: Placement) -> Length {
    let wider = if placement == Placement::Floating { FLOATING_START.sqrt() } else { 1.0 };
    Length::from_m(plant.spacing.m() / wider)
}

/// Places of a hexagonal lattice of this spacing in `area`: density 2/(√3·s²), one at least.
pub fn lattice_places(spacing: Length, area: Area) -> u32 {
    let count = area.m2() * 2.0 / (3.0_f64.sqrt() * spacing.m() * spacing.m());
    count.round().clamp(1.0, 100_000.0) as u32
}

/// Pieces a bought portion can be split into for planting (common practice, no source).
pub fn pieces_per_portion(plant: &Plant) -> u32 {
    match plant.growth_form {
        GrowthForm::Creeper => 15,
        GrowthForm::Moss | GrowthForm::Liverwort => 8,
        GrowthForm::Stem => 6,
        GrowthForm::Runner if plant.spacing.cm() <= 4.0 => 10,
        GrowthForm::Runner => 4,
        GrowthForm::Floater => 10,
        GrowthForm::Fern if plant.spacing.cm() <= 4.0 => 8,
        GrowthForm::Rosette | GrowthForm::Rhizome if plant.spacing.cm() <= 6.0 => 3,
        GrowthForm::Rosette
        | GrowthForm::Rhizome
        | GrowthForm::Bulb
        | GrowthForm::Fern
        | GrowthForm::Alga => 1,
    }
}

/// Portions to buy for `area`.
pub fn portions(plant: &Plant, placement: Placement, area: Area) -> u32 {
    places(plant, placement, area).div_ceil(pieces_per_portion(plant))
}

/// Minutes a trim takes: two to begin, and one for each 150 cm² (common practice, no source).
const TRIM_START_MINUTES: f64 = 2.0;
const TRIM_CM2_PER_MINUTE: f64 = 150.0;
/// Weeks in a mean month.
const WEEKS_PER_MONTH: f64 = 365.25 / 12.0 / 7.0;

/// Minutes of trimming a month for a plant over `area`, whole, rounded up.
pub fn trim_minutes_per_month(plant: &Plant, area: Area) -> u32 {
    let each = TRIM_START_MINUTES + area.cm2() / TRIM_CM2_PER_MINUTE;
    (each * WEEKS_PER_MONTH / f64::from(plant.trim_every_weeks)).ceil().clamp(0.0, 1e6) as u32
}

/// Relative growth from which a plant counts as a fast grower, 1/day (our rule: it doubles in
/// two weeks or less).
pub const FAST_PER_DAY: f64 = 0.05;
