//! What is said of a list as a whole.

use quillwort::fit::group::{Group, Planted, group};
use quillwort::fit::remedy::Site;
use quillwort::fit::{Factor, Verdict, assess, unlikeness};
use quillwort::tank::TankModel;
use quillwort::units::{Area, Quantity};

use crate::fit_support::{computed, demo_model, demo_text, plant, plants, spec};

fn planted(key: &str, zone: usize, places: u32) -> Planted<'static> {
    Planted {
        plant: plant(key),
        zone,
        area: Area::from_cm2(100.0),
        places,
        trim_minutes_per_month: 7,
        fast: key.starts_with("hygrophila"),
    }
}

fn of(model: &TankModel, list: &[Planted<'_>]) -> Group {
    group(&Site::new(model), list)
}

#[test]
fn something_low_behind_something_tall_is_told() {
    let model = demo_model("attic-lowtech.toml");
    // Zones: 0 front lawn, 1 middle left, 3 back hedge.
    let list = [planted("hygrophila-polysperma", 1, 5), planted("cryptocoryne-parva", 3, 5)];
    let found = of(&model, &list).height_order;
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!((found[0].near, found[0].far), (0, 1));
    assert!(found[0].near_height > found[0].far_height);
    let right = [planted("cryptocoryne-parva", 1, 5), planted("hygrophila-polysperma", 3, 5)];
    assert!(of(&model, &right).height_order.is_empty());
}

/// The window from its definition: every plant grows at both ends, and not a step beyond.
#[test]
fn the_common_water_suits_every_plant_and_no_wider_one_does() {
    let model = demo_model("hall-hardwater.toml");
    let keys = ["vallisneria-spiralis", "cryptocoryne-wendtii", "rotala-macrandra", "leptochilus-pteropus"];
    let list: Vec<Planted<'_>> = keys.iter().map(|k| planted(k, 1, 3)).collect();
    let zone = &Site::new(&model).zones[1];
    for window in of(&model, &list).windows {
        let suits = |value: f64| {
            list.iter().all(|p| {
                let mut there = zone.clone();
                let water = &mut there.water;
                match window.factor {
                    Factor::Temperature => water.temperature = crate::fit_support::exactly(value),
                    Factor::Ph => water.ph = crate::fit_support::exactly(value),
                    Factor::Gh => water.gh = crate::fit_support::exactly(value),
                    _ => water.kh = crate::fit_support::exactly(value),
                }
                assess(p.plant, &there).factor(window.factor) >= Verdict::GROWS - 1e-9
            })
        };
        if window.is_open() {
            assert!(suits(window.lo) && suits(window.hi), "{window:?}");
        }
        assert!(!suits(window.lo - 0.01) && !suits(window.hi + 0.01), "{window:?}");
        if let Some((who, by)) = window.narrowed_by {
            let rest: Vec<Planted<'_>> =
                list.iter().enumerate().filter(|(i, _)| *i != who).map(|(_, p)| *p).collect();
            let wider = of(&model, &rest).windows.into_iter().find(|w| w.factor == window.factor);
            let wider = wider.expect("the same factors");
            assert!((wider.hi - wider.lo - (window.hi - window.lo) - by).abs() < 1e-9, "{window:?}");
        }
    }
}

#[test]
fn floating_plants_take_light_from_those_below() {
    let text = demo_text("attic-lowtech.toml").replace(
        "[[zone]]\nname = \"on the wood\"",
        "[[zone]]\nname = \"surface\"\nplacement = \"floating\"\ntaxa = \"1\"\n\n[[zone]]\nname = \"on the wood\"",
    );
    let model = computed(&spec(&text));
    let surface = model.spec.zones.iter().position(|z| z.name == "surface").expect("the zone added");
    let list = [planted("hygrophila-polysperma", 3, 5), planted("salvinia-natans", surface, 5)];
    let shade = of(&model, &list).floating_shade.expect("floating plants are on the list");
    assert!(shade.cover.value() > 0.9, "{shade:?}");
    assert_eq!(shade.falls.len(), 1, "{shade:?}");
    assert!(shade.falls[0].to < shade.falls[0].from);
    assert!(of(&model, &list[..1]).floating_shade.is_none());
}

#[test]
fn cover_fast_growers_and_trimming_add_up() {
    let model = demo_model("attic-lowtech.toml");
    let list = [planted("hygrophila-polysperma", 3, 20), planted("cryptocoryne-parva", 0, 30)];
    let group = of(&model, &list);
    assert_eq!(group.fast, 1);
    assert_eq!(group.trim_minutes_per_month, 14);
    // From the definition: discs half as wide as the grown plant, over the rooted zones.
    let disc = |p: &Planted<'_>| {
        f64::from(p.places) * std::f64::consts::PI / 4.0 * (0.5 * p.plant.spread.m()).powi(2)
    };
    let area = |zone: usize| model.zones[zone].ground.area.m2();
    let covered: f64 = list.iter().map(|p| disc(p).min(area(p.zone))).sum();
    let rooted: f64 = (0..4).map(area).sum();
    let ours = group.cover_at_planting.expect("there are rooted zones").value();
    assert!((ours - covered / rooted).abs() < 1e-9, "{ours} {}", covered / rooted);
    let crowded = [planted("hygrophila-polysperma", 3, 100_000)];
    let full = of(&model, &crowded).cover_at_planting.expect("rooted").value();
    assert!(full <= 1.0);
}

#[test]
fn unlikeness_is_a_distance_in_looks() {
    for a in plants().iter().step_by(23) {
        assert_eq!(unlikeness(a, a), 0.0, "{}", a.id);
        for b in plants().iter().step_by(29) {
            let there = unlikeness(a, b);
            assert!((there - unlikeness(b, a)).abs() < 1e-12, "{} {}", a.id, b.id);
            assert!((0.0..=5.0).contains(&there), "{} {}: {there}", a.id, b.id);
        }
    }
    let near = |a: &str, b: &str, c: &str| {
        assert!(
            unlikeness(plant(a), plant(b)) < unlikeness(plant(a), plant(c)),
            "{a}: {b} is no nearer than {c}"
        );
    };
    near("micranthemum-callitrichoides", "glossostigma-elatinoides", "vallisneria-spiralis");
    near("rotala-macrandra", "ludwigia-repens", "anubias-barteri-nana");
    near("vallisneria-spiralis", "vallisneria-natans", "rotala-rotundifolia");
    assert!(plant("rotala-macrandra").height.hi().base() > 0.0);
}
