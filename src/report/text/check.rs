//! A checked wish list as text: a table, worst first, then what is to be said of each.

use unicode_width::UnicodeWidthStr;

use super::lines::{Page, quiet, strong};
use super::tank::tank_head;
use crate::report::view::{CertaintyView, CheckView, ConditionView, LimitView, WishView};

/// The whole report of `check`.
pub fn check(page: &mut Page, view: &CheckView) {
    tank_head(page, &view.tank);
    page.gap();
    page.heading(&summary(view));
    for wish in &view.wishes {
        page.line(&row(view, wish));
    }
    for wish in view.wishes.iter().filter(|w| worth_words(w)) {
        page.gap();
        explain(page, view, wish);
    }
    super::bullets(page, "Cautions", &view.cautions);
    super::bullets(page, "Left out of the model", &view.left_out);
}

fn summary(view: &CheckView) -> String {
    let plants = |n: usize| if n == 1 { "1 plant".to_owned() } else { format!("{n} plants") };
    match view.misfits {
        0 => format!("All fit: {}", plants(view.wishes.len())),
        n => format!("{n} of {} do not fit", plants(view.wishes.len())),
    }
}

const VERDICT: usize = 8;
const NAME: usize = 30;
const ZONE: usize = 14;

/// `lingers  Rotala macrandra   back hedge   carbon 1.9, from 3.4 mg/L ?`
fn row(view: &CheckView, wish: &WishView) -> String {
    let judged = &wish.judged;
    let verdict = if wish.barred { "barred" } else { &judged.verdict };
    let doubt = if judged.certainty.sure { "" } else { " ?" };
    let zone = &view.tank.zones[wish.zone].name;
    let cells = [cell(verdict, VERDICT), strong(&cell(&judged.name, NAME)), cell(zone, ZONE)];
    format!("  {}  {}{doubt}", cells.join(" "), short_limit(&judged.limiting))
}

/// Text cut or filled to a width.
fn cell(text: &str, width: usize) -> String {
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

fn short_limit(limit: &LimitView) -> String {
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
    !wish.fits
        || !wish.judged.certainty.sure
        || !wish.judged.flags.is_empty()
        || wish.judged.grows_share < 0.995
}

fn explain(page: &mut Page, view: &CheckView, wish: &WishView) {
    let judged = &wish.judged;
    let zone = &view.tank.zones[wish.zone].name;
    let left = format!("{} {} in “{zone}”", strong(&judged.name), judged.verdict);
    page.line(&left);
    let mut words = super::fill::limit_words(&judged.limiting);
    if judged.grows_share < 0.995 && judged.grows_share > 0.0 {
        words.push_str(&format!("; grows on {:.0} % of the zone", judged.grows_share * 100.0));
    }
    page.paragraph(&words, 2);
    if !judged.certainty.sure {
        page.paragraph(&certainty_words(&judged.certainty), 2);
    }
    for flag in &judged.flags {
        page.hanging("! ", &quiet(flag), 2);
    }
}

/// "depends on carbon: at 1.3 mg/L or more it grows".
pub(super) fn certainty_words(certainty: &CertaintyView) -> String {
    if certainty.sure {
        return "sure".to_owned();
    }
    let Some(verdict) = &certainty.verdict else {
        return format!("the measurements leave open whether it {} or {}", certainty.worst, certainty.best);
    };
    let names: Vec<&str> = certainty.conditions.iter().map(|c| c.measurement.as_str()).collect();
    let values: Vec<String> = certainty.conditions.iter().map(condition_words).collect();
    let and = |words: &[String]| words.join(" and ");
    let on = and(&names.iter().map(|n| (*n).to_owned()).collect::<Vec<_>>());
    match certainty.conditions.len() {
        0 => format!("the measurements leave open whether it {} or {}", certainty.worst, certainty.best),
        1 if certainty.settles => format!("depends on {on}: {} it {verdict}", values[0]),
        1 => format!("depends on {on}: {} it may {}", values[0], plain(verdict)),
        _ => format!("depends on {on} together: {} it {verdict}", and(&values)),
    }
}

/// "grows" as "grow".
fn plain(verdict: &str) -> &str {
    verdict.trim_end_matches('s')
}

fn condition_words(condition: &ConditionView) -> String {
    let unit = if condition.unit.is_empty() { String::new() } else { format!(" {}", condition.unit) };
    match (condition.at_least, condition.at_most) {
        (Some(from), Some(to)) => format!("from {from} to {to}{unit}"),
        (Some(from), None) => format!("at {from}{unit} or more"),
        (None, Some(to)) => format!("at {to}{unit} or less"),
        (None, None) => "within its range".to_owned(),
    }
}
