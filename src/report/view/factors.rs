//! Every factor of a verdict, in numbers or in words, and where the plant's side of it comes from.

use schemars::JsonSchema;
use serde::Serialize;

use super::show::{claim_view, origin, source_view};
use super::{Background, ClaimView, ElsewhereView, OriginView, SourceView, rounded};
use crate::catalogue::{CarbonUse, Claim, Footing, Plant};
use crate::fit::{
    Assessment, Factor, REFERENCE_HOURS, ZoneConditions, bed_wanted, graded, level_for, room_wanted,
};
use crate::units::{Quantity, UnitSystem};

/// One factor of a verdict.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FactorView {
    /// The factor.
    pub factor: String,
    /// Its suitability, 0 to 1.
    pub suitability: f64,
    /// The least over the measurement ranges.
    pub least: f64,
    /// The greatest.
    pub greatest: f64,
    /// The nominal value in the zone; for light, its mean.
    pub value: Option<f64>,
    /// The least that the measurement leaves open.
    pub lo: Option<f64>,
    /// The greatest.
    pub hi: Option<f64>,
    /// Unit of the numbers.
    pub unit: String,
    /// The plant's curve: nothing at the first, best from the second to the third, nothing from the
    /// fourth; `null` where more does no harm.
    pub curve: Option<[Option<f64>; 4]>,
    /// From this value the plant grows by this factor alone.
    pub grows_from: Option<f64>,
    /// Up to this value it does; `null` where more does no harm.
    pub grows_to: Option<f64>,
    /// What is compared, where that is not a curve.
    pub words: String,
}

/// Every factor of a verdict.
pub fn factors(plant: &Plant, assessment: &Assessment, zone: &ZoneConditions) -> Vec<FactorView> {
    Factor::ALL.into_iter().map(|factor| factor_view(plant, assessment, zone, factor)).collect()
}

fn factor_view(plant: &Plant, here: &Assessment, zone: &ZoneConditions, factor: Factor) -> FactorView {
    let suitability = rounded(here.factor(factor), 3);
    let numbers = graded(plant, zone, factor);
    // One digit more than the limits show: the curve is what a reader computes with.
    let number = |v: f64| rounded(v, factor.decimals() + 1);
    FactorView {
        factor: factor.word().to_owned(),
        suitability,
        least: numbers.map_or(suitability, |n| rounded(n.suitability.0, 3)),
        greatest: numbers.map_or(suitability, |n| rounded(n.suitability.1, 3)),
        value: numbers.map(|n| number(n.value)),
        lo: numbers.map(|n| number(n.range.0)),
        hi: numbers.map(|n| number(n.range.1)),
        unit: if numbers.is_some() { factor.unit().to_owned() } else { String::new() },
        curve: numbers.map(|n| n.curve.map(|v| v.is_finite().then(|| number(v)))),
        grows_from: numbers.map(|n| number(n.grows().0)),
        grows_to: numbers.map(|n| n.grows().1).filter(|v| v.is_finite()).map(number),
        words: words(plant, zone, factor),
    }
}

fn words(plant: &Plant, zone: &ZoneConditions, factor: Factor) -> String {
    let list = |words: Vec<&str>| if words.is_empty() { "nothing".to_owned() } else { words.join(", ") };
    let footings = |f: &[Footing]| list(f.iter().map(|f| f.word()).collect());
    match factor {
        Factor::Placement => {
            let serves = list(plant.placements.iter().map(|p| p.word()).collect());
            format!("the zone is {}; the plant serves {serves}", zone.placement)
        }
        Factor::Footing => {
            format!(
                "the zone offers {}; the plant holds on to {}",
                footings(&zone.footings),
                footings(&plant.footings)
            )
        }
        Factor::Height => {
            let [none, full] = room_wanted(plant, zone.ceiling);
            let at_least = if zone.shortest.m() > 0.0 {
                format!(", and plants of {} or more are wanted", zone.shortest)
            } else {
                String::new()
            };
            format!("room for {}{at_least}; the plant wants {full}, and {none} is too little", zone.tallest)
        }
        Factor::BedDepth => {
            let [none, full] = bed_wanted(plant);
            format!("a bed of {}; the plant wants {full}, and {none} is too little", zone.bed_depth)
        }
        Factor::Feeding => format!("{}; the plant feeds by {}", zone.bed, feeding(plant)),
        Factor::Light => level_for(plant, zone).map_or("no light".to_owned(), |level| {
            format!(
                "{} cells at {} above the ground, {} to {} in all but the dimmest and brightest tenth; the \
                 plant's PPFD for {REFERENCE_HOURS} h: {}",
                level.len(),
                level.height,
                level.percentile(0.1).show_number(UnitSystem::Metric),
                level.percentile(0.9),
                plant.light.values().map(|p| p.show_number(UnitSystem::Metric)).join(", ")
            )
        }),
        Factor::Carbon => match plant.carbon_use {
            CarbonUse::Air => "the plant takes carbon from the air".to_owned(),
            CarbonUse::Co2 => "dissolved CO2, mean over the hours of light".to_owned(),
            CarbonUse::Bicarbonate => {
                let (co2, extra) = (zone.water.co2.nominal(), zone.water.bicarbonate_as_co2.nominal());
                format!("dissolved CO2 ({co2}) and what the plant makes of bicarbonate ({extra})")
            }
        },
        Factor::Temperature | Factor::Ph | Factor::Gh | Factor::Kh => String::new(),
    }
}

