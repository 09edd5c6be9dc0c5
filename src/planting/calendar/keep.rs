//! The rules that make the calendar of a tank.

use super::{ANIMALS_DAY, Check, Clock, Entry, MOST_WEEKS, Repeat, SETTLED_DAY, Task, TrimDue, WEEK, When};
use crate::catalogue::{Feeding, Footing, Placement, Plant};
use crate::planting::growth::{Course, grown_in_air};
use crate::tank::TankModel;
use crate::tank::file::{BedKind, Injection, Livestock};
use crate::units::{Duration, Fraction, Volume};

/// Share of the water changed weekly where the tank file does not say (common practice).
const USUAL_CHANGE: Fraction = Fraction::new(0.5);
/// Weeks in which fresh active soil gives off ammonium and water is changed twice (common practice).
const LEACHING_WEEKS: u32 = 4;
/// First day of liquid feed over soil that feeds, in week 4, and over an inert bed (common practice).
const FEED_OVER_SOIL: u32 = 21;
const FEED_OVER_INERT: u32 = 7;
/// Day on which roots in an inert bed are first fed: once they have taken hold (common practice).
const FEED_ROOTS: u32 = 14;
/// Days between the looks at gear, and between mixtures that make gas (common practice).
const GEAR_DAYS: u32 = 28;
const MIXTURE_DAYS: u32 = 14;
/// Day on which leaves grown in air have begun to give way (common practice).
const LEAVES_DAY: u32 = 10;

/// What a calendar is made for.
#[derive(Debug, Clone, Copy)]
pub struct Care<'a> {
    /// The tank.
    pub model: &'a TankModel,
    /// The taxon and the placement of every drift.
    pub drifts: &'a [(&'a Plant, Placement)],
    /// The course of every drift, for as many weeks at least.
    pub courses: &'a [Course],
    /// When the light comes on.
    pub lights_on: Clock,
    /// How many weeks, 1 to [`MOST_WEEKS`]; held there.
    pub weeks: u32,
}

/// Every entry of the calendar, timers first, then by first day, in a fixed order within a day.
pub fn keep(care: &Care<'_>) -> Vec<Entry> {
    let weeks = care.weeks.clamp(1, MOST_WEEKS);
    let mut entries = timers(care, weeks);
    let timed = entries.len();
    entries.push(once("fill-and-plant", 0, Task::Fill { water: care.model.volumes.water }));
    entries.extend(changes(care, weeks));
    entries.extend(feeding(care, weeks));
    entries.extend(checks(care, weeks));
    entries.extend((1..=weeks).filter_map(|week| trims(care.courses, week)));
    entries.extend(milestones(care, weeks));
    // Stable: entries of one day keep the order of the rules.
    entries[timed..].sort_by_key(|e| e.day);
    entries
}

fn once(key: &str, day: u32, task: Task) -> Entry {
    Entry { key: key.to_owned(), day, repeat: Repeat::ONCE, when: When::Day, task }
}

/// Every `every` days from `day` to the end of the weeks; `None` when there is no such day.
fn every(key: &str, day: u32, every_days: u32, weeks: u32, task: Task) -> Option<Entry> {
    let last = weeks * WEEK;
    let times = (last + 1).checked_sub(day).filter(|left| *left > 0)?.div_ceil(every_days);
    let repeat = Repeat { every_days, times };
    Some(Entry { key: key.to_owned(), day, repeat, when: When::Day, task })
}

/// The timers of light and gas: daily.
fn timers(care: &Care<'_>, weeks: u32) -> Vec<Entry> {
    let spec = &care.model.spec;
    let daily = |key: &str, from: Clock, length: Duration, task: Task| Entry {
        key: key.to_owned(),
        day: 0,
        repeat: Repeat { every_days: 1, times: weeks * WEEK + 1 },
        when: When::Span { from, length },
        task,
    };
    let hours = spec.light.hours;
    let mut entries = vec![daily("light", care.lights_on, hours, Task::Light)];
    if spec.gas.injection == Injection::Pressurised {
        let (lead, early_stop) = (spec.gas.on_before, spec.gas.off_before);
        let on = care.lights_on.after(Duration::from_hours(-lead.hours()));
        let length =
            Duration::from_hours((hours.hours() + lead.hours() - early_stop.hours()).clamp(0.0, 24.0));
        if length.hours() > 0.0 {
            entries.push(daily("gas", on, length, Task::Gas { lead, early_stop }));
        }
    }
    entries
}

