//! The shopping list of a plan as CSV, one row a plant.

use super::table;
use crate::report::view::{PlanView, PurchaseView};

/// What stands where there is no price.
const MISSING: &str = "missing";

/// The shopping list.
///
/// # Errors
/// As [`table`].
pub fn shopping(view: &PlanView) -> Result<String, ::csv::Error> {
    let header = [
        "lawfulName",
        "authorship",
        "tradeName",
        "portions",
        "pieces",
        "pieceWord",
        "pricePerPortion",
        "subtotal",
        "currency",
        "checkOnArrival",
        "lawAndHazard",
        "taxonID",
    ];
    let row = |p: &PurchaseView| {
        vec![
            p.name.clone(),
            p.authorship.clone(),
            p.trade_names.join("; "),
            p.portions.to_string(),
            p.pieces.to_string(),
            p.piece_word.clone(),
            p.price.clone().unwrap_or_else(|| MISSING.to_owned()),
            p.subtotal.clone().unwrap_or_else(|| MISSING.to_owned()),
            view.totals.currency.clone(),
            p.on_arrival.clone(),
            p.flags.join("; "),
            p.taxon.clone(),
        ]
    };
    table(&header, &view.purchases.iter().map(row).collect::<Vec<_>>())
}
