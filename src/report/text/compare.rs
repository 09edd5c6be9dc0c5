//! Plants or tanks side by side: a column each, at most four abreast.

use super::check::{cell, certainty_words, short_limit};
use super::lines::{Page, quiet, strong};
use crate::report::view::{ColumnView, CompareView, FactorView};

/// Columns abreast.
const ABREAST: usize = 4;
/// Width of the labels; wider where the label carries what the plant wants.
const LABEL: usize = 13;
const WIDE_LABEL: usize = 28;

/// The whole report of `compare`.
pub fn compare(page: &mut Page, view: &CompareView) {
    let plants = view.across == "plants";
    let what = if plants { "plants against the tank" } else { "one plant in several tanks" };
    page.heading_with(&view.of, what);
    for columns in view.columns.chunks(ABREAST) {
        page.gap();
        block(page, columns, plants);
    }
    for column in &view.columns {
        if !column.judged.certainty.sure || !column.judged.flags.is_empty() || column.barred {
            page.gap();
            let title = if plants { &column.judged.name } else { &column.tank };
            page.line(&strong(title));
        }
        if !column.judged.certainty.sure {
            page.paragraph(&certainty_words(&column.judged.certainty), 2);
        }
        for flag in &column.judged.flags {
            page.hanging("! ", &quiet(flag), 2);
        }
    }
}

fn block(page: &mut Page, columns: &[ColumnView], plants: bool) {
    let label = if plants { LABEL } else { WIDE_LABEL };
    let width = (page.width().saturating_sub(2 + label)) / columns.len().max(1);
    let row = |page: &mut Page, name: &str, cells: Vec<String>, bold: bool| {
        let cells: Vec<String> = cells
            .iter()
            .map(|text| cell(text, width.saturating_sub(1)))
            .map(|text| if bold { bold_cell(&text) } else { text })
            .collect();
        page.line(format!("  {} {}", cell(name, label - 1), cells.join(" ")).trim_end());
    };
    let title = |c: &ColumnView| if plants { c.judged.name.clone() } else { c.tank.clone() };
    for part in 0..2 {
        let halves: Vec<String> =
            columns.iter().map(|c| folded(&title(c), width - 1)[part].clone()).collect();
        if halves.iter().any(|h| !h.is_empty()) {
            row(page, "", halves, true);
        }
    }
    row(page, "zone", columns.iter().map(|c| c.zone.clone()).collect(), false);
    let verdict = |c: &ColumnView| {
        let word = if c.barred { "barred by law" } else { &c.judged.verdict };
        format!("{word}{}", if c.judged.certainty.sure { "" } else { " ?" })
    };
    row(page, "verdict", columns.iter().map(verdict).collect(), true);
    row(page, "suitability", columns.iter().map(|c| c.judged.suitability.to_string()).collect(), false);
    row(page, "limited by", columns.iter().map(|c| short_limit(&c.judged.limiting)).collect(), false);
    page.gap();
    for (n, factor) in columns[0].factors.iter().enumerate() {
        let name = if plants { factor.factor.clone() } else { with_span(factor) };
        let cells = columns.iter().map(|c| if plants { wants(&c.factors[n]) } else { has(&c.factors[n]) });
        row(page, &name, cells.collect(), false);
    }
    if plants {
        page.gap();
        for (n, fact) in columns[0].traits.iter().enumerate() {
            row(page, &fact.trait_name, columns.iter().map(|c| c.traits[n].value.clone()).collect(), false);
        }
    }
}

/// Bold, with the filling left plain, so that it can be cut off at the end of a line.
fn bold_cell(text: &str) -> String {
    let word = text.trim_end();
    format!("{}{}", strong(word), " ".repeat(text.len() - word.len()))
}

/// A title over two lines of at most `width`.
fn folded(title: &str, width: usize) -> [String; 2] {
    let lines: Vec<String> =
        textwrap::wrap(title, width).into_iter().map(std::borrow::Cow::into_owned).collect();
    let rest = lines.get(1..).map(|l| l.join(" ")).unwrap_or_default();
    [lines.first().cloned().unwrap_or_default(), rest]
}

/// "pH (5.4 to 7.4)": the values at which the plant grows.
fn with_span(factor: &FactorView) -> String {
    match span(factor) {
        Some(span) => format!("{} ({span} {})", factor.factor, factor.unit).replace(" )", ")"),
        None => factor.factor.clone(),
    }
}

fn span(factor: &FactorView) -> Option<String> {
    match (factor.grows_from, factor.grows_to) {
        (Some(from), Some(to)) => Some(format!("{from}..{to}")),
        (Some(from), None) => Some(format!("{from}..")),
        _ => None,
    }
}

/// "0.88 5.4..7.4": the suitability, and the values at which the plant grows.
fn wants(factor: &FactorView) -> String {
    format!("{:.2} {}", factor.suitability, span(factor).unwrap_or_default()).trim_end().to_owned()
}

/// "0.88 at 7.1": the suitability, and the value in the tank.
fn has(factor: &FactorView) -> String {
    let at = factor.value.map_or(String::new(), |v| format!(" at {v}"));
    format!("{:.2}{at}", factor.suitability)
}