fn changes(care: &Care<'_>, weeks: u32) -> Vec<Entry> {
    let spec = &care.model.spec;
    let share = spec.water.weekly_change.unwrap_or(USUAL_CHANGE);
    let volume = Volume::from_litres(care.model.volumes.water.litres() * share.value());
    let change = |extra| Task::WaterChange { volume, share, extra };
    let mut entries = Vec::new();
    entries.extend(every("water-change", WEEK, WEEK, weeks, change(false)));
    if spec.bed.kind == BedKind::ActiveSoil {
        // Half way between the weekly ones.
        entries.extend(every("water-change-extra", 3, WEEK, weeks.min(LEACHING_WEEKS), change(true)));
    }
    entries
}

fn feeding(care: &Care<'_>, weeks: u32) -> Vec<Entry> {
    let bed = care.model.spec.bed.kind;
    let rich = matches!(bed, BedKind::ActiveSoil | BedKind::CappedSoil);
    let first = if rich { FEED_OVER_SOIL } else { FEED_OVER_INERT };
    let mut entries = Vec::new();
    entries.extend(every("feed", first, WEEK, weeks, Task::Feed));
    if matches!(bed, BedKind::Sand | BedKind::Gravel) {
        let roots = |(_, (plant, placement)): &(usize, &(&Plant, Placement))| {
            let rooted = plant.footings.contains(&Footing::Bed)
                && !matches!(placement, Placement::Floating | Placement::Epiphyte);
            rooted && plant.feeding != Feeding::Column
        };
        let drifts: Vec<usize> = care.drifts.iter().enumerate().filter(roots).map(|(i, _)| i).collect();
        if !drifts.is_empty() && FEED_ROOTS <= weeks * WEEK {
            entries.push(once("feed-roots", FEED_ROOTS, Task::FeedRoots { drifts }));
        }
    }
    entries
}

fn checks(care: &Care<'_>, weeks: u32) -> Vec<Entry> {
    let mut entries = Vec::new();
    let injection = care.model.spec.gas.injection;
    if injection != Injection::None {
        entries.push(once("gas-first-look", 1, Task::Check(Check::Gas)));
        entries.extend(every("gas-look", 5, WEEK, weeks, Task::Check(Check::Gas)));
    }
    if injection == Injection::Fermentation {
        entries.extend(every("gas-mixture", MIXTURE_DAYS, MIXTURE_DAYS, weeks, Task::RenewGas));
    }
    // The day before the weekly change, when the water is furthest from fresh.
    entries.extend(every("water-test", WEEK - 1, WEEK, weeks, Task::Check(Check::Water)));
    entries.extend(every("algae-look", WEEK + 3, WEEK, weeks, Task::Check(Check::Algae)));
    let airborne = |(_, (plant, placement)): &(usize, &(&Plant, Placement))| grown_in_air(plant, *placement);
    let drifts: Vec<usize> = care.drifts.iter().enumerate().filter(airborne).map(|(i, _)| i).collect();
    if !drifts.is_empty() && LEAVES_DAY <= weeks * WEEK {
        entries.push(once("leaves-look", LEAVES_DAY, Task::Check(Check::Leaves { drifts })));
    }
    entries.extend(every("gear-look", GEAR_DAYS, GEAR_DAYS, weeks, Task::Check(Check::Gear)));
    entries
}

/// The trims that the courses foresee at the end of a week.
fn trims(courses: &[Course], week: u32) -> Option<Entry> {
    let due = |course: &Course| {
        let state = course.weeks.iter().find(|s| s.week == week)?;
        let cut = state.trim?;
        let trim = course.trims.iter().find(|t| t.week == week)?;
        Some(TrimDue {
            drift: course.drift,
            reason: cut.reason,
            from: state.height.nominal(),
            to: cut.height,
            cover: cut.cover,
            earliest: trim.earliest,
            latest: trim.latest,
        })
    };
    let drifts: Vec<TrimDue> = courses.iter().filter_map(due).collect();
    let key = format!("trim-week-{week}");
    (!drifts.is_empty()).then(|| once(&key, week * WEEK, Task::Trim { week, drifts }))
}

fn milestones(care: &Care<'_>, weeks: u32) -> Vec<Entry> {
    let mut entries = Vec::new();
    if care.model.spec.livestock == Livestock::Fish && ANIMALS_DAY <= weeks * WEEK {
        entries.push(once("animals", ANIMALS_DAY, Task::Animals));
    }
    // A calendar of twelve weeks still names the day on which the thirteenth is over.
    if SETTLED_DAY <= (weeks + 1) * WEEK {
        entries.push(once("settled", SETTLED_DAY, Task::Settled));
    }
    entries
}
