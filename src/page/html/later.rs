//! What comes of the list: growth week by week, and the calendar.

use maud::{Markup, html};

use super::bits::Look;
use crate::report::svg::number;
use crate::report::view::{CalendarView, DriftCourseView, EntryView, GrowView, TrimView};

/// How the plants grow in.
pub(in crate::page) fn growth(view: &GrowView, look: Look) -> Markup {
    html! {
        section.scroll tabindex="0" aria-label="Growth" {
            table {
                caption { "Share of its ground under leaves, at planting and after some weeks; under it what the models leave open, and the height" }
                thead { tr {
                    th scope="col" { "plant" } th scope="col" { "zone" }
                    @for week in shown(view.weeks) { th.number scope="col" { @if week == 0 { "planted" } @else { "week " (week) } } }
                    th scope="col" { "cover" } th scope="col" { "first trim" }
                } }
                tbody { @for drift in &view.drifts { (course(drift, view.weeks, look)) } }
            }
        }
        @for words in &view.rests_on { p.soft { (words) } }
        @for words in &view.left_out { p.soft { "Left out: " (words) } }
    }
}

/// Weeks that have a column.
fn shown(weeks: u32) -> Vec<u32> {
    let step = (weeks / 3).max(1);
    (0..=weeks).filter(|w| w % step == 0).collect()
}

fn course(drift: &DriftCourseView, weeks: u32, look: Look) -> Markup {
    html! {
        tr {
            td { i { (drift.name) } @if drift.grown_in_air { br; span.soft { "leaves grown in air give way first" } } }
            td { (drift.zone) }
            @for week in shown(weeks) { td.number {
                @if let Some(state) = drift.weeks.iter().find(|w| w.week == week) {
                    (percent(state.cover.mid))
                    @if week > 0 { br; span.soft.range { (format!("{:.0}–{}", 100.0 * state.cover.low, percent(state.cover.high))) } }
                    br; span.soft { (look.cm(state.height_cm.mid)) }
                }
            } }
            td { (spark(drift, weeks)) }
            td { @if let Some(trim) = drift.trims.first() { (due(trim)) } @else { "none yet" } }
        }
    }
}

fn percent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}

fn due(trim: &TrimView) -> Markup {
    html! {
        "week " (trim.week)
        @if trim.latest != Some(trim.week) || trim.earliest != trim.week {
            " (" (trim.earliest) " to " @if let Some(latest) = trim.latest { (latest) } @else { "later" } ")"
        }
        br; span.soft { (trim.words) }
    }
}

/// The cover as a line, what is open as a band.
fn spark(drift: &DriftCourseView, weeks: u32) -> Markup {
    let x = |week: u32| number(f64::from(week) / f64::from(weeks.max(1)) * 100.0);
    let y = |share: f64| number(30.0 - 28.0 * share.clamp(0.0, 1.0));
    let line: Vec<String> = drift.weeks.iter().map(|w| format!("{},{}", x(w.week), y(w.cover.mid))).collect();
    let upper = drift.weeks.iter().map(|w| format!("{},{}", x(w.week), y(w.cover.high)));
    let lower = drift.weeks.iter().rev().map(|w| format!("{},{}", x(w.week), y(w.cover.low)));
    let band: Vec<String> = upper.chain(lower).collect();
    html! {
        svg.spark viewBox="0 0 100 32" preserveAspectRatio="none" aria-hidden="true" {
            polygon points=(band.join(" ")) {}
            polyline points=(line.join(" ")) {}
        }
    }
}

/// What to do when.
pub(in crate::page) fn calendar(view: &CalendarView) -> Markup {
    html! {
        p { "Planted on " (view.start.weekday) " " (view.start.date) "; " (view.weeks) " weeks"
            @if let Some(zone) = &view.zone { ", times of " (zone.name) } @else { ", local time" } "." }
        @if !view.timers.is_empty() {
            h3 { "Timers, every day" }
            ul { @for timer in &view.timers { li { (timed(timer)) } } }
        }
        div.weeks {
            @for week in &view.by_week {
                h3 { @if week.week == 0 { "The day of planting" } @else { "Week " (week.week) } span.soft { " " (week.from.date) @if week.from != week.to { " to " (week.to.date) } } }
                ul { @for item in &week.items { li {
                    (item.day.weekday) " " (item.day.date) ": " (item.title)
                    @for more in &item.details { br; span.soft { (more) } }
                } } }
            }
        }
        @for words in &view.left_out { p.soft { "Left out: " (words) } }
    }
}

fn timed(timer: &EntryView) -> Markup {
    html! {
        (timer.title)
        @if let (Some(from), Some(minutes)) = (&timer.from, timer.minutes) { ": from " (from) " for " (minutes / 60) " h"
            @if minutes % 60 > 0 { " " (minutes % 60) " min" } }
        @for more in &timer.details { br; span.soft { (more) } }
    }
}
