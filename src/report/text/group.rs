//! A list as a whole in words.

use super::lines::Page;
use crate::report::view::{GroupView, ShadeView, WindowView};
use crate::units::{Length, Quantity, Temperature};

/// Column where the text of a row begins.
pub(super) const LABEL: usize = 12;

/// Share of the bed that is usually planted from the start (common practice, no source).
const USUAL_COVER: f64 = 0.5;
/// Share of fast growers that a new tank usually starts with (common practice, no source).
const USUAL_FAST: f64 = 0.3;

/// The list as a whole.
pub(super) fn group(page: &mut Page, view: &GroupView) {
    page.heading("The list as a whole");
    for repeat in &view.repeats {
        let written: Vec<String> = repeat.written.iter().map(|w| format!("“{w}”")).collect();
        page.labelled("twice", &format!("{} are all {}", written.join(", "), repeat.name), LABEL);
    }
    for order in &view.height_order {
        let height = |cm: f64| Length::from_cm(cm).show(page.units);
        let text = format!(
            "{} ({}) stands in front of {} ({})",
            order.near,
            height(order.near_cm),
            order.far,
            height(order.far_cm)
        );
        page.labelled("heights", &text, LABEL);
    }
    for shade in &view.shade {
        page.labelled("shade", &shade_words(shade), LABEL);
    }
    light(page, view);
    water(page, view);
    start(page, view);
    let limit = view.trim_limit.map_or(String::new(), |l| format!("; the limit is {l}"));
    page.labelled("trimming", &format!("{} minutes a month{limit}", view.trim_minutes_per_month), LABEL);
    for hazard in &view.hazards {
        page.labelled("hazard", &format!("{}: {}", hazard.words, hazard.plants.join(", ")), LABEL);
    }
}

fn light(page: &mut Page, view: &GroupView) {
    if let Some(words) = &view.light_against_carbon {
        page.labelled("light", words, LABEL);
    }
    if !view.starved.is_empty() {
        let text = format!("light for their best but too little carbon: {}", view.starved.join(", "));
        page.labelled("light", &text, LABEL);
    }
    if !view.overlit.is_empty() {
        let text = format!(
            "slow plants in more light than they use, without gas, gather algae: {}",
            view.overlit.join(", ")
        );
        page.labelled("light", &text, LABEL);
    }
}

fn shade_words(shade: &ShadeView) -> String {
    let falls: Vec<String> =
        shade.falls.iter().map(|f| format!("{} from {} to {}", f.name, f.from, f.to)).collect();
    let left = 100.0 * shade.light_left;
    match &shade.by {
        Some(by) => {
            format!("{by} reaches the surface; at {left:.0} % of the light beside it: {}", falls.join(", "))
        }
        None => format!("floating plants grown over leave {left:.0} % of the light: {}", falls.join(", ")),
    }
}

/// "temperature 21.5 to 27.5 °C, pH 6.4 to 7.2", and who narrows it.
fn water(page: &mut Page, view: &GroupView) {
    let units = page.units;
    let (open, closed): (Vec<&WindowView>, Vec<&WindowView>) = view.windows.iter().partition(|w| w.open);
    let end = |w: &WindowView, v: f64| {
        if w.factor == "temperature" {
            Temperature::from_celsius(v).show_number(units)
        } else {
            v.to_string()
        }
    };
    let unit = |w: &WindowView| {
        if w.factor == "temperature" {
            let shown = Temperature::from_celsius(0.0).show(units);
            shown.rsplit(' ').next().unwrap_or_default().to_owned()
        } else {
            w.unit.clone()
        }
    };
    let span = |w: &&WindowView| {
        format!("{} {} to {} {}", w.factor, end(w, w.lo), end(w, w.hi), unit(w)).trim_end().to_owned()
    };
    let spans: Vec<String> = open.iter().map(span).collect();
    if !spans.is_empty() {
        page.labelled("water", &format!("all grow at {}", spans.join(", ")), LABEL);
    }
    for w in &closed {
        let text = format!(
            "no {} suits all: {} needs {} {}, {} bears {}",
            w.factor,
            w.needs_most,
            end(w, w.lo),
            unit(w),
            w.bears_least,
            end(w, w.hi)
        );
        page.labelled("water", &text, LABEL);
    }
    let mut narrowing: Vec<(&str, Vec<&str>)> = Vec::new();
    for w in view.windows.iter().filter(|w| w.wider_by.is_some_and(|by| by > 0.0)) {
        let name = w.narrowed_by.as_deref().unwrap_or_default();
        match narrowing.iter_mut().find(|(n, _)| *n == name) {
            Some((_, factors)) => factors.push(&w.factor),
            None => narrowing.push((name, vec![&w.factor])),
        }
    }
    if !narrowing.is_empty() {
        let text: Vec<String> = narrowing.iter().map(|(n, f)| format!("{n} ({})", f.join(", "))).collect();
        page.labelled("", &format!("narrowed most by {}", text.join(", ")), LABEL);
    }
}

fn start(page: &mut Page, view: &GroupView) {
    let share = view.fast as f64 / (view.plants.max(1)) as f64;
    let mut text = format!("{} of {} grow fast", view.fast, view.plants);
    if share < USUAL_FAST {
        text.push_str(" (a new tank usually starts with a third or more: common practice, no source)");
    }
    if let Some(cover) = view.cover_at_planting {
        text.push_str(&format!("; {:.0} % of the rooted zones covered at planting", 100.0 * cover));
        if cover < USUAL_COVER {
            text.push_str(" (half or more is usual: common practice, no source)");
        }
    }
    page.labelled("start", &text, LABEL);
}
