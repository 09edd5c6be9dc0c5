//! A checked wish list as CSV, one row a plant.

use super::table;
use crate::report::view::{CheckView, ConditionView, WishView};

const HEADER: [&str; 20] = [
    "taxonID",
    "name",
    "written",
    "zone",
    "verdict",
    "suitability",
    "suitabilityLeast",
    "suitabilityGreatest",
    "growsShare",
    "limiting",
    "value",
    "limit",
    "margin",
    "unit",
    "sure",
    "dependsOn",
    "barred",
    "fits",
    "flags",
    "remedy",
];

/// The list, worst first.
///
/// # Errors
/// As [`table`].
pub fn check(view: &CheckView) -> Result<String, ::csv::Error> {
    let rows: Vec<Vec<String>> = view.wishes.iter().map(|wish| row(view, wish)).collect();
    table(&HEADER, &rows)
}

fn row(view: &CheckView, wish: &WishView) -> Vec<String> {
    let number = |v: Option<f64>| v.map(|v| v.to_string()).unwrap_or_default();
    let (judged, limit) = (&wish.judged, &wish.judged.limiting);
    let depends: Vec<String> = judged.certainty.conditions.iter().map(condition).collect();
    vec![
        judged.taxon.clone(),
        judged.name.clone(),
        wish.written.join(";"),
        view.tank.zones[wish.zone].name.clone(),
        judged.verdict.clone(),
        judged.suitability.to_string(),
        judged.suitability_least.to_string(),
        judged.suitability_greatest.to_string(),
        judged.grows_share.to_string(),
        limit.factor.clone(),
        number(limit.value),
        number(limit.limit),
        number(limit.margin),
        limit.unit.clone(),
        judged.certainty.sure.to_string(),
        depends.join("; "),
        wish.barred.to_string(),
        wish.fits.to_string(),
        judged.flags.join("; "),
        String::new(),
    ]
}

/// `carbon >= 1.3 mg/L`.
fn condition(condition: &ConditionView) -> String {
    let mut words = condition.measurement.clone();
    if let Some(from) = condition.at_least {
        words.push_str(&format!(" >= {from}"));
    }
    if let Some(to) = condition.at_most {
        words.push_str(&format!(" <= {to}"));
    }
    format!("{words} {}", condition.unit).trim_end().to_owned()
}
