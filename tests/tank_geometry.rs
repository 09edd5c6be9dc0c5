//! Volumes, outlines, masses and the air of the room.

use proptest::prelude::*;
use quillwort::tank::file::{Bed, BedKind, Glass, Material, Spot, Top};
use quillwort::tank::geometry::{BedProfile, GeometryError, Interior, Piece};
use quillwort::tank::loads::{
    FLOOR_EUROPE, FLOOR_US, FloorVerdict, Masses, ReleaseError, air_limits, pressure, rise_in_room,
    usual_wall,
};
use quillwort::tank::outline::{Outline, OutlineError};
use quillwort::tank::water;
use quillwort::units::{Area, Fraction, Length, Mass, Pressure, Temperature, Volume};

use crate::rows::rows;

const WARM: Temperature = Temperature::from_celsius(25.0);

fn cm(value: f64) -> Length {
    Length::from_cm(value)
}

fn spots(points: &[(f64, f64)]) -> Vec<Spot> {
    points.iter().map(|(x, y)| (cm(*x), cm(*y))).collect()
}

fn outline(points: &[(f64, f64)]) -> Outline {
    Outline::new(&spots(points)).expect("a simple polygon")
}

fn tank(size: (f64, f64, f64), water: f64, front: f64, back: f64) -> Result<Interior, GeometryError> {
    let glass = Glass {
        length: cm(size.0),
        depth: cm(size.1),
        height: cm(size.2),
        water: cm(water),
        top: Top::Open,
        cover_transmittance: Fraction::new(1.0),
    };
    Interior::new(&glass, &Bed { kind: BedKind::Sand, front: cm(front), back: cm(back) })
}

#[test]
fn the_water_of_a_bare_tank_weighs_what_the_table_says_within_1_per_mille() {
    for row in rows("tank_loads") {
        let size = (row.number("length_cm"), row.number("width_cm"), row.number("height_cm"));
        let inside = tank(size, size.2, 0.0, 0.0).expect("a tank");
        let t = Temperature::from_celsius(row.number("water_temp_c"));
        let volumes = inside.volumes(&[]).expect("water");
        let kg = water::mass(volumes.water, t).expect("liquid");
        row.relative("water_mass_kg", kg.kg(), 0.001);
        let load = pressure(kg, inside.plan());
        row.relative("base_pressure_kpa", load.kpa(), 0.001);
        assert_eq!((load > FLOOR_US).to_string(), row.text("over_40_psf"), "{row}");
    }
}

#[test]
fn limits_are_those_of_their_standards() {
    for row in rows("hazards") {
        let ours = match (row.text("quantity"), row.text("unit")) {
            ("OSHA PEL 8 h TWA CO2" | "NIOSH REL 10 h TWA CO2", "ppm") => air_limits::DAY.value() * 1e6,
            ("NIOSH REL STEL 15 min CO2", "ppm") => air_limits::SHORT.value() * 1e6,
            ("IDLH CO2", "ppm") => air_limits::DANGER.value() * 1e6,
            ("residential floor uniform live load (US)", "psf") => FLOOR_US.kpa() / 0.047_880_258_98,
            ("residential floor uniform live load (US)", "kPa") => FLOOR_US.kpa(),
            (text, "kPa") if text.contains("lower bound") => FLOOR_EUROPE.0.kpa(),
            (text, "kPa") if text.contains("upper bound") => FLOOR_EUROPE.1.kpa(),
            other => panic!("{row}: a limit we do not know, {other:?}"),
        };
        row.relative("value", ours, 1e-6);
    }
}

#[test]
fn a_released_cylinder_raises_co2_as_the_table_says() {
    for row in rows("co2_release") {
        let room = Volume::from_litres(row.number("room_m3") * 1e3);
        let t = Temperature::from_celsius(row.number("temp_c"));
        let rise = rise_in_room(Mass::from_kg(row.number("co2_kg")), room, t).expect("a room").value() * 1e6;
        // Tighter than the table asks: 0.6 % at any mass.
        row.relative("rise_ppm_real_gas", rise, 0.006);
        row.relative("rise_ppm_ideal_gas", rise, 0.0005);
    }
    let zero = rise_in_room(Mass::from_kg(0.5), Volume::from_litres(0.0), WARM);
    assert!(matches!(zero, Err(ReleaseError::Room(_))));
    let nothing = rise_in_room(Mass::from_kg(f64::NAN), Volume::from_litres(3e4), WARM);
    assert!(matches!(nothing, Err(ReleaseError::Gas(_))));
}

