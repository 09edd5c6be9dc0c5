//! Remedies, checked by applying them to the tank file, computing the whole tank anew, and by
//! stepping back.

use quillwort::catalogue::Plant;
use quillwort::fit::remedy::{Change, ChangeKind, HANGING_STEP_CM, Remedy, Site, Standing, pair, remedies};
use quillwort::fit::{Verdict, ZoneConditions, assess, best_spot, placement_of};
use quillwort::tank::TankModel;
use quillwort::tank::file::{Injection, TankSpec};
use quillwort::units::{
    CarbonateHardness, Concentration, Duration, Fraction, GeneralHardness, Length, Quantity, Temperature,
};

use crate::fit_support::{DEMOS, computed, demo_model, plant, plants, spec};

fn suitability_after(spec: &TankSpec, change: Change, plant: &Plant, zone: usize) -> f64 {
    let model = computed(&change.applied(spec));
    assess(plant, &ZoneConditions::of(&model, zone)).suitability
}

/// The same kind of change, a share less far from the present.
fn stepped_back(change: Change, spec: &TankSpec, share: f64) -> Option<Change> {
    let back = |to: f64, now: f64| to - share * (to - now);
    let water = &spec.water;
    let level = |model: &TankModel| model.carbon.co2.mid().mg_l();
    Some(match change {
        Change::Hours(h) => Change::Hours(Duration::from_hours(back(h.hours(), spec.light.hours.hours()))),
        Change::Output(t) => Change::Output(Fraction::new(back(t.value(), 1.0))),
        Change::LampHeight(by) => {
            let step = Length::from_cm(HANGING_STEP_CM * by.cm().signum());
            Change::LampHeight(Length::from_m(by.m() - step.m()))
        }
        Change::FloatingCover(c) => {
            Change::FloatingCover(Fraction::new(back(c.value(), spec.light.floating_cover.value())))
        }
        Change::Gas(to) => {
            let now = level(&computed(spec));
            Change::Gas(Concentration::from_mg_l(back(to.mg_l(), now)))
        }
        Change::Temperature(to) => Change::Temperature(Temperature::from_celsius(back(
            to.celsius(),
            water.temperature.mid().celsius(),
        ))),
        Change::SoftWater(to) => Change::SoftWater(Fraction::new(back(to.value(), 0.0))),
        Change::Gh(to) => Change::Gh(GeneralHardness::from_dgh(back(to.dgh(), water.gh.mid().dgh()))),
        Change::Kh(to) => Change::Kh(CarbonateHardness::from_dkh(back(to.dkh(), water.kh.mid().dkh()))),
        Change::Zone(_) => return None,
    })
}

/// Misfits of a tank with what would help them.
fn cases(model: &TankModel, every: usize) -> Vec<(&'static Plant, usize, Vec<Remedy>)> {
    let site = Site::new(model);
    let judged = plants().iter().step_by(every).filter_map(|plant| {
        let spot = best_spot(plant, &site.zones);
        let found = remedies(&site, Standing { plant, zone: spot.zone }, &[]);
        (!found.is_empty()).then_some((plant, spot.zone, found))
    });
    judged.collect()
}

#[test]
fn every_remedy_helps_and_less_of_it_does_not() {
    let mut kinds = std::collections::BTreeMap::new();
    // Tanks off their demo in a way that every lever is of use to someone.
    let soft = crate::fit_support::demo_text("attic-lowtech.toml")
        .replace("gh = \"6..8 dGH\"", "gh = \"0.5..1 dGH\"")
        .replace("kh = \"3..5 dKH\"", "kh = \"0.4..0.8 dKH\"")
        .replace("ph = \"6.9..7.3\"", "ph = \"5.6..6.0\"")
        .replace("temperature = \"23..25 degC\"", "temperature = \"19..20 degC\"")
        .replace("hours = 8", "hours = 8\nfloating_cover = \"60 %\"");
    let tanks = DEMOS.iter().map(|n| crate::fit_support::demo_text(n)).chain([soft]);
    for text in tanks {
        let spec = spec(&text);
        let model = computed(&spec);
        for (plant, zone, found) in cases(&model, 9) {
            for remedy in found.into_iter().filter(|r| !matches!(r.change, Change::Zone(_))) {
                let seen = kinds.entry(remedy.change.kind()).or_insert(0);
                *seen += 1;
                // The whole tank is computed thrice for each; a few of a kind are enough.
                if *seen > 6 {
                    continue;
                }
                let what = format!("{}, {}: {:?}", spec.name, plant.id, remedy.change);
                let after = suitability_after(&spec, remedy.change, plant, zone);
                assert!(after >= Verdict::GROWS, "{what}: {after}");
                assert!((after - remedy.assessment.suitability).abs() < 1e-6, "{what}: told otherwise");
                let least = suitability_after(&spec, remedy.least, plant, zone);
                assert!(least >= Verdict::GROWS - 1e-6, "{what}: {least} at the least change");
                let less = stepped_back(remedy.least, &spec, 0.01).expect("a change of the tank");
                let back = suitability_after(&spec, less, plant, zone);
                assert!(back < Verdict::GROWS, "{what}: {back} with a hundredth less ({less:?})");
            }
        }
    }
    for kind in [
        ChangeKind::Hours,
        ChangeKind::Output,
        ChangeKind::LampHeight,
        ChangeKind::FloatingCover,
        ChangeKind::Gas,
        ChangeKind::Temperature,
        ChangeKind::SoftWater,
        ChangeKind::Gh,
        ChangeKind::Kh,
    ] {
        assert!(kinds.contains_key(&kind), "no case of {kind:?}: {kinds:?}");
    }
}

