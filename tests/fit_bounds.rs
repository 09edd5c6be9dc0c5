//! Bounds over the box of measurements against dense sampling, and what settles a verdict.

use quillwort::catalogue::Plant;
use quillwort::fit::{Condition, Factor, Verdict, Water, ZoneConditions, assess, bounds, certainty};
use quillwort::tank::carbon::{CarbonEstimate, CarbonNote, CarbonRoute};
use quillwort::tank::carbon_of;
use quillwort::tank::file::TankSpec;
use quillwort::units::{Interval, Quantity};

use crate::fit_support::{DEMOS, Stream, demo_model, exactly, pinned, plants, within};

/// Zones of the demos with ranges of random width, and plants that serve them.
fn cases(count: usize, seed: u64) -> Vec<(&'static Plant, ZoneConditions)> {
    let mut stream = Stream(seed);
    let zones: Vec<ZoneConditions> =
        DEMOS.iter().flat_map(|name| ZoneConditions::all(&demo_model(name))).collect();
    let mut cases = Vec::new();
    while cases.len() < count {
        let mut zone = stream.pick(&zones).clone();
        let serving: Vec<&Plant> =
            plants().iter().filter(|p| p.placements.contains(&zone.placement)).collect();
        let plant = *stream.pick(&serving);
        let mut open = |at: f64, width: f64| {
            let (a, b) = (stream.next() * width, stream.next() * width);
            ((at - a).max(0.0), at + b)
        };
        let water = &mut zone.water;
        let ends = open(water.temperature.nominal().base(), 5.0);
        water.temperature = within(ends.0, ends.1);
        let ends = open(water.ph.nominal().base(), 1.0);
        water.ph = within(ends.0, ends.1);
        let ends = open(water.gh.nominal().base(), 8.0);
        water.gh = within(ends.0, ends.1);
        let ends = open(water.kh.nominal().base(), 8.0);
        water.kh = within(ends.0, ends.1);
        let ends = open(water.co2.nominal().base(), 4.0);
        water.co2 = within(ends.0, ends.1);
        let ends = open(1.0, 0.8);
        zone.gain = within(ends.0, ends.1);
        cases.push((plant, zone));
    }
    cases
}

#[test]
fn no_sample_falls_outside_the_bounds() {
    let mut stream = Stream(11);
    let mut samples = 0;
    for (plant, zone) in cases(200, 5) {
        let bounds = bounds(plant, &zone);
        for _ in 0..500 {
            let share = std::array::from_fn(|_| stream.next());
            let here = assess(plant, &pinned(&zone, share)).suitability;
            samples += 1;
            assert!(
                (bounds.least - 1e-12..=bounds.greatest + 1e-12).contains(&here),
                "{}: {here} outside {bounds:?} at {share:?}",
                plant.id
            );
        }
    }
    assert_eq!(samples, 100_000);
}

/// The tank file with every range of its water and gas narrowed to one value within it.
fn one_of(spec: &TankSpec, stream: &mut Stream) -> TankSpec {
    fn one<Q: Quantity>(range: Interval<Q>, stream: &mut Stream) -> Interval<Q> {
        let (lo, hi) = range.ends();
        Interval::point(Q::from_base(lo.base() + stream.next() * (hi.base() - lo.base())))
    }
    let mut one_tank = spec.clone();
    let water = &mut one_tank.water;
    water.temperature = one(water.temperature, stream);
    water.ph = one(water.ph, stream);
    water.gh = one(water.gh, stream);
    water.kh = one(water.kh, stream);
    one_tank.gas.target = spec.gas.target.map(|target| one(target, stream));
    one_tank
}

/// Whether pH and KH say one thing of the gas, and its target or the air another, with no acid in
/// the tank to explain it.
fn contradicts(carbon: &CarbonEstimate) -> bool {
    use CarbonNote::{Overstates, PhLoweredByOtherAcids, TargetAboveReading};
    let explained = carbon.notes.iter().any(|n| matches!(n, Overstates(_)));
    let beyond = |n: &CarbonNote| match n {
        TargetAboveReading { .. } => true,
        PhLoweredByOtherAcids { .. } => !explained && carbon.route == CarbonRoute::StillWater,
        _ => false,
    };
    carbon.notes.iter().any(beyond)
}

