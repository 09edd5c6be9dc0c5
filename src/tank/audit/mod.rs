//! The set-up held against how planted tanks are usually run.
//!
//! One line a rule: what is, how it stands, the rule, and where the rule comes from. Most rules are
//! common practice and say so; none is a law of nature. Nothing here changes a plant's verdict.

mod balance;
mod rules;

pub use balance::{carbon_support, light_support};

use super::carbon::{CarbonEstimate, GasSupply};
use super::file::{BedKind, Livestock, Material};
use super::geometry::BedProfile;
use crate::units::{
    Concentration, Duration, FlowRate, Fraction, Interval, Length, Ppfd, Quantity, UnitSystem, Volume,
};

/// What the rules look at.
#[derive(Debug, Clone, Copy)]
pub struct SetUp<'a> {
    /// Hours of light a day.
    pub photoperiod: Duration,
    /// Where CO2 comes from.
    pub gas: GasSupply,
    /// Free water.
    pub water: Volume,
    /// Of the filter, when stated.
    pub filter_flow: Option<FlowRate>,
    /// Share of the water changed weekly, when stated.
    pub weekly_change: Option<Fraction>,
    /// What the bed is made of.
    pub bed_kind: BedKind,
    /// Its shape.
    pub bed: BedProfile,
    /// What the hardscape is made of.
    pub hardscape: &'a [Material],
    /// Animals.
    pub livestock: Livestock,
    /// Mean PPFD over the bed, when there is light.
    pub light: Option<Ppfd>,
    /// The carbon of the water.
    pub carbon: &'a CarbonEstimate,
}

/// What a line is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Topic {
    /// Hours of light.
    Photoperiod,
    /// Gas hours against light hours.
    GasTimer,
    /// Light against carbon.
    LightAndCarbon,
    /// CO2 and animals.
    GasAndFish,
    /// Filter flow against volume.
    Turnover,
    /// Weekly water change.
    WaterChange,
    /// Feeding the water.
    Feeding,
    /// Shape of the bed.
    BedSlope,
    /// Rock that dissolves.
    CarbonateRock,
    /// Wood.
    Wood,
    /// Trimming.
    Trim,
    /// The first months.
    Maturing,
}

impl std::fmt::Display for Topic {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.pad(match self {
            Self::Photoperiod => "photoperiod",
            Self::GasTimer => "gas timer",
            Self::LightAndCarbon => "light and carbon",
            Self::GasAndFish => "gas and fish",
            Self::Turnover => "turnover",
            Self::WaterChange => "water change",
            Self::Feeding => "feeding",
            Self::BedSlope => "bed slope",
            Self::CarbonateRock => "carbonate rock",
            Self::Wood => "wood",
            Self::Trim => "trimming",
            Self::Maturing => "maturing",
        })
    }
}

/// How a line stands, for a program; [`AuditLine::words`] says it to a person.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// Within what is usual.
    Usual,
    /// Outside what is usual.
    Unusual,
    /// Something to do or to know; nothing to compare.
    Advice,
    /// The tank file does not say.
    NotStated,
}

/// What was found, to be shown in the person's units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AuditValue {
    /// A time.
    Time(Duration),
    /// Gas on before the light, gas off before its end.
    GasLead(Duration, Duration),
    /// Tank volumes an hour.
    VolumesPerHour(f64),
    /// A share.
    Share(Fraction),
    /// Front and back of the bed.
    FrontAndBack(Length, Length),
    /// Shares of the full rate that light allows and carbon allows.
    Support(Fraction, Interval<Fraction>),
    /// CO2.
    Co2(Interval<Concentration>),
}

impl AuditValue {
    /// As text in the units of `system`.
    pub fn show(&self, system: UnitSystem) -> String {
        match self {
            Self::Time(time) => time.show(system),
            Self::GasLead(on, off) => {
                format!("{} before light, {} before dark", on.show(system), off.show(system))
            }
            Self::VolumesPerHour(times) => format!("{times:.1} volumes an hour"),
            Self::Share(share) => share.show(system),
            Self::FrontAndBack(front, back) => format!("{} to {}", front.show(system), back.show(system)),
            Self::Support(light, carbon) => {
                format!("light for {}, carbon for {} of full growth", light.show(system), carbon.show(system))
            }
            Self::Co2(co2) => co2.show(system),
        }
    }
}

/// Where a rule comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// How it is done; nobody measured it for us.
    CommonPractice,
    /// A publication.
    Source(&'static str),
}

impl std::fmt::Display for Origin {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::CommonPractice => "common practice, no source",
            Self::Source(citation) => citation,
        })
    }
}

/// One rule and how the tank stands to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AuditLine {
    /// What it is about.
    pub topic: Topic,
    /// What was found; `None` for advice and for what is not stated.
    pub value: Option<AuditValue>,
    /// How it stands.
    pub standing: Standing,
    /// The same in words.
    pub words: &'static str,
    /// The rule.
    pub rule: &'static str,
    /// Where the rule comes from.
    pub origin: Origin,
}

impl AuditLine {
    fn practice(
        topic: Topic,
        value: impl Into<Option<AuditValue>>,
        (standing, words): (Standing, &'static str),
        rule: &'static str,
    ) -> Self {
        Self { topic, value: value.into(), standing, words, rule, origin: Origin::CommonPractice }
    }
}

/// Every rule that applies to the tank, in the order of [`Topic`].
pub fn audit(tank: &SetUp<'_>) -> Vec<AuditLine> {
    let lines = [
        Some(rules::photoperiod(tank.photoperiod)),
        rules::gas_timer(tank.gas),
        tank.light.map(|light| rules::light_and_carbon(light, tank.photoperiod, tank.carbon, tank.gas)),
        rules::gas_and_fish(tank.carbon, tank.livestock),
        Some(rules::turnover(tank.filter_flow, tank.water)),
        Some(rules::water_change(tank.weekly_change)),
        Some(rules::feeding(tank.bed_kind)),
        rules::bed_slope(tank.bed_kind, tank.bed),
        rules::carbonate_rock(tank.hardscape),
        rules::wood(tank.hardscape),
        Some(rules::trim()),
        Some(rules::maturing()),
    ];
    lines.into_iter().flatten().collect()
}