#[test]
fn a_worked_tank_adds_up() {
    // 60 × 30 × 36 cm, water to 32 cm, bed 3 cm in front and 8 cm behind.
    let inside = tank((60.0, 30.0, 36.0), 32.0, 3.0, 8.0).expect("a tank");
    // A block of 10 × 10 cm at y 10..20, where the bed is 5.5 cm on average, up to 22 cm.
    let block =
        Piece { outline: outline(&[(20.0, 10.0), (30.0, 10.0), (30.0, 20.0), (20.0, 20.0)]), top: cm(22.0) };
    let volumes = inside.volumes(std::slice::from_ref(&block)).expect("water");
    let near = |ours: f64, by_hand: f64| assert!((ours - by_hand).abs() < 1e-9, "{ours}, by hand {by_hand}");
    near(volumes.filled.litres(), 57.6);
    near(volumes.bed.litres(), 60.0 * 30.0 * 5.5 / 1000.0);
    near(volumes.displaced.litres(), 100.0 * (22.0 - 5.5) / 1000.0);
    near(volumes.water.litres(), 57.6 - 9.9 - 1.65);
    near(volumes.surface.m2(), 0.18);
    near(inside.bed().height_at(cm(15.0)).cm(), 5.5);
    near(inside.bed().slope().degrees(), (5.0_f64 / 30.0).atan().to_degrees());
    near(inside.water_over_bed_at(cm(30.0)).cm(), 24.0);
    let wall = usual_wall(inside.height());
    near(wall.cm(), 0.72);
    let stone = [(Material::InertRock, inside.piece_volume(&block))];
    let masses = Masses::new(&inside, &volumes, BedKind::Sand, &stone, wall, WARM).expect("liquid");
    near(masses.glass.kg(), (61.44 * 31.44 * 36.72 - 60.0 * 30.0 * 36.0) * 2.5e-3);
    near(masses.bed.kg(), 19.8);
    near(masses.hardscape.kg(), 1.65 * 2.6);
    near(
        masses.total().kg(),
        masses.water.kg() + masses.glass.kg() + masses.bed.kg() + masses.hardscape.kg(),
    );
    near(masses.floor_pressure().kpa(), masses.total().kg() * 9.80665 / (0.6144 * 0.3144) / 1000.0);
    assert_eq!(FloorVerdict::of(masses.floor_pressure()), FloorVerdict::AboveAll);
    assert_eq!(FloorVerdict::of(Pressure::from_kpa(1.9)), FloorVerdict::WithinSome);
    assert_eq!(FloorVerdict::of(Pressure::from_kpa(1.5)), FloorVerdict::WithinAll);
}

#[test]
fn a_piece_that_pierces_the_surface_closes_part_of_it() {
    let inside = tank((60.0, 30.0, 36.0), 30.0, 0.0, 0.0).expect("a tank");
    let post =
        Piece { outline: outline(&[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]), top: cm(40.0) };
    let volumes = inside.volumes(std::slice::from_ref(&post)).expect("water");
    assert!((volumes.surface.m2() - 0.17).abs() < 1e-12);
    assert!((volumes.displaced.litres() - 3.0).abs() < 1e-12);
    assert!((inside.piece_volume(&post).litres() - 4.0).abs() < 1e-12);
}

#[test]
fn a_piece_under_the_slope_displaces_only_what_shows() {
    // The bed rises from 0 to 10 cm; a slab with its top at 5 cm shows in the front half only.
    let inside = tank((60.0, 30.0, 36.0), 30.0, 0.0, 10.0).expect("a tank");
    let slab =
        Piece { outline: outline(&[(0.0, 0.0), (60.0, 0.0), (60.0, 30.0), (0.0, 30.0)]), top: cm(5.0) };
    let shown = inside.volumes(&[slab]).expect("water").displaced.litres();
    assert!((shown - 60.0 * 15.0 * 2.5 / 1000.0).abs() < 1e-12, "{shown}");
    let falling = tank((60.0, 30.0, 36.0), 30.0, 10.0, 0.0).expect("a tank");
    let slab =
        Piece { outline: outline(&[(0.0, 0.0), (60.0, 0.0), (60.0, 30.0), (0.0, 30.0)]), top: cm(5.0) };
    let shown = falling.volumes(&[slab]).expect("water").displaced.litres();
    assert!((shown - 60.0 * 15.0 * 2.5 / 1000.0).abs() < 1e-12, "{shown}");
}

