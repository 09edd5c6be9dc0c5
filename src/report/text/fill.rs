//! The chosen list as text.

mod further;

pub use further::{cannot_be_met, conflict_proof_words, way_out_words};

use super::check::certainty_words;
use super::lines::{Page, bullets, quiet, strong};
use super::tank::tank_head;
use crate::report::view::{FillView, LimitView, PickView, ProofView, TotalsView, ZoneFillView, ZoneView};

/// The whole report of `fill`.
pub fn fill(page: &mut Page, view: &FillView) {
    tank_head(page, &view.tank);
    if let Some(conflict) = &view.conflict {
        further::conflict(page, conflict);
    }
    for zone in &view.zones {
        page.gap();
        zone_block(page, &view.tank.zones[zone.zone], zone);
    }
    page.gap();
    if let Some(totals) = &view.totals {
        totals_block(page, totals);
    }
    if let Some(near) = &view.near {
        page.labelled("changes", &further::near(near), 9);
    }
    if let Some(binding) = &view.binding {
        page.labelled("binding", &further::binding(binding), 9);
    }
    page.labelled("proof", &proof_words(&view.proof), 9);
    further::alternatives(page, &view.alternatives);
    further::what_if(page, &view.what_if);
    bullets(page, "Cautions", &view.cautions);
    bullets(page, "Left out of the model", &view.left_out);
}

fn zone_block(page: &mut Page, zone: &ZoneView, fill: &ZoneFillView) {
    let aside = format!(
        "{}, {} cm², light {} mol/m²/d ({} to {})",
        zone.placement, zone.area_cm2, zone.dli_mean_mol_m2_d, zone.dli_p10_mol_m2_d, zone.dli_p90_mol_m2_d
    );
    page.heading_with(&zone.name, &aside);
    for pick in &fill.picks {
        pick_block(page, pick);
    }
    let others: Vec<String> = fill.runners_up.iter().map(|r| format!("{} ({})", r.name, r.verdict)).collect();
    let next = if others.is_empty() { "none".to_owned() } else { others.join(", ") };
    page.hanging("next: ", &format!("{next}; {} taxa would grow here", fill.candidates), 2);
    if let Some(why) = &fill.why_not {
        page.hanging("why not ", &further::why_not(why), 2);
    }
}

fn pick_block(page: &mut Page, pick: &PickView) {
    let judged = &pick.judged;
    let same = judged.vernacular.eq_ignore_ascii_case(&judged.name);
    let left = format!("{:<8} {}", judged.verdict, strong(&judged.name));
    let cost = pick.cost.as_deref().unwrap_or("no price");
    page.left_right(2, &left, &format!("{} × {cost:>8}", pick.portions));
    let mut second = limit_words(&judged.limiting);
    if judged.grows_share < 0.995 {
        second.push_str(&format!("; grows on {:.0} % of the zone", judged.grows_share * 100.0));
    }
    if !judged.certainty.sure {
        second.push_str(&format!("; {}", certainty_words(&judged.certainty)));
    }
    let vernacular = if same { String::new() } else { format!("{}; ", judged.vernacular) };
    page.paragraph(&quiet(&format!("{vernacular}{second}")), 11);
    for flag in &judged.flags {
        page.hanging("! ", flag, 11);
    }
}

/// "limited by light: 1.03 mol/m²/d, grows from 0.62 (margin 0.41)".
pub fn limit_words(limit: &LimitView) -> String {
    let (Some(value), Some(at), Some(margin)) = (limit.value, limit.limit, limit.margin) else {
        return format!("limited by {}", limit.factor);
    };
    let unit = if limit.unit.is_empty() { String::new() } else { format!(" {}", limit.unit) };
    let side = if limit.edge.as_deref() == Some("at-least") { "grows from" } else { "grows up to" };
    format!("limited by {}: {value}{unit}, {side} {at} (margin {margin:+})", limit.factor)
}

fn totals_block(page: &mut Page, totals: &TotalsView) {
    let mut text = format!(
        "{} taxa, {} portions, {} {}, {} minutes of trimming a month",
        totals.taxa, totals.portions, totals.cost, totals.currency, totals.trim_minutes_per_month
    );
    if !totals.price_origins.is_empty() {
        text.push_str(&format!("; prices: {}", totals.price_origins.join("; ")));
    }
    page.labelled("in all", text.trim(), 9);
    if !totals.without_price.is_empty() {
        let names = totals.without_price.join(", ");
        page.labelled("", &format!("no price for {names}: left out of the budget"), 9);
    }
}

/// How good the list is known to be, in words.
pub fn proof_words(proof: &ProofView) -> String {
    match (proof.status.as_str(), proof.value, proof.bound) {
        ("optimal", Some(value), Some(_)) => format!(
            "no list under these demands is worth more than this one ({value} of 1000 a taxon, {} nodes searched)",
            proof.nodes
        ),
        ("feasible", Some(value), Some(bound)) => format!(
            "ended early: this list is worth {value}, none is worth more than {bound} ({} nodes searched)",
            proof.nodes
        ),
        ("impossible", ..) => format!("no list meets all demands ({} nodes searched)", proof.nodes),
        _ => format!("ended before a list was found ({} nodes searched)", proof.nodes),
    }
}
