//! Small things that every drawing needs: addresses, figures in the reader's units, lists.

use maud::{Markup, html};
use serde_json::{Value, json};

use crate::report::view::RangeView;
use crate::units::{Interval, Length, Mass, Quantity, UnitSystem};

/// How the reader wants to see things; it travels in the address.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(in crate::page) struct Look {
    pub units: UnitSystem,
}

impl Look {
    /// An address of this page that keeps the reader's wishes.
    pub fn to(self, address: &str) -> String {
        match self.units {
            UnitSystem::Metric => address.to_owned(),
            UnitSystem::Us if address.contains('?') => format!("{address}&units=us"),
            UnitSystem::Us => format!("{address}?units=us"),
        }
    }

    /// A length.
    pub fn cm(self, value: f64) -> String {
        Length::from_cm(value).show(self.units)
    }

    /// A length without its unit.
    pub fn cm_number(self, value: f64) -> String {
        Length::from_cm(value).show_number(self.units)
    }

    /// A quantity, from its base unit.
    pub fn base<Q: Quantity>(self, value: f64) -> String {
        Q::from_base(value).show(self.units)
    }

    /// A range of a quantity, from its base unit.
    pub fn range<Q: Quantity>(self, range: RangeView) -> String {
        Interval::spanning(Q::from_base(range.lo), Q::from_base(range.hi)).show(self.units)
    }

    /// A mass, in whole units from 10 on: glass, bed and wood are known no better.
    pub fn mass(self, kg: f64) -> String {
        let unit = &Mass::UNITS[Mass::shown_in(self.units).0];
        let value = Mass::from_kg(kg).base() / unit.factor;
        let decimals = usize::from(value < 10.0);
        format!("{value:.decimals$} {}", unit.names[0])
    }
}

/// A range as two numbers, or one.
pub(in crate::page) fn plain(range: RangeView) -> String {
    if range.lo < range.hi { format!("{}–{}", range.lo, range.hi) } else { range.lo.to_string() }
}

/// A text that may stand in an id: letters and digits, the rest as hyphens. The script does the same.
pub(in crate::page) fn slug(text: &str) -> String {
    let mut slug = String::new();
    for c in text.chars() {
        if c.is_ascii_alphanumeric() {
            slug.push(c);
        } else if !slug.ends_with('-') {
            slug.push('-');
        }
    }
    slug.trim_end_matches('-').to_owned()
}

/// One line of a ledger.
pub(in crate::page) fn line(word: &str, what: &Markup) -> Markup {
    html! { div { dt { (word) } dd { (what) } } }
}

/// Cautions and what is left out, at the foot of an answer.
pub(in crate::page) fn cautions(cautions: &[String], left_out: &[String]) -> Markup {
    html! {
        @if !cautions.is_empty() {
            h2 { "Cautions" }
            ul.cautions { @for words in cautions { li { (words) } } }
        }
        @if !left_out.is_empty() {
            h2 { "Left out of the model" }
            ul.cautions { @for words in left_out { li { (words) } } }
        }
    }
}

/// The edit that makes a plant wished for: `keep`, `never` or `free`.
pub(in crate::page) fn wished(what: &str, taxon: &str) -> Value {
    json!({ "do": what, "taxon": taxon })
}

/// The edit that writes a value of the tank file.
pub(in crate::page) fn set(key: &str, value: &str) -> Value {
    json!({ "do": "set", "key": key, "value": value })
}

/// A button that changes the tank; `said` is read out when it is done.
pub(in crate::page) fn change(label: &str, changes: &Value, said: &str, about: &str) -> Markup {
    html! {
        button type="button" data-change=(changes) data-said=(said) {
            (label) @if !about.is_empty() { span.unseen { " " (about) } }
        }
    }
}