/// The tank stays as it is: the plant is planted elsewhere, against its usual place.
#[test]
fn another_zone_is_named_where_the_plant_grows_and_nowhere_else_better() {
    let mut moved = 0;
    for name in DEMOS {
        let model = demo_model(name);
        for (plant, zone, found) in cases(&model, 2) {
            for remedy in &found {
                let Change::Zone(other) = remedy.change else { continue };
                moved += 1;
                let there = |zone: usize| {
                    let mut conditions = ZoneConditions::of(&computed(&model.spec), zone);
                    conditions.placement = plant.placements[0];
                    assess(plant, &conditions).suitability
                };
                let suitability = there(other);
                assert!(suitability >= Verdict::GROWS, "{name}, {}: {suitability}", plant.id);
                // Without a zone of its own it is judged where it would stand best, and told to stand there.
                let served =
                    model.spec.zones.iter().any(|z| plant.placements.contains(&placement_of(z.role)));
                assert!(other != zone || !served, "{name}, {}: it stands there", plant.id);
                assert!((suitability - remedy.assessment.suitability).abs() < 1e-9, "{}", plant.id);
                let here = assess(plant, &ZoneConditions::of(&model, zone)).suitability;
                assert!(here < Verdict::GROWS, "{name}, {}: it grows where it is", plant.id);
                if moved < 20 {
                    let best = (0..model.zones.len()).map(there).fold(0.0, f64::max);
                    assert!(best <= suitability + 1e-12, "{name}, {}: {best} elsewhere", plant.id);
                }
                assert!(remedy.side_effects.is_empty() && !remedy.cautions.is_empty());
            }
        }
    }
    assert!(moved >= 5, "only {moved} moves");
}

/// Readings were taken under the lamps as they are: they follow what is done to lamps and cover.
#[test]
fn remedies_hold_where_readings_set_the_light() {
    let reading = "[[light.reading]]\nppfd = \"20..24 umol/m2/s\"\nat = [\"20 cm\", \"10 cm\"]\n\n[gas]";
    let text = crate::fit_support::demo_text("attic-lowtech.toml")
        .replace("[gas]", reading)
        .replace("hours = 8", "hours = 8\nfloating_cover = \"40 %\"");
    let spec = spec(&text);
    let model = computed(&spec);
    let mut kinds = std::collections::BTreeSet::new();
    for (plant, zone, found) in cases(&model, 6) {
        for remedy in found {
            let kind = remedy.change.kind();
            if !matches!(kind, ChangeKind::Output | ChangeKind::FloatingCover | ChangeKind::Hours) {
                continue;
            }
            // The whole tank is computed twice for each.
            if kinds.insert(kind) {
                let after = suitability_after(&spec, remedy.change, plant, zone);
                assert!(
                    (after - remedy.assessment.suitability).abs() < 1e-6,
                    "{}: {kind:?} {after}",
                    plant.id
                );
                let less = stepped_back(remedy.least, &spec, 0.01).expect("a change of the tank");
                assert!(
                    suitability_after(&spec, less, plant, zone) < Verdict::GROWS,
                    "{}: {kind:?}",
                    plant.id
                );
            }
        }
    }
    assert_eq!(kinds.len(), 3, "{kinds:?}");
    // A lamp hung otherwise keeps the output that the readings gave it.
    let site = Site::new(&model);
    let same = site.zone_after(0, Change::LampHeight(Length::from_cm(0.0))).expect("it hangs as it did");
    let (ours, theirs) = (same.light[0].mean().base(), site.zones[0].light[0].mean().base());
    assert!((ours / theirs - 1.0).abs() < 1e-9, "{ours} {theirs}");
}

