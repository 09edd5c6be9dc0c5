//! A calendar as iCalendar (RFC 5545).
//!
//! The writer is ours: the crates at hand fill in the clock's time and random identities wherever
//! a component has none, time zones included, which breaks the standard and the rule of same bytes.
//! `tools/calendar_check.py` reads what comes out with the `icalendar` and `dateutil` packages.
//!
//! Timers are events at local times that come back daily; care is events of whole days, which no
//! change of clocks can move. With a time zone, times name it and its rules over these days are
//! written out (VTIMEZONE); without one they are local wherever the calendar is read.

use super::view::{CalendarView, EntryView, OffsetView, TimeZoneView};

/// Octets of a content line, its break left out (RFC 5545, 3.1).
const LINE: usize = 75;

/// Whether a program should remind a person of care.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Alarms {
    /// No.
    None,
    /// At nine in the morning of the day.
    Mornings,
}

/// The whole calendar.
pub fn ics(view: &CalendarView, alarms: Alarms) -> String {
    let mut out = Lines::default();
    out.line("BEGIN:VCALENDAR");
    out.line("VERSION:2.0");
    out.line(concat!("PRODID:-//Quillwort//Quillwort ", env!("CARGO_PKG_VERSION"), "//EN"));
    out.line("CALSCALE:GREGORIAN");
    // NAME is of RFC 7986, 5.1.
    out.text("NAME", &view.tank);
    if let Some(zone) = &view.zone {
        out.zone(zone);
    }
    // The day of planting stands for "when it was made": the same plan gives the same bytes.
    let stamp = format!("{}T000000Z", plain(&view.start.date));
    for entry in view.timers.iter().chain(&view.entries) {
        out.event(entry, view.zone.as_ref(), &stamp, alarms);
    }
    out.line("END:VCALENDAR");
    out.0
}

/// `20270109` of `2027-01-09`.
fn plain(date: &str) -> String {
    date.replace('-', "")
}

/// Content lines, folded, each ended by CR LF.
#[derive(Default)]
struct Lines(String);

impl Lines {
    /// One content line, folded so that no line is longer than [`LINE`] octets and no character is
    /// cut.
    fn line(&mut self, content: &str) {
        let mut room = LINE;
        for c in content.chars() {
            if c.len_utf8() > room {
                self.0.push_str("\r\n ");
                room = LINE - 1;
            }
            self.0.push(c);
            room -= c.len_utf8();
        }
        self.0.push_str("\r\n");
    }

    /// A property of type TEXT (RFC 5545, 3.3.11).
    fn text(&mut self, name: &str, value: &str) {
        let mut escaped = String::with_capacity(value.len());
        for c in value.chars() {
            match c {
                '\\' | ';' | ',' => escaped.extend(['\\', c]),
                '\n' => escaped.push_str("\\n"),
                c if c.is_control() => {}
                c => escaped.push(c),
            }
        }
        self.line(&format!("{name}:{escaped}"));
    }

    fn event(&mut self, entry: &EntryView, zone: Option<&TimeZoneView>, stamp: &str, alarms: Alarms) {
        self.line("BEGIN:VEVENT");
        self.line(&format!("UID:{}", entry.uid));
        self.line(&format!("DTSTAMP:{stamp}"));
        let date = plain(&entry.day.date);
        match (&entry.from, entry.minutes) {
            (Some(from), Some(minutes)) => {
                let time = format!("{date}T{}00", from.replace(':', ""));
                match zone {
                    Some(zone) => self.line(&format!("DTSTART;TZID={}:{time}", zone.name)),
                    None => self.line(&format!("DTSTART:{time}")),
                }
                self.line(&format!("DURATION:PT{}H{}M", minutes / 60, minutes % 60));
            }
            // An event of a date without an end lasts that day (RFC 5545, 3.6.1).
            _ => self.line(&format!("DTSTART;VALUE=DATE:{date}")),
        }
        if entry.times > 1 {
            self.line(&format!("RRULE:{}", rule(entry)));
        }
        self.text("SUMMARY", &entry.title);
        let mut details = entry.details.clone();
        details.push(format!("Basis: {}.", entry.basis));
        self.text("DESCRIPTION", &details.join("\n"));
        self.line("TRANSP:TRANSPARENT");
        if alarms == Alarms::Mornings && entry.from.is_none() {
            self.alarm(&entry.title);
        }
        self.line("END:VEVENT");
    }

    fn alarm(&mut self, title: &str) {
        self.line("BEGIN:VALARM");
        self.line("ACTION:DISPLAY");
        self.line("TRIGGER:PT9H");
        self.text("DESCRIPTION", title);
        self.line("END:VALARM");
    }

    fn zone(&mut self, zone: &TimeZoneView) {
        self.line("BEGIN:VTIMEZONE");
        self.line(&format!("TZID:{}", zone.name));
        for offset in &zone.offsets {
            self.offset(offset);
        }
        self.line("END:VTIMEZONE");
    }

    fn offset(&mut self, offset: &OffsetView) {
        let kind = if offset.summer { "DAYLIGHT" } else { "STANDARD" };
        self.line(&format!("BEGIN:{kind}"));
        self.line(&format!("DTSTART:{}", offset.begins));
        self.line(&format!("TZOFFSETFROM:{}", offset.before));
        self.line(&format!("TZOFFSETTO:{}", offset.after));
        self.text("TZNAME", &offset.name);
        self.line(&format!("END:{kind}"));
    }
}

/// The recurrence: weekly where it comes in whole weeks, else daily.
fn rule(entry: &EntryView) -> String {
    let (frequency, interval) = if entry.every_days.is_multiple_of(7) {
        ("WEEKLY", entry.every_days / 7)
    } else {
        ("DAILY", entry.every_days)
    };
    let interval = if interval > 1 { format!(";INTERVAL={interval}") } else { String::new() };
    format!("FREQ={frequency}{interval};COUNT={}", entry.times)
}
