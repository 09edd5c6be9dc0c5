//! A checked wish list as text: a table, worst first, then what is to be said of each plant and
//! of the list.

use unicode_width::UnicodeWidthStr;

use super::lines::{Page, bullets, quiet, strong};
use super::remedy;
use super::tank::tank_head;
use crate::report::view::{
    CertaintyView, CheckView, ConditionView, LimitView, PatchView, SideView, WishView,
};
use crate::units::{Length, Quantity, Temperature, UnitSystem};

/// The whole report of `check`; with an explanation asked for, that instead of the words on each.
pub fn check(page: &mut Page, view: &CheckView) {
    tank_head(page, &view.tank);
    page.gap();
    page.heading(&summary(view));
    table(page, view);
    if let Some(explained) = &view.explained {
        page.gap();
        super::explain::explain(page, view, explained);
    } else {
        for wish in view.wishes.iter().filter(|w| worth_words(w)) {
            page.gap();
            words(page, view, wish);
        }
        page.gap();
        super::group::group(page, &view.group);
        let barred: Vec<&str> =
            view.wishes.iter().filter(|w| w.barred).map(|w| w.judged.name.as_str()).collect();
        if !barred.is_empty() {
            page.labelled("law", &format!("restricted here: {}", barred.join(", ")), super::group::LABEL);
        }
    }
    page.gap();
    measured(page, view);
    bullets(page, "Cautions", &view.cautions);
    bullets(page, "Left out of the model", &view.left_out);
}

fn summary(view: &CheckView) -> String {
    let plants = |n: usize| if n == 1 { "1 plant".to_owned() } else { format!("{n} plants") };
    match (view.misfits, view.wishes.len()) {
        (0, 1) => "It fits".to_owned(),
        (0, all) => format!("All {} fit", plants(all)),
        (_, 1) => "It does not fit".to_owned(),
        (n, all) => format!("{n} of {} {} not fit", plants(all), if n == 1 { "does" } else { "do" }),
    }
}

/// The longest a zone's name gets in the table.
const ZONE: usize = 14;
/// The narrowest column for names.
const NAME: usize = 18;

/// `lingers  Rotala macrandra   back hedge   carbon 1.9, wants 3.4  ?`
fn table(page: &mut Page, view: &CheckView) {
    let zone = |w: &WishView| view.tank.zones[w.zone].name.as_str();
    let limits: Vec<String> = view.wishes.iter().map(|w| short_limit(&w.judged.limiting)).collect();
    let widest = |widths: &mut dyn Iterator<Item = usize>| widths.max().unwrap_or(0);
    let verdicts = 8;
    let zones = widest(&mut view.wishes.iter().map(|w| zone(w).width())).min(ZONE);
    let last = widest(&mut limits.iter().map(|l| l.width())) + 2;
    let names = widest(&mut view.wishes.iter().map(|w| w.judged.name.width()));
    let room = page.width().saturating_sub(2 + verdicts + 1 + 2 + zones + 2 + last);
    for (wish, limit) in view.wishes.iter().zip(&limits) {
        let verdict = if wish.barred { "barred" } else { &wish.judged.verdict };
        let doubt = if in_doubt(&wish.judged.certainty) { " ?" } else { "" };
        let verdict = cell(verdict, verdicts);
        if room < NAME {
            // Too narrow for a table: two lines a plant.
            page.hanging(&format!("{verdict} "), &strong(&wish.judged.name), 2);
            page.paragraph(&format!("{}: {limit}{doubt}", zone(wish)), 2 + verdicts + 1);
            continue;
        }
        let name = strong(&cell(&wish.judged.name, names.min(room).max(NAME)));
        page.line(&format!("  {verdict} {name}  {}  {limit}{doubt}", cell(zone(wish), zones)));
    }
    if view.wishes.iter().any(|w| in_doubt(&w.judged.certainty)) {
        page.paragraph(&quiet("? the measurements leave more than one verdict open"), 2);
    }
}

/// `pH   7.1 (6.9 to 7.3): the range of the file`, a row a measurement.
fn measured(page: &mut Page, view: &CheckView) {
    page.heading("What the verdicts take as measured");
    for open in &view.measured {
        let shown = |value: f64| match open.unit.as_str() {
            "°C" => Temperature::from_celsius(value).show(page.units),
            unit => format!("{value} {unit}").trim_end().to_owned(),
        };
        let end = |value: f64| match open.unit.as_str() {
            "°C" => Temperature::from_celsius(value).show_number(page.units),
            _ => value.to_string(),
        };
        let open_to = format!(" ({} to {})", end(open.lo), end(open.hi));
        let range = if open.lo < open.hi { open_to.as_str() } else { "" };
        page.labelled(&open.measurement, &format!("{}{range}; {}", shown(open.value), open.origin), 13);
    }
}

/// Whether the measurements leave open anything that matters: a plant that at best lingers does
/// not grow, however they turn out.
fn in_doubt(certainty: &CertaintyView) -> bool {
    !certainty.sure && certainty.verdict.is_some()
}

/// Text cut or filled to a width.
pub(super) fn cell(text: &str, width: usize) -> String {
    if text.width() <= width {
        return format!("{text}{}", " ".repeat(width - text.width()));
    }
    let mut cut = String::new();
    for c in text.chars() {
        if cut.width() + 2 > width {
            break;
        }
        cut.push(c);
    }
    cut.push('…');
    format!("{cut}{}", " ".repeat(width.saturating_sub(cut.width())))
}

