//! Several plants against one tank, or one plant against several tanks.

use schemars::JsonSchema;
use serde::Serialize;

use super::{FactView, FactorView, JudgedView, factors, judged};
use crate::catalogue::Plant;
use crate::fit::{Assessment, ZoneConditions};

/// One plant in one tank, in the zone compared.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ColumnView {
    /// The tank.
    pub tank: String,
    /// The zone.
    pub zone: String,
    /// The verdict.
    #[serde(flatten)]
    pub judged: JudgedView,
    /// Whether a law of the tank's jurisdiction restricts it.
    pub barred: bool,
    /// Every factor of the verdict.
    pub factors: Vec<FactorView>,
    /// Habit, size, growth, looks.
    pub traits: Vec<FactView>,
}

/// What `compare` answers.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CompareView {
    /// `plants` or `tanks`: what differs from column to column.
    pub across: String,
    /// What all columns share: the tank's or the plant's name.
    pub of: String,
    /// The columns, in the order given.
    pub columns: Vec<ColumnView>,
}

/// One column.
pub fn column(
    plant: &Plant,
    (tank, zone_name): (&str, &str),
    assessment: &Assessment,
    zone: &ZoneConditions,
    (flags, barred): (Vec<String>, bool),
) -> ColumnView {
    ColumnView {
        tank: tank.to_owned(),
        zone: zone_name.to_owned(),
        judged: judged(plant, assessment, zone, flags),
        barred,
        factors: factors(plant, assessment, zone),
        traits: super::show::traits(plant),
    }
}
