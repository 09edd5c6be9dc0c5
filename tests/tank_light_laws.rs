//! Laws that any light field keeps, over tanks and lamps drawn at random.

use proptest::prelude::*;
use quillwort::tank::light::{Lamp, LightField, Scene, WaterColour};
use quillwort::units::{Angle, Attenuation, Fraction, Length, PhotonFlux};

use crate::tank_light_traced::{cm, lamp, tank};

/// Lengths in cm: tank, lamp; beams of 30° to 160°.
fn any_tank() -> impl Strategy<Value = Scene> {
    (20.0..150.0, 20.0..70.0, 15.0..70.0, 0.0..8.0).prop_map(|(l, d, w, a440)| tank(l, d, w, a440))
}

fn any_lamp() -> impl Strategy<Value = Lamp> {
    let centre = (0.0..120.0, 0.0..60.0);
    let size = (2.0..120.0, 2.0..30.0);
    (centre, size, 0.5..60.0, 30.0..160.0).prop_map(|(c, s, above, beam)| lamp(c, s, above, beam))
}

/// A point by its share of the length, depth and water level.
fn any_place() -> impl Strategy<Value = [f64; 3]> {
    [0.0..=1.0, 0.0..=1.0, 0.0..=0.99]
}

fn light(lamps: &[Lamp], scene: &Scene, place: [f64; 3]) -> f64 {
    let part = |extent: Length, share: f64| Length::from_m(extent.m() * share);
    let field = LightField::new(lamps, scene).expect("a lawful field");
    let (x, y) = (part(scene.length, place[0]), part(scene.depth, place[1]));
    field.at(x, y, part(scene.water_level, place[2])).umol_m2_s()
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 + 1e-9 * a.abs().max(b.abs())
}

