//! The calendar as a chapter of the sheet: a heading a week, a list a day, a box to tick a task.

use maud::{Markup, html};

use crate::report::view::{CalendarView, DayView, EntryView, ItemView, WeekListView};

/// The chapter.
pub(super) fn calendar(view: &CalendarView) -> Markup {
    let zone = view.zone.as_ref().map_or("local time", |z| z.name.as_str());
    html! {
        section.calendar {
            h2 { "What to do when" }
            p.aside { (view.weeks) " weeks from " (dated(&view.start)) ", " (zone) "." }
            div.week {
                h3 { "Every day" }
                ul { @for timer in &view.timers { (daily(timer)) } }
            }
            @for week in &view.by_week { (week_list(week)) }
            h3 { "Left out" }
            ul { @for item in &view.left_out { li { (item) } } }
        }
    }
}

fn dated(day: &DayView) -> String {
    format!("{} {}", day.weekday, day.date)
}

fn daily(timer: &EntryView) -> Markup {
    html! {
        li {
            (timer.title)
            @for detail in &timer.details { span.detail { (detail) } }
            span.detail { "(" (timer.basis) ")" }
        }
    }
}

fn week_list(week: &WeekListView) -> Markup {
    html! {
        div.week {
            h3 {
                @if week.week == 0 { "Day of planting" } @else { "Week " (week.week) }
                span.aside {
                    (dated(&week.from)) @if week.week > 0 { " to " (dated(&week.to)) }
                }
            }
            dl {
                @for today in week.items.chunk_by(|a, b| a.day == b.day) {
                    @if let Some(first) = today.first() {
                        // The year stands in the heading.
                        dt { (first.day.weekday) " " (first.day.date.get(5..).unwrap_or_default()) }
                    }
                    dd { ul.tasks { @for item in today { (task(item)) } } }
                }
            }
        }
    }
}

fn task(item: &ItemView) -> Markup {
    html! {
        li {
            (item.title)
            @for detail in &item.details { span.detail { (detail) } }
        }
    }
}
