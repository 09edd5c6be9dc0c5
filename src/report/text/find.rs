//! Plants found, as text.

use super::lines::{Page, quiet, strong};
use crate::report::view::{FindView, FoundView};
use crate::search::Facet;
use crate::units::{Interval, Length};

/// Values of an open facet shown before the rest is summed up.
const VALUES_SHOWN: usize = 8;

/// The report of `find`.
pub fn find(page: &mut Page, view: &FindView) {
    if view.total == 0 {
        page.line("No plant of the catalogue answers that.");
        return;
    }
    for hit in &view.hits {
        found(page, hit);
    }
    page.gap();
    let shown = view.hits.len();
    let plants = if view.total == 1 { "plant" } else { "plants" };
    let counted = match (view.offset, shown) {
        (_, 0) => format!("{} {plants}, none after the first {}", view.total, view.offset),
        (0, n) if n == view.total => format!("{n} {plants}"),
        (from, n) => format!("{} to {} of {} {plants}", from + 1, from + n, view.total),
    };
    page.heading(&counted);
    for facet in Facet::ALL {
        let counts = view.facets.get(facet.word()).map_or(&[][..], Vec::as_slice);
        if counts.is_empty() {
            continue;
        }
        let mut values: Vec<String> =
            counts.iter().take(VALUES_SHOWN).map(|c| format!("{} {}", c.label, c.count)).collect();
        if counts.len() > VALUES_SHOWN {
            values.push(format!("and {} more", counts.len() - VALUES_SHOWN));
        }
        page.labelled(facet.word(), &values.join(", "), 12);
    }
}

fn found(page: &mut Page, hit: &FoundView) {
    let range = Interval::spanning(Length::from_cm(hit.height_min_cm), Length::from_cm(hit.height_max_cm));
    let right = format!("{}, {}", hit.growth_form, range.show(page.units));
    page.left_right(0, &strong(&hit.name), &right);
    let mut words = Vec::new();
    if let Some(matched) = &hit.matched {
        words.push(format!("“{matched}”"));
    } else if !hit.vernacular.eq_ignore_ascii_case(&hit.name) {
        words.push(hit.vernacular.clone());
    }
    words.push(hit.placement.join(", "));
    words.push(format!("light: {}", hit.light));
    words.push(hit.gas.clone());
    page.paragraph(&quiet(&words.join("; ")), 4);
}
