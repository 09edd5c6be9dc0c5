//! The calendar of a tank: what to do when, with dates.
//!
//! Dates come in ready made, one a day; here they are only looked up.

use schemars::JsonSchema;
use serde::Serialize;
use sha2::{Digest, Sha256};

use super::calendar_words::{Speaker, Told};
use crate::catalogue::Plant;
use crate::planting::calendar::{Clock, Entry, WEEK, When};
use crate::tank::TankModel;
use crate::units::UnitSystem;

/// A day of the calendar.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct DayView {
    /// `2027-01-09`.
    pub date: String,
    /// `Sat`.
    pub weekday: String,
}

/// One entry with its rule of coming back.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct EntryView {
    /// What it is in this calendar, the same from one run to the next.
    pub key: String,
    /// The same for the whole world: a hash of the tank's name and the key.
    pub uid: String,
    /// What to do, in a few words.
    pub title: String,
    /// More about it.
    pub details: Vec<String>,
    /// Where it comes from.
    pub basis: String,
    /// The first day.
    #[serde(flatten)]
    pub day: DayView,
    /// Local time at which it begins, `12:00`; nothing for the day as a whole.
    pub from: Option<String>,
    /// How long it lasts.
    pub minutes: Option<u32>,
    /// Days from one to the next.
    pub every_days: u32,
    /// How many times in all.
    pub times: u32,
}

/// An entry on one of its days.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ItemView {
    /// The day.
    #[serde(flatten)]
    pub day: DayView,
    /// Key of the entry.
    pub key: String,
    /// Its title.
    pub title: String,
    /// Its details, where it comes for the first time.
    pub details: Vec<String>,
}

/// A week with what falls in it; timers are left out.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct WeekListView {
    /// 0 for the day of planting alone, then counted from 1: week 1 is the seven days after it.
    pub week: u32,
    /// Its first day.
    pub from: DayView,
    /// Its last day.
    pub to: DayView,
    /// What falls in it, by day.
    pub items: Vec<ItemView>,
}

/// A rule of a time zone: local time from a moment on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct OffsetView {
    /// When it begins, in the local time before it: `20270328T020000`.
    pub begins: String,
    /// Offset before it: `+0100`.
    pub before: String,
    /// Offset from then on: `+0200`.
    pub after: String,
    /// Its abbreviation: `CEST`.
    pub name: String,
    /// Whether it is summer time.
    pub summer: bool,
}

/// A time zone over the days of the calendar.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct TimeZoneView {
    /// Its name in the IANA time zone database.
    pub name: String,
    /// Its rules over these days, the first in force at their start.
    pub offsets: Vec<OffsetView>,
}

/// What `calendar` answers.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CalendarView {
    /// The tank.
    pub tank: String,
    /// The day of filling and planting.
    pub start: DayView,
    /// How many weeks.
    pub weeks: u32,
    /// The time zone; nothing for local time wherever the calendar is read.
    pub zone: Option<TimeZoneView>,
    /// What timers do daily.
    pub timers: Vec<EntryView>,
    /// What a person does.
    pub entries: Vec<EntryView>,
    /// The same, week by week.
    pub by_week: Vec<WeekListView>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// What the calendar does not know.
    pub left_out: Vec<String>,
}

/// What a calendar view is made of.
#[derive(Debug, Clone, Copy)]
pub struct CalendarParts<'a> {
    /// The tank.
    pub model: &'a TankModel,
    /// The taxon of every drift.
    pub plants: &'a [&'a Plant],
    /// The entries, timers first.
    pub entries: &'a [Entry],
    /// Every day from the first on, at least as many as the entries reach.
    pub days: &'a [DayView],
    /// How many weeks.
    pub weeks: u32,
    /// The units of the words.
    pub units: UnitSystem,
}

