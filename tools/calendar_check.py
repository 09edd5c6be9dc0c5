#!/usr/bin/env python3
"""Reads our calendars with software from outside.

For every demo tank and several starts, `quillwort calendar --ics` writes a file that is read by the
PyPI package icalendar (RFC 5545) and whose recurrences are expanded by python-dateutil. Checked:
required properties, identities, counts, the days of every entry against our own CSV, local times
that stay the same when clocks change, offsets against the zoneinfo of Python, line lengths, and the
same bytes from a second run.

    tools/calendar_check.py [PROGRAM] [LIBRARY]
"""

import csv
import datetime as dt
import io
import pathlib
import subprocess
import sys
import tempfile
import zoneinfo

import icalendar
from dateutil.rrule import rrulestr

ROOT = pathlib.Path(__file__).resolve().parent.parent
DEMOS = ["attic-lowtech.toml", "shelf-gassed.toml", "hall-hardwater.toml"]
# Starts whose weeks cross a change of clocks, forward and back, in both hemispheres; one leap day;
# one zone without changes; one with an offset that is no whole hour; and local time without a zone.
STARTS = [
    ("2027-01-09", "Europe/Berlin"),
    ("2027-03-28", "Europe/Berlin"),
    ("2027-09-20", "Europe/London"),
    ("2027-10-31", "America/New_York"),
    ("2027-02-15", "Australia/Lord_Howe"),
    ("2028-02-29", "Asia/Kolkata"),
    ("2028-02-29", None),
]
WEEKS = 13


def run(program, library, demo, start, zone, extra):
    command = [program, "--library", library, "calendar", f"data/demo/{demo}", "--start", start]
    command += ["--weeks", str(WEEKS), *extra]
    if zone:
        command += ["--zone", zone]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, check=False)
    if done.returncode != 0:
        sys.exit(f"{' '.join(command)}: exit {done.returncode}\n{done.stderr.decode()}")
    return done.stdout


def expanded(event):
    """The starts of an event, in local time where it has one."""
    start = event.decoded("DTSTART")
    if "RRULE" not in event:
        return [start]
    rule = event["RRULE"].to_ical().decode()
    whole_day = not isinstance(start, dt.datetime)
    first = dt.datetime.combine(start, dt.time()) if whole_day else start
    days = list(rrulestr(rule, dtstart=first))
    return [d.date() for d in days] if whole_day else days


class Check:
    def __init__(self, where):
        self.where = where
        self.faults = []
        self.facts = 0

    def hold(self, true, what):
        self.facts += 1
        if not true:
            self.faults.append(f"{self.where}: {what}")


def check_lines(check, raw):
    check.hold(raw.endswith(b"END:VCALENDAR\r\n"), "the file ends with its calendar")
    for line in raw.split(b"\r\n"):
        check.hold(len(line) <= 75, f"{len(line)} octets in a line: {line[:40]!r}")
        check.hold(b"\n" not in line and b"\r" not in line, f"a bare line break in {line[:40]!r}")
        line.decode("utf-8")


def check_event(check, event, zone, uids):
    for name in ["UID", "DTSTAMP", "DTSTART", "SUMMARY", "DESCRIPTION"]:
        check.hold(name in event, f"{event.get('UID')} has no {name}")
    check.hold(event["UID"] not in uids, f"{event['UID']} comes twice")
    uids.add(event["UID"])
    check.hold(not event.errors, f"{event['UID']}: {event.errors}")
    days = expanded(event)
    count = int(event["RRULE"]["COUNT"][0]) if "RRULE" in event else 1
    check.hold(len(days) == count, f"{event['UID']}: {len(days)} days, COUNT is {count}")
    if isinstance(days[0], dt.datetime):
        check.hold("DURATION" in event, f"{event['UID']} has a time but no duration")
        clock = {d.time() for d in days}
        check.hold(len(clock) == 1, f"{event['UID']}: local time changes: {sorted(map(str, clock))}")
        if zone:
            check.hold(str(event["DTSTART"].params["TZID"]) == zone, "the time names its zone")
        else:
            check.hold(days[0].tzinfo is None, "the time is local without a zone")
    return days


