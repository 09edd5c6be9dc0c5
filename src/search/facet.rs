//! The facets of a plant, in plain words: those of the catalogue, and bands cut from numbers.

use std::fmt;

use crate::catalogue::{
    CarbonUse, Colour, Feeding, Footing, GrowthForm, LeafTexture, LegalStanding, Placement, Plant,
};
use crate::units::{Concentration, Ppfd};

/// A property by which plants are counted and chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "camelCase")]
pub enum Facet {
    /// The place in the layout.
    Placement,
    /// The habit.
    GrowthForm,
    /// How much light it needs; see [`light_need`].
    Light,
    /// Whether it needs added gas; see [`gas_need`].
    Gas,
    /// How fast it grows; see [`growth_rate`].
    Growth,
    /// What it holds on to.
    Footing,
    /// Where it takes nutrients from.
    Feeding,
    /// The colour of the foliage.
    Colour,
    /// The look of the foliage.
    Texture,
    /// The family.
    Family,
    /// Native areas: WGSRPD regions (two digits) and continents (one digit).
    Native,
    /// Jurisdictions with a law about it (registers are not law).
    Law,
}

impl Facet {
    /// All facets, in the order in which they are shown.
    pub const ALL: &'static [Self] = &[
        Self::Placement,
        Self::GrowthForm,
        Self::Light,
        Self::Gas,
        Self::Growth,
        Self::Footing,
        Self::Feeding,
        Self::Colour,
        Self::Texture,
        Self::Family,
        Self::Native,
        Self::Law,
    ];

    /// Facets whose values are words known beforehand, in the order of their bits.
    pub(super) const CLOSED: &'static [Self] = Self::ALL.split_at(9).0;

    /// Facets whose values come from the data.
    pub(super) const OPEN: &'static [Self] = Self::ALL.split_at(9).1;

    /// The written word: `placement`, `growthForm` and so on.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Placement => "placement",
            Self::GrowthForm => "growthForm",
            Self::Light => "light",
            Self::Gas => "gas",
            Self::Growth => "growth",
            Self::Footing => "footing",
            Self::Feeding => "feeding",
            Self::Colour => "colour",
            Self::Texture => "texture",
            Self::Family => "family",
            Self::Native => "native",
            Self::Law => "law",
        }
    }

    /// The values of a facet that are known beforehand, in the order in which they are shown;
    /// empty for family, native area and law.
    pub const fn words(self) -> &'static [&'static str] {
        match self {
            Self::Placement => Placement::WORDS,
            Self::GrowthForm => GrowthForm::WORDS,
            Self::Light => LIGHT_NEEDS,
            Self::Gas => GAS_NEEDS,
            Self::Growth => GROWTH_RATES,
            Self::Footing => Footing::WORDS,
            Self::Feeding => Feeding::WORDS,
            Self::Colour => Colour::WORDS,
            Self::Texture => LeafTexture::WORDS,
            Self::Family | Self::Native | Self::Law => &[],
        }
    }

    /// The values that a plant has in a facet whose words are known beforehand.
    pub(super) fn closed_values(self, plant: &Plant) -> Vec<&'static str> {
        match self {
            Self::Placement => plant.placements.iter().map(|p| p.word()).collect(),
            Self::GrowthForm => vec![plant.growth_form.word()],
            Self::Light => vec![light_need(plant)],
            Self::Gas => vec![gas_need(plant)],
            Self::Growth => vec![growth_rate(plant)],
            Self::Footing => plant.footings.iter().map(|f| f.word()).collect(),
            Self::Feeding => vec![plant.feeding.word()],
            Self::Colour => vec![plant.colour.word()],
            Self::Texture => vec![plant.texture.word()],
            Self::Family | Self::Native | Self::Law => Vec::new(),
        }
    }
}

impl fmt::Display for Facet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// Whether a row of law counts for the facet: registers of alien species do not.
pub(super) fn is_law(standing: LegalStanding) -> bool {
    standing == LegalStanding::Law
}

/// The bands of light need, from little to much; see [`light_need`].
pub const LIGHT_NEEDS: &[&str] = &["shade", "half shade", "bright", "full"];

/// The light from which a plant grows: half way up the slope of its envelope, where
/// suitability is 0.5. µmol m⁻² s⁻¹ at the leaf for an 8 h day.
pub fn grows_from(plant: &Plant) -> Ppfd {
    let (min, opt) = (plant.light.abs_min().umol_m2_s(), plant.light.opt_min().umol_m2_s());
    Ppfd::from_umol_m2_s(f64::midpoint(min, opt))
}

/// The band of [`grows_from`]: *shade* below 25 µmol m⁻² s⁻¹, *half shade* below 40, *bright*
/// below 60, *full* from there.
pub fn light_need(plant: &Plant) -> &'static str {
    match grows_from(plant).umol_m2_s() {
        v if v < 25.0 => "shade",
        v if v < 40.0 => "half shade",
        v if v < 60.0 => "bright",
        _ => "full",
    }
}

/// The bands of gas need, from none to much; see [`gas_need`].
pub const GAS_NEEDS: &[&str] = &["without gas", "helped by gas", "needs gas"];

/// Dissolved CO2 of a planted tank without injection, nominal: between air equilibrium
/// (about 0.6 mg/L) and what livestock and bed add (about 3 mg/L). Common practice.
const CO2_WITHOUT_GAS: Concentration = Concentration::from_mg_l(1.8);

/// How the plant fares at 1.8 mg/L CO2, nominal for a tank without added gas: *without gas*
/// when it thrives there (carbon suitability ≥ 0.8), *helped by gas* when it grows (≥ 0.5),
/// *needs gas* below. Plants that use the air need none.
pub fn gas_need(plant: &Plant) -> &'static str {
    let (min, opt) = (plant.co2_min.mg_l(), plant.co2_opt.mg_l());
    let rise = (CO2_WITHOUT_GAS.mg_l() - min) / (opt - min).max(f64::MIN_POSITIVE);
    match rise {
        _ if plant.carbon_use == CarbonUse::Air => "without gas",
        s if s >= 0.8 => "without gas",
        s if s >= 0.5 => "helped by gas",
        _ => "needs gas",
    }
}

/// The bands of growth, from little to much; see [`growth_rate`].
pub const GROWTH_RATES: &[&str] = &["slow", "moderate", "fast"];

/// The band of the relative growth rate at its optimum: *slow* below 0.02 a day (doubles in
/// more than five weeks), *fast* from 0.05 a day (doubles within two weeks), *moderate*
/// between.
pub fn growth_rate(plant: &Plant) -> &'static str {
    match plant.growth_per_day {
        r if r < 0.02 => "slow",
        r if r < 0.05 => "moderate",
        _ => "fast",
    }
}