fn feeding(plant: &Plant) -> &'static str {
    match plant.feeding.word() {
        "root" => "its roots",
        "column" => "its leaves",
        _ => "roots and leaves",
    }
}

/// A factor with the origin of the plant's side of it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ExplainedFactorView {
    /// The factor.
    #[serde(flatten)]
    pub factor: FactorView,
    /// Which values suit: the rule that the suitability follows.
    pub rule: String,
    /// How the plant's values are known; `null` for our own rules.
    pub origin: Option<OriginView>,
    /// What sources say of the trait.
    pub claims: Vec<ClaimView>,
}

/// The full reasoning about one plant.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ExplainView {
    /// Key of the taxon.
    pub taxon: String,
    /// Accepted name with the cultivar.
    pub name: String,
    /// Usual English name.
    pub vernacular: String,
    /// The zone it is judged in.
    pub zone: String,
    /// The verdict there.
    pub verdict: String,
    /// The suitability there.
    pub suitability: f64,
    /// How the factors combine.
    pub combination: String,
    /// The factors.
    pub factors: Vec<ExplainedFactorView>,
    /// The verdicts in every zone.
    pub zones: Vec<ElsewhereView>,
    /// The sources of the claims.
    pub sources: Vec<SourceView>,
}

/// The trait of `evidence.csv` behind a factor.
fn trait_of(factor: Factor) -> Option<&'static str> {
    match factor {
        Factor::Placement | Factor::Footing => Some("placement"),
        Factor::Height => Some("height"),
        Factor::BedDepth => None,
        Factor::Feeding => Some("feeding"),
        Factor::Light => Some("light"),
        Factor::Carbon => Some("co2"),
        Factor::Temperature => Some("temperature"),
        Factor::Ph => Some("ph"),
        Factor::Gh => Some("gh"),
        Factor::Kh => Some("kh"),
    }
}

const COMBINATION: &str = "the least factor counts (the limiting-factor form of the US Fish and Wildlife \
    Service's habitat suitability manual, 103 ESM, 1981); light cell by cell over the zone, then the mean; \
    thrives from 0.8, grows from 0.5, lingers above 0";

fn rule(factor: Factor) -> &'static str {
    match factor {
        Factor::Placement | Factor::Footing => "1 when they meet, else 0",
        Factor::Height => {
            "our rule: stems are cut to size, ribbon leaves may lie along the surface, the rest wants room for \
             the middle of its usual height"
        }
        Factor::BedDepth => "our rule: 1 from the depth it wants, 0 at a third of it, linear between",
        Factor::Feeding => {
            "common practice, no source: on sand or gravel 0.7 for root feeders, 0.9 for those that feed both ways"
        }
        Factor::Light => {
            "by its curve in each cell, at half the height the plant stands; as light of the day"
        }
        Factor::Carbon => "0 at the first value, 1 from the second, linear between",
        Factor::Temperature | Factor::Ph | Factor::Gh | Factor::Kh => {
            "0 outside the outer values, 1 between the inner ones, linear between"
        }
    }
}

/// The full reasoning about a plant in a zone.
pub fn explain_view(
    plant: &Plant,
    assessment: &Assessment,
    (zone_name, zone): (&str, &ZoneConditions),
    zones: Vec<ElsewhereView>,
    about: Background<'_>,
) -> ExplainView {
    let named = |factor: Factor| {
        let also = if factor == Factor::Carbon { Some("carbonUse") } else { None };
        move |c: &&Claim| {
            trait_of(factor).is_some_and(|t| c.trait_name == t || Some(c.trait_name.as_str()) == also)
        }
    };
    let explained = |factor: Factor| ExplainedFactorView {
        factor: factor_view(plant, assessment, zone, factor),
        rule: rule(factor).to_owned(),
        origin: trait_of(factor).map(|t| origin(about.claims, t)),
        claims: about.claims.iter().filter(named(factor)).map(claim_view).collect(),
    };
    let cited = |key: &str| {
        let traits: Vec<&str> = Factor::ALL.into_iter().filter_map(trait_of).chain(["carbonUse"]).collect();
        about.claims.iter().any(|c| c.source == key && traits.contains(&c.trait_name.as_str()))
    };
    ExplainView {
        taxon: plant.id.0.clone(),
        name: plant.display_name(),
        vernacular: plant.vernacular.clone(),
        zone: zone_name.to_owned(),
        verdict: assessment.verdict().word().to_owned(),
        suitability: rounded(assessment.suitability, 3),
        combination: COMBINATION.to_owned(),
        factors: Factor::ALL.into_iter().map(explained).collect(),
        zones,
        sources: about.sources.iter().filter(|s| cited(&s.key)).map(source_view).collect(),
    }
}
