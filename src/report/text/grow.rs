//! How a tank grows in, as text: a line of marks for cover and for height of every drift.

use super::lines::{Page, bullets, quiet, strong};
use super::spark::Marks;
use crate::report::view::{DriftCourseView, GrowView, RunsView, TrimView};
use crate::units::{Length, Quantity, UnitSystem};

/// Columns of the labels before the marks.
const LABEL: usize = 8;
/// Columns that the words after the marks need.
const WORDS: usize = 26;

/// The whole report of `grow`.
pub fn grow(page: &mut Page, view: &GrowView, marks: Marks) {
    let heading = format!("{}, growing in", view.tank);
    page.heading_with(&heading, &format!("{} weeks from planting, a mark a week", view.weeks));
    let mut zone = "";
    for drift in &view.drifts {
        if drift.zone != zone {
            page.gap();
            page.heading_with(&drift.zone, &drift.placement);
            zone = &drift.zone;
        }
        block(page, drift, marks);
    }
    bullets(page, "What it rests on", &view.rests_on);
    bullets(page, "Left out of the model", &view.left_out);
}

fn block(page: &mut Page, drift: &DriftCourseView, marks: Marks) {
    let pieces = if drift.pieces == 1 { "piece" } else { "pieces" };
    page.left_right(2, &strong(&drift.name), &quiet(&format!("{} {pieces}", drift.pieces)));
    let room = page.width().saturating_sub(4 + LABEL + WORDS + 1).max(10);
    let units = page.units;
    let cover: Vec<f64> = drift.weeks.iter().map(|w| w.cover.mid).collect();
    let height: Vec<f64> = drift.weeks.iter().map(|w| w.height_cm.mid).collect();
    let tallest = height.iter().copied().fold(0.0, f64::max);
    let (Some(first), Some(last)) = (drift.weeks.first(), drift.weeks.last()) else { return };
    let percent = |share: f64| format!("{:.0}", share * 100.0);
    let words = format!("{}..{} %", percent(first.cover.mid), with_span(&last.cover, percent));
    row(page, "cover", &marks.line(&cover, 1.0, room), &words);
    let number = |cm: f64| Length::from_cm(cm).show_number(units);
    let unit = if units == UnitSystem::Metric { "cm" } else { "in" };
    let words = format!("{}..{} {unit}", number(first.height_cm.mid), with_span(&last.height_cm, number));
    row(page, "height", &marks.line(&height, tallest, room), &words);
    let told = told(drift);
    if !told.is_empty() {
        page.paragraph(&quiet(&told), 4);
    }
}

/// A label, marks, and words: on the line of the marks where they fit, below them where not.
fn row(page: &mut Page, label: &str, marks: &str, words: &str) {
    page.hanging(&format!("{label:<LABEL$}"), &format!("{marks} {words}"), 4);
}

/// "92 (70..100)".
fn with_span(span: &RunsView, show: impl Fn(f64) -> String) -> String {
    let (low, mid, high) = (show(span.low), show(span.mid), show(span.high));
    if low == high { mid } else { format!("{mid} ({low}..{high})") }
}

/// Trims, light and pace in words.
fn told(drift: &DriftCourseView) -> String {
    let mut words = Vec::new();
    if let Some(trim) = drift.trims.first() {
        let weeks: Vec<String> = drift.trims.iter().map(trim_words).collect();
        words.push(format!("cut in week {} when {}", listed(&weeks), trim.words));
    }
    let darkest = drift.weeks.iter().map(|w| w.light_share.mid).fold(1.0, f64::min);
    if darkest < 0.8 {
        words.push(format!("neighbours leave it {:.0} % of its light at the worst", darkest * 100.0));
    }
    if drift.weeks.last().is_some_and(|w| w.pace.mid < 0.0) {
        words.push("in the end it loses more than it makes".to_owned());
    }
    if drift.grown_in_air {
        words.push("leaves grown in air give way in the first weeks".to_owned());
    }
    words.join("; ")
}

/// "5 (4..7)", "5 (from 4)" where it may not come at all.
fn trim_words(trim: &TrimView) -> String {
    match trim.latest {
        Some(latest) if latest == trim.earliest => trim.week.to_string(),
        Some(latest) => format!("{} ({}..{latest})", trim.week, trim.earliest),
        None => format!("{} (from {})", trim.week, trim.earliest),
    }
}

/// "1", "1 and 2", "1, 2 and 3".
fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
