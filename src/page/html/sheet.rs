//! The sheet: what one takes to the shop and to the tank, made to be printed.

use maud::{Markup, html};

use super::bits::{Look, cautions};
use super::later;
use super::list::judged_words;
use crate::page::asked::Asked;
use crate::page::rooms::SheetAnswer;
use crate::report::view::FillView;

/// The page.
pub(in crate::page) fn page(asked: &Asked, start: &str, drawn: &Markup) -> Markup {
    let look = asked.look();
    let lights_on = asked.one("lights_on").unwrap_or("12:00");
    let dated = asked.with("start", start);
    html! {
        form.row.no-print action="/sheet" method="get" {
            @if look.to("x") != "x" { input type="hidden" name="units" value="us"; }
            label for="start" { "Planted on" }
            span { input #start type="date" name="start" value=(start); }
            label for="lights-on" { "Light from" }
            span { input #lights-on type="time" name="lights_on" value=(lights_on); }
            button type="submit" { "Date it" }
            button.first type="button" data-print { "Print" }
        }
        ul.downloads.no-print {
            li { a.button href=(look.to(&format!("/api/plan/sheet.html?{dated}"))) download { "All of it on one page (.html)" } }
            li { a.button href="/api/plan/shopping.csv" download { "What to buy (.csv)" } }
            li { a.button href="/api/desk/tank.toml" download { "The tank (.toml)" } }
            li { a.button href=(look.to("/api/tank/light.svg")) download="light.svg" { "Light (.svg)" } }
            li { a.button href="/api/fill/list.csv" download { "The list (.csv)" } }
            li { a.button href=(look.to("/api/plan.svg?week=0")) download="plan.svg" { "Plan (.svg)" } }
            li { a.button href=(look.to("/api/front.svg?week=12")) download="front.svg" { "Front (.svg)" } }
            li { a.button href=(look.to("/api/grow/growth.svg")) download="growth.svg" { "Growth (.svg)" } }
            li { a.button href="/api/grow/growth.csv" download { "Growth (.csv)" } }
            li { a.button href={ "/api/calendar/calendar.ics?" (dated) } download { "The calendar (.ics)" } }
        }
        (drawn)
    }
}

/// The sheet itself.
pub(in crate::page) fn drawn(answer: &SheetAnswer, look: Look) -> Markup {
    let fill = &answer.list.view;
    html! {
        h1 { (fill.tank.name) }
        p.soft { (look.cm_number(fill.tank.length_cm)) " × " (look.cm_number(fill.tank.depth_cm)) " × " (look.cm(fill.tank.height_cm))
            ", " (fill.tank.light_hours) " h of light a day" }
        @if answer.later.is_some() { (shopping(fill)) } @else {
            div.notice { p { "There is no list to print yet: see " a href=(look.to("/list")) { "the list" } "." } }
        }
        @if answer.later.is_some() { (drawings(look)) }
        section.leaf {
            h2 { "The light on the bed" }
            figure.mounted { img src=(look.to("/api/tank/light.svg")) alt="The light on the bed, drawn to scale; its figures are on the page of the tank"; }
        }
        @if let Some((grow, calendar)) = &answer.later {
            section.leaf { h2 { "How it grows in" } (later::growth(grow, look)) }
            section.leaf { h2 { "What to do when" } (later::calendar(calendar)) }
        }
        (cautions(&fill.cautions, &fill.left_out))
    }
}

/// The planted tank from above and from the front, as planted and grown in.
fn drawings(look: Look) -> Markup {
    let views = [
        (
            "/api/plan.svg?week=0",
            "From above, as planted",
            "Plan of the planted tank with the place of every plant",
        ),
        (
            "/api/front.svg?week=12",
            "From the front, twelve weeks on",
            "The planted tank from the front after twelve weeks",
        ),
    ];
    html! {
        @for (at, title, alt) in views {
            section.leaf { h2 { (title) } figure.mounted { img src=(look.to(at)) alt=(alt); } }
        }
    }
}

fn shopping(fill: &FillView) -> Markup {
    html! {
        h2 { "To buy" }
        section.scroll tabindex="0" aria-label="To buy" {
            table {
                thead { tr { th.number scope="col" { "portions" } th scope="col" { "plant" } th scope="col" { "zone" }
                    th.number scope="col" { "places" } th.number scope="col" { "each" } th.number scope="col" { "cost" } } }
                tbody { @for zone in &fill.zones { @for pick in &zone.picks { tr {
                    td.number { (pick.portions) }
                    td { i { (pick.judged.name) } br; span.soft { (pick.judged.vernacular) } }
                    td { (fill.tank.zones[zone.zone].name) }
                    td.number { (pick.places) }
                    td.number { (pick.price.as_deref().unwrap_or("–")) }
                    td.number { (pick.cost.as_deref().unwrap_or("–")) }
                } } } }
            }
        }
        @if let Some(totals) = &fill.totals {
            p { (totals.portions) " portions of " (totals.taxa) " taxa"
                @if !totals.currency.is_empty() { ", " (totals.cost) " " (totals.currency) } "."
                @if !totals.price_origins.is_empty() { " Prices: " (totals.price_origins.join("; ")) "." } }
        }
        h2 { "Why these" }
        @for zone in &fill.zones {
            h3 { (fill.tank.zones[zone.zone].name) }
            ul { @for pick in &zone.picks { li {
                i { (pick.judged.name) } " " (pick.judged.verdict) ": " (judged_words(&pick.judged))
                @for flag in &pick.judged.flags { br; "! " (flag) }
            } } }
        }
    }
}
