//! What can be turned, how far, and the first point at which a plant grows.

use super::{Change, Site};
use crate::catalogue::Plant;
use crate::fit::certainty::bisect;
use crate::fit::{Factor, Verdict, assess};
use crate::tank::file::{Injection, Livestock};
use crate::units::{
    CarbonateHardness, Concentration, Duration, Fraction, GeneralHardness, Length, Temperature,
};

/// CO2 that no remedy goes beyond where fish are declared, mg/L. Common practice, no source.
pub const FISH_CO2_MG_L: f64 = 30.0;
/// CO2 that no remedy goes beyond anywhere: higher readings are doubted, mg/L.
const MOST_CO2_MG_L: f64 = 60.0;
/// Hours of light that no remedy goes beyond or below.
const HOURS: (f64, f64) = (4.0, 14.0);
/// Times its light that a lamp may be asked for.
const TIMES: (f64, f64) = (0.1, 6.0);
/// Lamp heights above the water that no remedy leaves, cm.
const HANGING_CM: (f64, f64) = (2.0, 80.0);
/// Lamp heights are changed in steps of this, cm: nobody hangs a lamp finer.
pub const HANGING_STEP_CM: f64 = 0.5;
/// Temperatures that no remedy leaves, °C.
const TEMPERATURE_C: (f64, f64) = (15.0, 30.0);
/// Hardness that no remedy goes beyond, degrees.
const HARDEST: f64 = 25.0;

/// Something that can be turned from where it is to a limit.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lever {
    make: fn(f64) -> Change,
    from: f64,
    to: f64,
    /// The factors it moves.
    moves: &'static [Factor],
}

const LIGHT: &[Factor] = &[Factor::Light];

/// Every lever of a tank but the lamp height, each way it can be turned.
pub(super) fn levers(site: &Site<'_>) -> Vec<Lever> {
    let (spec, zone) = (site.spec(), &site.zones[0]);
    let (light, water) = (&spec.light, &zone.water);
    let both = |make: fn(f64) -> Change, from: f64, (lo, hi): (f64, f64), moves| {
        [(from < hi, hi), (from > lo, lo)].into_iter().filter(|(can, _)| *can).map(move |(_, to)| Lever {
            make,
            from,
            to,
            moves,
        })
    };
    let mut found: Vec<Lever> = Vec::new();
    let hours: &[Factor] =
        if spec.gas.injection == Injection::None { LIGHT } else { &[Factor::Light, Factor::Carbon] };
    found.extend(both(|h| Change::Hours(Duration::from_hours(h)), light.hours.hours(), HOURS, hours));
    found.extend(both(|t| Change::Output(Fraction::new(t)), 1.0, TIMES, LIGHT));
    let cover = light.floating_cover.value();
    // Under a closed cover there is no light to go by.
    if cover > 0.0 && cover < 1.0 {
        found.push(Lever {
            make: |share| Change::FloatingCover(Fraction::new(share)),
            from: cover,
            to: 0.0,
            moves: LIGHT,
        });
    }
    let most = if spec.livestock == Livestock::Fish { FISH_CO2_MG_L } else { MOST_CO2_MG_L };
    let level = site.model.carbon.co2.mid().mg_l();
    let gas = |mg_l| Change::Gas(Concentration::from_mg_l(mg_l));
    if level < most {
        found.push(Lever { make: gas, from: level, to: most, moves: &[Factor::Carbon, Factor::Ph] });
    }
    if spec.gas.injection != Injection::None && level > 1.0 {
        found.push(Lever { make: gas, from: level, to: 1.0, moves: &[Factor::Ph] });
    }
    let warmth = water.temperature.nominal().celsius();
    found.extend(both(
        |c| Change::Temperature(Temperature::from_celsius(c)),
        warmth,
        TEMPERATURE_C,
        &[Factor::Temperature],
    ));
    found.extend(hardness_levers(water.gh.nominal().dgh(), water.kh.nominal().dkh()));
    found
}

