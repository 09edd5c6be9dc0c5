//! What stands around the best list: why there is none and the ways out, and the next best lists.

use maud::{Markup, html};
use serde_json::{Value, json};

use super::bits::{Look, change, slug};
use crate::report::view::{AlternativeView, ConflictMemberView, ConflictView, FillView, SettingView};

/// Why no list can be made: every demand in the way, where it is set, and what would do.
pub(super) fn impossible(fill: &FillView, look: Look) -> Markup {
    html! {
        div.notice #proof {
            @if let Some(conflict) = &fill.conflict { (conflicting(conflict, look)) }
            @else {
                p { "No list can be made:" }
                ul { @for reason in &fill.impossible { li { (reason) } } }
            }
            p { "Change a wish or a zone on " a href=(look.to("/tank")) { "the tank" } ", or free a plant below." }
        }
    }
}

fn conflicting(conflict: &ConflictView, look: Look) -> Markup {
    let several = conflict.members.len() > 1;
    html! {
        p { "No list can be made"
            @if several { ": these cannot all hold" @if conflict.proven { ", and without any one of them the rest can" } ":" }
            @else { " because of this:" } }
        ul { @for member in &conflict.members { li { (in_the_way(member, look)) } } }
        @if !conflict.alone { p.soft { "Other demands stand in the way as well." } }
    }
}

fn in_the_way(member: &ConflictMemberView, look: Look) -> Markup {
    let stated = &member.stated.demand;
    html! {
        @match &member.setting {
            Some(setting) => a href=(field_of(setting, look)) { (stated) },
            None => (stated),
        }
        span.soft { " – " (member.way_out) @if !member.enough { ", though that is not enough alone" } }
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
        return Some(json!([{ "do": "free", "taxon": taxon }]));
    }
    let value = setting.write.as_ref()?;
    Some(json!([{ "do": "set", "key": setting.key, "value": value }]))
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
    let mut edits: Vec<Value> = Vec::new();
    for taxon in this.iter().filter(|t| !first.contains(t)) {
        edits.push(json!({ "do": "keep", "taxon": taxon }));
    }
    for taxon in first.iter().filter(|t| !this.contains(t)) {
        edits.push(json!({ "do": "never", "taxon": taxon }));
    }
    (!edits.is_empty()).then_some(Value::Array(edits))
}