/// Carbon is worked out anew from each pH, KH and temperature here. Where ranges that agree hold
/// values that contradict each other, no such tank can be.
#[test]
fn no_tank_within_the_ranges_of_the_file_lies_outside() {
    let mut stream = Stream(41);
    let mut samples = 0;
    for name in DEMOS {
        let model = demo_model(name);
        let zones = ZoneConditions::all(&model);
        for _ in 0..60 {
            let spec = one_of(&model.spec, &mut stream);
            let Ok(carbon) = carbon_of(&spec) else { continue };
            if contradicts(&carbon) && !contradicts(&model.carbon) {
                continue;
            }
            let water = Water::of(&spec, &carbon);
            for zone in &zones {
                let (lo, hi) = zone.gain.range().ends();
                let gain = exactly(lo.value() + stream.next() * (hi.value() - lo.value()));
                let there = ZoneConditions { water, gain, ..zone.clone() };
                for plant in plants().iter().step_by(3) {
                    let (here, bounds) = (assess(plant, &there).suitability, bounds(plant, zone));
                    let held = (bounds.least - 1e-12..=bounds.greatest + 1e-12).contains(&here);
                    assert!(held, "{name}, {}: {here} outside {bounds:?}", plant.id);
                    samples += 1;
                }
            }
        }
    }
    assert!(samples >= 100_000, "{samples}");
}

/// The corner of the water's box that is worst (or best) for each factor, with the light at
/// `gain` of its range.
fn corner(plant: &Plant, zone: &ZoneConditions, best: bool, gain: f64) -> f64 {
    let shares = [0.0, 0.25, 0.5, 0.75, 1.0];
    let factors = [Factor::Temperature, Factor::Ph, Factor::Gh, Factor::Kh];
    let mut at = [0.0, 0.0, 0.0, 0.0, f64::from(u8::from(best)), f64::from(u8::from(best)), gain];
    for (i, factor) in factors.into_iter().enumerate() {
        let of = |share: f64| {
            let mut trial = at;
            trial[i] = share;
            assess(plant, &pinned(zone, trial)).factor(factor)
        };
        // A trapezoid is worst at an end; where it is best, a fine walk finds the plateau.
        let fine = |n: usize| n as f64 / 400.0;
        let chosen = if best {
            (0..=400).map(fine).max_by(|a, b| of(*a).total_cmp(&of(*b)))
        } else {
            shares.into_iter().min_by(|a, b| of(*a).total_cmp(&of(*b)))
        };
        at[i] = chosen.expect("there are shares");
    }
    assess(plant, &pinned(zone, at)).suitability
}

#[test]
fn the_least_is_attained() {
    for (plant, mut zone) in cases(60, 21) {
        // With the light known, the worst corner of the water attains the least.
        zone.gain = within(1.0, 1.0);
        let bounds = bounds(plant, &zone);
        let least = corner(plant, &zone, false, 0.0);
        assert!((least - bounds.least).abs() < 1e-9, "{}: {least} against {bounds:?}", plant.id);
    }
}

#[test]
fn both_bounds_are_attained_over_light() {
    for (plant, zone) in cases(60, 22) {
        // Water known: only light is open, walked in fine steps.
        let (lo, hi) = (zone.gain.range().lo().base(), zone.gain.range().hi().base());
        let mut pinned = pinned(&zone, [0.5; 7]);
        pinned.gain = within(lo, hi);
        let bounds = bounds(plant, &pinned);
        let walk = (0..=4000).map(|i| {
            let at = lo + (hi - lo) * f64::from(i) / 4000.0;
            let mut there = pinned.clone();
            there.gain = within(at, at);
            assess(plant, &there).suitability
        });
        let (least, most) = walk.fold((1.0_f64, 0.0_f64), |(l, m), s| (l.min(s), m.max(s)));
        assert!(least >= bounds.least - 1e-12 && most <= bounds.greatest + 1e-12, "{}", plant.id);
        // Steps of a four-thousandth of the range move the mean by less than this.
        assert!(least - bounds.least < 2e-3 && bounds.greatest - most < 2e-3, "{}: {bounds:?}", plant.id);
    }
}

