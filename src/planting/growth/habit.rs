//! What the catalogue does not say of a habit: leaf area, extinction, the way to grow, what a trim
//! leaves. Three cases of each, so that results are ranges.
//!
//! Only the extinction coefficients of linear and broad leaves are published (Monsi & Saeki 1953).
//! Everything else here is a guess of ours from common practice, without a source, and says so in the
//! output.

use super::canopy::{Extinction, LeafArea};
use super::rate::HalfSaturation;
use crate::catalogue::{Emersed, GrowthForm, LeafTexture, Placement, Plant};
use crate::units::{Fraction, Interval, Length, Quantity};

/// One of the three runs of a tank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Case {
    /// Every parameter and every measurement at the end that slows growth.
    Low,
    /// The middle of each.
    Mid,
    /// The end that speeds growth.
    High,
}

impl Case {
    /// The runs, in the order low, mid, high.
    pub const ALL: [Self; 3] = [Self::Low, Self::Mid, Self::High];

    /// The value for this case.
    pub fn of<T>(self, [low, mid, high]: [T; 3]) -> T {
        match self {
            Self::Low => low,
            Self::Mid => mid,
            Self::High => high,
        }
    }

    /// The low end, the middle or the high end of an interval.
    pub fn within<Q: Quantity>(self, range: Interval<Q>) -> Q {
        self.of([range.lo(), range.mid(), range.hi()])
    }
}

/// What a plant is in a run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Habit {
    /// Leaf area index of the fully grown, closed drift.
    pub leaves: LeafArea,
    /// Extinction in its canopy.
    pub extinction: Extinction,
    /// Share of growth that goes into height while there is room both ways.
    pub upward: f64,
    /// Days after planting in which roots form and nothing grows.
    pub lag_days: f64,
    /// Share of the planted leaves that is lost in the first weeks, grown in air as they are.
    pub shed: f64,
    /// Half-saturation in usable carbon.
    pub half: HalfSaturation,
    /// By what the row's growth rate is multiplied.
    pub vigour: f64,
    /// Height when fully grown, if nothing is in the way.
    pub grown: Length,
    /// Height when planted.
    pub planted: Length,
    /// Share of its final width that a piece has when planted.
    pub piece: f64,
}

/// Days in which leaves grown in air are shed.
pub const SHED_DAYS: f64 = 21.0;

/// How far the row's growth rate is open, up and down.
const RATE_OPEN: f64 = 0.3;

/// How far the row's growth rate is open, up and down.
pub fn rate_open() -> Fraction {
    Fraction::new(RATE_OPEN)
}

/// Share of cover that a closed floating start has; see `select::places`.
const FULL_PIECE: f64 = 1.0;

impl Habit {
    /// The habit of a plant at a placement, in one case.
    pub fn of(plant: &Plant, placement: Placement, case: Case) -> Self {
        let lag = lag(placement);
        let sheds = grown_in_air(plant, placement);
        let least = plant.height.lo().m();
        Self {
            leaves: LeafArea(leaf_area(plant.growth_form)),
            extinction: extinction(plant.texture, case),
            upward: upward(plant.growth_form),
            lag_days: case.of(lag) * if sheds { 1.5 } else { 1.0 },
            shed: if sheds { case.of([0.5, 0.3, 0.1]) } else { 0.0 },
            half: HalfSaturation(case.of([0.5, 0.25, 0.12])),
            vigour: case.of([1.0 - RATE_OPEN, 1.0, 1.0 + RATE_OPEN]),
            grown: case.within(plant.height),
            planted: Length::from_m(least * case.of([0.4, 0.5, 0.6])),
            piece: if placement == Placement::Floating { FULL_PIECE } else { case.of([0.25, 0.33, 0.4]) },
        }
    }
}

/// Days without growth.
fn lag(placement: Placement) -> [f64; 3] {
    match placement {
        Placement::Floating => [4.0, 2.0, 0.0],
        Placement::Epiphyte => [21.0, 14.0, 7.0],
        _ => [14.0, 7.0, 3.0],
    }
}

/// Whether a bought plant is taken to have been grown in air, as nurseries do with all that can.
pub fn grown_in_air(plant: &Plant, placement: Placement) -> bool {
    let tissue_survives =
        matches!(plant.growth_form, GrowthForm::Moss | GrowthForm::Liverwort | GrowthForm::Alga);
    plant.emersed != Emersed::No && placement != Placement::Floating && !tissue_survives
}

fn leaf_area(form: GrowthForm) -> f64 {
    match form {
        GrowthForm::Stem | GrowthForm::Moss => 4.0,
        GrowthForm::Rosette | GrowthForm::Runner | GrowthForm::Bulb | GrowthForm::Fern => 3.0,
        GrowthForm::Creeper | GrowthForm::Rhizome | GrowthForm::Alga | GrowthForm::Liverwort => 2.5,
        GrowthForm::Floater => 1.5,
    }
}

/// The published extinction of a look of leaf in the three cases (Monsi & Saeki 1953): more shade on
/// oneself is slower growth. `None` where nothing is published.
pub fn published_extinction(texture: LeafTexture) -> Option<[Extinction; 3]> {
    match texture {
        LeafTexture::Linear => Some([0.5, 0.4, 0.3].map(Extinction)),
        LeafTexture::Broad => Some([1.0, 0.85, 0.7].map(Extinction)),
        LeafTexture::Fine | LeafTexture::Small => None,
    }
}

/// Needle and small leaves lie between the published types (our guess).
fn extinction(texture: LeafTexture, case: Case) -> Extinction {
    case.of(published_extinction(texture).unwrap_or([0.7, 0.6, 0.5].map(Extinction)))
}

fn upward(form: GrowthForm) -> f64 {
    match form {
        GrowthForm::Stem => 0.6,
        GrowthForm::Rosette | GrowthForm::Bulb => 0.45,
        GrowthForm::Rhizome | GrowthForm::Fern | GrowthForm::Alga => 0.4,
        GrowthForm::Runner | GrowthForm::Moss => 0.3,
        GrowthForm::Liverwort => 0.25,
        GrowthForm::Creeper => 0.15,
        GrowthForm::Floater => 0.1,
    }
}

/// Share of the height and share of the cover that a trim leaves.
pub fn left_by_trim(form: GrowthForm) -> (Fraction, Fraction) {
    let (height, cover) = match form {
        GrowthForm::Stem => (0.5, 0.9),
        GrowthForm::Creeper | GrowthForm::Moss | GrowthForm::Liverwort | GrowthForm::Alga => (0.6, 0.9),
        GrowthForm::Runner
        | GrowthForm::Rosette
        | GrowthForm::Bulb
        | GrowthForm::Fern
        | GrowthForm::Rhizome => (0.8, 0.75),
        GrowthForm::Floater => (1.0, 0.5),
    };
    (Fraction::new(height), Fraction::new(cover))
}
