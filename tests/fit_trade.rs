//! Facts of the trade as check values. All of them common practice, no source.

use quillwort::catalogue::{CarbonUse, GrowthForm, Placement};
use quillwort::fit::group::{Planted, group};
use quillwort::fit::remedy::Site;
use quillwort::fit::{Factor, Verdict, assess, best_spot};
use quillwort::units::Area;

use crate::fit_support::{computed, demo_model, demo_text, plant, plants, spec};

/// Plants that every keeper of a tank without gas is told to begin with.
const SHADE: [&str; 8] = [
    "leptochilus-pteropus",
    "anubias-barteri-nana",
    "anubias-barteri-nana-petite",
    "bolbitis-heudelotii",
    "taxiphyllum-barbieri",
    "cryptocoryne-wendtii",
    "cryptocoryne-beckettii",
    "cryptocoryne-parva",
];

/// Carpets that are said to want gas and strong light.
const DEMANDING: [&str; 4] = [
    "micranthemum-callitrichoides",
    "glossostigma-elatinoides",
    "utricularia-graminifolia",
    "eleocharis-acicularis",
];

#[test]
fn shade_plants_grow_in_a_tank_without_gas() {
    let model = demo_model("attic-lowtech.toml");
    let ppfd = model.bed_light.mean().umol_m2_s();
    assert!((30.0..=50.0).contains(&ppfd), "the demo is no longer a low-tech tank: {ppfd}");
    let site = Site::new(&model);
    for key in SHADE {
        let spot = best_spot(plant(key), &site.zones);
        // Room is a matter of the tank's size, not of its light and gas.
        let others = Factor::ALL.iter().filter(|f| **f != Factor::Height);
        let least = others.map(|f| spot.assessment.factor(*f)).fold(1.0, f64::min);
        assert!(Verdict::of(least) >= Verdict::Grows, "{key}: {:?}", spot.assessment);
    }
}

#[test]
fn demanding_carpets_do_not() {
    let site_model = demo_model("attic-lowtech.toml");
    let site = Site::new(&site_model);
    for key in &DEMANDING[..3] {
        let spot = best_spot(plant(key), &site.zones);
        assert!(spot.assessment.verdict() < Verdict::Grows, "{key}: {:?}", spot.assessment);
        let wanting = [Factor::Light, Factor::Carbon].map(|f| spot.assessment.factor(f));
        assert!(wanting.iter().any(|s| *s < Verdict::GROWS), "{key} fails for another reason: {wanting:?}");
    }
}

#[test]
fn with_gas_and_strong_light_those_limits_vanish() {
    let model = demo_model("shelf-gassed.toml");
    let site = Site::new(&model);
    let lawn = &site.zones[0];
    assert_eq!(lawn.placement, Placement::Foreground);
    for key in DEMANDING {
        let here = assess(plant(key), lawn);
        assert!(here.factor(Factor::Light) >= Verdict::GROWS, "{key}: {here:?}");
        assert!(here.factor(Factor::Carbon) >= Verdict::GROWS, "{key}: {here:?}");
    }
}

#[test]
fn tap_water_carries_too_little_carbon_for_most_demanding_plants() {
    let model = demo_model("hall-hardwater.toml");
    let site = Site::new(&model);
    let demanding: Vec<_> =
        plants().iter().filter(|p| p.carbon_use == CarbonUse::Co2 && p.co2_opt.mg_l() >= 10.0).collect();
    let short = demanding
        .iter()
        .filter(|p| assess(p, &site.zones[0]).factor(Factor::Carbon) < Verdict::GROWS)
        .count();
    assert!(demanding.len() > 30, "only {} demanding plants", demanding.len());
    assert!(short as f64 > 0.9 * demanding.len() as f64, "{short} of {}", demanding.len());
}

#[test]
fn slow_shade_plants_in_strong_light_without_gas_gather_algae() {
    let text =
        demo_text("attic-lowtech.toml").replace("photon_flux = \"11 umol/s\"", "photon_flux = \"45 umol/s\"");
    let model = computed(&spec(&text));
    let site = Site::new(&model);
    let anubias = plant("anubias-barteri-nana");
    let list = [Planted {
        plant: anubias,
        zone: 4,
        area: Area::from_cm2(100.0),
        places: 1,
        trim_minutes_per_month: 1,
        fast: false,
    }];
    assert_eq!(group(&site, &list).overlit, [0]);
    let dim_model = demo_model("attic-lowtech.toml");
    assert!(group(&Site::new(&dim_model), &list).overlit.is_empty());
}

#[test]
fn stems_are_kept_at_any_height_by_trimming() {
    let model = demo_model("attic-lowtech.toml");
    let site = Site::new(&model);
    let back = site.zones.iter().find(|z| z.placement == Placement::Background).expect("a back zone");
    let stems = plants().iter().filter(|p| p.growth_form == GrowthForm::Stem && p.height.lo().cm() <= 25.0);
    for stem in stems {
        assert!(assess(stem, back).factor(Factor::Height) >= 1.0, "{}", stem.id);
    }
}
