//! One plant as text.

use std::collections::BTreeMap;

use super::lines::{Page, quiet};
use crate::report::view::{EnvelopeView, OriginView, ShowView};

/// Columns of an envelope's bar.
const BAR: usize = 28;
/// Column where the text of a row begins.
const LABEL: usize = 13;

/// The report of `show`.
pub fn show(page: &mut Page, view: &ShowView) {
    page.heading_with(&view.name, &view.authorship);
    if view.vernacular.eq_ignore_ascii_case(&view.name) {
        page.paragraph(&view.notes, 2);
    } else {
        page.paragraph(&format!("{}. {}", view.vernacular, view.notes), 2);
    }
    page.gap();
    for fact in &view.facts {
        page.labelled(&fact.trait_name, &format!("{} {}", fact.value, origin(&fact.origin)), LABEL);
    }
    page.gap();
    page.heading_with("Envelopes", "nothing grows at ., slopes -, best =; numbers are those four values");
    for envelope in &view.envelopes {
        envelope_row(page, envelope);
    }
    names(page, view);
    page.gap();
    page.heading("Law and hazards");
    for flag in &view.flags {
        page.hanging("- ", flag, 2);
    }
    page.paragraph(&view.law_caution, 2);
    sources(page, view);
}

/// "[published: ffb-2026]" in the background.
fn origin(origin: &OriginView) -> String {
    let sources: Vec<&str> =
        origin.sources.iter().map(String::as_str).filter(|s| *s != origin.kind).collect();
    quiet(&if sources.is_empty() {
        format!("[{}]", origin.kind)
    } else {
        format!("[{}: {}]", origin.kind, sources.join(", "))
    })
}

/// The scale each factor's bar is drawn on, from its left to its right end.
fn scale(factor: &str) -> (f64, f64) {
    match factor {
        "light" => (0.0, 600.0),
        "temperature" => (0.0, 40.0),
        "pH" => (4.0, 10.0),
        // CO2 in mg/L, GH and KH in degrees.
        _ => (0.0, 30.0),
    }
}

fn envelope_row(page: &mut Page, view: &EnvelopeView) {
    let (from, to) = scale(&view.factor);
    let (opt_max, abs_max) = (view.opt_max.unwrap_or(f64::INFINITY), view.abs_max.unwrap_or(f64::INFINITY));
    let mark = |i: usize| {
        let x = from + (i as f64 + 0.5) / BAR as f64 * (to - from);
        if (view.opt_min..=opt_max).contains(&x) {
            '='
        } else if (view.abs_min..=abs_max).contains(&x) {
            '-'
        } else {
            '.'
        }
    };
    let bar: String = (0..BAR).map(mark).collect();
    let best = match (view.opt_max, view.abs_max) {
        (Some(opt), Some(abs)) => format!("{} | {}..{opt} | {abs}", view.abs_min, view.opt_min),
        _ => format!("{} | {} and more", view.abs_min, view.opt_min),
    };
    let text = format!("{bar}  {best} {} {}", view.unit, origin(&view.origin));
    page.labelled(&view.factor, &text, LABEL);
}

fn names(page: &mut Page, view: &ShowView) {
    page.gap();
    page.heading("Names");
    let mut groups: BTreeMap<(u8, &str, &str), Vec<&str>> = BTreeMap::new();
    for name in view.names.iter().filter(|n| n.kind != "accepted") {
        let order = match name.kind.as_str() {
            "synonym" => 0,
            "vernacular" => 1,
            _ => 2,
        };
        groups.entry((order, &name.kind, &name.language)).or_default().push(&name.name);
    }
    if groups.is_empty() {
        page.paragraph("none besides the accepted name", 2);
    }
    for ((_, kind, language), names) in groups {
        let label = if kind == "synonym" { "synonyms".to_owned() } else { format!("{kind} {language}") };
        page.labelled(&label, &names.join(", "), 15);
    }
}

fn sources(page: &mut Page, view: &ShowView) {
    page.gap();
    page.heading("Claims");
    for claim in &view.claims {
        let unit = if claim.unit.is_empty() { String::new() } else { format!(" {}", claim.unit) };
        let note = if claim.note.is_empty() { String::new() } else { format!("; {}", claim.note) };
        let text =
            format!("{}{unit} ({}, {} {}){note}", claim.statement, claim.kind, claim.source, claim.locator);
        page.labelled(&claim.trait_name, text.trim(), LABEL);
    }
    if view.claims.is_empty() {
        page.paragraph("none: every value is common practice", 2);
    }
    page.gap();
    page.heading("Sources");
    for source in &view.sources {
        let id = if source.identifier.is_empty() { String::new() } else { format!(" {}", source.identifier) };
        let text = format!("{}{id} [{}]", source.citation, source.licence);
        page.hanging(&format!("{}: ", source.key), &text, 2);
    }
}