/// A range of one measurement replaced.
fn narrowed(zone: &ZoneConditions, plant: &Plant, factor: Factor, lo: f64, hi: f64) -> ZoneConditions {
    let mut after = zone.clone();
    let water = &mut after.water;
    match factor {
        Factor::Temperature => water.temperature = within(lo, hi),
        Factor::Ph => water.ph = within(lo, hi),
        Factor::Gh => water.gh = within(lo, hi),
        Factor::Kh => water.kh = within(lo, hi),
        Factor::Carbon => {
            // Usable carbon is one measurement: all of it is put on CO2 here.
            water.co2 = within(lo, hi);
            water.bicarbonate_as_co2 = within(0.0, 0.0);
        }
        _ => {
            let stands = quillwort::units::Length::from_m(plant.height.hi().m().min(zone.tallest.m()));
            let mean = zone.light_at(stands).expect("a zone has light").mean().base();
            after.gain = within(lo / mean, hi / mean);
        }
    }
    after
}

fn range_of(zone: &ZoneConditions, plant: &Plant, factor: Factor) -> (f64, f64) {
    fn ends<Q: Quantity>(range: Interval<Q>) -> (f64, f64) {
        (range.lo().base(), range.hi().base())
    }
    let graded = quillwort::fit::graded(plant, zone, factor).expect("conditions are on graded factors");
    let water = &zone.water;
    match factor {
        Factor::Temperature => ends(water.temperature.range()),
        Factor::Ph => ends(water.ph.range()),
        Factor::Gh => ends(water.gh.range()),
        Factor::Kh => ends(water.kh.range()),
        _ => graded.range,
    }
}

#[test]
fn the_measurement_named_settles_the_verdict() {
    let mut settled = 0;
    for (plant, zone) in cases(1500, 33) {
        let Some(depends) = certainty(plant, &zone).depends else { continue };
        if !depends.settles {
            continue;
        }
        let Condition { factor, at_least, at_most, .. } = depends.conditions[0];
        let (lo, hi) = range_of(&zone, plant, factor);
        let (from, to) = (at_least.unwrap_or(lo), at_most.unwrap_or(hi));
        let inside = narrowed(&zone, plant, factor, from, to);
        let least = bounds(plant, &inside).least;
        let what = format!("{}: {factor} {from}..{to} of {lo}..{hi}", plant.id);
        assert!(Verdict::of(least + 1e-9) >= depends.word, "{what}: {least}");
        // A little beyond the threshold it is no longer sure.
        let step = 1e-6 * (hi - lo);
        for beyond in [at_least.map(|v| v - step), at_most.map(|v| v + step)].into_iter().flatten() {
            let outside = narrowed(&zone, plant, factor, beyond, beyond);
            let least = bounds(plant, &outside).least;
            assert!(Verdict::of(least) < depends.word, "{what}: still sure at {beyond}: {least}");
        }
        settled += 1;
    }
    assert!(settled > 100, "only {settled} cases");
}

#[test]
fn every_condition_named_is_needed() {
    let mut needed = 0;
    for (plant, zone) in cases(1500, 34) {
        let Some(depends) = certainty(plant, &zone).depends else { continue };
        if depends.settles {
            continue;
        }
        for Condition { factor, at_least, at_most, .. } in &depends.conditions {
            let (lo, hi) = range_of(&zone, plant, *factor);
            let step = 1e-6 * (hi - lo);
            for beyond in [at_least.map(|v| v - step), at_most.map(|v| v + step)].into_iter().flatten() {
                let without = narrowed(&zone, plant, *factor, beyond, beyond);
                let greatest = bounds(plant, &without).greatest;
                assert!(Verdict::of(greatest) < depends.word, "{}: {factor} {beyond}: {greatest}", plant.id);
                needed += 1;
            }
        }
    }
    assert!(needed > 50, "only {needed} conditions");
}

