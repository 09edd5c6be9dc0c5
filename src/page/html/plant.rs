//! One plant: its slip, how it stands in the tank, its envelopes, names, law and evidence.

use std::collections::BTreeMap;

use maud::{Markup, html};
use serde_json::json;

use super::bits::{Look, change, line, wished};
use super::list::{judged_words, remedies};
use super::strip::Strip;
use crate::report::view::{CheckView, FactView, OriginView, ShowView, WishView};

/// The page of a plant; `tank` is the check of it alone, when the tank can be computed.
pub(in crate::page) fn plant(view: &ShowView, tank: Option<&CheckView>, look: Look) -> Markup {
    let wish = tank.and_then(|t| t.wishes.first());
    html! {
        (slip(view))
        div #here data-from=(look.to(&format!("/api/plants/{}", view.taxon))) { (here(view, tank, look)) }
        @if wish.is_none() { (envelopes(view, look)) }
        (facts(&view.facts))
        (names(view))
        (law(view))
        (evidence(view))
    }
}

fn slip(view: &ShowView) -> Markup {
    let family = view.facts.iter().find(|f| f.trait_name == "family").map_or("", |f| f.value.as_str());
    html! {
        div.slip {
            h1 { (view.name) }
            p { (view.authorship) @if !family.is_empty() { span.soft { " · " (family) } } }
            @if !view.vernacular.eq_ignore_ascii_case(&view.name) { p { (view.vernacular) } }
            @if !view.notes.is_empty() { p { (view.notes) } }
        }
    }
}

/// The part that changes with the tank.
pub(in crate::page) fn here(view: &ShowView, tank: Option<&CheckView>, look: Look) -> Markup {
    let Some((tank, wish)) = tank.and_then(|t| Some((t, t.wishes.first()?))) else {
        return html! { p.soft { "The tank on the desk cannot be computed, so nothing is said of this plant in it." } };
    };
    let zone = &tank.tank.zones[wish.zone].name;
    let taxon = &view.taxon;
    html! {
        h2 { "In " (tank.tank.name) }
        p { b.verdict.(wish.judged.verdict) { (if wish.barred { "barred by law" } else { wish.judged.verdict.as_str() }) }
            " in “" (zone) "”: " (judged_words(&wish.judged)) }
        @for flag in &wish.judged.flags { p.law { (flag) } }
        (remedies(wish, look))
        (elsewhere(tank, wish))
        div.row.doings {
            (change("Keep on the list", &json!([wished("keep", taxon)]), "Kept on the list", ""))
            (change("Never on the list", &json!([wished("never", taxon)]), "Never on the list", ""))
            (change("Neither", &json!([wished("free", taxon)]), "Free to be chosen", ""))
        }
        h2 { "What suits it, and what the tank has" }
        p.soft { "The shape is what suits the plant; the band what your measurements leave open; the upright line the value taken. "
            "Light is at half the height of the plant, mean of the zone." }
        div.strips {
            @for factor in &wish.factors {
                @if let Some(strip) = Strip::of_factor(factor, &wish.judged.limiting.factor, look) {
                    (strip.draw(&envelope_origin(view, &factor.factor)))
                }
            }
        }
        dl.ledger {
            @for factor in wish.factors.iter().filter(|f| f.curve.is_none() && !f.words.is_empty()) {
                (line(&factor.factor, &html! { (factor.words) @if factor.suitability < 0.5 { b { " — does not suit" } } }))
            }
        }
    }
}

fn elsewhere(tank: &CheckView, wish: &WishView) -> Markup {
    html! {
        @if !wish.elsewhere.is_empty() {
            p { "Elsewhere: "
                @for (i, other) in wish.elsewhere.iter().enumerate() {
                    @if i > 0 { "; " }
                    "it " (other.verdict) " in “" (tank.tank.zones[other.zone].name) "”, limited by " (other.limiting)
                } "." }
        }
    }
}

fn envelope_origin(view: &ShowView, factor: &str) -> Markup {
    let found = view.envelopes.iter().find(|e| e.factor == factor);
    html! { @if let Some(envelope) = found { (origin(&envelope.origin)) } }
}

fn envelopes(view: &ShowView, look: Look) -> Markup {
    html! {
        h2 { "What suits it" }
        div.strips { @for envelope in &view.envelopes { (Strip::of_envelope(envelope, look).draw(&origin(&envelope.origin))) } }
    }
}

/// "common practice", or the kind with its sources.
fn origin(origin: &OriginView) -> Markup {
    let sources: Vec<&str> =
        origin.sources.iter().map(String::as_str).filter(|s| *s != origin.kind).collect();
    let kind = if origin.kind == "practice" { "common practice" } else { origin.kind.as_str() };
    html! { span.evidence { "[" (kind) @if !sources.is_empty() { ": " (sources.join(", ")) } "]" } }
}

fn facts(facts: &[FactView]) -> Markup {
    html! {
        h2 { "Habit and needs" }
        dl.ledger { @for fact in facts { (line(&fact.trait_name, &html! { (fact.value) " " (origin(&fact.origin)) })) } }
    }
}

fn names(view: &ShowView) -> Markup {
    let mut groups: BTreeMap<(u8, &str, &str), Vec<&str>> = BTreeMap::new();
    for name in view.names.iter().filter(|n| n.kind != "accepted") {
        let order = ["synonym", "vernacular"].iter().position(|k| *k == name.kind).unwrap_or(2);
        groups.entry((order as u8, &name.kind, &name.language)).or_default().push(&name.name);
    }
    html! {
        h2 { "Names" }
        @if groups.is_empty() { p { "None besides the accepted name." } }
        dl.ledger {
            @for ((_, kind, language), names) in groups {
                @let latin = kind == "synonym";
                (line(&if latin { "synonyms".to_owned() } else { format!("{kind} {language}") },
                    &html! { span lang=[(language.len() == 2).then_some(language)] { (names.join(", ")) } }))
            }
        }
    }
}

fn law(view: &ShowView) -> Markup {
    html! {
        h2 { "Law and hazards" }
        @for flag in &view.flags { p.law { (flag) } }
        p.soft { (view.law_caution) }
    }
}

fn evidence(view: &ShowView) -> Markup {
    html! {
        h2 { "Where the values come from" }
        @if view.claims.is_empty() { p { "No claim of a source: every value is common practice." } }
        @else {
            section.scroll tabindex="0" aria-label="Claims" {
                table {
                    thead { tr { th scope="col" { "trait" } th scope="col" { "the source says" } th scope="col" { "kind" } th scope="col" { "source" } } }
                    tbody { @for claim in &view.claims { tr {
                        td { (claim.trait_name) }
                        td { (claim.statement) " " (claim.unit) @if !claim.note.is_empty() { br; span.soft { (claim.note) } } }
                        td { (claim.kind) }
                        td { (claim.source) " " (claim.locator) }
                    } } }
                }
            }
        }
        h3 { "Sources" }
        ul { @for source in &view.sources { li {
            b { (source.key) } ": " (source.citation)
            @if !source.identifier.is_empty() { " " (source.identifier) }
            span.soft { " [" (source.licence) "]" }
        } } }
    }
}