/// All photons a second that pass the level at a share of the water's height, from the light in so
/// many cells along each side.
fn passing(lamps: &[Lamp], scene: &Scene, share: f64, cells: u32) -> f64 {
    let field = LightField::new(lamps, scene).expect("a lawful field");
    let z = scene.water_level.m() * share;
    let side = |extent: Length, i: u32| Length::from_m(extent.m() * (f64::from(i) + 0.5) / f64::from(cells));
    let places = (0..cells).flat_map(|i| (0..cells).map(move |j| (i, j)));
    let lit = places.map(|(i, j)| field.at(side(scene.length, i), side(scene.depth, j), Length::from_m(z)));
    let mean = lit.map(quillwort::units::Ppfd::umol_m2_s).sum::<f64>() / f64::from(cells * cells);
    mean * scene.length.m() * scene.depth.m()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn light_is_finite_and_never_negative(lamp in any_lamp(), scene in any_tank(), at in any_place()) {
        let found = light(&[lamp], &scene, at);
        prop_assert!(found.is_finite() && found >= 0.0);
    }

    #[test]
    fn lamps_add_up(a in any_lamp(), b in any_lamp(), scene in any_tank(), at in any_place()) {
        let (one, other) = (light(&[a], &scene, at), light(&[b], &scene, at));
        prop_assert!(close(light(&[a, b], &scene, at), one + other));
    }

    #[test]
    fn a_tank_and_its_mirror_image_have_the_same_light(lamp in any_lamp(), scene in any_tank(), at in any_place()) {
        let here = light(&[lamp], &scene, at);
        let (x, y) = (scene.length.m() - lamp.centre.0.m(), scene.depth.m() - lamp.centre.1.m());
        let sideways = Lamp { centre: (Length::from_m(x), lamp.centre.1), ..lamp };
        let turned = Lamp { centre: (Length::from_m(x), Length::from_m(y)), ..lamp };
        let [a, b, z] = at;
        let near = |other: f64| (other - here).abs() <= 1e-6 + 1e-6 * here;
        prop_assert!(near(light(&[sideways], &scene, [1.0 - a, b, z])));
        prop_assert!(near(light(&[turned], &scene, [1.0 - a, 1.0 - b, z])));
        let swapped_scene = Scene { length: scene.depth, depth: scene.length, ..scene };
        let swapped = Lamp { centre: (lamp.centre.1, lamp.centre.0), size: (lamp.size.1, lamp.size.0), ..lamp };
        prop_assert!(near(light(&[swapped], &swapped_scene, [b, a, z])));
    }

    #[test]
    fn light_is_proportional_to_the_flux_and_falls_with_tint_cover_and_lid(
        lamp in any_lamp(), scene in any_tank(), at in any_place(), more in 1.0..9.0, share in 0.0..1.0,
    ) {
        let here = light(&[lamp], &scene, at);
        let brighter = Lamp { flux: PhotonFlux::from_umol_s(lamp.flux.umol_s() * more), ..lamp };
        prop_assert!(close(light(&[brighter], &scene, at), more * here));
        let covered = Scene { floating: Fraction::new(share), ..scene };
        prop_assert!(close(light(&[lamp], &covered, at), (1.0 - share) * here));
        let lidded = Scene { lid: Fraction::new(share), ..scene };
        prop_assert!(close(light(&[lamp], &lidded, at), share * here));
        let darker = Scene { water: WaterColour::stained(Attenuation::from_per_m(8.0 + more)), ..scene };
        prop_assert!(light(&[lamp], &darker, at) <= here + 1e-9);
    }

    /// Every path is at least as long as the depth and at most 1/cos of the critical angle times it.
    #[test]
    fn absorption_takes_between_the_shortest_and_the_flattest_path(lamp in any_lamp(), scene in any_tank(), at in any_place()) {
        let grey = |k: f64| WaterColour::Grey(Attenuation::from_per_m(k));
        let clear = light(&[lamp], &Scene { water: grey(0.0), ..scene }, at);
        let left = light(&[lamp], &Scene { water: grey(3.0), ..scene }, at);
        let path = 3.0 * scene.water_level.m() * (1.0 - at[2]);
        prop_assert!(left <= clear * (-path).exp() * 1.001 + 1e-5, "{left} of {clear}");
        prop_assert!(left >= clear * (-path * 1.5125).exp() * 0.999 - 1e-5, "{left} of {clear}");
    }
}

/// A lamp so high over a small tank that no ray is flat enough to leak: what enters arrives.
#[test]
fn what_enters_without_loss_arrives() {
    let scene = Scene {
        water: WaterColour::Grey(Attenuation::from_per_m(0.0)),
        ..Scene::open(cm(30.0), cm(24.0), cm(60.0))
    };
    let lamp = lamp((12.0, 10.0), (20.0, 6.0), 40.0, 120.0);
    let just_under = passing(&[lamp], &scene, 1.0 - 1e-6, 60);
    for share in [0.8, 0.5, 0.2, 0.0] {
        let found = passing(&[lamp], &scene, share, 60);
        assert!((found / just_under - 1.0).abs() < 1e-3, "{found} of {just_under} at {share}");
    }
}

/// What leaks through the walls on the way down is lost, and no more than the flat rays carry. A
/// point beside the beam may get lighter with depth; the plan as a whole cannot.
#[test]
fn photons_are_lost_with_depth_and_never_won() {
    let wide = lamp((20.0, 12.0), (30.0, 10.0), 6.0, 150.0);
    for a440 in [0.0, 3.0] {
        let scene = tank(50.0, 30.0, 45.0, a440);
        let levels = [0.95, 0.8, 0.6, 0.4, 0.2, 0.0].map(|share| passing(&[wide], &scene, share, 60));
        assert!(levels.is_sorted_by(|above, below| below < above), "{levels:?}");
    }
}