def check_zone(check, calendar, zone, days):
    """The rules written out give the offsets of the time zone database."""
    parts = list(calendar.walk("VTIMEZONE"))
    check.hold(len(parts) == (1 if zone else 0), f"{len(parts)} time zones")
    if not zone:
        return 0
    check.hold(str(parts[0]["TZID"]) == zone, "the zone has its name")
    rules = sorted(
        (part.decoded("DTSTART"), part.decoded("TZOFFSETFROM"), part.decoded("TZOFFSETTO"))
        for part in parts[0].subcomponents
    )
    theirs = zoneinfo.ZoneInfo(zone)
    changes = set()
    for day in days:
        local = dt.datetime.combine(day, dt.time(12))
        ours = [to for begins, _, to in rules if begins <= local]
        offset = local.replace(tzinfo=theirs).utcoffset()
        check.hold(ours and ours[-1] == offset, f"offset on {day}: {ours[-1:]}, {offset} in the database")
        changes.add(offset)
    return len(changes) - 1


def check_days(check, table, events):
    """Every day of care in our CSV is in the calendar, and no other."""
    wanted = {}
    for row in csv.DictReader(io.StringIO(table)):
        if not row["from"]:
            wanted.setdefault(row["title"], []).append(row["date"])
    found = {}
    for event, days in events:
        if not isinstance(days[0], dt.datetime):
            found.setdefault(str(event["SUMMARY"]), []).extend(d.isoformat() for d in days)
    check.hold(sorted(wanted) == sorted(found), f"titles differ: {set(wanted) ^ set(found)}")
    for title, dates in wanted.items():
        check.hold(sorted(dates) == sorted(found.get(title, [])), f"{title}: days differ")


def check_calendar(program, library, folder, demo, start, zone, alarms):
    check = Check(f"{demo} from {start} in {zone or 'local time'}")
    path = folder / "calendar.ics"
    extra = ["--ics", str(path)] + (["--alarms"] if alarms else [])
    run(program, library, demo, start, zone, extra)
    raw = path.read_bytes()
    path.unlink()
    run(program, library, demo, start, zone, extra)
    check.hold(raw == path.read_bytes(), "a second run gives other bytes")
    check_lines(check, raw)
    calendar = icalendar.Calendar.from_ical(raw)
    for name in ["VERSION", "PRODID"]:
        check.hold(name in calendar, f"no {name}")
    uids = set()
    events = [(e, check_event(check, e, zone, uids)) for e in calendar.walk("VEVENT")]
    check.hold(len(events) > 5, f"{len(events)} events")
    first = dt.date.fromisoformat(start)
    all_days = [first + dt.timedelta(days=n) for n in range(WEEKS * 7 + 1)]
    changes = check_zone(check, calendar, zone, all_days)
    timers = [days for _, days in events if isinstance(days[0], dt.datetime)]
    for days in timers:
        check.hold(len(days) == WEEKS * 7 + 1, f"a timer runs {len(days)} days")
    check.hold(len(timers) == (2 if "gassed" in demo else 1), f"{len(timers)} timers")
    alarm_count = len(list(calendar.walk("VALARM")))
    check.hold(alarm_count == (len(events) - len(timers) if alarms else 0), f"{alarm_count} alarms")
    table = run(program, library, demo, start, zone, ["--format", "csv"]).decode()
    check_days(check, table, events)
    return check, changes, uids


def main():
    program = sys.argv[1] if len(sys.argv) > 1 else str(ROOT / "target/release/quillwort")
    faults, facts, crossed = [], 0, 0
    with tempfile.TemporaryDirectory() as scratch:
        library = sys.argv[2] if len(sys.argv) > 2 else f"{scratch}/library"
        for demo in DEMOS:
            identities = {}
            for number, (start, zone) in enumerate(STARTS):
                check, changes, uids = check_calendar(
                    program, library, pathlib.Path(scratch), demo, start, zone, number % 2 == 0
                )
                identities[start] = uids
                faults += check.faults
                facts += check.facts
                crossed += changes > 0
            same = len({frozenset(uids) for uids in identities.values()}) == 1
            facts += 1
            if not same:
                faults.append(f"{demo}: identities change with the start")
    if crossed < 3 * len(DEMOS):
        faults.append(f"only {crossed} of the calendars cross a change of clocks")
    for fault in faults:
        print(fault, file=sys.stderr)
    print(f"{facts} facts about {len(DEMOS) * len(STARTS)} calendars, {crossed} across a change of clocks")
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