#[test]
fn what_is_no_tank_is_refused() {
    let size = (60.0, 30.0, 36.0);
    assert!(matches!(tank((0.0, 30.0, 36.0), 30.0, 1.0, 1.0), Err(GeometryError::Side("length", _))));
    assert!(matches!(tank((60.0, f64::NAN, 36.0), 30.0, 1.0, 1.0), Err(GeometryError::Side("depth", _))));
    assert!(matches!(tank(size, 37.0, 1.0, 1.0), Err(GeometryError::WaterLevel { .. })));
    assert!(matches!(tank(size, f64::NAN, 1.0, 1.0), Err(GeometryError::WaterLevel { .. })));
    for (front, back) in [(-1.0, 3.0), (3.0, 30.0), (f64::NAN, 3.0), (3.0, f64::INFINITY)] {
        assert!(matches!(tank(size, 30.0, front, back), Err(GeometryError::Bed(_))), "{front} {back}");
    }
    let full =
        Piece { outline: outline(&[(0.0, 0.0), (60.0, 0.0), (60.0, 30.0), (0.0, 30.0)]), top: cm(40.0) };
    let inside = tank(size, 30.0, 1.0, 1.0).expect("a tank");
    assert_eq!(inside.volumes(&[full]), Err(GeometryError::NoWater));
}

#[test]
fn what_is_no_outline_is_refused() {
    let of = |points: &[(f64, f64)]| Outline::new(&spots(points)).err();
    assert_eq!(of(&[(0.0, 0.0), (1.0, 0.0)]), Some(OutlineError::TooFewPoints(2)));
    assert_eq!(of(&[(0.0, 0.0), (1.0, 0.0), (1.0, 0.0), (0.0, 0.0)]), Some(OutlineError::TooFewPoints(2)));
    assert_eq!(of(&[(0.0, 0.0), (1.0, 0.0), (3.0, 0.0)]), Some(OutlineError::NoArea));
    assert_eq!(of(&[(0.0, 0.0), (f64::NAN, 0.0), (3.0, 1.0)]), Some(OutlineError::NotFinite(2)));
    // A bow tie, one that crosses at a corner, a side that touches another, a spike.
    let bow_tie = of(&[(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)]);
    assert_eq!(bow_tie, Some(OutlineError::Crossing(1, 3)));
    for points in [
        [(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (2.0, 0.0), (1.0, 1.0), (0.0, 2.0)],
        [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 0.0), (1.0, 4.0), (0.0, 4.0)],
        [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (6.0, 4.0), (2.0, 4.0), (0.0, 4.0)],
    ] {
        assert!(matches!(of(&points), Some(OutlineError::Crossing(..))), "{points:?}");
    }
}

#[test]
fn a_concave_outline_keeps_its_notch() {
    // A U open to the back.
    let u = outline(&[
        (0.0, 0.0),
        (30.0, 0.0),
        (30.0, 20.0),
        (20.0, 20.0),
        (20.0, 10.0),
        (10.0, 10.0),
        (10.0, 20.0),
        (0.0, 20.0),
    ]);
    assert!((u.area().cm2() - 500.0).abs() < 1e-9);
    let inside = |x: f64, y: f64| u.contains((cm(x), cm(y)));
    assert!(inside(5.0, 15.0) && inside(25.0, 15.0) && inside(15.0, 5.0));
    assert!(!inside(15.0, 15.0) && !inside(-1.0, 5.0) && !inside(5.0, 20.1));
    assert!(inside(0.0, 0.0) && inside(10.0, 15.0) && inside(30.0, 7.0), "the outline belongs to it");
    // Cut so that only the two arms are left: one outline of two parts.
    let arms = u.clipped((cm(0.0), cm(12.0)), (cm(30.0), cm(18.0))).expect("both arms");
    assert!((arms.area().cm2() - 120.0).abs() < 1e-9);
    assert!(arms.contains((cm(5.0), cm(15.0))) && !arms.contains((cm(15.0), cm(15.0))));
    assert_eq!(u.clipped((cm(40.0), cm(0.0)), (cm(50.0), cm(10.0))), None);
    // Either way round and closed or not, it is the same outline.
    let mut reversed: Vec<Spot> = u.spots().collect();
    reversed.reverse();
    reversed.push(reversed[0]);
    assert!((Outline::new(&reversed).expect("simple").area().cm2() - 500.0).abs() < 1e-9);
}

