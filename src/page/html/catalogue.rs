//! The catalogue: a question on the left, the plants that answer it on the right.

use maud::{Markup, html};

use super::bits::{Look, slug};
use crate::page::asked::Asked;
use crate::report::view::{CountView, FindView, FoundView};

/// Values of an open facet that are shown at once.
const SHOWN: usize = 12;
/// The facets and what they are called.
const FACETS: [(&str, &str); 12] = [
    ("placement", "Place in the layout"),
    ("growthForm", "Habit"),
    ("light", "Need of light"),
    ("gas", "Need of gas"),
    ("growth", "Growth"),
    ("footing", "Holds on to"),
    ("feeding", "Feeds by"),
    ("colour", "Colour"),
    ("texture", "Foliage"),
    ("family", "Family"),
    ("native", "Native to"),
    ("law", "Named in a law of"),
];
/// The ranges, what they are called and how one is written.
const RANGES: [(&str, &str, &str); 6] = [
    ("height", "Height, cm", "3..10"),
    ("ppfd", "Light, µmol/m²/s", "20..60"),
    ("temperature", "Temperature, °C", "22..25"),
    ("ph", "pH", "6.5..7.2"),
    ("gh", "GH, dGH", "4..8"),
    ("kh", "KH, dKH", "2..6"),
];
/// The orders and what they are called.
pub(in crate::page) const ORDERS: [(&str, &str); 4] =
    [("", "best match"), ("name", "name"), ("height", "height"), ("light", "need of light")];

/// The page.
pub(in crate::page) fn catalogue(view: &FindView, asked: &Asked, places: &[String], look: Look) -> Markup {
    html! {
        h1 { "The catalogue" }
        form.look data-look action="/catalogue" method="get" {
            @if look.to("x") != "x" { input type="hidden" name="units" value="us"; }
            div {
                div.field {
                    label for="words" { "Words" }
                    input.search #words name="words" type="search" value=(asked.one("words").unwrap_or_default()) autocomplete="off"
                        spellcheck="false" aria-describedby="words-hint";
                    p.hint #words-hint { "names in any language, families, looks: red stem low light" }
                }
                div.field {
                    label for="sort" { "Sorted by" }
                    select #sort name="sort" { @for (value, label) in ORDERS {
                        option value=(value) selected[asked.one("sort").unwrap_or_default() == value] { (label) }
                    } }
                }
                div.field {
                    label for="jurisdiction" { "Leave out what a law restricts in" }
                    select #jurisdiction name="jurisdiction" {
                        option value="" { "nowhere: show all" }
                        @for place in places { option value=(place) selected[asked.one("jurisdiction") == Some(place)] { (place) } }
                    }
                    p.hint { "Lists carried here are partial and dated. Not legal advice." }
                }
                (ranges(asked))
                button.first type="submit" { "Look" }
                p { a href=(look.to("/catalogue")) { "Begin anew" } }
            }
            div #found data-done="#total" { (found(view, asked, look)) }
        }
    }
}

fn ranges(asked: &Asked) -> Markup {
    html! {
        details open[RANGES.iter().any(|(r, ..)| asked.one(r).is_some())] {
            summary { "Ranges" }
            div.inside.fields { @for (name, label, example) in RANGES {
                div.field {
                    label for={ "range-" (name) } { (label) }
                    input id={ "range-" (name) } type="text" name=(name) value=(asked.one(name).unwrap_or_default()) placeholder=(example) autocomplete="off";
                }
            } }
        }
    }
}

/// The answer: facets with their counts, and the plants.
pub(in crate::page) fn found(view: &FindView, asked: &Asked, look: Look) -> Markup {
    let until = view.offset + view.hits.len();
    html! {
        details.facets #narrow open[FACETS.iter().any(|(f, _)| asked.all(f).next().is_some())] {
            summary { "Narrow down" }
            div.inside { @for (facet, label) in FACETS {
                @if let Some(counts) = view.facets.get(facet) { (facet_field(facet, label, counts, asked)) }
            } }
        }
        div.results {
            p #total { (view.total) @if view.total == 1 { " plant answers." } @else { " plants answer." }
                @if view.total > view.hits.len() && until > 0 { " Shown: " (view.offset + 1) " to " (until) "." } }
            @if view.total == 0 { p { "No plant answers all of this. Take a word or a tick away." } }
            ol.found { @for hit in &view.hits { (hit_line(hit, look)) } }
            (pages(view, asked))
        }
    }
}

fn facet_field(facet: &str, label: &str, counts: &[CountView], asked: &Asked) -> Markup {
    let ticked = |count: &CountView| asked.all(facet).any(|v| v == count.value);
    let shown = counts.iter().enumerate().filter(|(i, c)| *i < SHOWN || ticked(c)).map(|(_, c)| c);
    html! {
        fieldset.facet {
            legend { (label) }
            @for count in shown {
                @let id = slug(&format!("facet {facet} {}", count.value));
                label {
                    input id=(id) type="checkbox" name=(facet) value=(count.value) checked[ticked(count)];
                    span { (count.label) }
                    span.count { (count.count) span.unseen { " plants" } }
                }
            }
            @if counts.len() > SHOWN { p.hint { "and " (counts.len() - SHOWN) " more; write one among the words" } }
        }
    }
}

fn hit_line(hit: &FoundView, look: Look) -> Markup {
    let same = hit.vernacular.eq_ignore_ascii_case(&hit.name);
    html! {
        li {
            span { a href=(look.to(&format!("/plants/{}", hit.taxon))) { (hit.name) }
                @if let Some(matched) = &hit.matched { span.soft { " — found as " (matched) } } }
            span.size { (look.cm_number(hit.height_min_cm)) "–" (look.cm(hit.height_max_cm)) }
            span.aside { @if !same { (hit.vernacular) " · " } (hit.growth_form) " · " (hit.placement.join(", ")) " · " (hit.light) " · " (hit.gas) }
        }
    }
}

fn pages(view: &FindView, asked: &Asked) -> Markup {
    let size = view.hits.len().max(1);
    let at = |offset: usize| format!("/catalogue?{}", asked.with("offset", &offset.to_string()));
    html! {
        @if view.total > size {
            nav.row aria-label="More plants" {
                @if view.offset > 0 { a.button href=(at(view.offset.saturating_sub(size))) { "Before" } }
                @if view.offset + view.hits.len() < view.total { a.button href=(at(view.offset + size)) { "After" } }
            }
        }
    }
}