/// The view of a calendar. Entries beyond the last of `days` are left out.
pub fn calendar_view(parts: &CalendarParts<'_>, zone: Option<TimeZoneView>) -> CalendarView {
    let speaker = Speaker { model: parts.model, plants: parts.plants, units: parts.units };
    let told: Vec<(&Entry, EntryView)> = parts
        .entries
        .iter()
        .filter_map(|entry| Some((entry, entry_view(parts, entry, speaker.tell(entry))?)))
        .collect();
    let timer = |entry: &Entry| matches!(entry.when, When::Span { .. });
    let weeks = (parts.days.len().saturating_sub(1)).div_ceil(WEEK as usize);
    let by_week = (0..=weeks).filter_map(|week| week_list(parts.days, &told, week)).collect();
    let (timers, entries): (Vec<_>, Vec<_>) = told.into_iter().partition(|(entry, _)| timer(entry));
    let views = |list: Vec<(&Entry, EntryView)>| list.into_iter().map(|(_, view)| view).collect();
    CalendarView {
        tank: parts.model.spec.name.clone(),
        start: parts.days.first().cloned().unwrap_or(DayView { date: String::new(), weekday: String::new() }),
        weeks: parts.weeks,
        zone,
        timers: views(timers),
        entries: views(entries),
        by_week,
        cautions: super::cautions(parts.model, parts.plants),
        left_out: left_out(),
    }
}

fn entry_view(parts: &CalendarParts<'_>, entry: &Entry, told: Told) -> Option<EntryView> {
    let (from, minutes) = match entry.when {
        When::Day => (None, None),
        When::Span { from, length } => (Some(clock(from)), Some((length.hours() * 60.0).round() as u32)),
    };
    Some(EntryView {
        key: entry.key.clone(),
        uid: uid(&parts.model.spec.name, &entry.key),
        title: told.title,
        details: told.details,
        basis: told.basis,
        day: parts.days.get(entry.day as usize)?.clone(),
        from,
        minutes,
        every_days: entry.repeat.every_days,
        times: entry.repeat.times,
    })
}

/// `08:05`.
pub(super) fn clock(time: Clock) -> String {
    let (hour, minute) = time.parts();
    format!("{hour:02}:{minute:02}")
}

/// 128 bits of SHA-256 over the tank's name and the key: the same entry of the same tank has the
/// same identity from one run to the next, so that a calendar read in again replaces the old one.
fn uid(tank: &str, key: &str) -> String {
    let digest = Sha256::digest(format!("{tank}\n{key}"));
    let half: [u8; 16] = std::array::from_fn(|byte| digest[byte]);
    format!("{:032x}@quillwort", u128::from_be_bytes(half))
}

fn week_list(days: &[DayView], told: &[(&Entry, EntryView)], week: usize) -> Option<WeekListView> {
    let (first, last) = match (week * WEEK as usize).checked_sub(WEEK as usize) {
        None => (0, 0),
        Some(before) => (before + 1, (before + WEEK as usize).min(days.len() - 1)),
    };
    let mut items = Vec::new();
    for (day, view) in days.iter().enumerate().take(last + 1).skip(first) {
        let today = told
            .iter()
            .filter(|(entry, _)| matches!(entry.when, When::Day) && entry.days().any(|d| d as usize == day));
        items.extend(today.map(|(entry, told)| ItemView {
            day: view.clone(),
            key: entry.key.clone(),
            title: told.title.clone(),
            details: if entry.day as usize == day { told.details.clone() } else { Vec::new() },
        }));
    }
    let list = WeekListView { week: week as u32, from: days[first].clone(), to: days[last].clone(), items };
    (!list.items.is_empty()).then_some(list)
}

fn left_out() -> Vec<String> {
    vec![
        "Doses: follow the maker's, begin low. Holidays, illness of animals, failures of gear.".to_owned(),
        "Days of care are common practice, no source; trims are predicted from the growth model, see `grow`, and \
         shift with what the tank does: look first, then cut."
            .to_owned(),
    ]
}
