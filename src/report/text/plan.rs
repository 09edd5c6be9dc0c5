//! The planting plan as text.

use super::lines::{Page, bullets, quiet, strong};
use super::tank::tank_head;
use crate::report::view::{DriftView, PlanView, PurchaseView};

/// The whole report of `plan`.
pub fn plan(page: &mut Page, view: &PlanView) {
    tank_head(page, &view.tank);
    let mut zone = None;
    for drift in &view.drifts {
        if zone.replace(drift.zone) != Some(drift.zone) {
            let place = &view.tank.zones[drift.zone];
            let area: f64 = view.drifts.iter().filter(|d| d.zone == drift.zone).map(|d| d.area_cm2).sum();
            page.gap();
            page.heading_with(&drift.zone_name, &format!("{}, {area:.0} cm² free", place.placement));
        }
        drift_block(page, drift);
    }
    shopping_list(page, view);
    bullets(page, "To note", &view.remarks);
    bullets(page, "Taken for granted", &view.assumed);
    bullets(page, "Cautions", &view.cautions);
}

fn drift_block(page: &mut Page, drift: &DriftView) {
    let left = format!("{:>2}  {}", drift.number, strong(&drift.name));
    page.left_right(2, &left, &amount(drift.portions));
    let text = format!(
        "{} {}, {} cm apart on {:.0} cm²; {}",
        drift.places, drift.piece_word, drift.spacing_cm, drift.area_cm2, drift.how
    );
    page.paragraph(&quiet(&text), 6);
}

fn amount(portions: u32) -> String {
    format!("{portions} {}", if portions == 1 { "portion" } else { "portions" })
}

fn shopping_list(page: &mut Page, view: &PlanView) {
    page.gap();
    let portions = view.totals.portions;
    page.heading_with("Shopping list", &format!("{} taxa, {}", view.totals.taxa, amount(portions)));
    for purchase in &view.purchases {
        purchase_block(page, purchase);
    }
    let cost = format!("{} {}", view.totals.cost, view.totals.currency);
    page.left_right(2, "in all", cost.trim());
    if !view.totals.without_price.is_empty() {
        let names = view.totals.without_price.join(", ");
        page.hanging("price missing: ", &format!("{names}; not in the sum"), 2);
    }
    if !view.totals.price_origins.is_empty() {
        page.hanging("prices: ", &view.totals.price_origins.join("; "), 2);
    }
}

fn purchase_block(page: &mut Page, purchase: &PurchaseView) {
    let subtotal = purchase.subtotal.as_deref().unwrap_or("price missing");
    let left = format!("{:>2} × {} {}", purchase.portions, strong(&purchase.name), purchase.authorship);
    page.left_right(2, &left, subtotal);
    let names = purchase.trade_names.join(", ");
    let needed = format!("{} {} to plant", purchase.pieces, purchase.piece_word);
    page.paragraph(&quiet(&format!("{names}; {needed}")), 7);
    page.hanging("on arrival: ", &purchase.on_arrival, 7);
    for flag in &purchase.flags {
        page.hanging("! ", flag, 7);
    }
}