/// "carbon 1.9 < 3.4": the value and on which side of the limit it is.
pub(super) fn short_limit(limit: &LimitView) -> String {
    let (Some(value), Some(at)) = (limit.value, limit.limit) else { return limit.factor.clone() };
    let good = limit.margin.is_some_and(|m| m >= 0.0);
    let side = match (limit.edge.as_deref() == Some("at-least"), good) {
        (true, true) => "≥",
        (true, false) => "<",
        (false, true) => "≤",
        (false, false) => ">",
    };
    format!("{} {value} {side} {at}", limit.factor)
}

/// Whether there is more to say than the table does.
fn worth_words(wish: &WishView) -> bool {
    let judged = &wish.judged;
    !wish.fits || in_doubt(&judged.certainty) || !judged.flags.is_empty() || wish.patch.is_some()
}

fn words(page: &mut Page, view: &CheckView, wish: &WishView) {
    let judged = &wish.judged;
    let zone = &view.tank.zones[wish.zone].name;
    let verdict = if wish.barred { "is barred by law" } else { &judged.verdict };
    page.line(&format!("{} {verdict} ({zone})", strong(&judged.name)));
    limits(page, view, wish);
    for flag in &judged.flags {
        page.hanging("! ", &quiet(flag), 2);
    }
    for remedy in wish.remedies.iter().take(REMEDIES) {
        remedy::remedy(page, remedy);
    }
    if let Some(together) = &wish.together {
        remedy::together(page, together);
    }
    if !wish.fits && !wish.barred && wish.remedies.is_empty() && wish.together.is_none() {
        page.paragraph("no change of light, gas or water helps", 2);
    }
    if !wish.substitutes.is_empty() {
        remedy::substitutes(page, &wish.substitutes);
    }
}

/// Remedies told of a plant in words; the others are in the JSON.
const REMEDIES: usize = 3;

fn limits(page: &mut Page, view: &CheckView, wish: &WishView) {
    let judged = &wish.judged;
    let mut text = if judged.limiting.factor == "placement" {
        placement_words(view, wish)
    } else {
        super::fill::limit_words(&judged.limiting)
    };
    let others: Vec<&str> =
        wish.short_of.iter().map(String::as_str).filter(|f| *f != judged.limiting.factor).collect();
    if !others.is_empty() && judged.limiting.factor != "placement" {
        text.push_str(&format!("; short of {} as well", others.join(", ")));
    }
    if judged.grows_share > 0.0 && judged.grows_share < 0.995 {
        text.push_str(&format!("; grows on {:.0} % of the zone", judged.grows_share * 100.0));
        if let Some(patch) = &wish.patch {
            text.push_str(&format!(", {}", patch_words(patch, page.units)));
        }
    }
    page.paragraph(&text, 2);
    if in_doubt(&judged.certainty) {
        page.paragraph(&certainty_words(&judged.certainty), 2);
    }
}

/// "no zone of the tank is epiphyte: judged where it would stand best".
fn placement_words(view: &CheckView, wish: &WishView) -> String {
    let zone = &view.tank.zones[wish.zone];
    let serves = wish.factors.iter().find(|f| f.factor == "placement").map(|f| f.words.as_str());
    format!(
        "no zone for it ({}): judged in {}, where it would stand best",
        serves.and_then(|w| w.rsplit("; ").next()).unwrap_or_default(),
        zone.name
    )
}

/// "too dim left of 12 cm".
pub fn patch_words(patch: &PatchView, units: UnitSystem) -> String {
    let wrong = if patch.wrong == "too-dim" { "too dim" } else { "too bright" };
    if patch.sides.is_empty() {
        return format!("{wrong} in patches");
    }
    let side = |side: &SideView| {
        let line = Length::from_cm(side.line_cm).show(units);
        match side.side.as_str() {
            "left-of" => format!("left of {line}"),
            "right-of" => format!("right of {line}"),
            "in-front-of" => format!("in front of {line} from the front glass"),
            _ => format!("behind {line} from the front glass"),
        }
    };
    format!("{wrong} {}", patch.sides.iter().map(side).collect::<Vec<_>>().join(" and "))
}

/// "depends on carbon: at 1.3 mg/L or more it grows".
pub fn certainty_words(certainty: &CertaintyView) -> String {
    if certainty.sure {
        return "sure".to_owned();
    }
    let open = || format!("the measurements leave open whether it {} or {}", certainty.worst, certainty.best);
    let Some(verdict) = &certainty.verdict else { return open() };
    let on: Vec<&str> = certainty.conditions.iter().map(|c| c.measurement.as_str()).collect();
    match certainty.conditions.as_slice() {
        [] => open(),
        [one] if certainty.settles => {
            format!("depends on {}: at {} it {verdict}", on[0], condition_words(one))
        }
        several => {
            let value = |c: &ConditionView| format!("{} {}", c.measurement, condition_words(c));
            let values: Vec<String> = several.iter().map(value).collect();
            format!("depends on {}: it {verdict} only with {}", listed(&on), listed(&values))
        }
    }
}

/// "a, b and c".
fn listed<T: AsRef<str>>(words: &[T]) -> String {
    let words: Vec<&str> = words.iter().map(AsRef::as_ref).collect();
    match words.as_slice() {
        [first @ .., last] if !first.is_empty() => format!("{} and {last}", first.join(", ")),
        _ => words.concat(),
    }
}

fn condition_words(condition: &ConditionView) -> String {
    let unit = if condition.unit.is_empty() { String::new() } else { format!(" {}", condition.unit) };
    match (condition.at_least, condition.at_most) {
        (Some(from), Some(to)) => format!("{from} to {to}{unit}"),
        (Some(from), None) => format!("{from}{unit} or more"),
        (None, Some(to)) => format!("{to}{unit} or less"),
        (None, None) => "what is measured".to_owned(),
    }
}
