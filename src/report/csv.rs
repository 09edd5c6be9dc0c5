//! Views as CSV after RFC 4180: one header line, one row a plant.

mod calendar;
mod check;
mod compare;
mod grow;
mod plan;

pub use calendar::calendar;
pub use check::check;
pub use compare::compare;
pub use grow::grow;
pub use plan::shopping;

use super::view::{CatalogueView, FillView, FindView, ShowView, TankReportView};

/// Rows as CSV text.
///
/// # Errors
/// Never for rows of equal length.
pub fn table(header: &[&str], rows: &[Vec<String>]) -> Result<String, ::csv::Error> {
    let mut writer = ::csv::Writer::from_writer(Vec::new());
    writer.write_record(header)?;
    for row in rows {
        writer.write_record(row)?;
    }
    let bytes = writer.into_inner().map_err(|e| ::csv::Error::from(e.into_error()))?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

/// The chosen list, one row a plant.
///
/// # Errors
/// As [`table`].
pub fn fill(view: &FillView) -> Result<String, ::csv::Error> {
    let header = [
        "zone",
        "taxonID",
        "name",
        "verdict",
        "suitability",
        "limiting",
        "value",
        "limit",
        "margin",
        "unit",
        "portions",
        "price",
        "cost",
        "currency",
        "trimMinutesPerMonth",
    ];
    let currency = view.totals.as_ref().map(|t| t.currency.clone()).unwrap_or_default();
    let number = |v: Option<f64>| v.map(|v| v.to_string()).unwrap_or_default();
    let mut rows = Vec::new();
    for zone in &view.zones {
        for pick in &zone.picks {
            let (judged, limit) = (&pick.judged, &pick.judged.limiting);
            rows.push(vec![
                view.tank.zones[zone.zone].name.clone(),
                judged.taxon.clone(),
                judged.name.clone(),
                judged.verdict.clone(),
                judged.suitability.to_string(),
                limit.factor.clone(),
                number(limit.value),
                number(limit.limit),
                number(limit.margin),
                limit.unit.clone(),
                pick.portions.to_string(),
                pick.price.clone().unwrap_or_default(),
                pick.cost.clone().unwrap_or_default(),
                currency.clone(),
                pick.trim_minutes_per_month.to_string(),
            ]);
        }
    }
    table(&header, &rows)
}

/// The zones of a tank, one row a zone.
///
/// # Errors
/// As [`table`].
pub fn tank(view: &TankReportView) -> Result<String, ::csv::Error> {
    let header = ["zone", "placement", "areaCm2", "tallestCm", "bedDepthCm", "dliMean", "dliP10", "dliP90"];
    let row = |z: &super::view::ZoneView| {
        let numbers = [
            z.area_cm2,
            z.tallest_cm,
            z.bed_depth_cm,
            z.dli_mean_mol_m2_d,
            z.dli_p10_mol_m2_d,
            z.dli_p90_mol_m2_d,
        ];
        let mut row = vec![z.name.clone(), z.placement.clone()];
        row.extend(numbers.map(|n| n.to_string()));
        row
    };
    table(&header, &view.tank.zones.iter().map(row).collect::<Vec<_>>())
}

/// Evidence shares, one row a trait.
///
/// # Errors
/// As [`table`].
pub fn catalogue(view: &CatalogueView) -> Result<String, ::csv::Error> {
    let kinds = crate::catalogue::EvidenceKind::WORDS;
    let mut header = vec!["trait"];
    header.extend(kinds);
    let row = |t: &super::view::TraitView| {
        let shares = kinds.iter().map(|k| t.shares.get(*k).copied().unwrap_or(0.0).to_string());
        std::iter::once(t.trait_name.clone()).chain(shares).collect()
    };
    table(&header, &view.evidence.iter().map(row).collect::<Vec<_>>())
}

/// Plants found, one row each.
///
/// # Errors
/// As [`table`].
pub fn find(view: &FindView) -> Result<String, ::csv::Error> {
    let header = [
        "taxonID",
        "name",
        "vernacularName",
        "matched",
        "family",
        "growthForm",
        "placement",
        "heightMinCm",
        "heightMaxCm",
        "light",
        "gas",
    ];
    let row = |h: &super::view::FoundView| {
        vec![
            h.taxon.clone(),
            h.name.clone(),
            h.vernacular.clone(),
            h.matched.clone().unwrap_or_default(),
            h.family.clone(),
            h.growth_form.clone(),
            h.placement.join(";"),
            h.height_min_cm.to_string(),
            h.height_max_cm.to_string(),
            h.light.clone(),
            h.gas.clone(),
        ]
    };
    table(&header, &view.hits.iter().map(row).collect::<Vec<_>>())
}

/// The claims behind one plant, one row each.
///
/// # Errors
/// As [`table`].
pub fn show(view: &ShowView) -> Result<String, ::csv::Error> {
    let header = ["taxonID", "name", "trait", "statement", "unit", "kind", "sourceKey", "locator", "note"];
    let row = |c: &super::view::ClaimView| {
        let cells = [&view.taxon, &view.name, &c.trait_name, &c.statement, &c.unit, &c.kind, &c.source];
        cells.into_iter().chain([&c.locator, &c.note]).cloned().collect()
    };
    table(&header, &view.claims.iter().map(row).collect::<Vec<_>>())
}
