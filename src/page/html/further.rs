//! What stands around the best list: why there is none and the ways out, and the next best lists.

use maud::{Markup, html};
use serde_json::{Value, json};

use super::bits::{Look, change, set, slug, wished};
use crate::report::text::{cannot_be_met, conflict_proof_words, way_out_words};
use crate::report::view::{AlternativeView, ConflictMemberView, ConflictView, FillView, SettingView};

/// Why no list can be made: every demand in the way, where it is set, and what would do.
pub(super) fn impossible(conflict: &ConflictView, look: Look) -> Markup {
    html! {
        div.notice #proof {
            p { "No list can be made. " (cannot_be_met(conflict)) }
            ul { @for member in &conflict.members { li { (in_the_way(conflict, member, look)) } } }
            p { (conflict_proof_words(conflict)) }
            p { "Change a wish or a zone on " a href=(look.to("/tank")) { "the tank" } ", or free a plant below." }
        }
    }
}

fn in_the_way(conflict: &ConflictView, member: &ConflictMemberView, look: Look) -> Markup {
    let stated = &member.stated.demand;
    html! {
        @match &member.setting {
            Some(setting) => a href=(field_of(setting, look)) { (stated) },
            None => (stated),
        }
        ". " (way_out_words(conflict, member)) "."
        @if let Some(edits) = member.setting.as_ref().and_then(edits) {
            " " (change("Do that", &edits, "Written; solved again", &member.way_out))
        }
    }
}

/// The field of the tank that states a demand.
fn field_of(setting: &SettingView, look: Look) -> String {
    format!("{}#field-{}", look.to("/tank"), slug(&setting.key))
}

fn edits(setting: &SettingView) -> Option<Value> {
    if let Some(taxon) = &setting.free {
        return Some(json!([wished("free", taxon)]));
    }
    Some(json!([set(&setting.key, setting.write.as_ref()?)]))
}

/// The next best lists, each by what it has more and less than the best.
pub(super) fn lists(fill: &FillView, look: Look) -> Markup {
    let further = &fill.alternatives;
    html! {
        @if further.is_empty() { p.no-print { a href=(look.to("/list?alternatives=3")) { "Show further lists" } } }
        @else {
            h2 { "Further lists" }
            @for list in further { (one(fill, list)) }
        }
    }
}

fn one(fill: &FillView, list: &AlternativeView) -> Markup {
    let names = |names: &[String]| if names.is_empty() { "nothing".to_owned() } else { names.join(", ") };
    let against = &list.against_first;
    html! {
        h3 { "The " (list.rank) ". best, worth " (list.value) @if !list.proven { ", not proven" } }
        p { "It has " i { (names(&against.comes)) } " instead of " i { (names(&against.goes)) }
            @if !against.moved.is_empty() { "; elsewhere stands " i { (names(&against.moved)) } }
            "; cost " (against.cost) ", trimming " (format!("{:+}", against.trim_minutes_per_month)) " minutes a month." }
        @if let Some(edits) = taking(fill, list) {
            p.no-print { (change("Take this list", &edits, "Taken; solved again", &format!("number {}", list.rank)))
                span.soft { " keeps what it has more and bars what it has less" } }
        }
    }
}

/// The edits that make a further list the best: what it has more must be there, what it has less
/// must not. `None` for a list of the same plants in other zones, which no wish can ask for.
fn taking(fill: &FillView, list: &AlternativeView) -> Option<Value> {
    let first: Vec<&str> =
        fill.zones.iter().flat_map(|z| &z.picks).map(|p| p.judged.taxon.as_str()).collect();
    let this: Vec<&str> = list.picks.iter().map(|p| p.taxon.as_str()).collect();
    let more = this.iter().filter(|t| !first.contains(t)).map(|t| wished("keep", t));
    let less = first.iter().filter(|t| !this.contains(t)).map(|t| wished("never", t));
    let edits: Vec<Value> = more.chain(less).collect();
    (!edits.is_empty()).then_some(Value::Array(edits))
}
