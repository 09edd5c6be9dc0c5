//! A calendar as text, week by week.

use super::lines::{Page, bullets, quiet, strong};
use crate::report::view::{CalendarView, DayView, EntryView, ItemView};

/// The whole report of `calendar`.
pub fn calendar(page: &mut Page, view: &CalendarView) {
    let zone = view.zone.as_ref().map_or("local time", |z| z.name.as_str());
    let aside = format!("{} weeks from {}, {zone}", view.weeks, dated(&view.start));
    page.heading_with(&format!("{}, calendar", view.tank), &aside);
    page.gap();
    page.heading("Every day");
    for timer in &view.timers {
        timed(page, timer);
    }
    for week in &view.by_week {
        page.gap();
        if week.week == 0 {
            page.heading_with("Day of planting", &dated(&week.from));
        } else {
            let aside = format!("{} to {}", dated(&week.from), dated(&week.to));
            page.heading_with(&format!("Week {}", week.week), &aside);
        }
        let mut day = "";
        for item in &week.items {
            let shown = if item.day.date == day { None } else { Some(&item.day) };
            day = &item.day.date;
            task(page, item, shown);
        }
    }
    bullets(page, "Cautions", &view.cautions);
    bullets(page, "Left out", &view.left_out);
}

/// "Sat 2027-01-09".
fn dated(day: &DayView) -> String {
    format!("{} {}", day.weekday, day.date)
}

fn timed(page: &mut Page, timer: &EntryView) {
    page.paragraph(&strong(&timer.title), 2);
    let mut words = timer.details.clone();
    words.push(format!("({})", timer.basis));
    page.paragraph(&quiet(&words.join(" ")), 4);
}

fn task(page: &mut Page, item: &ItemView, day: Option<&DayView>) {
    // "Sat 01-09" where it is a new day, blanks below it.
    let label = day.map_or_else(String::new, |d| format!("{} {}", d.weekday, d.date.get(5..).unwrap_or("")));
    page.hanging(&format!("{label:<11}"), &strong(&item.title), 2);
    for detail in &item.details {
        page.hanging("", &quiet(detail), 13);
    }
}
