//! The list: what was chosen for each zone, why, and what can be done about it.

use maud::{Markup, html};
use serde_json::{Value, json};

use super::bits::{Look, cautions, change, set, slug, wished};
use super::further;
use crate::page::api::ListAnswer;
use crate::page::asked::Asked;
use crate::report::text::{certainty_words, change_words, limit_words, patch_words, proof_words};
use crate::report::view::{
    ChangeView, CheckView, JudgedView, PairView, PickView, RemedyView, RunnerView, TotalsView, WishView,
    ZoneFillView,
};

/// Seconds that a person may choose to search for.
const SECONDS: [u32; 4] = [2, 10, 30, 60];

/// The page.
pub(in crate::page) fn page(asked: &Asked, drawn: &Markup) -> Markup {
    let look = asked.look();
    let seconds = asked.one("seconds").unwrap_or("2");
    html! {
        h1 { "The list" }
        p { "The best list for the layout, and whether a better one can exist. Keep, swap or bar a plant, and the list is solved again; "
            "every such wish is written into the tank file, so Undo takes it back." }
        form.row action="/list" method="get" {
            @if look.to("x") != "x" { input type="hidden" name="units" value="us"; }
            label for="seconds" { "Search for at most" }
            span { select #seconds name="seconds" {
                @for s in SECONDS { option value=(s) selected[seconds == s.to_string()] { (s) " s" } }
            } }
            button.first type="submit" { "Solve again" }
            button #stop type="button" data-halt="list" hidden { "Stop" }
        }
        div #list data-from=(look.to(&format!("/api/fill?{}", asked.with("seconds", seconds)))) data-stop="stop" data-done="#proof" {
            (drawn)
        }
        (asking(look))
    }
}