fn hardness_levers(gh: f64, kh: f64) -> Vec<Lever> {
    let soft = (gh > 0.0 || kh > 0.0).then_some(Lever {
        make: |share| Change::SoftWater(Fraction::new(share)),
        from: 0.0,
        to: 1.0,
        moves: &[Factor::Gh, Factor::Kh, Factor::Ph, Factor::Carbon],
    });
    let harder = (gh < HARDEST).then_some(Lever {
        make: |gh| Change::Gh(GeneralHardness::from_dgh(gh)),
        from: gh,
        to: HARDEST,
        moves: &[Factor::Gh],
    });
    let buffered = (kh < HARDEST).then_some(Lever {
        make: |kh| Change::Kh(CarbonateHardness::from_dkh(kh)),
        from: kh,
        to: HARDEST,
        moves: &[Factor::Kh, Factor::Ph, Factor::Carbon],
    });
    [soft, harder, buffered].into_iter().flatten().collect()
}

impl Lever {
    /// Whether it moves every one of these factors.
    pub(super) fn moves_all(&self, short: &[Factor]) -> bool {
        short.iter().all(|factor| self.moves.contains(factor))
    }

    /// The change nearest to the present with which the plant grows in the zone, if the lever
    /// reaches one.
    pub(super) fn first(&self, site: &Site<'_>, plant: &Plant, zone: usize) -> Option<Change> {
        self.first_where(|change| grows(site, plant, zone, change))
    }

    /// The change nearest to the present with which the plant thrives in each of these factors.
    pub(super) fn first_for(
        &self,
        site: &Site<'_>,
        plant: &Plant,
        zone: usize,
        factors: &[Factor],
    ) -> Option<Change> {
        self.first_where(|change| {
            let after = site.nominal_after(zone, change).map(|zone| assess(plant, &zone));
            after.is_some_and(|a| factors.iter().all(|f| a.factor(*f) >= Verdict::THRIVES))
        })
    }

    /// The first bracket of a walk away from the present, then halving.
    fn first_where(&self, suits: impl Fn(Change) -> bool) -> Option<Change> {
        const STEPS: usize = 24;
        // Finer near the present, where the smallest change is looked for.
        let at = |i: usize| {
            let share = i as f64 / STEPS as f64;
            self.from + (self.to - self.from) * share * share
        };
        let suits = |value: f64| suits((self.make)(value));
        let first = (1..=STEPS).find(|i| suits(at(*i)))?;
        Some((self.make)(bisect(at(first - 1), at(first), suits)))
    }
}

/// Whether the plant grows in the zone after a change.
pub(super) fn grows(site: &Site<'_>, plant: &Plant, zone: usize, change: Change) -> bool {
    let after = site.nominal_after(zone, change);
    after.is_some_and(|zone| assess(plant, &zone).suitability >= Verdict::GROWS)
}

/// The lamp height nearest to the present, in whole steps, with which the plant grows.
pub(super) fn lamp_height(site: &Site<'_>, plant: &Plant, zone: usize) -> Option<Change> {
    let lamps = &site.spec().light.lamps;
    let heights = || lamps.iter().map(|l| l.above_water.cm());
    let (lowest, highest) = (heights().reduce(f64::min)?, heights().reduce(f64::max)?);
    let down = ((lowest - HANGING_CM.0) / HANGING_STEP_CM).floor() as i64;
    let up = ((HANGING_CM.1 - highest) / HANGING_STEP_CM).floor() as i64;
    [-down, up].into_iter().find_map(|far| hung(site, plant, zone, far))
}

/// The smallest number of steps towards `far` with which the plant grows. Looked for by a few
/// cells, settled by all.
fn hung(site: &Site<'_>, plant: &Plant, zone: usize, far: i64) -> Option<Change> {
    if far == 0 {
        return None;
    }
    let way = far.signum();
    let by = |steps: i64| Length::from_cm(steps as f64 * way as f64 * HANGING_STEP_CM);
    let about = |steps: i64| {
        let ratio = site.hung_ratio(zone, by(steps))?;
        let bright = site.zone_after(zone, Change::Output(Fraction::new(ratio)))?;
        Some(assess(plant, &bright).suitability >= Verdict::GROWS)
    };
    let (mut no, mut yes) = (0, far.abs());
    if !about(yes)? {
        return None;
    }
    while yes - no > 1 {
        let middle = i64::midpoint(no, yes);
        if about(middle)? { yes = middle } else { no = middle }
    }
    let exactly = |steps: i64| grows(site, plant, zone, Change::LampHeight(by(steps)));
    let nearby = (yes - 2).max(1)..=(yes + 2).min(far.abs());
    nearby.into_iter().find(|steps| exactly(*steps)).map(|steps| Change::LampHeight(by(steps)))
}
