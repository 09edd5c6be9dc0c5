//! The calendar on a count of days: every number of weeks, every kind of gas, clocks around midnight.

use std::collections::BTreeSet;

use quillwort::planting::calendar::{
    Care, Clock, Entry, MOST_WEEKS, Repeat, SETTLED_DAY, Task, WEEK, When, keep,
};
use quillwort::tank::TankModel;
use quillwort::units::Duration;

use crate::fit_support::{DEMOS, computed, demo_model, demo_text, spec};

fn kept(model: &TankModel, lights_on: Clock, weeks: u32) -> Vec<Entry> {
    keep(&Care { model, drifts: &[], courses: &[], lights_on, weeks })
}

fn noon() -> Clock {
    Clock::new(12, 0).expect("noon is a time")
}

fn entry<'a>(entries: &'a [Entry], key: &str) -> Option<&'a Entry> {
    entries.iter().find(|e| e.key == key)
}

#[test]
fn every_length_of_calendar_keeps_to_its_days() {
    for demo in DEMOS {
        let model = demo_model(demo);
        for weeks in 1..=MOST_WEEKS {
            let entries = kept(&model, noon(), weeks);
            let keys: BTreeSet<&str> = entries.iter().map(|e| e.key.as_str()).collect();
            assert_eq!(keys.len(), entries.len(), "{demo}, {weeks} weeks: a key comes twice");
            for entry in &entries {
                let (Repeat { every_days, times }, last) = (entry.repeat, entry.days().max());
                assert!(every_days >= 1 && times >= 1, "{}", entry.key);
                assert_eq!(entry.days().count(), times as usize, "{}", entry.key);
                let end = if entry.key == "settled" { SETTLED_DAY } else { weeks * WEEK };
                assert!(
                    last.is_some_and(|day| day <= end),
                    "{demo}, {weeks} weeks: {} on {last:?}",
                    entry.key
                );
                // None stops before it has to.
                let next = last.map_or(0, |day| day + every_days);
                let ends = times > 1 && entry.key != "water-change-extra";
                assert!(!ends || next > weeks * WEEK, "{demo}, {weeks} weeks: {} ends early", entry.key);
            }
            let care: Vec<u32> = entries.iter().filter(|e| e.when == When::Day).map(|e| e.day).collect();
            assert!(care.is_sorted(), "{demo}, {weeks} weeks");
        }
    }
}

#[test]
fn water_is_changed_every_week_and_half_of_it_where_nothing_is_said() {
    let text = demo_text("attic-lowtech.toml").replace("weekly_change = \"50 %\"\n", "");
    let model = computed(&spec(&text));
    let entries = kept(&model, noon(), 12);
    let change = entry(&entries, "water-change").expect("water is changed");
    assert_eq!(change.days().collect::<Vec<_>>(), (1..=12).map(|w| w * 7).collect::<Vec<_>>());
    let Task::WaterChange { volume, share, extra: false } = change.task else { panic!("{change:?}") };
    assert!((share.value() - 0.5).abs() < 1e-12);
    assert!((volume.litres() - model.volumes.water.litres() / 2.0).abs() < 1e-9);
}

#[test]
fn each_kind_of_gas_has_its_care() {
    let shelf = demo_text("shelf-gassed.toml");
    let gas = |text: &str| kept(&computed(&spec(text)), noon(), 12);
    let cylinder = gas(&shelf);
    assert!(entry(&cylinder, "gas").is_some() && entry(&cylinder, "gas-mixture").is_none());
    let yeast = gas(&shelf
        .replace("pressurised", "fermentation")
        .replace("on_before = \"1 h\"\noff_before = \"1 h\"\n", ""));
    assert!(entry(&yeast, "gas").is_none(), "fermentation knows no timer");
    assert_eq!(entry(&yeast, "gas-mixture").map(|e| e.repeat.every_days), Some(14));
    let none = kept(&demo_model("attic-lowtech.toml"), noon(), 12);
    assert!(none.iter().all(|e| !e.key.starts_with("gas")));
}

#[test]
fn clocks_go_around_midnight() {
    let clock = |h, m| Clock::new(h, m).expect("a time of the day");
    let hours = Duration::from_hours;
    assert_eq!(clock(0, 30).after(hours(-1.0)), clock(23, 30));
    assert_eq!(clock(20, 0).after(hours(8.0)), clock(4, 0));
    assert_eq!(clock(12, 0).after(hours(24.0)), clock(12, 0));
    assert_eq!(clock(12, 0).after(hours(7.5)).parts(), (19, 30));
    assert_eq!((Clock::new(24, 0), Clock::new(0, 60)), (None, None));
}
