//! Remedies and substitutes in words.

use super::lines::{Page, quiet};
use crate::report::view::{ChangeView, PairView, RemedyView, SideEffectView, SubstituteView};
use crate::units::{Length, Quantity, Temperature, UnitSystem};

/// One remedy with its price.
pub(super) fn remedy(page: &mut Page, view: &RemedyView) {
    let sure = if view.sure { "" } else { ", not surely" };
    let text = format!("{}: it {}{sure}", change_words(&view.change, page.units), view.verdict);
    page.hanging("> ", &text, 2);
    aftermath(page, &view.side_effects, &view.cautions);
}

/// What a change does to others, and what it breaks.
fn aftermath(page: &mut Page, effects: &[SideEffectView], cautions: &[String]) {
    for effect in effects {
        let way = if worse(&effect.from, &effect.to) { "but" } else { "and" };
        let text = format!("{way} {} goes from {} to {}", effect.name, effect.from, effect.to);
        page.paragraph(&quiet(&text), 4);
    }
    for caution in cautions {
        page.hanging("caution: ", &quiet(caution), 4);
    }
}

fn worse(from: &str, to: &str) -> bool {
    let rank = |word: &str| ["fails", "lingers", "grows", "thrives"].iter().position(|w| *w == word);
    rank(to) < rank(from)
}

/// Two changes that help only together.
pub(super) fn together(page: &mut Page, view: &PairView) {
    let changes: Vec<String> = view.changes.iter().map(|c| change_words(c, page.units)).collect();
    let sure = if view.sure { "" } else { ", not surely" };
    let text = format!("no single change is enough; {}: it {}{sure}", changes.join(", and "), view.verdict);
    page.hanging("> ", &text, 2);
    aftermath(page, &view.side_effects, &view.cautions);
}

/// The likest plants that grow there.
pub(super) fn substitutes(page: &mut Page, views: &[SubstituteView]) {
    let name = |s: &SubstituteView| format!("{} ({})", s.name, s.verdict);
    let names: Vec<String> = views.iter().map(name).collect();
    page.hanging("instead: ", &names.join(", "), 2);
}

/// "9.4 h of light a day instead of 8".
pub fn change_words(change: &ChangeView, units: UnitSystem) -> String {
    let (to, unit) = (change.to.unwrap_or_default(), &change.unit);
    let instead = change.now.map_or(String::new(), |now| format!(" instead of {now}"));
    let cm = |v: f64| Length::from_cm(v).show(units);
    let words = match change.kind.as_str() {
        "hours" => format!("{to} h of light a day{instead}"),
        "dimmer" => format!("the lamps at {to} %{instead}"),
        "output" if to > 1.0 => format!("stronger lamps, {to} times the light"),
        "output" => format!("the lamps dimmed to {:.0} %", 100.0 * to),
        "lamp-height" => {
            format!("the lamps {} above the water instead of {}", cm(to), cm(change.now.unwrap_or_default()))
        }
        "lamps-by" => format!("the lamps {} {}", cm(to.abs()), if to < 0.0 { "lower" } else { "higher" }),
        "floating-cover" => format!("floating plants thinned to {to} % of the surface{instead}"),
        "gas-added" => format!("gas, held at {to} mg/L of CO2 while the light is on"),
        "gas" => format!("gas held at {to} {unit} of CO2{instead}"),
        "temperature" => {
            let shown = |v: f64| Temperature::from_celsius(v).show(units);
            format!("{} instead of {}", shown(to), shown(change.now.unwrap_or_default()))
        }
        "soft-water" => format!("{to} % of the water from rain or demineralised"),
        "gh" => format!("salts to {to} dGH{instead}"),
        "kh" => format!("bicarbonate to {to} dKH{instead}"),
        _ => format!("planted in {}", change.zone.as_deref().unwrap_or_default()),
    };
    if change.then.is_empty() {
        return words;
    }
    let then: Vec<String> = change
        .then
        .iter()
        .map(|t| format!("{} {}", t.name, format!("{} {}", t.value, t.unit).trim_end()))
        .collect();
    format!("{words} (then {} or so)", then.join(", "))
}
