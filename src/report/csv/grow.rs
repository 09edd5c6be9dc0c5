//! Growth as CSV, one row a drift and week.

use super::table;
use crate::report::view::{DriftCourseView, GrowView, WeekView};

const HEADER: [&str; 21] = [
    "zone",
    "taxonID",
    "name",
    "week",
    "coverLow",
    "cover",
    "coverHigh",
    "heightLowCm",
    "heightCm",
    "heightHighCm",
    "biomassLow",
    "biomass",
    "biomassHigh",
    "lightShare",
    "selfShading",
    "paceLow",
    "pace",
    "paceHigh",
    "cutReason",
    "cutToHeightCm",
    "cutToCover",
];

/// The courses of all drifts.
///
/// # Errors
/// As [`table`].
pub fn grow(view: &GrowView) -> Result<String, ::csv::Error> {
    let rows = view.drifts.iter().flat_map(|d| d.weeks.iter().map(|w| row(d, w)));
    table(&HEADER, &rows.collect::<Vec<_>>())
}

fn row(drift: &DriftCourseView, week: &WeekView) -> Vec<String> {
    let mut row = vec![drift.zone.clone(), drift.taxon.clone(), drift.name.clone(), week.week.to_string()];
    for span in [&week.cover, &week.height_cm, &week.biomass] {
        row.extend([span.low, span.mid, span.high].map(|v| v.to_string()));
    }
    row.extend([week.light_share.mid, week.self_shading.mid].map(|v| v.to_string()));
    row.extend([week.pace.low, week.pace.mid, week.pace.high].map(|v| v.to_string()));
    let cut = week.cut.as_ref();
    row.push(cut.map(|c| c.reason.clone()).unwrap_or_default());
    row.push(cut.map(|c| c.height_cm.to_string()).unwrap_or_default());
    row.push(cut.map(|c| c.cover.to_string()).unwrap_or_default());
    row
}
