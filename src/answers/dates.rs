//! Days of the calendar, and the local time of a zone over them. All arithmetic of dates is jiff's;
//! its own copy of the time zone database is used, so that every machine answers the same.

use jiff::civil::{Date, DateTime};
use jiff::tz::{Offset, TimeZone, TimeZoneDatabase};
use jiff::{Span, Timestamp};

use crate::diagnostic::{Finding, nearest};
use crate::planting::calendar::Clock;
use crate::report::view::{DayView, OffsetView, TimeZoneView};

/// Years in which a calendar may begin: four digits in every format, and rules of zones are known.
const YEARS: std::ops::RangeInclusive<i16> = 1970..=2900;
/// Near names of zones shown.
const NEAR: usize = 3;

/// Reads `2027-01-09`.
///
/// # Errors
/// A finding: not of this form, no such day, or a year out of range.
pub fn read_date(text: &str) -> Result<Date, Finding> {
    let malformed = || {
        Finding::error(format!("`{text}` is not a date")).expected("a date as YYYY-MM-DD, such as 2027-01-09")
    };
    let digits = |part: &str, length: usize| part.len() == length && part.bytes().all(|b| b.is_ascii_digit());
    let parts: Vec<&str> = text.trim().split('-').collect();
    let [year, month, day] = parts.as_slice() else { return Err(malformed()) };
    if !(digits(year, 4) && digits(month, 2) && digits(day, 2)) {
        return Err(malformed());
    }
    let number = |part: &str| part.parse::<i16>().map_err(|_| malformed());
    let (year, month, day) = (number(year)?, number(month)?, number(day)?);
    if !YEARS.contains(&year) {
        let finding = Finding::error(format!("a calendar that begins in {year}"));
        return Err(finding.expected(format!("a year from {} to {}", YEARS.start(), YEARS.end())));
    }
    Date::new(year, month as i8, day as i8).map_err(|_| no_such_day(text, year, month))
}

fn no_such_day(text: &str, year: i16, month: i16) -> Finding {
    let finding = Finding::error(format!("there is no day `{}`", text.trim()));
    match Date::new(year, month as i8, 1) {
        Ok(first) => finding.near([first.last_of_month().to_string()]),
        Err(_) => finding.expected("a month from 01 to 12"),
    }
}

/// Reads `08:30`.
///
/// # Errors
/// A finding: not of this form, or outside a day.
pub fn read_clock(text: &str) -> Result<Clock, Finding> {
    let number = |part: &str| {
        let digits = (1..=2).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
        digits.then(|| part.parse::<u16>().ok()).flatten()
    };
    let parts = text.trim().split_once(':');
    let clock = parts.and_then(|(h, m)| Clock::new(number(h)?, number(m)?));
    clock.ok_or_else(|| {
        Finding::error(format!("`{text}` is not a time of the day")).expected("HH:MM from 00:00 to 23:59")
    })
}

/// So many days from `start` on, `start` the first of them.
///
/// # Errors
/// A day beyond the calendar's end.
pub fn days(start: Date, count: u32) -> Result<Vec<DayView>, Finding> {
    (0..i64::from(count)).map(|n| day_after(start, n).map(shown)).collect()
}

fn day_after(start: Date, days: i64) -> Result<Date, Finding> {
    start
        .checked_add(Span::new().days(days))
        .map_err(|e| Finding::error(format!("the calendar does not reach {days} days after {start}: {e}")))
}

fn shown(date: Date) -> DayView {
    DayView { date: date.to_string(), weekday: date.strftime("%a").to_string() }
}

/// A zone of the IANA time zone database with its rules from `start` over so many days.
///
/// # Errors
/// An unknown name, with near ones.
pub fn zone_over(name: &str, start: Date, count: u32) -> Result<TimeZoneView, Finding> {
    let zones = TimeZoneDatabase::bundled();
    let zone = zones.get(name.trim()).map_err(|_| {
        let known: Vec<String> = zones.available().map(|n| n.to_string()).collect();
        Finding::error(format!("`{name}` is not a time zone"))
            .expected("a name of the IANA time zone database, such as Europe/Berlin")
            .near(nearest(name, known.iter().map(String::as_str), NEAR))
    })?;
    let impossible = |e: jiff::Error| Finding::error(format!("the time zone `{name}` on {start}: {e}"));
    let first = start.to_zoned_datetime(zone.clone()).map_err(impossible)?.timestamp();
    let last =
        day_after(start, i64::from(count))?.to_zoned_datetime(zone.clone()).map_err(impossible)?.timestamp();
    let name = zone.iana_name().unwrap_or(name).to_owned();
    Ok(TimeZoneView { name, offsets: offsets(&zone, first, last) })
}

/// The rule in force at `first`, and those that follow until `last`.
fn offsets(zone: &TimeZone, first: Timestamp, last: Timestamp) -> Vec<OffsetView> {
    let in_force = zone.to_offset_info(first);
    // The transition that brought the first rule; a zone without any has had it for ever.
    let began = zone.preceding(first).next().map(|t| t.timestamp());
    let begins = began.map_or(DateTime::constant(1970, 1, 1, 0, 0, 0, 0), |t| before(zone, t).to_datetime(t));
    let mut found = vec![OffsetView {
        begins: plain(begins),
        before: signed(began.map_or(in_force.offset(), |t| before(zone, t))),
        after: signed(in_force.offset()),
        name: in_force.abbreviation().to_owned(),
        summer: in_force.dst().is_dst(),
    }];
    for change in zone.following(first).take_while(|t| t.timestamp() <= last) {
        let before = before(zone, change.timestamp());
        found.push(OffsetView {
            begins: plain(before.to_datetime(change.timestamp())),
            before: signed(before),
            after: signed(change.offset()),
            name: change.abbreviation().to_owned(),
            summer: change.dst().is_dst(),
        });
    }
    found
}

/// The offset in force up to a transition.
fn before(zone: &TimeZone, change: Timestamp) -> Offset {
    let just_before = change.checked_sub(Span::new().seconds(1)).unwrap_or(change);
    zone.to_offset(just_before)
}

/// `20270328T020000`.
fn plain(time: DateTime) -> String {
    time.strftime("%Y%m%dT%H%M%S").to_string()
}

/// `+0530`; seconds, of times before zones, are left out where there are none.
fn signed(offset: Offset) -> String {
    let seconds = offset.seconds();
    let (sign, size) = (if seconds < 0 { '-' } else { '+' }, seconds.unsigned_abs());
    let (hours, minutes, rest) = (size / 3600, size / 60 % 60, size % 60);
    if rest == 0 {
        format!("{sign}{hours:02}{minutes:02}")
    } else {
        format!("{sign}{hours:02}{minutes:02}{rest:02}")
    }
}
