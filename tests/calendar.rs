//! `calendar`: from the first fill to the settled tank, as text, JSON, CSV and iCalendar.

use serde_json::Value;

use crate::program::{Run, changed_demo, file, run};

const ATTIC: &str = "data/demo/attic-lowtech.toml";
const SHELF: &str = "data/demo/shelf-gassed.toml";
const HALL: &str = "data/demo/hall-hardwater.toml";

/// A list that needs no search.
fn list() -> String {
    let names = "Hygrophila polysperma\nLilaeopsis brasiliensis\nCryptocoryne wendtii\n";
    file("calendar-list.txt", names).to_string_lossy().into_owned()
}

fn json(args: &[&str]) -> Value {
    let run = run(&[&["calendar", "--format", "json", "--list", &list()], args].concat());
    serde_json::from_str(&run.out).unwrap_or_else(|e| panic!("{e}: {}{}", run.out, run.err))
}

/// The entry with this key.
fn entry<'a>(view: &'a Value, key: &str) -> &'a Value {
    let lists = ["timers", "entries"].map(|l| view[l].as_array().expect("a list"));
    let found = lists.into_iter().flatten().find(|e| e["key"] == key);
    found.unwrap_or_else(|| panic!("no entry `{key}`"))
}

fn has(view: &Value, key: &str) -> bool {
    let lists = ["timers", "entries"].map(|l| view[l].as_array().expect("a list"));
    lists.into_iter().flatten().any(|e| e["key"] == key)
}

/// The calendar file a run writes.
fn ics(args: &[&str]) -> String {
    let path = file(&format!("{}.ics", args.join("-").replace(['/', '.', ':'], "_")), "");
    let path = path.to_string_lossy().into_owned();
    let run = run(&[&["calendar", "--ics", &path, "--list", &list()], args].concat());
    assert_eq!(run.code, 0, "{}", run.err);
    std::fs::read_to_string(&path).expect("the calendar was written")
}

#[test]
fn the_shelf_week_by_week() {
    insta::assert_snapshot!(run(&["calendar", SHELF, "--start", "2027-01-09"]).out);
}

#[test]
fn gas_and_light_run_as_the_tank_file_says() {
    let view = json(&[SHELF, "--start", "2027-01-09", "--lights-on", "11:30"]);
    let (light, gas) = (entry(&view, "light"), entry(&view, "gas"));
    assert_eq!((light["from"].as_str(), light["minutes"].as_u64()), (Some("11:30"), Some(480)));
    // An hour before the light, and off an hour before its end: as long as the light, an hour earlier.
    assert_eq!((gas["from"].as_str(), gas["minutes"].as_u64()), (Some("10:30"), Some(480)));
    assert!(!has(&json(&[ATTIC, "--start", "2027-01-09"]), "gas"), "a tank without gas has no gas timer");
}

#[test]
fn gas_before_midnight_belongs_to_the_evening() {
    let view = json(&[SHELF, "--start", "2027-01-09", "--lights-on", "0:30"]);
    assert_eq!(entry(&view, "gas")["from"], "23:30");
}

#[test]
fn water_changes_are_the_share_of_the_file_in_litres() {
    for (tank, share) in [(ATTIC, 0.5), (SHELF, 0.5), (HALL, 0.3)] {
        let run = run(&["tank", tank, "--format", "json"]);
        let tank_view: Value = serde_json::from_str(&run.out).expect("the tank answers");
        let litres = tank_view["volumes"]["water_l"].as_f64().expect("a volume") * share;
        let view = json(&[tank, "--start", "2027-01-09"]);
        let title = entry(&view, "water-change")["title"].as_str().expect("a title").to_owned();
        let told: f64 = title.split(' ').nth(1).and_then(|n| n.parse().ok()).expect("litres");
        assert!((told - litres).abs() < 0.15, "{title}: {litres} L");
    }
}

#[test]
fn feeding_waits_over_active_soil() {
    let first = |tank: &str| entry(&json(&[tank, "--start", "2027-01-01"]), "feed")["date"].clone();
    assert_eq!(first(SHELF), "2027-01-22", "the end of week 3 over active soil");
    assert_eq!(first(HALL), "2027-01-08", "the end of week 1 over sand");
    let view = json(&[SHELF, "--start", "2027-01-01"]);
    assert_eq!(entry(&view, "water-change-extra")["times"], 4, "fresh soil gives off ammonium");
}

#[test]
fn animals_come_only_with_tests_and_only_where_there_are_any() {
    let view = json(&[ATTIC, "--start", "2027-01-01"]);
    let animals = entry(&view, "animals");
    assert_eq!(animals["date"], "2027-01-29");
    let words = animals["details"].to_string();
    assert!(words.contains("ammonia and nitrite were 0"), "{words}");
    assert!(!has(&json(&[SHELF, "--start", "2027-01-01"]), "animals"));
}