#[test]
fn a_lamp_or_tank_out_of_range_is_refused_with_its_place() {
    let good = lamp((30.0, 15.0), (50.0, 8.0), 8.0, 120.0);
    let nan = Length::from_m(f64::NAN);
    let deg = Angle::from_degrees;
    let flux = PhotonFlux::from_umol_s;
    let lamps = [
        (Lamp { beam: deg(0.0), ..good }, "lamp 2: beam angle is 0 °, expected above 0° and below 180°"),
        (Lamp { beam: deg(180.0), ..good }, "lamp 2: beam angle is 180 °, expected above 0° and below 180°"),
        (
            Lamp { beam: deg(f64::NAN), ..good },
            "lamp 2: beam angle is NaN °, expected above 0° and below 180°",
        ),
        (
            Lamp { above_water: cm(-3.0), ..good },
            "lamp 2: height above the water is -3 cm, expected at least 1 mm",
        ),
        (
            Lamp { above_water: cm(0.0), ..good },
            "lamp 2: height above the water is 0 cm, expected at least 1 mm",
        ),
        (Lamp { size: (cm(50.0), cm(0.0)), ..good }, "lamp 2: size is 0 cm, expected lengths above zero"),
        (
            Lamp { size: (cm(f64::INFINITY), cm(8.0)), ..good },
            "lamp 2: size is inf cm, expected lengths above zero",
        ),
        (
            Lamp { centre: (nan, cm(8.0)), ..good },
            "lamp 2: position is NaN cm, 8 cm, expected two finite lengths",
        ),
        (Lamp { flux: flux(-1.0), ..good }, "lamp 2: photon flux is -1 µmol/s, expected zero or more"),
        (
            Lamp { flux: flux(f64::INFINITY), ..good },
            "lamp 2: photon flux is inf µmol/s, expected zero or more",
        ),
    ];
    let scene = tank(60.0, 30.0, 32.0, 0.0);
    for (bad, message) in lamps {
        let refused = LightField::new(&[good, bad], &scene).expect_err(message);
        assert_eq!(refused.to_string(), message);
    }
    let grey = |k: f64| WaterColour::Grey(Attenuation::from_per_m(k));
    let scenes = [
        (Scene { length: nan, ..scene }, "length is NaN cm, expected a length above zero"),
        (Scene { water_level: cm(0.0), ..scene }, "water level is 0 cm, expected a length above zero"),
        (Scene { refractive_index: 0.9, ..scene }, "refractive index is 0.9, expected 1, or 1.3 to 1.4"),
        (Scene { lid: Fraction::new(1.2), ..scene }, "lid transmittance is 120 %, expected 0 to 1"),
        (Scene { floating: Fraction::new(-0.1), ..scene }, "floating cover is -10 %, expected 0 to 1"),
        (Scene { water: grey(-1.0), ..scene }, "absorption of the water is -1 /m, expected zero or more"),
    ];
    for (bad, message) in scenes {
        assert_eq!(LightField::new(&[good], &bad).expect_err(message).to_string(), message);
    }
}

#[test]
fn extreme_but_lawful_tanks_have_finite_light() {
    let lamps = [
        lamp((0.0, 0.0), (0.1, 0.1), 0.1, 1.0),
        lamp((500.0, -90.0), (1.0, 300.0), 0.1, 179.9),
        lamp((30.0, 15.0), (400.0, 400.0), 1000.0, 179.0),
    ];
    for scene in [tank(0.5, 400.0, 300.0, 0.0), tank(600.0, 2.0, 0.01, 10.0), tank(60.0, 30.0, 900.0, 1e6)] {
        let field = LightField::new(&lamps, &scene).expect("a lawful field");
        for share in [0.0, 0.3, 0.999, 1.0, 1.5] {
            let z = Length::from_m(scene.water_level.m() * share);
            let found = field.at(Length::from_m(scene.length.m() * 0.4), cm(1.0), z).umol_m2_s();
            assert!(found.is_finite() && found >= 0.0, "{found} at {share} of {scene:?}");
        }
    }
    assert_eq!(light(&[], &tank(60.0, 30.0, 32.0, 0.0), [0.5; 3]).to_bits(), 0f64.to_bits());
}