/// A plant of one's own against the tank.
fn asking(look: Look) -> Markup {
    html! {
        section.no-print aria-labelledby="ask-head" {
            h2 #ask-head { "Ask about a plant" }
            form.row data-ask="asked" data-to=(look.to("/api/check")) {
                label for="ask" { "Names, commas between several" }
                span { input #ask name="plants" type="text" autocomplete="off" spellcheck="false"; }
                button type="submit" { "Judge" }
            }
            div #asked data-done="#verdicts" {}
        }
    }
}

/// The answer.
pub(in crate::page) fn drawn(answer: &ListAnswer, look: Look) -> Markup {
    let fill = &answer.view;
    html! {
        @if let Some(conflict) = &fill.conflict { (further::impossible(conflict, look)) }
        (wishes(answer))
        @for zone in &fill.zones { (place(answer, zone, look)) }
        @if let Some(totals) = &fill.totals { (sums(totals)) }
        @if fill.conflict.is_none() { p.proof #proof { (proof_words(&fill.proof)) } }
        @if fill.totals.is_some() { (further::lists(fill, look)) }
        (cautions(&fill.cautions, &fill.left_out))
    }
}

/// What the person asked for by name.
fn wishes(answer: &ListAnswer) -> Markup {
    let free = |taxon: &str| json!([wished("free", taxon)]);
    let chosen =
        |taxon: &str| answer.view.zones.iter().flat_map(|z| &z.picks).any(|p| p.judged.taxon == taxon);
    html! {
        @let unmet: Vec<_> = answer.must.iter().filter(|(taxon, _)| !chosen(taxon)).collect();
        @if !unmet.is_empty() || !answer.never.is_empty() {
            div.doings {
                @for (taxon, name) in unmet { div.row { "Kept, but not on the list: " i { (name) } (change("Free it", &free(taxon), "Free to be chosen", name)) } }
                @for (taxon, name) in &answer.never { div.row { "Never: " i { (name) } (change("Allow it", &free(taxon), "Allowed again", name)) } }
            }
        }
    }
}

fn place(answer: &ListAnswer, zone: &ZoneFillView, look: Look) -> Markup {
    let here = &answer.view.tank.zones[zone.zone];
    html! {
        section.place {
            h2 {
                (zone.zone + 1) " " (here.name)
                span.aside { (here.placement) ", light " (here.dli_mean_mol_m2_d) " mol/m² a day, " (zone.candidates) " taxa would grow here" }
            }
            @for pick in &zone.picks { (picked(answer, pick, &zone.runners_up, look)) }
            @if zone.picks.is_empty() { p.soft { "Nothing." } }
        }
    }
}

fn picked(answer: &ListAnswer, pick: &PickView, others: &[RunnerView], look: Look) -> Markup {
    let judged = &pick.judged;
    let kept = answer.must.iter().any(|(taxon, _)| *taxon == judged.taxon);
    let id = format!("swap-{}", slug(&judged.taxon));
    let wish = answer.check.as_ref().and_then(|c| c.wishes.iter().find(|w| w.judged.taxon == judged.taxon));
    html! {
        article.pick aria-label=(judged.name) {
            span.verdict.(judged.verdict) { (judged.verdict) }
            span { a.name.latin href=(look.to(&format!("/plants/{}", judged.taxon))) { (judged.name) }
                @if !judged.vernacular.eq_ignore_ascii_case(&judged.name) { span.soft { " " (judged.vernacular) } } }
            span.cost { (pick.portions) @if let Some(cost) = &pick.cost { " for " (cost) } @else { span.soft { ", no price" } } }
            div.why {
                (judged_words(judged))
                @if let Some(wish) = wish { (remedies(wish, look)) }
                @for flag in &judged.flags { p.law { (flag) } }
            }
            div.doings.row {
                @if kept { (change("Kept: let go", &json!([wished("free", &judged.taxon)]), "Let go; solved again", &judged.name)) }
                @else { (change("Keep", &json!([wished("keep", &judged.taxon)]), "Kept; solved again", &judged.name)) }
                (change("Never", &json!([wished("never", &judged.taxon)]), "Never; solved again", &judged.name))
                @if !others.is_empty() {
                    label.unseen for=(id) { "Instead of " (judged.name) }
                    select id=(id) data-out=(judged.taxon) {
                        option value="" { "instead …" }
                        @for other in others { option value=(other.taxon) { (other.name) " (" (other.verdict) ")" } }
                    }
                    button type="button" data-swap=(id) { "Swap" span.unseen { " " (judged.name) } }
                }
            }
        }
    }
}

/// What limits a plant, how far it is from the limit, and how sure that is.
pub(in crate::page) fn judged_words(judged: &JudgedView) -> String {
    let mut words = limit_words(&judged.limiting);
    if judged.grows_share > 0.0 && judged.grows_share < 0.995 {
        words.push_str(&format!("; grows on {:.0} % of the zone", judged.grows_share * 100.0));
    }
    if !judged.certainty.sure {
        words.push_str(&format!("; {}", certainty_words(&judged.certainty)));
    }
    words
}

fn sums(totals: &TotalsView) -> Markup {
    html! {
        h2 { "In all" }
        p { (totals.taxa) " taxa, " (totals.portions) " portions"
            @if !totals.currency.is_empty() { ", " (totals.cost) " " (totals.currency) }
            ", " (totals.trim_minutes_per_month) " minutes of trimming a month."
            @if !totals.price_origins.is_empty() { " Prices: " (totals.price_origins.join("; ")) "." } }
        @if !totals.without_price.is_empty() { p.soft { "Without a price, so left out of the cost: " (totals.without_price.join(", ")) "." } }
    }
}

/// Wishes judged, worst first.
pub(in crate::page) fn checked(view: &CheckView, look: Look) -> Markup {
    html! {
        p #verdicts { (view.wishes.len() - view.misfits) " of " (view.wishes.len()) " fit." }
        @for wish in &view.wishes {
            article.pick aria-label=(wish.judged.name) {
                span.verdict.(wish.judged.verdict) { (if wish.barred { "barred" } else { wish.judged.verdict.as_str() }) }
                span { a.name.latin href=(look.to(&format!("/plants/{}", wish.judged.taxon))) { (wish.judged.name) }
                    span.soft { " in “" (view.tank.zones[wish.zone].name) "”" } }
                div.why {
                    (judged_words(&wish.judged))
                    @if let Some(patch) = &wish.patch { "; " (patch_words(patch, look.units)) }
                    (remedies(wish, look))
                    @for flag in &wish.judged.flags { p.law { (flag) } }
                }
                div.doings.row {
                    (change("Keep", &json!([wished("keep", &wish.judged.taxon)]), "Kept; solved again", &wish.judged.name))
                    (change("Never", &json!([wished("never", &wish.judged.taxon)]), "Never; solved again", &wish.judged.name))
                }
            }
        }
    }
}

/// What would help a plant that does not grow, and what would grow in its place.
pub(in crate::page) fn remedies(wish: &WishView, look: Look) -> Markup {
    html! {
        @if !wish.remedies.is_empty() {
            p.soft { "It would grow with one of these:" }
            ul { @for remedy in &wish.remedies { (remedy_line(remedy, look)) } }
        }
        @if let Some(pair) = &wish.together { p { "No single change is enough; " (pair_words(pair, look)) "." } }
        @if !wish.fits && !wish.barred && wish.remedies.is_empty() && wish.together.is_none() {
            p { "No change of light, gas or water helps." }
        }
        @if !wish.substitutes.is_empty() {
            p { "Like it, and growing there: "
                @for (i, other) in wish.substitutes.iter().enumerate() {
                    @if i > 0 { ", " }
                    a.latin href=(look.to(&format!("/plants/{}", other.taxon))) { (other.name) } " (" (other.verdict) ")"
                } "." }
        }
    }
}

fn remedy_line(remedy: &RemedyView, look: Look) -> Markup {
    let words = change_words(&remedy.change, look.units);
    html! {
        li {
            (words) ": it " (remedy.verdict) @if !remedy.sure { ", not surely" }
            @for effect in &remedy.side_effects { br; span.soft { (effect.name) " goes from " (effect.from) " to " (effect.to) } }
            @for caution in &remedy.cautions { br; span.soft { "Caution: " (caution) } }
            @if let Some(edits) = edits(&remedy.change) { " " (change("Write this into the tank", &edits, "Written; judged again", &words)) }
        }
    }
}

fn pair_words(pair: &PairView, look: Look) -> String {
    let changes: Vec<String> = pair.changes.iter().map(|c| change_words(c, look.units)).collect();
    format!("{}: it {}", changes.join(", and "), pair.verdict)
}

/// The edits of the tank file that make a change, where one value says it all.
fn edits(change: &ChangeView) -> Option<Value> {
    let to = change.to?;
    let target = || set("gas.target", &format!("{to} mg/L"));
    Some(match change.kind.as_str() {
        "hours" => json!([set("light.hours", &to.to_string())]),
        "floating-cover" => json!([set("light.floating_cover", &format!("{to} %"))]),
        "gas-added" => json!([set("gas.injection", "pressurised"), target()]),
        "gas" => json!([target()]),
        "temperature" => json!([set("water.temperature", &format!("{to} degC"))]),
        "gh" => json!([set("water.gh", &format!("{to} dGH"))]),
        "kh" => json!([set("water.kh", &format!("{to} dKH"))]),
        _ => return None,
    })
}
