//! A comparison as CSV, one row a plant, tank and factor.

use super::table;
use crate::report::view::{ColumnView, CompareView, FactorView};

const HEADER: [&str; 14] = [
    "taxonID",
    "name",
    "tank",
    "zone",
    "verdict",
    "factor",
    "suitability",
    "least",
    "greatest",
    "value",
    "growsFrom",
    "growsTo",
    "unit",
    "words",
];

/// The comparison.
///
/// # Errors
/// As [`table`].
pub fn compare(view: &CompareView) -> Result<String, ::csv::Error> {
    let rows = view.columns.iter().flat_map(|c| c.factors.iter().map(|f| row(c, f)));
    table(&HEADER, &rows.collect::<Vec<_>>())
}

fn row(column: &ColumnView, factor: &FactorView) -> Vec<String> {
    let number = |v: Option<f64>| v.map(|v| v.to_string()).unwrap_or_default();
    vec![
        column.judged.taxon.clone(),
        column.judged.name.clone(),
        column.tank.clone(),
        column.zone.clone(),
        column.judged.verdict.clone(),
        factor.factor.clone(),
        factor.suitability.to_string(),
        factor.least.to_string(),
        factor.greatest.to_string(),
        number(factor.value),
        number(factor.grows_from),
        number(factor.grows_to),
        factor.unit.clone(),
        factor.words.clone(),
    ]
}