/// What the site computes after a change is what the whole model says of the changed file.
#[test]
fn the_short_way_agrees_with_the_whole_model() {
    for name in DEMOS {
        let model = demo_model(name);
        let site = Site::new(&model);
        let changes = [
            Change::Hours(Duration::from_hours(9.5)),
            Change::Output(Fraction::new(1.7)),
            Change::LampHeight(Length::from_cm(-3.0)),
            Change::FloatingCover(Fraction::new(0.25)),
            Change::Gas(Concentration::from_mg_l(14.0)),
            Change::Temperature(Temperature::from_celsius(26.0)),
            Change::SoftWater(Fraction::new(0.4)),
            Change::Gh(GeneralHardness::from_dgh(21.0)),
            Change::Kh(CarbonateHardness::from_dkh(15.0)),
        ];
        for change in changes {
            let whole = computed(&change.applied(site.spec()));
            for zone in 0..site.zones.len() {
                let ours = site.zone_after(zone, change).expect("the change is possible");
                let theirs = ZoneConditions::of(&whole, zone);
                assert_eq!(ours.water, theirs.water, "{name}: {change:?}");
                let gain = ours.gain.nominal().value();
                for (a, b) in ours.light.iter().zip(theirs.light.iter()) {
                    let (a, b) = (a.mean().base() * gain, b.mean().base() * theirs.gain.nominal().value());
                    assert!((a / b - 1.0).abs() < 1e-6, "{name}, zone {zone}: {change:?}: {a} {b}");
                }
            }
        }
    }
}

#[test]
fn gas_stays_below_what_fish_bear_where_fish_live() {
    let model = demo_model("attic-lowtech.toml");
    for (plant, _, found) in cases(&model, 3) {
        for remedy in found {
            if let Change::Gas(level) = remedy.change {
                assert!(level.mg_l() <= 30.0 + 1e-9, "{}: {level}", plant.id);
            }
        }
    }
}

#[test]
fn a_long_day_comes_with_its_caution() {
    let text = crate::fit_support::demo_text("attic-lowtech.toml")
        .replace("photon_flux = \"11 umol/s\"", "photon_flux = \"4 umol/s\"");
    let model = computed(&spec(&text));
    let mut long = 0;
    for (_, _, found) in cases(&model, 5) {
        for remedy in &found {
            if let Change::Hours(hours) = remedy.change
                && hours.hours() > 10.0
            {
                long += 1;
                let told = remedy.cautions.iter().any(|c| c.starts_with("photoperiod: long"));
                assert!(told, "{hours}: {:?}", remedy.cautions);
            }
        }
        let broken: Vec<bool> = found.iter().map(|r| !r.cautions.is_empty()).collect();
        assert!(broken.is_sorted(), "remedies that break no rule come first");
    }
    assert!(long > 0, "no remedy needs a long day");
}

#[test]
fn side_effects_are_told() {
    let model = demo_model("attic-lowtech.toml");
    let site = Site::new(&model);
    // A demanding stem and a shade plant that the light for it would be too much for.
    let needy = plants().iter().find_map(|p| {
        let zone = best_spot(p, &site.zones).zone;
        let others: Vec<Standing<'_>> =
            plants().iter().map(|o| Standing { plant: o, zone: best_spot(o, &site.zones).zone }).collect();
        let found = remedies(&site, Standing { plant: p, zone }, &others);
        found.into_iter().find(|r| !r.side_effects.is_empty()).map(|r| (r, others))
    });
    let (remedy, others) = needy.expect("some remedy touches another plant");
    for effect in &remedy.side_effects {
        let other = others[effect.other];
        let before = assess(other.plant, &site.zones[other.zone]).verdict();
        let whole = computed(&remedy.change.applied(site.spec()));
        let after = assess(other.plant, &ZoneConditions::of(&whole, other.zone)).verdict();
        assert_eq!((before, after), (effect.from, effect.to), "{}", other.plant.id);
    }
}

#[test]
fn two_changes_help_where_one_does_not() {
    let model = demo_model("attic-lowtech.toml");
    let site = Site::new(&model);
    let carpet = plant("micranthemum-callitrichoides");
    let zone = best_spot(carpet, &site.zones).zone;
    let standing = Standing { plant: carpet, zone };
    assert!(remedies(&site, standing, &[]).is_empty(), "one change would do");
    let fern = Standing { plant: plant("leptochilus-pteropus"), zone: 4 };
    let pair = pair(&site, standing, &[fern]).expect("gas and light together help");
    let whole = computed(&pair.second.applied(&pair.first.applied(site.spec())));
    let after = assess(carpet, &ZoneConditions::of(&whole, zone)).suitability;
    assert!(after >= Verdict::GROWS, "{after}: {pair:?}");
    assert!((after - pair.assessment.suitability).abs() < 1e-6, "{after}: {pair:?}");
    let verdict = |model: &TankModel| assess(fern.plant, &ZoneConditions::of(model, fern.zone)).verdict();
    let told: Vec<[Verdict; 2]> = pair.side_effects.iter().map(|e| [e.from, e.to]).collect();
    let seen = [verdict(&model), verdict(&whole)];
    assert_eq!(told, if seen[0] == seen[1] { vec![] } else { vec![seen] });
    assert_eq!(pair.first.kind(), ChangeKind::Gas);
}

#[test]
fn a_plant_that_grows_needs_no_remedy() {
    let model = demo_model("attic-lowtech.toml");
    let site = Site::new(&model);
    let fern = plant("leptochilus-pteropus");
    let zone = best_spot(fern, &site.zones).zone;
    assert!(remedies(&site, Standing { plant: fern, zone }, &[]).is_empty());
    assert_eq!(site.spec().gas.injection, Injection::None);
}
