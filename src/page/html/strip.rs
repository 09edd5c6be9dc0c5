//! An envelope as a strip: the height of the shape is the suitability, the band what the
//! measurement leaves open, the upright line the value taken.

use maud::{Markup, html};

use super::bits::Look;
use crate::report::svg::number;
use crate::report::view::{EnvelopeView, FactorView};
use crate::units::{Quantity, Temperature, UnitSystem};

const WIDTH: f64 = 280.0;
const TOP: f64 = 6.0;
const BASE: f64 = 50.0;

/// A curve with what the tank has.
#[derive(Debug, Clone)]
pub(in crate::page) struct Strip {
    factor: String,
    unit: String,
    /// Nothing at the first, best from the second to the third, nothing from the fourth; open ends
    /// where more does no harm.
    curve: [Option<f64>; 4],
    /// Value taken, least and greatest.
    tank: Option<[f64; 3]>,
    limits: bool,
}

impl Strip {
    /// From a factor of a verdict; `None` for a factor without numbers.
    pub fn of_factor(factor: &FactorView, limiting: &str, look: Look) -> Option<Self> {
        let value = factor.value?;
        let tank = [value, factor.lo.unwrap_or(value), factor.hi.unwrap_or(value)];
        let strip = Self {
            factor: factor.factor.clone(),
            unit: factor.unit.clone(),
            curve: factor.curve?,
            tank: Some(tank),
            limits: factor.factor == limiting,
        };
        Some(strip.in_units(look))
    }

    /// From an envelope alone.
    pub fn of_envelope(envelope: &EnvelopeView, look: Look) -> Self {
        let curve = [Some(envelope.abs_min), Some(envelope.opt_min), envelope.opt_max, envelope.abs_max];
        let (factor, unit) = (envelope.factor.clone(), envelope.unit.clone());
        Self { factor, unit, curve, tank: None, limits: false }.in_units(look)
    }

    fn in_units(mut self, look: Look) -> Self {
        if look.units == UnitSystem::Us && self.unit == "°C" {
            let unit = &Temperature::UNITS[Temperature::shown_in(UnitSystem::Us).0];
            let there = |v: f64| (((v - unit.offset) / unit.factor) * 10.0).round() / 10.0;
            self.curve = self.curve.map(|v| v.map(there));
            self.tank = self.tank.map(|t| t.map(there));
            "°F".clone_into(&mut self.unit);
        }
        self
    }

    /// The ends of the scale.
    fn ends(&self) -> (f64, f64) {
        let known: Vec<f64> =
            self.curve.iter().flatten().copied().chain(self.tank.into_iter().flatten()).collect();
        let lo = known.iter().copied().fold(f64::INFINITY, f64::min);
        let hi = known.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let room = ((hi - lo) * 0.12).max(0.1);
        let beyond = if self.curve[3].is_none() { 3.0 } else { 1.0 };
        ((lo - room).max(if lo >= 0.0 { 0.0 } else { lo - room }), hi + beyond * room)
    }

    /// The strip with its numbers in words.
    pub fn draw(&self, note: &Markup) -> Markup {
        let (from, to) = self.ends();
        let x = |v: f64| (v - from) / (to - from) * WIDTH;
        let at = |v: f64, y: f64| format!("{},{}", number(x(v)), number(y));
        let [a, b, c, d] = self.curve;
        let (rise, best) = (a.unwrap_or(from), b.unwrap_or(from));
        let corners = [
            at(rise, BASE),
            at(best, TOP),
            at(c.unwrap_or(to), TOP),
            at(d.unwrap_or(to), if d.is_none() { TOP } else { BASE }),
            at(d.unwrap_or(to), BASE),
        ];
        let title = format!(
            "{}{}",
            self.factor,
            if self.unit.is_empty() { String::new() } else { format!(", {}", self.unit) }
        );
        html! {
            div.strip.limits[self.limits] {
                h3 { (title) }
                svg viewBox=(format!("0 0 {WIDTH} 68")) role="img" aria-label=(self.words()) {
                    polygon.suits points=(corners.join(" ")) {}
                    line.base x1="0" y1=(BASE) x2=(WIDTH) y2=(BASE) {}
                    @if let Some([value, lo, hi]) = self.tank {
                        rect.open x=(number(x(lo))) y="2" width=(number((x(hi) - x(lo)).max(1.0))) height=(number(BASE - 2.0)) {}
                        line.value x1=(number(x(value))) y1="0" x2=(number(x(value))) y2=(BASE) {}
                    }
                    g aria-hidden="true" {
                        @for (v, anchor) in self.marks() {
                            text x=(number(x(v))) y="64" text-anchor=(anchor) { (v) }
                        }
                    }
                }
                p.soft { (self.words()) " " (note) }
            }
        }
    }

    /// The numbers under the base line that have room.
    fn marks(&self) -> Vec<(f64, &'static str)> {
        let (from, to) = self.ends();
        let mut shown: Vec<(f64, &'static str)> = Vec::new();
        for v in self.curve.iter().flatten().copied() {
            let share = (v - from) / (to - from);
            let near = shown.last().is_some_and(|(last, _)| (v - last) / (to - from) < 0.11);
            if !near {
                shown.push((
                    v,
                    if share > 0.93 {
                        "end"
                    } else if share < 0.05 {
                        "start"
                    } else {
                        "middle"
                    },
                ));
            }
        }
        shown
    }

    fn words(&self) -> String {
        let [a, b, c, d] = self.curve;
        let number = |v: Option<f64>| v.map_or(String::new(), |v| v.to_string());
        let best = match (c, d) {
            (Some(c), Some(d)) => {
                format!("nothing to {}, best {} to {c}, nothing from {d}", number(a), number(b))
            }
            _ => format!("nothing to {}, best from {} on", number(a), number(b)),
        };
        match self.tank {
            None => best,
            Some([value, lo, hi]) if lo < hi => format!("{best}; here {value} ({lo} to {hi})"),
            Some([value, ..]) => format!("{best}; here {value}"),
        }
    }
}