/// A star-shaped polygon round the middle of a 60 × 30 cm tank, which may reach outside it.
fn star() -> impl Strategy<Value = Outline> {
    prop::collection::vec(2.0..30.0f64, 3..12).prop_map(|radii| {
        let n = radii.len() as f64;
        let at = |(i, r): (usize, &f64)| {
            let angle = std::f64::consts::TAU * i as f64 / n;
            (30.0 + r * angle.cos(), 15.0 + r * angle.sin())
        };
        outline(&radii.iter().enumerate().map(at).collect::<Vec<_>>())
    })
}

proptest! {
    #[test]
    fn cuts_keep_the_area(shape in star(), x in 0.0..60.0f64, y in 0.0..30.0f64) {
        let far = (cm(-100.0), cm(200.0));
        let parts = [
            shape.clipped((far.0, far.0), (cm(x), cm(y))),
            shape.clipped((cm(x), far.0), (far.1, cm(y))),
            shape.clipped((far.0, cm(y)), (cm(x), far.1)),
            shape.clipped((cm(x), cm(y)), (far.1, far.1)),
        ];
        let sum: f64 = parts.iter().flatten().map(|p| p.area().cm2()).sum();
        prop_assert!((sum - shape.area().cm2()).abs() < 1e-9 * sum.max(1.0), "{sum} of {:?}", shape.area());
    }

    #[test]
    fn volumes_agree_with_a_count_of_columns(
        shape in star(), top in 2.0..40.0f64, front in 0.0..12.0f64, back in 0.0..12.0f64,
    ) {
        let inside = tank((60.0, 30.0, 36.0), 32.0, front, back).expect("a tank");
        let piece = Piece { outline: shape.clone(), top: cm(top) };
        let Ok(volumes) = inside.volumes(&[piece]) else { return Ok(()) };
        let sum = volumes.bed.litres() + volumes.displaced.litres() + volumes.water.litres();
        prop_assert!((sum - volumes.filled.litres()).abs() < 1e-9, "nothing lost");
        let bed = BedProfile::new(cm(front), cm(back), cm(30.0)).expect("a bed");
        let (mut counted, step) = (0.0, 0.5);
        for i in 0..120 {
            for j in 0..60 {
                let (x, y) = (cm((f64::from(i) + 0.5) * step), cm((f64::from(j) + 0.5) * step));
                if shape.contains((x, y)) {
                    counted += (top.min(32.0) - bed.height_at(y).cm()).max(0.0) * step * step / 1000.0;
                }
            }
        }
        prop_assert!((volumes.displaced.litres() - counted).abs() < 0.04 * counted + 0.3, "{counted} counted");
    }

    #[test]
    fn more_water_or_bed_never_weighs_less(level in 20.0..35.0f64, bed in 0.0..10.0f64) {
        let weigh = |level: f64, bed: f64| {
            let inside = tank((60.0, 30.0, 36.0), level, bed, bed).expect("a tank");
            let volumes = inside.volumes(&[]).expect("water");
            let wall = usual_wall(inside.height());
            Masses::new(&inside, &volumes, BedKind::ActiveSoil, &[], wall, WARM).expect("liquid").total()
        };
        prop_assert!(weigh(level + 0.5, bed) > weigh(level, bed));
        prop_assert!(weigh(level, bed + 0.5) > weigh(level, bed));
    }
}

#[test]
fn a_rectangle_is_its_two_corners() {
    let plan = Outline::rectangle((cm(60.0), cm(0.0)), (cm(0.0), cm(30.0))).expect("a rectangle");
    assert_eq!(plan.area(), Area::from_m2(0.6 * 0.3));
    assert_eq!(plan.centre(), (cm(30.0), cm(15.0)));
}
