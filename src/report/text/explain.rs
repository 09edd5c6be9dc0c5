//! The full reasoning about one plant as text.

use super::check::certainty_words;
use super::lines::{Page, quiet, strong};
use crate::report::view::{CheckView, ExplainView, ExplainedFactorView, FactorView};

/// Column where the text of a factor begins.
const LABEL: usize = 13;

/// The reasoning, factor by factor, with the origin of every value.
pub(super) fn explain(page: &mut Page, view: &CheckView, explained: &ExplainView) {
    page.line(&format!(
        "{} {} in {}: suitability {}",
        strong(&explained.name),
        explained.verdict,
        explained.zone,
        explained.suitability
    ));
    page.paragraph(&quiet(&explained.combination), 2);
    page.gap();
    for factor in &explained.factors {
        factor_block(page, factor);
    }
    if let Some(wish) = view.wishes.iter().find(|w| w.judged.taxon == explained.taxon) {
        page.gap();
        page.labelled("sure?", &certainty_words(&wish.judged.certainty), LABEL);
        for remedy in &wish.remedies {
            super::remedy::remedy(page, remedy);
        }
        if let Some(together) = &wish.together {
            super::remedy::together(page, together);
        }
        if !wish.substitutes.is_empty() {
            super::remedy::substitutes(page, &wish.substitutes);
        }
    }
    page.gap();
    page.heading("In every zone");
    for there in &explained.zones {
        let zone = &view.tank.zones[there.zone].name;
        let text = format!("{} {} (limited by {})", there.verdict, there.suitability, there.limiting);
        page.labelled(zone, &text, 16);
    }
    page.gap();
    page.heading("Sources");
    for source in &explained.sources {
        page.labelled(&source.key, &format!("{} {}", source.citation, quiet(&source.identifier)), 16);
    }
    if explained.sources.is_empty() {
        page.paragraph("none: the plant's values are common practice", 2);
    }
}

fn factor_block(page: &mut Page, view: &ExplainedFactorView) {
    let factor = &view.factor;
    let mut text = format!("{:<5} {}", factor.suitability, numbers(factor));
    if !factor.words.is_empty() {
        let gap = if factor.value.is_some() { "; " } else { "" };
        text.push_str(&format!("{gap}{}", factor.words));
    }
    page.labelled(&factor.factor, &text, LABEL);
    let kind = view.origin.as_ref().map_or("practice", |origin| origin.kind.as_str());
    page.labelled("", &quiet(&format!("{}; the plant's values: {kind}", view.rule)), LABEL + 6);
    for claim in &view.claims {
        let unit = if claim.unit.is_empty() { String::new() } else { format!(" {}", claim.unit) };
        let note = if claim.note.is_empty() { String::new() } else { format!("; {}", claim.note) };
        let text =
            format!("{}{unit} ({}, {} {}){note}", claim.statement, claim.kind, claim.source, claim.locator);
        page.labelled("", &quiet(text.trim()), LABEL + 6);
    }
}

/// "24 °C (23 to 25) against 15 | 20 to 28 | 32".
fn numbers(factor: &FactorView) -> String {
    let (Some(value), Some(lo), Some(hi), Some(curve)) = (factor.value, factor.lo, factor.hi, factor.curve)
    else {
        return String::new();
    };
    let unit = if factor.unit.is_empty() { String::new() } else { format!(" {}", factor.unit) };
    let end = |v: Option<f64>| v.map_or("any".to_owned(), |v| v.to_string());
    let [a, b, c, d] = curve;
    let against = match (c, d) {
        (None, None) => format!("nothing at {}, best from {}", end(a), end(b)),
        _ => format!("nothing at {}, best from {} to {}, nothing from {}", end(a), end(b), end(c), end(d)),
    };
    let open = if lo < hi { format!(" ({lo} to {hi})") } else { String::new() };
    let bounds = if factor.least < factor.greatest {
        format!("; {} to {} over that range", factor.least, factor.greatest)
    } else {
        String::new()
    };
    format!("{value}{unit}{open} against {against}{bounds}")
}
