//! A calendar as CSV, one row an entry and day; timers once, with their hours.

use super::table;
use crate::report::view::{CalendarView, EntryView};

const HEADER: [&str; 9] =
    ["date", "weekday", "week", "from", "minutes", "everyDays", "times", "key", "title"];

/// The dated rows.
///
/// # Errors
/// As [`table`].
pub fn calendar(view: &CalendarView) -> Result<String, ::csv::Error> {
    let mut rows: Vec<Vec<String>> = view.timers.iter().map(timer).collect();
    for week in &view.by_week {
        rows.extend(week.items.iter().map(|item| {
            let mut row = vec![item.day.date.clone(), item.day.weekday.clone(), week.week.to_string()];
            row.extend(["", "", "", ""].map(str::to_owned));
            row.extend([item.key.clone(), item.title.clone()]);
            row
        }));
    }
    table(&HEADER, &rows)
}

fn timer(entry: &EntryView) -> Vec<String> {
    vec![
        entry.day.date.clone(),
        entry.day.weekday.clone(),
        "0".to_owned(),
        entry.from.clone().unwrap_or_default(),
        entry.minutes.map(|m| m.to_string()).unwrap_or_default(),
        entry.every_days.to_string(),
        entry.times.to_string(),
        entry.key.clone(),
        entry.title.clone(),
    ]
}
