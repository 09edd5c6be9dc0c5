//! A plant with its verdict in a zone.

use schemars::JsonSchema;
use serde::Serialize;

use super::rounded;
use crate::catalogue::{Hazard, Lasting, LegalEntry, LegalStanding, Offered, Plant};
use crate::fit::{Assessment, Certainty, Condition, Edge, Reason, ZoneConditions, certainty, reason};

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

/// The values of a measurement that allow a word.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ConditionView {
    /// What is to be measured: `light` (mean of the zone), `carbon`, `temperature`, `pH`, `GH`, `KH`.
    pub measurement: String,
    /// From this value on, where lower ones are possible.
    pub at_least: Option<f64>,
    /// Up to this value, where higher ones are possible.
    pub at_most: Option<f64>,
    /// Unit of both.
    pub unit: String,
}

/// What the measurement ranges leave open.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CertaintyView {
    /// Whether all measurement ranges give the same verdict.
    pub sure: bool,
    /// The least verdict that the ranges allow.
    pub worst: String,
    /// The best verdict that the ranges allow.
    pub best: String,
    /// The verdict that depends on the conditions; `null` when sure, or when none is enough.
    pub verdict: Option<String>,
    /// Whether the one condition is enough whatever the other measurements turn out to be; if
    /// not, every one of them has to hold.
    pub settles: bool,
    /// The conditions.
    pub conditions: Vec<ConditionView>,
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
    /// How sure that is.
    pub certainty: CertaintyView,
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
    let certainty = certainty(plant, zone);
    let bounds = certainty.bounds;
    JudgedView {
        taxon: plant.id.0.clone(),
        name: plant.display_name(),
        vernacular: plant.vernacular.clone(),
        verdict: assessment.verdict().word().to_owned(),
        suitability: rounded(assessment.suitability, 3),
        suitability_least: rounded(bounds.least, 3),
        suitability_greatest: rounded(bounds.greatest, 3),
        certainty: certainty_view(&certainty),
        grows_share: rounded(assessment.grows_share, 2),
        limiting: limit(plant, assessment, zone),
        flags,
    }
}

fn certainty_view(certainty: &Certainty) -> CertaintyView {
    let depends = certainty.depends.as_ref();
    CertaintyView {
        sure: certainty.is_sure(),
        worst: certainty.worst().word().to_owned(),
        best: certainty.best().word().to_owned(),
        verdict: depends.map(|d| d.word.word().to_owned()),
        settles: depends.is_some_and(|d| d.settles),
        conditions: depends.map_or(Vec::new(), |d| d.conditions.iter().map(condition_view).collect()),
    }
}

/// Ends are rounded inwards, so that a value that meets them meets the exact ones.
fn condition_view(condition: &Condition) -> ConditionView {
    let scale = 10_f64.powi(condition.factor.decimals());
    ConditionView {
        measurement: condition.factor.word().to_owned(),
        at_least: condition.at_least.map(|v| (v * scale - 1e-9).ceil() / scale),
        at_most: condition.at_most.map(|v| (v * scale + 1e-9).floor() / scale),
        unit: condition.factor.unit().to_owned(),
    }
}

/// What limits a plant, for the report.
pub(super) fn limit(plant: &Plant, assessment: &Assessment, zone: &ZoneConditions) -> LimitView {
    let factor = assessment.limiting;
    let numbers = reason(plant, zone, factor);
    let decimals = factor.decimals();
    let edge = |e: Edge| if e == Edge::AtLeast { "at-least" } else { "at-most" };
    LimitView {
        factor: factor.word().to_owned(),
        suitability: rounded(assessment.factor(factor), 3),
        value: numbers.map(|r| rounded(r.value, decimals)),
        limit: numbers.map(|r| rounded(r.limit, decimals)),
        edge: numbers.map(|r| edge(r.edge).to_owned()),
        // Of the figures as told, so that they add up.
        margin: numbers.map(|r| {
            let told = |v: f64| rounded(v, decimals);
            rounded(Reason { value: told(r.value), limit: told(r.limit), ..r }.margin(), decimals)
        }),
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
    flags.extend(plant.hazards.iter().filter_map(|h| hazard_words(*h)).map(str::to_owned));
    flags
}

/// What a hazard does.
pub(super) fn hazard_words(hazard: Hazard) -> Option<&'static str> {
    match hazard {
        Hazard::NoneKnown => None,
        Hazard::CalciumOxalate => Some("needles of calcium oxalate irritate mouth, eyes and skin"),
        Hazard::IrritantSap => Some("sap irritates skin and eyes"),
        Hazard::ToxicIfEaten => Some("poisonous when eaten"),
        Hazard::Spiny => Some("spines or thorny fruits"),
    }
}
