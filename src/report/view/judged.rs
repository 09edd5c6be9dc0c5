//! A plant with its verdict in a zone.

use schemars::JsonSchema;
use serde::Serialize;

use super::rounded;
use crate::catalogue::{Hazard, Lasting, LegalEntry, LegalStanding, Offered, Plant};
use crate::fit::{Assessment, Edge, Factor, Verdict, ZoneConditions, bounds, reason};

/// What limits a plant, in numbers where the factor has any.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LimitView {
    /// The limiting factor.
    pub factor: String,
    /// Its suitability, 0 to 1.
    pub suitability: f64,
    /// The nominal value in the zone.
    pub value: Option<f64>,
    /// Where the plant begins or ceases to grow.
    pub limit: Option<f64>,
    /// `at-least` or `at-most`: the side of the limit on which it grows.
    pub edge: Option<String>,
    /// How far the value is on the right side of the limit.
    pub margin: Option<f64>,
    /// Unit of value, limit and margin.
    pub unit: String,
}

/// A plant judged in a zone.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct JudgedView {
    /// Key of the taxon.
    pub taxon: String,
    /// Accepted name with the cultivar.
    pub name: String,
    /// Usual English name.
    pub vernacular: String,
    /// Thrives, grows, lingers or fails.
    pub verdict: String,
    /// Suitability at the nominal values, 0 to 1.
    pub suitability: f64,
    /// The least suitability over the measurement ranges.
    pub suitability_least: f64,
    /// The greatest.
    pub suitability_greatest: f64,
    /// Whether all measurement ranges give the same verdict.
    pub sure: bool,
    /// Share of the zone's area where it at least grows.
    pub grows_share: f64,
    /// What limits it.
    pub limiting: LimitView,
    /// Laws, registers and hazards that concern it, in words.
    pub flags: Vec<String>,
}

/// Judges a plant for the report.
pub fn judged(
    plant: &Plant,
    assessment: &Assessment,
    zone: &ZoneConditions,
    flags: Vec<String>,
) -> JudgedView {
    let bounds = bounds(plant, zone);
    JudgedView {
        taxon: plant.id.0.clone(),
        name: plant.display_name(),
        vernacular: plant.vernacular.clone(),
        verdict: assessment.verdict().word().to_owned(),
        suitability: rounded(assessment.suitability, 3),
        suitability_least: rounded(bounds.least, 3),
        suitability_greatest: rounded(bounds.greatest, 3),
        sure: bounds.sure() == Some(Verdict::of(assessment.suitability)),
        grows_share: rounded(assessment.grows_share, 2),
        limiting: limit(plant, assessment, zone),
        flags,
    }
}

fn limit(plant: &Plant, assessment: &Assessment, zone: &ZoneConditions) -> LimitView {
    let factor = assessment.limiting;
    let numbers = reason(plant, zone, factor);
    let decimals = if factor == Factor::Light || factor == Factor::Ph { 2 } else { 1 };
    let edge = |e: Edge| if e == Edge::AtLeast { "at-least" } else { "at-most" };
    LimitView {
        factor: factor.word().to_owned(),
        suitability: rounded(assessment.factor(factor), 3),
        value: numbers.map(|r| rounded(r.value, decimals)),
        limit: numbers.map(|r| rounded(r.limit, decimals)),
        edge: numbers.map(|r| edge(r.edge).to_owned()),
        margin: numbers.map(|r| rounded(r.margin(), decimals)),
        unit: numbers.map_or(String::new(), |r| r.unit.to_owned()),
    }
}

/// Laws and registers of the places given, and hazards, in a few words each.
pub fn flags(plant: &Plant, legal: &[&LegalEntry], places: &[String]) -> Vec<String> {
    let mut flags = Vec::new();
    for entry in legal.iter().filter(|e| places.iter().any(|p| e.touches(p))) {
        flags.push(match entry.standing {
            LegalStanding::Law | LegalStanding::ReleaseLaw => format!(
                "restricted by law in {}: {} ({}, checked {})",
                entry.jurisdiction, entry.effect, entry.instrument, entry.checked_on
            ),
            LegalStanding::Register => {
                format!(
                    "{} in {} (a register, not law; checked {})",
                    entry.effect, entry.jurisdiction, entry.checked_on
                )
            }
        });
    }
    match plant.offered {
        Offered::Often | Offered::Sometimes => {}
        Offered::Seldom => flags.push("seldom offered".into()),
        Offered::Wild => flags.push("not traded as a tank plant".into()),
    }
    if plant.lasting == Lasting::Short {
        flags.push("declines or outgrows the water within months".into());
    }
    for hazard in &plant.hazards {
        match hazard {
            Hazard::NoneKnown => {}
            Hazard::CalciumOxalate => {
                flags.push("needles of calcium oxalate irritate mouth, eyes and skin".into());
            }
            Hazard::IrritantSap => flags.push("sap irritates skin and eyes".into()),
            Hazard::ToxicIfEaten => flags.push("poisonous when eaten".into()),
            Hazard::Spiny => flags.push("spines or thorny fruits".into()),
        }
    }
    flags
}
