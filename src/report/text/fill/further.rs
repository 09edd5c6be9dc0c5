//! What stands around the chosen list: conflicts, further lists, what more would buy.

use super::super::lines::{Page, strong};
use crate::report::view::{
    AlternativeView, ConflictMemberView, ConflictView, DifferenceView, NearView, StatedView, WhatIfView,
    WhyNotView,
};

/// Why there is no list, and the ways out.
pub(super) fn conflict(page: &mut Page, conflict: &ConflictView) {
    page.gap();
    page.heading("No list can be made");
    page.paragraph(cannot_be_met(conflict), 2);
    for member in &conflict.members {
        let way_out = way_out_words(conflict, member);
        page.hanging("- ", &format!("{}. {way_out}.", stated(&member.stated)), 2);
    }
    page.paragraph(conflict_proof_words(conflict), 2);
}

/// What stands before the demands of a conflict.
pub fn cannot_be_met(conflict: &ConflictView) -> &'static str {
    if conflict.members.len() == 1 { "This cannot be met:" } else { "These cannot all be met:" }
}

/// What to do about one demand of a conflict, and what comes of it.
pub fn way_out_words(conflict: &ConflictView, member: &ConflictMemberView) -> String {
    let rest = if member.enough {
        "then a list is possible"
    } else if conflict.members.len() > 1 {
        "then the others here could be met, but more stands in the way"
    } else {
        "but more stands in the way"
    };
    format!("Way out: {}; {rest}", member.way_out)
}

/// Whether it is proven that the demands of a conflict cannot hold together.
pub fn conflict_proof_words(conflict: &ConflictView) -> &'static str {
    match (conflict.proven, conflict.members.len()) {
        (false, _) => "The search ended before it was proven that all of these are needed.",
        (true, 1) => "Proven: alone it cannot be met, whatever else is given up.",
        (true, _) => "Proven: leave out any one of them, and the others can be met.",
    }
}

/// "at most 20.00 EUR may be spent (tank.toml, line 91)".
fn stated(view: &StatedView) -> String {
    match (&view.file, view.line) {
        (Some(file), Some(line)) => format!("{} ({file}, line {line})", view.demand),
        _ => view.demand.clone(),
    }
}

/// What changed against the earlier list.
pub(super) fn near(near: &NearView) -> String {
    let Some(fewest) = near.fewest else {
        return "no list meets all demands, however much is changed".to_owned();
    };
    let takes = format!("{} of {} taxa at the least", changes(fewest), near.listed);
    match near.allowed {
        Some(allowed) if allowed < fewest => return format!("{takes}; only {allowed} allowed"),
        _ => {}
    }
    let list = |words: &str, names: &[String]| {
        if names.is_empty() { String::new() } else { format!("; {words} {}", names.join(", ")) }
    };
    format!("{takes}{}{}", list("off:", &near.off), list("added:", &near.added))
}

fn changes(count: usize) -> String {
    if count == 1 { "1 change".to_owned() } else { format!("{count} changes") }
}

/// The demands that keep a better list away.
pub(super) fn binding(binding: &[StatedView]) -> String {
    if binding.is_empty() {
        return "no single demand keeps a better list away".to_owned();
    }
    let demands: Vec<&str> = binding.iter().map(|b| b.demand.as_str()).collect();
    format!("without one of these there would be a better list: {}", demands.join("; "))
}

/// "Anubias barteri: the best list with it is worth 24 less".
pub(super) fn why_not(why: &WhyNotView) -> String {
    match why.less {
        Some(0) => format!("{}: a list with it is worth as much; names decide", why.name),
        Some(less) => format!("{}: the best list with it is worth {less} less", why.name),
        None => {
            let against: Vec<&str> = why.against.iter().map(|d| d.demand.as_str()).collect();
            format!("{}: no list with it meets {}", why.name, against.join("; "))
        }
    }
}

/// The next best lists.
pub(super) fn alternatives(page: &mut Page, alternatives: &[AlternativeView]) {
    if alternatives.is_empty() {
        return;
    }
    page.gap();
    page.heading("The next best lists");
    for list in alternatives {
        let proof = if list.proven { "proven" } else { "not proven" };
        page.left_right(2, &strong(&format!("{}.", list.rank)), &format!("{} ({proof})", list.value));
        page.paragraph(&difference(&list.against_first), 5);
    }
}

/// What a little more would buy.
pub(super) fn what_if(page: &mut Page, changes: &[WhatIfView]) {
    if changes.is_empty() {
        return;
    }
    page.gap();
    page.heading("What more would buy");
    for change in changes {
        let words = match (change.gain, &change.against_first) {
            (Some(gain), Some(view)) if gain != 0 => difference(view),
            (Some(_), _) => "nothing: the list stays the best".to_owned(),
            (None, _) => "no list is found then".to_owned(),
        };
        let open = if change.proven { "" } else { " (not proven)" };
        page.hanging("- ", &format!("{}: {words}{open}", change.change), 2);
        if let Some(caution) = &change.caution {
            page.hanging("! ", caution, 4);
        }
    }
}

/// "gains 24 (contrast +10), +3.50 EUR, 5 minutes less; in: …; out: …".
fn difference(view: &DifferenceView) -> String {
    let mut parts = vec![match view.value {
        0 => "worth as much".to_owned(),
        more if more > 0 => format!("worth {more} more"),
        less => format!("worth {} less", -less),
    }];
    if view.contrast != 0 {
        parts.push(format!("of it contrast {:+}", view.contrast));
    }
    parts.push(view.cost.clone());
    match view.trim_minutes_per_month {
        0 => {}
        more if more > 0 => parts.push(format!("{more} minutes more")),
        less => parts.push(format!("{} minutes less", -less)),
    }
    let mut words = parts.join(", ");
    for (label, names) in [("in", &view.comes), ("out", &view.goes), ("moved", &view.moved)] {
        if !names.is_empty() {
            words.push_str(&format!("; {label}: {}", names.join(", ")));
        }
    }
    words
}
