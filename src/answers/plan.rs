//! The planting plan of a tank: drifts, places, and what to buy.

use super::house::House;
use super::prices::Prices;
use crate::catalogue::{LegalEntry, Name, NameKind, Plant, TaxonId};
use crate::diagnostic::{Finding, Findings};
use crate::planting::{Chosen, Density, Planting, plant_out};
use crate::report::view::{
    PlanView, PurchaseTotalsView, PurchaseView, assumed, cautions, density_view, drift_view, flags,
    on_arrival, piece_word, remarks, tank_view,
};
use crate::tank::TankModel;
use crate::units::Money;

/// What `plan` is asked.
#[derive(Debug, Clone, Copy)]
pub struct PlanAsked<'a> {
    /// The taxa with their zones.
    pub chosen: &'a [Chosen<'a>],
    /// How close the pieces stand.
    pub density: Density,
    /// The price list.
    pub prices: &'a Prices,
}

/// The plan as the drawings and the growth take it, and as a view.
///
/// # Errors
/// A list that cannot be planted, all of what is wrong with it; a damaged library.
pub fn plan(
    model: &TankModel,
    house: &House,
    asked: PlanAsked<'_>,
) -> Result<(Planting, PlanView), Findings> {
    let planting = plant_out(model, asked.chosen, asked.density).map_err(|errors| {
        let mut findings = Findings::default();
        for error in &errors {
            findings.push(Finding::error(error.to_string()));
        }
        findings
    })?;
    let mut plants: Vec<&Plant> = asked.chosen.iter().map(|c| c.plant).collect();
    plants.sort_by_key(|p| p.display_name());
    plants.dedup_by(|a, b| a.id == b.id);
    let named = |id: &TaxonId| plants.iter().copied().find(|p| p.id == *id);
    let drifts = planting.drifts.iter().enumerate();
    let drifts = drifts.filter_map(|(n, d)| Some(drift_view(model, n + 1, d, named(&d.taxon)?))).collect();
    let mut purchases = Vec::new();
    for plant in &plants {
        purchases.push(purchase(model, house, &planting, plant, asked.prices)?);
    }
    let name = |key: &str| named(&TaxonId(key.to_owned())).map_or(key.to_owned(), Plant::display_name);
    let view = PlanView {
        tank: tank_view(model),
        density: density_view(asked.density),
        drifts,
        totals: totals(model, &plants, &purchases, asked.prices),
        purchases,
        remarks: remarks(model, &planting, name),
        assumed: assumed(asked.density),
        cautions: cautions(model, &plants),
    };
    Ok((planting, view))
}

/// Portions of a plant over all its drifts: pieces left of one drift serve the next.
fn portions(planting: &Planting, plant: &Plant) -> (u32, u32) {
    let drifts = || planting.drifts.iter().filter(|d| d.taxon == plant.id);
    let pieces: u32 = drifts().map(|d| d.places.len() as u32).sum();
    let each = drifts().map(|d| d.pieces_per_portion).max().unwrap_or(1);
    (pieces, pieces.div_ceil(each.max(1)))
}

fn purchase(
    model: &TankModel,
    house: &House,
    planting: &Planting,
    plant: &Plant,
    prices: &Prices,
) -> Result<PurchaseView, Findings> {
    let about = house.about(&plant.id)?;
    let (pieces, portions) = portions(planting, plant);
    let price = prices.by_taxon.get(&plant.id).copied();
    let legal: Vec<&LegalEntry> = about.legal.iter().collect();
    Ok(PurchaseView {
        taxon: plant.id.0.clone(),
        name: plant.display_name(),
        authorship: plant.authorship.clone(),
        trade_names: trade_names(plant, &about.names),
        portions,
        pieces,
        piece_word: piece_word(plant.growth_form, pieces as usize).to_owned(),
        price: price.map(|p| p.to_string()),
        subtotal: price.map(|p| cost(p, portions).to_string()),
        on_arrival: on_arrival(plant),
        flags: flags(plant, &legal, &model.spec.jurisdictions),
    })
}

fn cost(price: Money, portions: u32) -> Money {
    Money(price.0.saturating_mul(i64::from(portions)))
}

/// The usual English name and the forms of the trade.
fn trade_names(plant: &Plant, names: &[Name]) -> Vec<String> {
    let mut found = vec![plant.vernacular.clone()];
    for name in names.iter().filter(|n| n.kind == NameKind::Trade) {
        if found.iter().all(|f| !f.eq_ignore_ascii_case(&name.name)) {
            found.push(name.name.clone());
        }
    }
    found
}

fn totals(
    model: &TankModel,
    plants: &[&Plant],
    purchases: &[PurchaseView],
    prices: &Prices,
) -> PurchaseTotalsView {
    let priced = plants.iter().zip(purchases);
    let sum = priced
        .filter_map(|(plant, bought)| Some(cost(*prices.by_taxon.get(&plant.id)?, bought.portions).0))
        .fold(0i64, i64::saturating_add);
    PurchaseTotalsView {
        taxa: purchases.len(),
        portions: purchases.iter().map(|p| p.portions).sum(),
        pieces: purchases.iter().map(|p| p.pieces).sum(),
        cost: Money(sum).to_string(),
        currency: model.spec.wishes.currency.clone().unwrap_or_default(),
        without_price: purchases.iter().filter(|p| p.price.is_none()).map(|p| p.name.clone()).collect(),
        price_origins: prices.origins.clone(),
    }
}