#[test]
fn trims_are_those_of_growth() {
    let run = run(&["grow", SHELF, "--format", "json", "--list", &list()]);
    let grown: Value = serde_json::from_str(&run.out).expect("growth answers");
    let mut weeks: Vec<u64> = grown["drifts"]
        .as_array()
        .expect("drifts")
        .iter()
        .flat_map(|d| {
            d["trims"].as_array().expect("trims").iter().map(|t| t["week"].as_u64().expect("a week"))
        })
        .collect();
    weeks.sort_unstable();
    weeks.dedup();
    assert!(!weeks.is_empty(), "a gassed tank needs cutting within twelve weeks");
    let view = json(&[SHELF, "--start", "2027-01-01"]);
    let keys: Vec<&str> = view["entries"]
        .as_array()
        .expect("entries")
        .iter()
        .filter_map(|e| e["key"].as_str().filter(|k| k.starts_with("trim-week-")))
        .collect();
    assert_eq!(keys, weeks.iter().map(|w| format!("trim-week-{w}")).collect::<Vec<_>>());
}

#[test]
fn a_leap_day_starts_like_any_other() {
    let view = json(&[ATTIC, "--start", "2028-02-29"]);
    assert_eq!(view["start"]["date"], "2028-02-29");
    assert_eq!(view["start"]["weekday"], "Tue");
    assert_eq!(entry(&view, "water-change")["date"], "2028-03-07");
}

#[test]
fn days_across_a_change_of_clocks_are_days() {
    let view = json(&[ATTIC, "--start", "2027-03-27", "--zone", "Europe/Berlin"]);
    assert_eq!(entry(&view, "water-change")["date"], "2027-04-03");
    let offsets = view["zone"]["offsets"].as_array().expect("offsets");
    // EU directive 2000/84/EC: summer time begins on the last Sunday of March at 1:00 UTC.
    let told: Vec<&str> = offsets.iter().filter_map(|o| o["begins"].as_str()).collect();
    assert_eq!(told, ["20261025T030000", "20270328T020000"]);
    assert_eq!((offsets[1]["before"].as_str(), offsets[1]["after"].as_str()), (Some("+0100"), Some("+0200")));
}

#[test]
fn the_file_is_the_same_from_run_to_run_and_keeps_its_identities() {
    let once = ics(&[SHELF, "--start", "2027-01-09", "--zone", "Europe/Berlin"]);
    assert_eq!(once, ics(&[SHELF, "--start", "2027-01-09", "--zone", "Europe/Berlin", "--weeks", "12"]));
    let later = ics(&[SHELF, "--start", "2028-02-29"]);
    let identities = |text: &str| -> Vec<String> {
        text.lines().filter(|l| l.starts_with("UID:")).map(str::to_owned).collect()
    };
    assert_eq!(
        identities(&once),
        identities(&later),
        "a later start moves the events, it does not double them"
    );
    let other = ics(&[ATTIC, "--start", "2027-01-09"]);
    assert!(
        identities(&once).iter().all(|uid| !identities(&other).contains(uid)),
        "another tank is another calendar"
    );
}

#[test]
fn lines_are_folded_and_broken_as_the_standard_says() {
    let name = "Tank; with, comma \\ and ü, ".repeat(4);
    let tank = changed_demo("folded.toml", "name = \"Attic study\"", &format!("name = '{name}'"));
    let text = ics(&[&tank.to_string_lossy(), "--start", "2027-01-09", "--alarms"]);
    assert!(text.split("\r\n").all(|line| line.len() <= 75), "a line is longer than 75 octets");
    assert!(!text.replace("\r\n", "").contains('\n'), "every break is CR LF");
    let unfolded = text.replace("\r\n ", "");
    assert!(unfolded.contains("NAME:Tank\\; with\\, comma \\\\ and ü\\, Tank"), "text is escaped");
    assert!(unfolded.contains("BEGIN:VALARM"));
}

#[test]
fn a_start_is_asked_for() {
    let run = run(&["calendar", ATTIC]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("--start"), "{}", run.err);
}

#[test]
fn wrong_dates_times_and_zones_are_refused_with_what_is_meant() {
    let refused = |args: &[&str]| -> Run {
        let all: Vec<&str> = ["calendar", ATTIC].iter().chain(args).copied().collect();
        let run = run(&all);
        assert_eq!(run.code, 2, "{args:?}: {}{}", run.out, run.err);
        assert!(run.out.is_empty());
        run
    };
    assert!(refused(&["--start", "2027-02-29"]).err.contains("2027-02-28"));
    assert!(refused(&["--start", "2027-13-01"]).err.contains("month from 01 to 12"));
    for text in ["9.1.2027", "tomorrow", "", "2027-1-9", "2027-01-09T10:00", "20270109"] {
        assert!(refused(&["--start", text]).err.contains("YYYY-MM-DD"), "{text}");
    }
    assert!(refused(&["--start", "0000-01-01"]).err.contains("year from"));
    assert!(refused(&["--start", "2027-01-09", "--zone", "Europe/Berln"]).err.contains("Europe/Berlin"));
    assert!(refused(&["--start", "2027-01-09", "--lights-on", "25:00"]).err.contains("HH:MM"));
    assert!(refused(&["--start", "2027-01-09", "--weeks", "0"]).err.contains("weeks"));
    // All that is wrong at once.
    let both = refused(&["--start", "2027-02-29", "--zone", "Mars/Base"]).err;
    assert!(both.contains("2027-02-29") && both.contains("Mars/Base"), "{both}");
}

#[test]
fn nothing_half_written_where_it_cannot_be() {
    let run = run(&["calendar", ATTIC, "--start", "2027-01-09", "--ics", "no-such-folder/calendar.ics"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("cannot be written"), "{}", run.err);
}