/// What is open of the light of a demo whose file is changed like this.
fn light_open(from: &str, to: &str) -> (f64, f64) {
    let text = crate::fit_support::demo_text("attic-lowtech.toml");
    assert!(text.contains(from), "{from}");
    let model = crate::fit_support::computed(&crate::fit_support::spec(&text.replace(from, to)));
    let gain = ZoneConditions::of(&model, 0).gain;
    assert_eq!(gain.nominal().value(), 1.0);
    (gain.range().lo().value(), gain.range().hi().value())
}

#[test]
fn what_is_open_of_the_light_follows_from_what_is_stated() {
    let lamp = "photon_flux = \"11 umol/s\"";
    let close = |(lo, hi): (f64, f64), expected: (f64, f64)| {
        assert!(
            (lo - expected.0).abs() < 1e-9 && (hi - expected.1).abs() < 1e-9,
            "{lo}..{hi}, not {expected:?}"
        );
    };
    // A bare output, a range, a range of power and of efficacy.
    close(light_open(lamp, lamp), (0.9, 1.1));
    close(light_open(lamp, "photon_flux = \"9..12 umol/s\""), (9.0 / 10.5, 12.0 / 10.5));
    let both = "power = \"5..7 W\"\nphoton_efficacy = \"1.8..2.2 umol/J\"";
    close(light_open(lamp, both), (5.0 / 6.0 * 0.9, 7.0 / 6.0 * 1.1));
    // Readings set the lamps: the mean of what they leave open, a bare one known to a tenth.
    let reading = |ppfd: &str| {
        format!("[[light.reading]]\nppfd = \"{ppfd} umol/m2/s\"\nat = [\"20 cm\", \"10 cm\"]\n\n")
    };
    close(light_open("[gas]", &format!("{}[gas]", reading("40"))), (0.9, 1.1));
    close(light_open("[gas]", &format!("{}[gas]", reading("38..42"))), (0.95, 1.05));
    let two = format!("{}{}[gas]", reading("38..42"), reading("38..42"));
    close(light_open("[gas]", &two), (0.95, 1.05));
}

#[test]
fn a_lamp_of_a_wider_range_gives_wider_verdicts() {
    let text = crate::fit_support::demo_text("attic-lowtech.toml");
    let zones = |flux: &str| {
        let text = text.replace("\"11 umol/s\"", &format!("\"{flux} umol/s\""));
        ZoneConditions::all(&crate::fit_support::computed(&crate::fit_support::spec(&text)))
    };
    let (narrow, wide) = (zones("10.5..11.5"), zones("7..15"));
    let mut wider = 0;
    for plant in plants().iter().step_by(3) {
        for (n, w) in narrow.iter().zip(&wide) {
            let (n, w) = (bounds(plant, n), bounds(plant, w));
            assert!(w.least <= n.least + 1e-12 && w.greatest >= n.greatest - 1e-12, "{}", plant.id);
            wider += usize::from(w.least < n.least - 1e-6);
        }
    }
    assert!(wider > 30, "{wider}");
}

#[test]
fn a_bare_number_is_known_to_the_resolution_of_a_test_kit() {
    let text = crate::fit_support::demo_text("attic-lowtech.toml")
        .replace("\"23..25 degC\"", "\"24 degC\"")
        .replace("\"6.9..7.3\"", "7.1")
        .replace("\"6..8 dGH\"", "\"7 dGH\"")
        .replace("\"3..5 dKH\"", "\"4 dKH\"");
    let model = crate::fit_support::computed(&crate::fit_support::spec(&text));
    let water = ZoneConditions::of(&model, 0).water;
    let ends = |lo: f64, hi: f64| format!("{lo:.3}..{hi:.3}");
    let t = water.temperature.range();
    assert_eq!(ends(t.lo().celsius(), t.hi().celsius()), "23.500..24.500");
    let ph = water.ph.range();
    assert_eq!(ends(ph.lo().value(), ph.hi().value()), "6.900..7.300");
    let (gh, kh) = (water.gh.range(), water.kh.range());
    assert_eq!(ends(gh.lo().dgh(), gh.hi().dgh()), "6.500..7.500");
    assert_eq!(ends(kh.lo().dkh(), kh.hi().dkh()), "3.500..4.500");
    // What the file says is the nominal value, and stays inside.
    assert!(water.co2.range().contains(water.co2.nominal()));
}
